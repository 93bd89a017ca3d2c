"""The strip of a session: least and most force of every 10 ms, at ten levels of detail.

    segment ── level 0: columns of 10 ms ── level 1: of 40 ms ── ... ── level 9: of 44 minutes

Columns lie on one grid of bench seconds.  A silence of a minute or more starts a new segment, so that hours
between recordings, or a clock that jumps, take no memory.  A 6 h day is 2.2 million columns: 17 MB, 23 MB
with all levels.
"""

from __future__ import annotations

import threading

import numpy as np

from pullbench.live.messages import Pairs, StripColumns
from pullbench.model import FloatArray

COLUMN_S = 0.01
FACTOR = 4
LEVELS = 10
APART_S = 60.0
MOST_AHEAD = 16_384  # columns of empty paper, 0.1 MB: doubled to the end, a long day would hold 17 MB of it
_HAIR = 1e-6  # of a column: 0.15 s is not exactly on the grid it is meant for


def column_s(level: int) -> float:
    """Return the seconds of a column of a level."""
    return COLUMN_S * float(FACTOR**level)


class Segment:
    """A stretch without long silences, from its first column on.

    Columns of every level are numbered from bench second 0; each level's array begins at the number of the
    first column's own.
    """

    def __init__(self, column: int) -> None:
        self.begin = self.end = self._dirty = column  # from _dirty on, the levels above are out of date
        self._levels: list[Pairs] = [_empty(16) for _ in range(LEVELS)]

    def write(self, columns: np.ndarray, least: Pairs, most: Pairs) -> None:
        """Put in columns in order of number, none before the newest one."""
        at = columns - self.begin
        base = self._levels[0] = _grown(self._levels[0], int(at[-1]) + 1)
        base[at, 0] = np.fmin(base[at, 0], least)
        base[at, 1] = np.fmax(base[at, 1], most)
        self._dirty = min(self._dirty, int(columns[0]))
        self.end = max(self.end, int(columns[-1]) + 1)

    def level(self, number: int) -> tuple[int, Pairs]:
        """Return the number of a level's first column, and its columns, up to date."""
        if number > 0 and self._dirty < self.end:
            self._build()
        first, end = self._span(number)
        return first, self._levels[number][: end - first]

    def _span(self, number: int) -> tuple[int, int]:
        size = FACTOR**number
        return self.begin // size, -(-self.end // size)

    def _build(self) -> None:
        dirty = self._dirty
        for number in range(1, LEVELS):
            (below_first, below_end), (first, end) = self._span(number - 1), self._span(number)
            dirty //= FACTOR
            piece = _empty(FACTOR * (end - dirty))
            have = self._levels[number - 1][max(FACTOR * dirty - below_first, 0) : below_end - below_first]
            at = max(below_first - FACTOR * dirty, 0)
            piece[at : at + have.shape[0]] = have
            four = piece.reshape(-1, FACTOR, 2)
            self._levels[number] = _grown(self._levels[number], end - first)
            self._levels[number][dirty - first : end - first, 0] = np.fmin.reduce(four[:, :, 0], axis=1)
            self._levels[number][dirty - first : end - first, 1] = np.fmax.reduce(four[:, :, 1], axis=1)
        self._dirty = self.end


class Strip:
    """All segments of a session.  Safe from any thread; a reader holds the writer up for milliseconds at most."""

    def __init__(self) -> None:
        self._segments: list[Segment] = []
        self._lock = threading.Lock()

    @property
    def begins_s(self) -> float | None:
        """Return the first column's start, None without any."""
        with self._lock:
            return self._segments[0].begin * COLUMN_S if self._segments else None

    def append(self, bench_s: FloatArray, force_N: FloatArray) -> StripColumns:
        """Take samples in bench seconds, later than all before; return the columns that they touch."""
        column = np.floor(bench_s / COLUMN_S + _HAIR).astype(np.int64)
        cuts = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
        least = np.minimum.reduceat(force_N, cuts).astype(np.float32)
        most = np.maximum.reduceat(force_N, cuts).astype(np.float32)
        numbers = column[cuts]
        with self._lock:
            for part in np.split(
                np.arange(numbers.size), np.flatnonzero(np.diff(numbers) > APART_S / COLUMN_S) + 1
            ):
                self._segment(int(numbers[part[0]])).write(numbers[part], least[part], most[part])
            return self._newest(int(numbers[0]))

    def columns(self, from_s: float, to_s: float, count: int) -> StripColumns:
        """Return `count` columns that cover from_s to to_s, from the coarsest level that is fine enough."""
        width_s = (to_s - from_s) / count
        level = _level_for(width_s)
        pairs = _empty(count)
        with self._lock:
            for segment in self._segments:
                _pour(segment, level, from_s, width_s, pairs)
        return StripColumns(from_s, width_s, pairs)

    def _segment(self, number: int) -> Segment:
        if not self._segments or number - self._segments[-1].end > APART_S / COLUMN_S:
            self._segments.append(Segment(number))
        return self._segments[-1]

    def _newest(self, number: int) -> StripColumns:
        first, pairs = self._segments[-1].level(0)
        number = max(number, first)
        return StripColumns(number * COLUMN_S, COLUMN_S, pairs[number - first :].copy())


def _level_for(width_s: float) -> int:
    """Return the coarsest level whose columns fit whole into those asked for, or are an eighth of them at most."""
    for level in reversed(range(1, LEVELS)):
        times = width_s / column_s(level)
        if times >= 8 or (times > 1 - _HAIR and abs(times - round(times)) < _HAIR * times):
            return level
    return 0


def _pour(segment: Segment, level: int, from_s: float, width_s: float, pairs: Pairs) -> None:
    """Put a segment's columns of a level into the columns asked for."""
    first, fine = segment.level(level)
    each_s = column_s(level)
    low = max(int(np.floor(from_s / each_s + _HAIR)) - first, 0)
    high = min(int(np.ceil((from_s + width_s * pairs.shape[0]) / each_s - _HAIR)) - first, fine.shape[0])
    if high > low:
        at_s = each_s * np.arange(first + low, first + high)
        into(pairs, at_s, fine[low:high, 0], fine[low:high, 1], from_s, width_s)


def into(pairs: Pairs, at_s: FloatArray, least: Pairs, most: Pairs, from_s: float, width_s: float) -> None:
    """Merge least and most at times in order into pairs of columns that start at from_s, in place."""
    column = np.floor((at_s - from_s) / width_s + _HAIR).astype(np.int64)
    inside = (column >= 0) & (column < pairs.shape[0])
    if not inside.any():
        return
    column, least, most = column[inside], least[inside], most[inside]
    cuts = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
    at = column[cuts]
    pairs[at, 0] = np.fmin(pairs[at, 0], np.fmin.reduceat(least, cuts))
    pairs[at, 1] = np.fmax(pairs[at, 1], np.fmax.reduceat(most, cuts))


def _empty(count: int) -> Pairs:
    return np.full((count, 2), np.nan, dtype=np.float32)


def _grown(pairs: Pairs, count: int) -> Pairs:
    """Return the columns with room for so many: doubled, so that growing costs little, but never far ahead."""
    have = pairs.shape[0]
    if count <= have:
        return pairs
    wider = _empty(max(count, min(2 * have, have + MOST_AHEAD)))
    wider[:have] = pairs
    return wider
