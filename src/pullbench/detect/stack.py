"""The stack of rests: which levels the force may come back to, and what became of them."""

from __future__ import annotations

from collections import deque

from pullbench.detect.excursion import NEAR_SHARE, Excursion
from pullbench.detect.rest import Rest

_TRUSTED_S = 6.0  # a rest that lasted so long has moved; a shorter one may be a held string
_FORGET_S = 60.0  # lower rests are forgotten once the top one has lasted so long
_MOST_RESTS = 6


class Level:
    """A rest of the stack, and the excursion under way from it.

    begin: its first beat.  first: the recording began here, perhaps in the middle of a pull.  before: one
    before it was in the middle of a pull, which is told once this one has proved a rest.  doubtful: this
    level or the first one is the rest; what follows will tell.  never_left: the force has not come back
    to it yet.
    """

    def __init__(
        self, rest: Rest, *, first: bool = False, before: bool = False, doubtful: bool = False
    ) -> None:
        self.rest = rest
        self.begin = rest.index
        self.before = before
        self.first = first
        self.doubtful = doubtful
        self.excursion: Excursion | None = None
        self.never_left = True
        self.lately: deque[tuple[float, float]] = deque()  # time and distance off the rest line

    @property
    def left(self) -> int | None:
        """Return the beat at which the level was left, or None while it is kept."""
        return None if self.excursion is None else (self.excursion.earlier or self.excursion).start

    @property
    def level_N(self) -> float:
        """Return the level that was left, or is being kept."""
        return self.rest.at(self.rest.last_s) if self.excursion is None else self.excursion.rest_N


class RestStack:
    """The rests that the force may come back to.  All but the top one have been left."""

    def __init__(self) -> None:
        self.levels: list[Level] = []

    @property
    def top(self) -> Level:
        """Return the rest that was seen last."""
        return self.levels[-1]

    @property
    def away(self) -> list[tuple[Level, Excursion]]:
        """Return the levels that have been left, lowest first, with their excursions."""
        return [(level, level.excursion) for level in self.levels if level.excursion is not None]

    @property
    def doubt(self) -> tuple[Level, Level] | None:
        """Return the first two levels of a recording while either may be its rest."""
        if len(self.levels) == 2 and self.levels[0].first and self.levels[1].doubtful:
            return self.levels[0], self.levels[1]
        return None

    def push(self, level: Level) -> None:
        """Add a level where the force has become quiet."""
        self.levels.append(level)
        del self.levels[:-_MOST_RESTS]

    def pop_above(self, level: Level) -> None:
        """Drop what lies above a level: it belonged to the excursion from it."""
        del self.levels[self.levels.index(level) + 1 :]

    def forget_below(self, level: Level) -> None:
        """Drop what lies below a level that is a rest beyond doubt."""
        del self.levels[: self.levels.index(level)]

    def forget_old(self, now_s: float) -> None:
        """Drop all but the top rest once it has lasted."""
        if now_s - self.top.rest.since_s > _FORGET_S:
            del self.levels[:-1]

    def is_only_held(self, level: Level, left_s: float) -> bool:
        """Return whether a level, left at left_s, is rather a string held taut above a lower rest."""
        place, excursion = self.levels.index(level), level.excursion
        if place == 0 or excursion is None or left_s - level.rest.since_s >= _TRUSTED_S:
            return False
        step_N = self.levels[place - 1].level_N - excursion.rest_N
        if step_N * excursion.side > 0 and excursion.height_N < 1.15 * abs(step_N):
            return True  # a dip towards the lower rest
        return abs(step_N) > 0.3 * excursion.height_N

    def is_told_better_above(self, level: Level) -> bool:
        """Return whether a higher rest tells the same pull better, or the rest of this level just moved."""
        excursion = level.excursion
        if excursion is None:
            return True
        for higher in self.levels[self.levels.index(level) + 1 :]:
            step_N = abs(higher.level_N - excursion.rest_N)
            if higher.excursion is None and excursion.height_N < 1.1 * step_N:
                return True
            if higher.excursion is not None and step_N < NEAR_SHARE * excursion.height_N:
                return True
        return False
