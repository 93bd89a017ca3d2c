"""Beats: samples put into short spans of an absolute time grid, so that chunks leave no trace.

The grid starts at the first sample of the recording.  A beat is closed by the first sample beyond it,
and holds order statistics only (median, lowest, highest): they do not depend on how samples arrived.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pullbench.model import FloatArray

BEAT_S = 0.05
"""Length of a beat: short against any pull, long against a spike.  Below 20 Hz a beat is one sample."""

_GRID_SLACK = 1e-6  # of a beat: stamps such as 0.15 s are not exactly on the grid they are meant for


@dataclass(frozen=True, slots=True, eq=False)
class Beat:
    """One beat that is not empty.

    time_s, force_N: its samples, shape (n,), n >= 1.  start_s: its first sample.  level_N, low_N,
    high_N: their median, lowest and highest.
    """

    time_s: FloatArray
    force_N: FloatArray
    start_s: float
    level_N: float
    low_N: float
    high_N: float


def beat_of(time_s: FloatArray, force_N: FloatArray) -> Beat:
    """Return the beat made of these samples, shape (n,), n >= 1."""
    n = force_N.size
    if n == 1:
        only_N = float(force_N[0])
        return Beat(time_s, force_N, float(time_s[0]), only_N, only_N, only_N)
    ranked_N = np.sort(force_N)
    level_N = 0.5 * (float(ranked_N[(n - 1) // 2]) + float(ranked_N[n // 2]))
    return Beat(time_s, force_N, float(time_s[0]), level_N, float(ranked_N[0]), float(ranked_N[-1]))


class BeatMaker:
    """Gathers samples until their beat is over.  Holds the samples of one beat at most."""

    def __init__(self) -> None:
        self._origin_s: float | None = None
        self._number = 0
        self._times: list[FloatArray] = []
        self._forces: list[FloatArray] = []

    def feed(self, time_s: FloatArray, force_N: FloatArray) -> list[Beat]:
        """Take samples, shape (n,), n >= 0, later than all before; return the beats they close."""
        if time_s.size == 0:
            return []
        if self._origin_s is None:
            self._origin_s = float(time_s[0])
        numbers = np.floor((time_s - self._origin_s) / BEAT_S + _GRID_SLACK)
        cuts = [0, *(np.flatnonzero(numbers[1:] != numbers[:-1]) + 1).tolist(), time_s.size]
        closed: list[Beat] = []
        for first, last in pairwise(cuts):
            number = int(numbers[first])
            if number != self._number:
                closed.extend(self.finish())
                self._number = number
            # Copies: a view would keep a whole chunk alive for as long as one of its beats.
            self._times.append(time_s[first:last].copy())
            self._forces.append(force_N[first:last].copy())
        return closed

    def finish(self) -> list[Beat]:
        """Close the open beat; return it, or nothing when it is empty."""
        if not self._times:
            return []
        many = len(self._times) > 1
        time_s = np.concatenate(self._times) if many else self._times[0]
        force_N = np.concatenate(self._forces) if many else self._forces[0]
        self._times, self._forces = [], []
        return [beat_of(time_s, force_N)]


class Resolution:
    """Finds one count of the sensor: the smallest step ever seen between the edges of beats."""

    def __init__(self) -> None:
        self.count_N = 0.0
        self._before: Beat | None = None
        self._largest_N = 0.0

    def see(self, beat: Beat) -> None:
        """Take one more beat."""
        self._largest_N = max(self._largest_N, abs(beat.low_N), abs(beat.high_N))
        steps = [beat.high_N - beat.low_N]
        if self._before is not None:
            steps += [abs(beat.low_N - self._before.low_N), abs(beat.high_N - self._before.high_N)]
        self._before = beat
        for step_N in steps:
            if step_N > self.rounding_N and (self.count_N == 0 or step_N < self.count_N):
                self.count_N = step_N

    @property
    def rounding_N(self) -> float:
        """Return what arithmetic alone may change in the last digits of a reading."""
        return 1e-9 * self._largest_N

    @property
    def floor_N(self) -> float:
        """Return the least noise that can be claimed: one count spread evenly, q/√12 (GUM F.2.2.1)."""
        return max(self.count_N / 12**0.5, self.rounding_N)
