"""The set whose code stands on sheets that were handed out, whatever was pulled since."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from pullbench.errors import ConditionsError
from pullbench.live.lesson import DayRead, lesson_of
from pullbench.render.sheets import ClassSet
from pullbench.teach.lesson import Lesson


def set_of_code(
    code: str, made: ClassSet, read: DayRead, make: Callable[[Lesson], ClassSet], surfaces: str
) -> tuple[ClassSet, DayRead]:
    """Return the set with this code, as it is made now or was before the day's last pulls, and the day as it was then.

    made: the set that is made now, with the day it was `read` from.  make: makes it with other coefficients.
    surfaces: of the handbook, which stood in while no pull told.  Pulls that were set aside or brought back since are
    not undone.  Raises ConditionsError when none has the code.
    """
    if code == made.code:
        return made, read
    for then in _earlier(read, surfaces):
        earlier = make(then.lesson)
        if earlier.code == code:
            return earlier, then
    raise ConditionsError(
        "set-differs", f"The sheets are of set {code[:20]}, these choices make set {made.code}.",
        "Seed, kinds and coefficients must be those of the sheets.",
        "Give --seed, --seats, --kinds or --level, and --day as for the sheets.",
    )  # fmt: skip


def _earlier(read: DayRead, surfaces: str) -> Iterator[DayRead]:
    """Yield the day when it had fewer pulls, the latest first; equal coefficients make equal sets."""
    seen = {_coefficients(read.lesson)}
    for count in range(len(read.pulls) - 1, -1, -1):
        pulls = read.pulls[:count]
        try:
            lesson = lesson_of(pulls, read.day or "", surfaces)
        except ConditionsError:  # their limits reached nought: there were no sheets then
            continue
        if _coefficients(lesson) not in seen:
            seen.add(_coefficients(lesson))
            yield replace(read, lesson=lesson, pulls=pulls)


def _coefficients(lesson: Lesson) -> tuple[float, float, str, str]:
    pair = lesson.pair
    return pair.mu_s, pair.mu_k, pair.sole, pair.floor
