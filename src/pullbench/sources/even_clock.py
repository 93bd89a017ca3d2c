"""The clock that spaces samples of equal stamps evenly, piece by piece."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from pullbench.model import FloatArray
from pullbench.sources.batch import Batch, Piece
from pullbench.sources.clock import Clock
from pullbench.sources.damage import Damage
from pullbench.sources.spacing import GROUPS_PER_KNOT, Group, GroupRules, Segment
from pullbench.sources.survey import not_advancing

_KNOTS_OF_A_SLOPE = 4  # a shorter baseline would tilt the ends of a stretch by one stamp's chance
_MOST_WAITING = 500_000


class EvenClock:
    """Spaces samples of equal stamps evenly, behind a clock that lets equal stamps pass.

    Between knots time is a straight line of the place; before the first and behind the last knot of a
    stretch the line goes on with the slope over the nearest four.  About 80 groups wait for their knots.
    """

    def __init__(self, stamps: Clock, rules: GroupRules) -> None:
        self._stamps, self._rules = stamps, rules
        self._slot, self._stamp_s, self._force_N = np.empty(0, np.int64), np.empty(0), np.empty(0)
        self._grouped = self._done = 0  # rows waiting that are in a group; that have their time
        self._times: list[FloatArray] = []
        self._segment: Segment | None = None
        self._offset_s: float | None = None
        self._last_s = -math.inf

    def feed(self, batch: Batch, *, last: bool) -> Piece:
        """Return the samples whose even times are settled."""
        piece = self._stamps.feed(batch, last=last)
        self._slot = np.concatenate((self._slot, piece.slot))
        self._stamp_s = np.concatenate((self._stamp_s, piece.time_s))
        self._force_N = np.concatenate((self._force_N, piece.force_N))
        damages = list(piece.damages)
        for group, row in self._groups(last=last):
            damages += self._take(group, row)
        if last and self._segment is not None:
            self._end_segment(self._segment, self._slot.size)
        return self._deliver(damages)

    def _groups(self, *, last: bool) -> Iterator[tuple[Group, int]]:
        """Yield groups whose end is known, each with its first row among those waiting."""
        stamps_s = self._stamp_s[self._grouped :]
        edges = self._grouped + np.flatnonzero(np.diff(stamps_s, prepend=-math.inf) > 0)
        ends = np.append(edges[1:], self._slot.size) if edges.size else edges
        closed = edges.size if last else max(0, edges.size - 1)
        for begin, end in zip(edges[:closed].tolist(), ends[:closed].tolist(), strict=True):
            self._grouped = end
            stamp_s = float(self._stamp_s[begin])
            yield Group(stamp_s, int(self._slot[begin]), int(self._slot[end - 1])), begin

    def _take(self, group: Group, row: int) -> list[Damage]:
        segment = self._segment
        if segment is None:
            self._segment = Segment(self._rules, group)
            return []
        late_s = segment.lateness_s(group)
        if late_s > self._rules.late_s:
            start_s = segment.newest.stamp_s
            self._end_segment(segment, row)
            self._segment = Segment(self._rules, group)
            return [self._gap(start_s, group.stamp_s, late_s)]
        if segment.add(group):
            self._draw_to_knot(segment)
        return []

    def _draw_to_knot(self, segment: Segment) -> None:
        """Give rows up to the newest knot their time; wait until a stretch has knots enough for a slope."""
        knots = segment.knots
        if len(knots) < _KNOTS_OF_A_SLOPE:
            return
        if len(knots) == _KNOTS_OF_A_SLOPE and not segment.drawn:
            self._draw_first_knots(segment)
        else:
            self._line_to(self._row_of(knots[-1][0]), *segment.last_line())
        del knots[:-_KNOTS_OF_A_SLOPE]

    def _draw_first_knots(self, segment: Segment) -> None:
        knots, segment.drawn = segment.knots, True
        slope = (knots[-1][1] - knots[0][1]) / (knots[-1][0] - knots[0][0])
        self._line_to(self._row_of(knots[0][0]), *knots[0], slope)
        for early, late in pairwise(knots):
            self._line_to(self._row_of(late[0]), *late, (late[1] - early[1]) / (late[0] - early[0]))

    def _end_segment(self, segment: Segment, row: int) -> None:
        if segment.tie_knot(GROUPS_PER_KNOT // 2):
            self._draw_to_knot(segment)
        if len(segment.knots) > 1 and not segment.drawn:
            self._draw_first_knots(segment)
        self._line_to(row, *segment.line())

    def _row_of(self, place: float) -> int:
        return int(np.searchsorted(self._slot, place))

    def _line_to(self, row: int, place: float, time_s: float, slope: float) -> None:
        if row <= self._done:
            return
        times: FloatArray = time_s + slope * (self._slot[self._done : row].astype(np.float64) - place)
        if self._offset_s is None:
            self._offset_s = self._first_offset(float(times[0]))
        self._times.append(times + self._offset_s)
        self._done = row

    def _first_offset(self, first_s: float) -> float:
        """Return what to add to all times, from the first sample's time by the line and its own stamp.

        The line passes through moments up to one interval before the samples that first bear a stamp.  If
        that lets the first sample stand on its stamp, for a clock that cuts digits off or one that rounds
        to them, it does.  Else recording began between two ticks.
        """
        rules, stamp_s, group = self._rules, float(self._stamp_s[0]), self._segment
        assert group is not None
        if rules.by_last:
            return 0.0
        spare_s = 1e-6 * rules.step_s
        behind_s = (group.opening.last - group.opening.first) * rules.step_s
        if rules.even_counts and stamp_s > 0 and abs(stamp_s - behind_s) < rules.step_s / 2:
            return stamp_s - behind_s - first_s  # the first packet's stamp is that of its last sample
        for rounding_s in (0.0, rules.tick_s / 2):
            if -rules.step_s <= first_s - rounding_s - stamp_s <= spare_s:
                return stamp_s - first_s
        return rules.step_s / 2 - (rules.tick_s / 2 if rules.printed else 0.0)

    def _gap(self, start_s: float, end_s: float, late_s: float) -> Damage:
        return Damage("gap", start_s, end_s, max(1, round(late_s / self._rules.step_s)))

    def _deliver(self, damages: list[Damage]) -> Piece:
        done = self._done
        times = np.concatenate(self._times) if self._times else np.empty(0)
        slot, force_N = self._slot[:done], self._force_N[:done]
        self._slot, self._stamp_s = self._slot[done:], self._stamp_s[done:]
        self._force_N, self._times = self._force_N[done:], []
        self._grouped, self._done = self._grouped - done, 0
        if self._slot.size > _MOST_WAITING:
            raise not_advancing(float(self._stamp_s[0]), float(self._stamp_s[-1]))
        highest = np.maximum.accumulate(np.concatenate(([self._last_s], times)))
        rising = times > highest[:-1]
        slot, times, force_N = slot[rising], times[rising], force_N[rising]
        if times.size:
            self._last_s = float(times[-1])
            steps = f"put at even steps of about {1e3 * self._rules.step_s:.3g} ms"
            even = Damage("evenly spaced", float(times[0]), self._last_s, int(times.size), steps, math.inf)
            damages.append(even)
        return Piece(slot, times, force_N, tuple(damages))
