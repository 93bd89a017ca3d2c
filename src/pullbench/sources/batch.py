"""Rows on their way through the clocks: in seconds and newtons, each with its place in line."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from pullbench.model import FloatArray
from pullbench.sources.damage import Damage
from pullbench.sources.rows import UNREADABLE, Rows

IntArray = npt.NDArray[np.int64]
REPEATED, BACKWARD = 3, 4  # beside GOOD, MISSING and UNREADABLE


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Rows in order, shape (n,) each; time_s and force_N are NaN where not known.

    slot: a row's place in line if nothing had been lost; a run of unreadable lines takes one place.
    """

    slot: IntArray
    time_s: FloatArray
    force_N: FloatArray
    state: npt.NDArray[np.uint8]
    texts: dict[int, str] = field(default_factory=dict)

    def __len__(self) -> int:
        return self.slot.size

    def after(self, earlier: Batch) -> Batch:
        """Return the earlier rows with these behind them."""
        if not len(earlier):
            return self
        shift = len(earlier)
        return Batch(
            np.concatenate((earlier.slot, self.slot)),
            np.concatenate((earlier.time_s, self.time_s)),
            np.concatenate((earlier.force_N, self.force_N)),
            np.concatenate((earlier.state, self.state)),
            earlier.texts | {row + shift: text for row, text in self.texts.items()},
        )

    def rows(self, start: int, stop: int) -> Batch:
        """Return the rows from start up to stop."""
        texts = {row - start: text for row, text in self.texts.items() if start <= row < stop}
        cut = slice(start, stop)
        return Batch(self.slot[cut], self.time_s[cut], self.force_N[cut], self.state[cut], texts)


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """Samples ready for delivery, with the damage met on the way: slot, time_s, force_N of shape (n,)."""

    slot: IntArray
    time_s: FloatArray
    force_N: FloatArray
    damages: tuple[Damage, ...] = ()


NO_ROWS = Batch(np.empty(0, np.int64), np.empty(0), np.empty(0), np.empty(0, np.uint8))


class Queue:
    """Gives rows their place in line, block after block."""

    def __init__(self) -> None:
        self._next = 0
        self._after_unreadable = False

    def number(self, rows: Rows, time_s: FloatArray, force_N: FloatArray) -> Batch:
        """Return a block's rows with their places; time_s and force_N are its columns in SI units."""
        lost = rows.state == UNREADABLE
        before = np.concatenate(([self._after_unreadable], lost[:-1])) if lost.size else lost
        slot = self._next + np.cumsum(~(lost & before)) - 1
        if slot.size:
            self._next, self._after_unreadable = int(slot[-1]) + 1, bool(lost[-1])
        return Batch(slot.astype(np.int64), time_s, force_N, rows.state, rows.texts)
