"""The coefficients a lesson's problems are made with: from a session's pulls, a day of the logbook, or the handbook."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

import msgspec

from pullbench.analysis import Conditions, ladder, with_coefficients
from pullbench.archive import LogbookReader, PullRow
from pullbench.errors import ConditionsError, LogbookError
from pullbench.live.session import Session
from pullbench.live.settings import Settings
from pullbench.model import Ladder, Pull, Setting
from pullbench.physics import STANDARD_GRAVITY_M_S2, weight_N
from pullbench.render import pull_of_record, with_samples
from pullbench.sources.handbook import handbook
from pullbench.teach.lesson import FLOOR, SOLE, Lesson, TodaysPull, pair_from, pair_of_handbook

USUAL_SURFACES = "wood on wood"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRead:
    """What a day gives to the next lesson: its name, its kept pulls, and the lesson.  No day: the handbook alone."""

    lesson: Lesson
    day: str | None = None
    pulls: tuple[TodaysPull, ...] = ()

    @property
    def count(self) -> int:
        """Return how many pulls tell both coefficients, and so made the lesson."""
        return sum(one.tells for one in self.pulls) if self.lesson.pair.source == "today" else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class AboutPulls:
    """What a teacher says of a day's pulls that no sensor tells.

    conditions: load and geometry for pulls that have no coefficients yet, None when not said.  numbers: the pulls
    meant, None for all.  sole, floor: what slid on what, where the bench was not told.
    """

    conditions: Conditions | None = None
    numbers: frozenset[int] | None = None
    sole: str = SOLE
    floor: str = FLOOR

    def said_of(self, pulls: Iterable[TodaysPull]) -> tuple[TodaysPull, ...]:
        """Return the pulls meant, with surfaces and coefficients."""
        return tuple(
            replace(
                one,
                pull=self._loaded(one),
                sole=one.sole if self.sole == SOLE else self.sole,
                floor=one.floor if self.floor == FLOOR else self.floor,
            )
            for one in pulls
            if self.numbers is None or one.number in self.numbers
        )

    def _loaded(self, one: TodaysPull) -> Pull:
        known = one.pull.static_coefficient is not None or one.pull.kinetic_coefficient is not None
        if known or self.conditions is None:
            return one.pull
        return with_coefficients(one.pull, self.conditions)


def in_setting(number: int, pull: Pull, setting: Setting | None, label: str | None) -> TodaysPull:
    """Return a pull with what the bench was told of it: its coefficients when sled and load are known, its sole."""
    pressing_kg = None if setting is None else setting.pressing_kg
    if setting is not None and pressing_kg and pull.kinetic_coefficient is None:
        conditions = Conditions(
            weight_N=weight_N(pressing_kg), u_weight_N=setting.u_load_kg * STANDARD_GRAVITY_M_S2
        )
        pull = with_coefficients(pull, conditions)
    sole = SOLE if setting is None or not setting.surface else setting.surface
    return TodaysPull(number=number, pull=pull, sole=sole, label=label, load_kg=pressing_kg)


def handbook_lesson(surfaces: str, why: str = "") -> Lesson:
    """Return the lesson of a pair in the handbook; why: it stands in for a day, a sentence without its full stop.

    Raises ConditionsError for surfaces that it does not know.
    """
    lesson = pair_of_handbook(handbook().find(surfaces))
    if not why:
        return lesson
    return replace(lesson, note=f"{why}; the coefficients come from {lesson.pair.told}.")


def lesson_of(pulls: Sequence[TodaysPull], day: str, surfaces: str) -> Lesson:
    """Return the lesson that a day's pulls give; the handbook's, with a note, when none of them tells.

    Raises ConditionsError for coefficients with limits that reach nought, and for surfaces that are not known.
    """
    try:
        return pair_from(pulls, day=day)
    except ConditionsError as mistake:
        if mistake.code != "no-usable-pull":
            raise
        return handbook_lesson(surfaces, mistake.what.removesuffix("."))


def kept_of(reader: LogbookReader, rows: Sequence[PullRow], *, samples: bool) -> Iterator[TodaysPull]:
    """Yield the pulls that were not set aside and whose reading can be read, each as the bench was told of it.

    samples: with their own windows.  A pull whose samples were damaged since keeps its numbers and goes without.
    """
    days = {row.day: Settings(row.day, reader) for row in rows}
    offsets = {row.id: row.offset_s for day in days for row in reader.recordings(day)}
    for row in rows:
        if row.aside is not None:
            continue
        try:
            pull = pull_of_record(row.reading.record)
        except (msgspec.DecodeError, ValueError):
            continue
        setting = days[row.day].of(row.number, pull.window.start_s + offsets.get(row.recording, 0.0))
        if samples:
            with suppress(LogbookError):
                pull = with_samples(pull, reader.window(row.id))
        yield in_setting(row.number, pull, setting, row.label)


def lesson_today(session: Session, about: AboutPulls, surfaces: str, *, samples: bool = False) -> DayRead:
    """Return the lesson of a session's pulls up to now.  surfaces, samples: as for `lesson_of` and `kept_of`."""
    kept = (
        in_setting(card.number, pull, setting, card.label)
        for card, pull, setting in session.pulls.readings(samples=samples)
        if card.aside is None
    )
    return _read(about.said_of(kept), session.day, surfaces)


def lesson_of_day(
    reader: LogbookReader, day: str, about: AboutPulls, surfaces: str, *, samples: bool = False
) -> DayRead:
    """Return the lesson of any day in a logbook.  Raises LogbookError for a day that it does not have."""
    days = [row.day for row in reader.days()]
    if day not in days:
        raise LogbookError(
            "day-unknown", f"The logbook has no day {day!r}.",
            f"Its last days are {', '.join(days[-5:])}." if days else "It holds no day yet.", "Choose one of its days.",
        )  # fmt: skip
    return _read(about.said_of(kept_of(reader, reader.pulls(day), samples=samples)), day, surfaces)


def pulls_told(read: DayRead, *, today: bool) -> str:
    """Return the pulls that made a lesson, as in "today's 12 pulls on felt"; "" when the handbook did.

    today: the day is the session's own.
    """
    if not read.count:
        return ""
    pulls = f"{read.count} {'pull' if read.count == 1 else 'pulls'}"
    return f"today's {pulls}{_surfaces(read)}" if today else f"{pulls} of {read.day}{_surfaces(read)}"


def stands_in(read: DayRead, *, today: bool) -> str:
    """Return in one sentence why the handbook's coefficients are used, "" when the pulls' own are."""
    if read.count:
        return ""
    if read.day is None:
        return "From the handbook, as chosen."
    if read.pulls and all(one.pull.static_coefficient is None for one in read.pulls):
        whose = f"{'today' if today else read.day}'s {'pull' if len(read.pulls) == 1 else 'pulls'}"
        return f"From the handbook: the load of {whose} is not said yet."
    return f"From the handbook: no usable pull {'yet today' if today else f'on {read.day}'}."


def day_ladder(read: DayRead) -> Ladder | None:
    """Return the load ladder of the pulls that made a lesson, all on one surface; None when they do not make one."""
    pair = read.lesson.pair
    told = [pull for pull in read.pulls if pull.tells and (pull.sole, pull.floor) == (pair.sole, pair.floor)]
    loaded = [one for pull in told if (one := pull.loaded()) is not None]
    try:
        return ladder(loaded)
    except ConditionsError:
        return None


def _read(pulls: tuple[TodaysPull, ...], day: str, surfaces: str) -> DayRead:
    return DayRead(lesson=lesson_of(pulls, day, surfaces), day=day, pulls=pulls)


def _surfaces(read: DayRead) -> str:
    sole, floor = read.lesson.pair.sole, read.lesson.pair.floor
    if floor == FLOOR:
        return "" if sole == SOLE else f" with {sole}"
    return f" on {floor}" if sole == SOLE else f", {sole} on {floor}"
