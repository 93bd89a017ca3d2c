"""A clock coarser than the samples: even times between the stamps that differ.

Samples come at a steady rate, but their stamps repeat: the time is printed to 0.01 s at 500 Hz, or a port
hands over packets.  The first sample of a group of equal stamps came within one interval after the clock
went on (for packets: the last one came just before), so averages over many groups lie on the true line of
time against place, and times read from that line are better than one interval.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from pullbench.model import FloatArray
from pullbench.sources.batch import IntArray
from pullbench.sources.survey import steady_step

GROUPS_PER_KNOT = 16


class Group(NamedTuple):
    """Samples of one stamp (s): first and last place in line."""

    stamp_s: float
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class GroupRules:
    """step_s: mean interval.  late_s: a stamp later than its place by more is a gap.

    by_last: the stamp belongs to the last sample of a group (packets).  even_counts: groups are all
    alike.  ticks_decimal: the clock's tick is a power of ten, so it was printed, hence rounded.
    """

    step_s: float
    late_s: float
    by_last: bool
    even_counts: bool
    tick_s: float

    @property
    def printed(self) -> bool:
        """Whether the tick is a power of ten: a time printed to so many digits, hence rounded."""
        power = math.log10(self.tick_s)
        return abs(power - round(power)) < 1e-3


def survey_groups(time_s: FloatArray, step_s: float) -> GroupRules:
    """Return the rules of a coarse clock from times of shape (n,) that never fall back."""
    first = np.flatnonzero(np.diff(time_s, prepend=-math.inf) > 0)
    last = np.append(first[1:], time_s.size) - 1
    stamps_s = time_s[first]
    if first.size < 4:
        return GroupRules(step_s, 1.5 * step_s, False, False, step_s)
    tick_s = float(np.median(np.diff(stamps_s)))
    # The first group may be cut at its beginning, the last one at its end.
    by_first, by_last = _lateness(first[1:], stamps_s[1:]), _lateness(last[:-1], stamps_s[:-1])
    packets = _spread(by_last[1]) < 0.7 * _spread(by_first[1])
    step_s, late = by_last if packets else by_first
    late_s = max(1.5 * step_s, 2 * float(np.quantile(np.abs(late), 0.9)))
    return GroupRules(step_s, late_s, packets, bool(np.ptp(np.diff(first)) == 0), tick_s)


def _lateness(place: IntArray, stamp_s: FloatArray) -> tuple[float, FloatArray]:
    """Return the mean interval and how much later each stamp is than the one before lets expect."""
    step_s = steady_step(place, stamp_s)
    return step_s, np.diff(stamp_s) - step_s * np.diff(place)


class Segment:
    """A stretch without gaps: the knots of its line of time against place.

    A knot is the mean place and mean stamp of GROUPS_PER_KNOT groups.  The first group of a segment gives no
    point (it may begin between two ticks), nor does the last group of packets (it may be cut).
    """

    def __init__(self, rules: GroupRules, opening: Group) -> None:
        self._rules, self.newest = rules, opening
        self.drawn = False  # whether samples before the first knots have their time
        self._points: list[tuple[float, float]] = []  # of the next knot
        self._early: list[tuple[float, float]] = []  # all of them, while knots are few
        self.knots: list[tuple[float, float]] = []
        self.opening = opening

    def lateness_s(self, group: Group) -> float:
        """Return how much later a group's stamp is than its place lets expect."""
        newest, by_last = self.newest, self._rules.by_last
        places = group.last - newest.last if by_last else group.first - newest.first
        due_s = places * self._rules.step_s
        if newest is self.opening and not by_last:  # a stretch may open between two ticks
            due_s = max(due_s, self._rules.tick_s)
        return group.stamp_s - newest.stamp_s - due_s

    def add(self, group: Group) -> bool:
        """Take in the next group; say whether a knot was tied."""
        point = (
            (self.newest.last, self.newest.stamp_s) if self._rules.by_last else (group.first, group.stamp_s)
        )
        self.newest = group
        self._points.append(point)
        if len(self.knots) < 2:
            self._early.append(point)
        return self.tie_knot(GROUPS_PER_KNOT)

    def tie_knot(self, at_least: int) -> bool:
        """Tie a knot of the points since the last one, if there are enough."""
        if len(self._points) < at_least:
            return False
        self.knots.append(_mean(self._points))
        self._points.clear()
        return True

    def line(self) -> tuple[float, float, float]:
        """Return (place, time, slope) over the knots; of few or none: by least squares, or the usual step."""
        if len(self.knots) > 1:
            return (*self.knots[-1], _slope(self.knots[0], self.knots[-1]))
        points = self._early or [self._opening_point()]
        place, time_s = _mean(points)
        slope = self._rules.step_s
        if len(points) >= 3:
            apart = np.array(points) - (place, time_s)
            slope = float(apart[:, 0] @ apart[:, 1] / (apart[:, 0] @ apart[:, 0]))
        return place, time_s, slope

    def last_line(self) -> tuple[float, float, float]:
        """Return (place, time, slope) of the line between the last two knots."""
        return (*self.knots[-1], _slope(self.knots[-2], self.knots[-1]))

    def _opening_point(self) -> tuple[float, float]:
        return (self.opening.last if self._rules.by_last else self.opening.first, self.opening.stamp_s)


def _mean(points: list[tuple[float, float]]) -> tuple[float, float]:
    # Sums of differences from the first point: stamps of a long recording keep their digits.
    place, time_s = points[0]
    count = len(points)
    return (
        place + math.fsum(point[0] - place for point in points) / count,
        time_s + math.fsum(point[1] - time_s for point in points) / count,
    )


def _slope(early: tuple[float, float], late: tuple[float, float]) -> float:
    return (late[1] - early[1]) / (late[0] - early[0])


def _spread(values: FloatArray) -> float:
    return float(np.sqrt(np.mean(np.square(values - np.median(values)))))
