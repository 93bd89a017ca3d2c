"""The first lines of a stream, kept until it shows how they are to be read."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pullbench.errors import RecordingError, SourceError
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.found import Burst, Found, find_out

_HEAD_s, _HEAD_LINES = 1.0, 10
_PATIENCE_s, _FEWEST_LINES = 3.0, 3
_HEAD_BYTES = 1 << 20  # as of a file; only a pipe from a file is that quick
# With more lines these may go away; the others need the person's choice.
_NOT_YET = ("no-numbers", "too-few-samples", "column-not-numbers", "no-readings", "time-not-advancing")


class Head:
    """Lines held back: a second and ten of them, or three seconds and three, or a megabyte.

    words: an example of what comes instead of numbers, or None.
    """

    def __init__(self, choices: TableChoices, bursts: Sequence[Burst] = ()) -> None:
        self._choices = choices
        self._bursts = list(bursts)
        self._lines, self._bytes = sum(len(burst.lines) for burst in bursts), 0
        self._try_at_s, self._refused_since_s = -math.inf, math.inf
        self.words: bytes | None = None

    def add(self, lines: list[bytes], arrived_s: float) -> None:
        """Keep lines that arrived together."""
        if lines:
            self._bursts.append(Burst(arrived_s, lines))
            self._lines += len(lines)
            self._bytes += sum(map(len, lines))

    def find_out(self, now_s: float, *, last: bool) -> tuple[Found, list[Burst]] | None:
        """Return how the lines are read, and those that are rows; None while that is not known.

        last: no line follows.  Raises SourceError when a choice of the person is wanted, and two seconds
        more of lines did not change that.
        """
        self.words = None
        if not self._bursts or not (last or self._is_due(now_s)):
            return None
        try:
            found, rows = find_out(self._bursts, self._choices)
        except RecordingError as refusal:
            self._not_found(refusal, now_s, last=last)
            return None
        full = last or self._bytes > _HEAD_BYTES
        if not full and not _enough(now_s - rows[0].arrived_s, sum(len(burst.lines) for burst in rows)):
            self._try_at_s = now_s + _HEAD_s / 4  # the lines before were words
            return None
        return found, rows

    def _is_due(self, now_s: float) -> bool:
        enough = _enough(now_s - self._bursts[0].arrived_s, self._lines)
        return (enough and now_s >= self._try_at_s) or self._bytes > _HEAD_BYTES

    def _not_found(self, refusal: RecordingError, now_s: float, *, last: bool) -> None:
        self._try_at_s, self._bytes = now_s + _HEAD_s / 2, 0
        if refusal.code not in _NOT_YET:
            self._refused_since_s = min(self._refused_since_s, now_s)
            if last or now_s - self._refused_since_s >= _PATIENCE_s - _HEAD_s:
                raise as_source_error(refusal) from refusal
        elif last or now_s - self._bursts[0].arrived_s >= _PATIENCE_s:
            self.words = self._bursts[-1].lines[-1]
            # Only the newest are kept: numbers that begin among them are still whole.
            self._bursts = [burst for burst in self._bursts if burst.arrived_s > now_s - _HEAD_s]
            self._lines = sum(len(burst.lines) for burst in self._bursts)


def as_source_error(refusal: RecordingError) -> SourceError:
    """Return what a table's refusal means for a stream: the same code, fault and advice."""
    return SourceError(refusal.code, refusal.what, refusal.allowed, refusal.next_step)


def _enough(waited_s: float, lines: int) -> bool:
    if waited_s >= _PATIENCE_s:
        return lines >= _FEWEST_LINES
    return waited_s >= _HEAD_s and lines >= _HEAD_LINES
