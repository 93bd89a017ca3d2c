"""From rows with the file's own times to rows whose times go up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np
import numpy.typing as npt

from pullbench.model import FloatArray
from pullbench.sources.batch import BACKWARD, NO_ROWS, REPEATED, Batch, Piece
from pullbench.sources.damage import Damage
from pullbench.sources.ledger import Ledger
from pullbench.sources.rows import GOOD
from pullbench.sources.survey import not_advancing

LOOK_AHEAD = 50  # rows that tell a slip of one stamp from a clock that started again
_RESTART_ROWS = 10
_MOST_WAITING = 500_000


class Clock(Protocol):
    """Turns batches into pieces; `last` says that no batch follows."""

    def feed(self, batch: Batch, *, last: bool) -> Piece:
        """Return what can be delivered so far."""
        ...


class RateClock:
    """No time column: a row's place in line over the rate.  Lost rows keep their place."""

    def __init__(self, rate_Hz: float) -> None:
        self._rate_Hz = rate_Hz
        self._ledger = Ledger(step_s=1 / rate_Hz, gap_s=math.inf)

    def feed(self, batch: Batch, *, last: bool) -> Piece:
        """Return all good rows of the batch."""
        time_s = batch.slot / self._rate_Hz
        damages = self._ledger.settle(batch, batch.state, time_s)
        if last:
            damages += self._ledger.finish()
        good = batch.state == GOOD
        return Piece(batch.slot[good], time_s[good], batch.force_N[good], tuple(damages))


@dataclass(frozen=True, slots=True)
class StampRules:
    """step_s: usual step.  gap_s: a longer one is a gap.  strict: equal times are repeats, else allowed.

    wraps_s: spans after which the clock starts again at nought.  day: it is the time of day.
    """

    step_s: float
    gap_s: float
    strict: bool = True
    wraps_s: tuple[float, ...] = ()
    day: bool = False


class StampClock:
    """A time column: rows whose time repeats or falls back are left out, a clock that restarts goes on.

    A stamp that falls back for fewer than LOOK_AHEAD rows is a slip: those rows are left out (or the one
    row before, if that had leapt ahead).  If it stays back and counts on, the clock was set anew, and the
    times after it are moved on to follow the last by one usual step.  The last row waits, as the next
    may show that it leapt; so the result does not depend on how the rows are cut into batches.
    """

    def __init__(self, rules: StampRules) -> None:
        self._rules = rules
        self._ledger = Ledger(step_s=rules.step_s, gap_s=rules.gap_s)
        self._waiting = NO_ROWS
        self._previous_s, self._offset_s = -math.inf, 0.0

    def feed(self, batch: Batch, *, last: bool) -> Piece:
        """Return the rows whose time is settled."""
        batch = batch.after(self._waiting)
        good = np.flatnonzero(batch.state == GOOD)
        walk = _Walk(batch.time_s[good], self._previous_s, self._offset_s, self._rules, last=last)
        settled = walk.settled
        upto = len(batch) if settled == good.size else int(good[settled])
        self._waiting = batch.rows(upto, len(batch))
        if len(self._waiting) > _MOST_WAITING:
            stamp_s = float(batch.time_s[good[-1]])
            raise not_advancing(stamp_s, stamp_s)
        self._previous_s, self._offset_s = walk.previous_s, walk.offset_s
        return self._deliver(batch.rows(0, upto), good[:settled], walk, last=last)

    def _deliver(self, batch: Batch, good: npt.NDArray[np.int64], walk: _Walk, *, last: bool) -> Piece:
        fate, time_s = batch.state.copy(), batch.time_s.copy()
        fate[good], time_s[good] = walk.fate[: good.size], walk.time_s[: good.size]
        damages = self._ledger.settle(batch, fate, time_s) + walk.restarts
        if last:
            damages += self._ledger.finish()
        kept = fate == GOOD
        return Piece(batch.slot[kept], time_s[kept], batch.force_N[kept], tuple(damages))


class _Walk:
    """One walk along stamps (s), shape (n,), from a settled state to the next.

    After it: fate and time_s, shape (n,), hold for the first `settled` rows; previous_s and offset_s are
    the state behind those.
    """

    def __init__(
        self, stamps_s: FloatArray, previous_s: float, offset_s: float, rules: StampRules, *, last: bool
    ) -> None:
        self._rules, self._last = rules, last
        self.fate = np.zeros(stamps_s.size, dtype=np.uint8)
        self.time_s = stamps_s + offset_s if offset_s else stamps_s
        self.previous_s, self.offset_s = previous_s, offset_s
        self.restarts: list[Damage] = []
        self.settled = stamps_s.size
        steps_s = np.diff(self.time_s, prepend=previous_s)
        if not bool(np.all(steps_s > 0 if rules.strict else steps_s >= 0)):
            self._step_by_step(stamps_s.tolist())
        elif stamps_s.size:
            self.settled -= 0 if last else 1
            self.previous_s = float(self.time_s[self.settled - 1]) if self.settled else previous_s

    def _step_by_step(self, stamps: list[float]) -> None:
        self._stamps, self.time_s = stamps, np.array(stamps)
        self._newest, self._offset, self._row = self.previous_s, self.offset_s, 0
        self._entry_offset = self._offset  # offset when the present row was come to
        self._held: int | None = None  # newest kept row, taken back if it had leapt ahead ...
        self._before_held = (self._newest, self._offset)  # ... and the state before it
        restarts: list[tuple[int, Damage]] = []
        while self._row < len(stamps):
            now = stamps[self._row] + self._offset
            if now > self._newest or (now == self._newest and not self._rules.strict):
                self._keep(now)
            elif now == self._newest:
                self._leave_out(1, REPEATED)
            elif self._last or self._row + LOOK_AHEAD <= len(stamps):
                ahead = [s + self._offset for s in stamps[self._row : self._row + LOOK_AHEAD]]
                self._fall_back(ahead, restarts)
            else:
                break
        self._settle(restarts)

    def _keep(self, now: float) -> None:
        self.time_s[self._row] = now
        self._held, self._before_held = self._row, (self._newest, self._entry_offset)
        self._newest = now
        self._go_on(1)

    def _leave_out(self, count: int, why: int) -> None:
        self.fate[self._row : self._row + count] = why
        self._go_on(count)

    def _go_on(self, count: int) -> None:
        self._row += count
        self._entry_offset = self._offset

    def _fall_back(self, ahead: list[float], restarts: list[tuple[int, Damage]]) -> None:
        """Decide about a stamp before the newest one; ahead: it and those after it."""
        now, step_s = ahead[0], self._rules.step_s
        back = next((k for k, stamp in enumerate(ahead) if stamp > self._newest), None)
        stamp = self._stamps[self._row]
        wrapped = self._offset + _wrap(self._newest, now, self._rules)
        restarted = self._offset + (self._newest + step_s - now)
        if wrapped != self._offset and stamp + wrapped > self._newest:
            self._offset = wrapped
        elif self._held is not None and self._before_held[0] < now and _goes_on_below(ahead, self._newest):
            self.fate[self._held] = BACKWARD
            self._newest, self._held = self._before_held[0], None
        elif back is not None:
            self._leave_out(back, BACKWARD)
        elif _counts_on(ahead) and stamp + restarted > self._newest:
            restarts.append((self._row, _restart(self._newest, step_s)))
            self._offset = restarted
        else:
            self._leave_out(1, BACKWARD)

    def _settle(self, restarts: list[tuple[int, Damage]]) -> None:
        if self._last:
            self.settled, self.previous_s, self.offset_s = self._row, self._newest, self._offset
        elif self._held is not None:
            self.settled, (self.previous_s, self.offset_s) = self._held, self._before_held
        else:
            self.settled, self.previous_s, self.offset_s = self._row, self._newest, self._entry_offset
        self.restarts = [damage for row, damage in restarts if row < self.settled]


def _wrap(newest: float, now: float, rules: StampRules) -> float:
    """Return the span to add if the clock ran over: midnight, or a counter of 32 bits."""
    for span_s in rules.wraps_s:
        step_s = now + span_s - newest
        if rules.day and now < newest - span_s / 2:
            return span_s
        if not rules.day and 0 < step_s <= 100 * rules.step_s:
            return span_s
    return 0.0


def _goes_on_below(ahead: list[float], newest: float) -> bool:
    return len(ahead) > 1 and ahead[0] < ahead[1] < newest


def _counts_on(ahead: list[float]) -> bool:
    rises = [b > a for a, b in pairwise(ahead)]
    falls = sum(b < a for a, b in pairwise(ahead))
    return len(ahead) >= _RESTART_ROWS and falls * 5 <= len(rises) and any(rises)


def _restart(newest_s: float, step_s: float) -> Damage:
    detail = "the clock was set anew there, and the times after it are moved on"
    return Damage("backward times", newest_s, newest_s + step_s, 1, detail)
