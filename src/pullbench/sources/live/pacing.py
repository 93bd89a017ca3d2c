"""Samples handed on when they are due, by their own times."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np

from pullbench.model import Chunk
from pullbench.sources.live.source import NOTHING, Clock, Sleep, WAIT_s

CHUNK_s = 0.05


def pieces(chunk: Chunk, chunk_s: float) -> Iterator[Chunk]:
    """Yield a chunk in pieces of chunk_s, same samples and same flaws.

    A flaw comes with the piece in which it begins, so that it is there before anything after it.
    """
    edges = np.flatnonzero(np.diff(np.floor(chunk.time_s / chunk_s))) + 1
    waiting = sorted(chunk.flaws, key=lambda flaw: flaw.start_s)
    bounds = [0, *edges.tolist(), chunk.time_s.size]
    for begin, end in pairwise(bounds):
        last = end == chunk.time_s.size
        upto_s = math.inf if last else float(chunk.time_s[end - 1])
        flaws = tuple(flaw for flaw in waiting if flaw.start_s <= upto_s)
        waiting = waiting[len(flaws) :]
        yield Chunk(time_s=chunk.time_s[begin:end], force_N=chunk.force_N[begin:end], flaws=flaws)


class Pace:
    """The moment at which a sample is due: its own time since the first one, over the speed."""

    def __init__(self, clock: Clock, sleep: Sleep, speed: float, closing: Callable[[], bool]) -> None:
        self._clock, self._sleep, self._speed, self._closing = clock, sleep, speed, closing
        self._began_s, self._first_s = clock(), math.nan

    def wait_for(self, time_s: float) -> Iterator[Chunk]:
        """Yield empty chunks until a sample of this time is due, or closing."""
        if math.isnan(self._first_s):
            self._first_s = time_s
        due_s = self._began_s + (time_s - self._first_s) / self._speed
        while (wait_s := due_s - self._clock()) > 0 and not self._closing():
            if wait_s <= WAIT_s:
                self._sleep(wait_s)
                return
            self._sleep(WAIT_s)
            yield NOTHING
