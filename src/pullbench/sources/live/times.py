"""Where the times of a stream's rows come from: the rows themselves, or their arrival."""

from __future__ import annotations

from typing import Protocol

from pullbench.sources.batch import NO_ROWS, Batch, Piece
from pullbench.sources.clock import Clock


class Times(Protocol):
    """Gives rows their time; rows whose time is not settled wait inside."""

    def feed(self, batch: Batch, arrived_s: float) -> Piece:
        """Return what is settled after rows that arrived together."""
        ...

    def tick(self, now_s: float) -> Piece:
        """Return what is settled although nothing came."""
        ...

    def finish(self) -> Piece:
        """Return all that waits."""
        ...


class OwnTimes:
    """Times that stand in the lines themselves; when they arrived does not matter."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock

    def feed(self, batch: Batch, arrived_s: float) -> Piece:
        """Return the rows that the clock has settled."""
        return self._clock.feed(batch, last=False)

    def tick(self, now_s: float) -> Piece:
        """Return nothing new: only rows settle rows."""
        return self._clock.feed(NO_ROWS, last=False)

    def finish(self) -> Piece:
        """Return the rows that waited for a next one."""
        return self._clock.feed(NO_ROWS, last=True)
