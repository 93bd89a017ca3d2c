"""Times for bare numbers, from when they arrive.

Assumed: the sensor takes its readings at even intervals, and a line may come late (in bursts, after a
stall) but never early.  The rate is a straight line through the arrivals of the first two seconds; from
then on readings are counted and evenly spaced, and the count is steered slowly to the arrivals (a
phase-locked loop with a time constant of 10 s, at most 0.2 % faster or slower).  Readings that are lost
show as a lateness that stays; a lateness that goes away was a stall, and lost nothing.  The time of day of
a reading, not its distance to the next, is uncertain by how late lines usually come.
"""

from __future__ import annotations

import math
from collections import deque

import numpy as np

from pullbench.model import FloatArray
from pullbench.sources.batch import NO_ROWS, Batch, Piece
from pullbench.sources.damage import Damage
from pullbench.sources.ledger import Ledger
from pullbench.sources.rows import GOOD

SETTLE_s = 2.0
_FEWEST_ROWS = 8
_BACKLOG_s = 0.2  # what waited in buffers before we listened comes in the first moments
_STEERING_s, _SMOOTHING_s, _MOST_STEERING = 10.0, 1.0, 0.002
_STALL_s, _DIGEST_s = 0.25, 0.5
_RESTLESS_GAPS, _RESTLESS_s = 3, 10.0
_NO_PIECE = Piece(np.empty(0, np.int64), np.empty(0), np.empty(0))


class Arrivals:
    """The clock of lines that carry no time.

    Rows are held back until two seconds and eight rows are there; after a stall for half a second, until
    it shows whether what was missing comes late or is lost.
    """

    def __init__(self) -> None:
        self._held: list[tuple[float, Batch]] = []
        self._count: _Count | None = None
        self._stalled = False
        self._newest_s = -math.inf

    @property
    def rate_Hz(self) -> float | None:
        """Readings a second, or None before it is known."""
        return None if self._count is None else 1 / self._count.step_s

    @property
    def out_of_step(self) -> bool:
        """Whether readings come at another rate than was found: a new recording must begin."""
        return self._count is not None and self._count.out_of_step

    def feed(self, batch: Batch, arrived_s: float) -> Piece:
        """Return the rows whose time is settled, after these arrived together."""
        if not len(batch):
            return self.tick(arrived_s)
        if self._count is not None and not self._held:
            if not self._stalled and arrived_s - self._newest_s <= self._count.stall_s:
                self._newest_s = arrived_s
                return self._count.place(batch, arrived_s)
            self._stalled = True
        self._held.append((arrived_s, batch))
        self._newest_s = arrived_s
        return self.tick(arrived_s)

    def tick(self, now_s: float) -> Piece:
        """Return rows that were held back and are due."""
        if not self._held:
            return _NO_PIECE
        if self._count is not None:
            return self._digested() if now_s - self._held[0][0] >= _DIGEST_s else _NO_PIECE
        good = [(arrived_s, batch) for arrived_s, batch in self._held if (batch.state == GOOD).any()]
        rows = sum(int(np.count_nonzero(batch.state == GOOD)) for _, batch in good)
        if rows < _FEWEST_ROWS or good[-1][0] - good[0][0] < SETTLE_s:
            return _NO_PIECE
        self._count = _Count([(arrived_s, int(batch.slot[-1])) for arrived_s, batch in good])
        return self._release()

    def reconnected(self) -> None:
        """Take what comes next as after a stall: some of it is lost."""
        self._stalled = True
        if self._count is None:
            self._held.clear()  # no rate is found across a break

    def finish(self) -> Piece:
        """Return what is left; nothing, if the rate is still unknown."""
        if self._count is None:
            return _NO_PIECE
        piece = self._digested() if self._held else _NO_PIECE
        return _joined([piece, Piece(*_EMPTY, tuple(self._count.finish()))])

    def _digested(self) -> Piece:
        assert self._count is not None
        self._count.after_stall([(arrived_s, int(batch.slot[-1])) for arrived_s, batch in self._held])
        self._stalled = False
        return self._release()

    def _release(self) -> Piece:
        assert self._count is not None
        held, self._held = self._held, []
        return _joined([self._count.place(batch, arrived_s) for arrived_s, batch in held])


class _Count:
    """An even count of readings, steered to their arrivals.

    points: (arrival, place of the newest row) of each burst so far.  Own time is nought at place nought.
    """

    def __init__(self, points: list[tuple[float, int]]) -> None:
        self.step_s, self._origin_s, self._jitter_s = _even_line(points)
        self._slot, self._time_s = 0, 0.0
        self._late_s = 0.0  # smoothed
        self._lateness: deque[tuple[float, float]] = deque()
        self._newest_s = points[0][0]
        self._missing = 0  # places to leave free before the next row
        self._missing_since_s = 0.0
        self._gaps_at_s: deque[float] = deque(maxlen=_RESTLESS_GAPS)
        self._ledger = Ledger(step_s=self.step_s, gap_s=math.inf)
        self._delivered_s: float | None = None
        self.out_of_step = False

    @property
    def stall_s(self) -> float:
        """A longer silence than this is a stall."""
        return max(_STALL_s, 4 * self.step_s)

    def place(self, batch: Batch, arrived_s: float) -> Piece:
        """Return the good rows of a burst with their times."""
        self._watch_lateness(int(batch.slot[-1]), arrived_s)
        damages = self._leave_gap(batch)
        step_s = self.step_s * (1 + min(max(self._late_s / _STEERING_s, -_MOST_STEERING), _MOST_STEERING))
        time_s: FloatArray = self._time_s + step_s * (batch.slot - self._slot).astype(np.float64)
        self._slot, self._time_s = int(batch.slot[-1]), float(time_s[-1])
        damages += self._ledger.settle(batch, batch.state, time_s)
        good = batch.state == GOOD
        self._steer(arrived_s)
        if good.any():
            self._delivered_s = float(time_s[good][-1])
        return Piece(batch.slot[good], time_s[good], batch.force_N[good], tuple(damages))

    def after_stall(self, points: list[tuple[float, int]]) -> None:
        """See from bursts behind a stall whether readings are lost: whether the last of them are late."""
        settled = [point for point in points if point[0] >= points[0][0] + _DIGEST_s / 2] or points[-1:]
        late_s = [self._lateness_of(slot, arrived_s) for arrived_s, slot in settled]
        if min(late_s) > self._most_late_s:
            self._lose(float(np.median(late_s)), self._time_s)
        self._lateness.clear()
        self._newest_s = points[0][0]

    def finish(self) -> list[Damage]:
        """Return the damage behind the last row."""
        return self._ledger.finish()

    @property
    def _most_late_s(self) -> float:
        """Lateness that no burst explains: most of an interval, and far outside the usual scatter."""
        return max(0.6 * self.step_s, 4 * self._jitter_s, 0.015)

    @property
    def _window_s(self) -> float:
        return max(1.0, 6 * self.step_s)

    def _lateness_of(self, slot: int, arrived_s: float) -> float:
        return arrived_s - self._origin_s - (self._time_s + self.step_s * (slot - self._slot))

    def _watch_lateness(self, slot: int, arrived_s: float) -> None:
        seen, window_s = self._lateness, self._window_s
        seen.append((arrived_s, self._lateness_of(slot, arrived_s)))
        while seen[0][0] < arrived_s - window_s:
            seen.popleft()
        if len(seen) < 4 or arrived_s - seen[0][0] < 0.8 * window_s:
            return
        late_s = [late for _, late in seen]
        if min(late_s) > self._most_late_s:
            self._lose(float(np.median(late_s)), max(0.0, self._time_s - window_s))
            self._gaps_at_s.append(arrived_s)
            many = len(self._gaps_at_s) == _RESTLESS_GAPS
            self.out_of_step |= many and arrived_s - self._gaps_at_s[0] < _RESTLESS_s
            seen.clear()
        self.out_of_step |= max(late_s) < -max(0.5, 5 * self.step_s)

    def _lose(self, late_s: float, since_s: float) -> None:
        self._missing, self._missing_since_s = max(1, round(late_s / self.step_s)), since_s
        self._late_s = 0.0

    def _leave_gap(self, batch: Batch) -> list[Damage]:
        if not self._missing:
            return []
        missing, self._missing = self._missing, 0
        self._time_s += missing * self.step_s
        end_s = self._time_s + self.step_s * (int(batch.slot[0]) - self._slot)
        return [Damage("gap", self._missing_since_s, end_s, missing, near_s=20 * self.step_s)]

    def _steer(self, arrived_s: float) -> None:
        passed_s, self._newest_s = max(0.0, arrived_s - self._newest_s), arrived_s
        late_s = self._lateness_of(self._slot, arrived_s)
        # A stall that goes away must not pull the count: beyond this it is dealt with as a loss, if it stays.
        late_s = min(max(late_s, -self._most_late_s), self._most_late_s)
        self._late_s += (late_s - self._late_s) * -math.expm1(-passed_s / _SMOOTHING_s)
        passed_s = min(passed_s, _SMOOTHING_s)
        self.step_s *= 1 + self._late_s * passed_s / (4 * _STEERING_s**2)


_EMPTY = (NO_ROWS.slot, NO_ROWS.time_s, NO_ROWS.force_N)


def _even_line(points: list[tuple[float, int]]) -> tuple[float, float, float]:
    """Return (interval, arrival of place nought, scatter) of a line through arrivals against places.

    Least squares twice, the second time without bursts that came far off the first line (stalls).
    """
    settled = [point for point in points if point[0] >= points[0][0] + _BACKLOG_s]
    arrived_s, place = np.array(settled if len(settled) >= 4 else points, dtype=np.float64).T
    kept = np.ones(arrived_s.size, dtype=bool)
    for _ in range(2):
        step_s, start_s = _least_squares(place[kept], arrived_s[kept])
        apart_s = arrived_s - (start_s + step_s * place)
        usual_s = 1.4826 * float(np.median(np.abs(apart_s)))
        kept = np.abs(apart_s) <= max(3 * usual_s, 1e-6)
    return step_s, start_s, float(np.std(apart_s[kept]))


def _least_squares(place: FloatArray, arrived_s: FloatArray) -> tuple[float, float]:
    middle, middle_s = float(place.mean()), float(arrived_s.mean())
    apart = place - middle
    step_s = float(apart @ (arrived_s - middle_s)) / float(apart @ apart)
    return step_s, middle_s - step_s * middle


def _joined(pieces: list[Piece]) -> Piece:
    return Piece(
        np.concatenate([piece.slot for piece in pieces]),
        np.concatenate([piece.time_s for piece in pieces]),
        np.concatenate([piece.force_N for piece in pieces]),
        tuple(damage for piece in pieces for damage in piece.damages),
    )
