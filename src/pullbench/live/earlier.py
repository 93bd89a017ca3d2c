"""The strip of what was recorded earlier in the day, from the logbook."""

from __future__ import annotations

import json

import numpy as np

from pullbench.archive import LogbookReader, RecordingRow
from pullbench.live.messages import Pairs
from pullbench.live.strip import into
from pullbench.model import FloatArray

COMMIT_S = 1.0
"""Columns this long or longer are drawn from the one line that the logbook keeps of every commit."""


class EarlierStrip:
    """Recordings that were kept before this session began."""

    def __init__(self, logbook: LogbookReader, day: str) -> None:
        self._logbook = logbook
        self._rows = tuple(row for row in logbook.recordings(day) if row.last_s is not None)
        self._nulls: dict[int, tuple[FloatArray, FloatArray]] = {}
        for row in logbook.conditions(day):
            if row.kind == "null" and row.at_s is not None:
                at_s, rest_N = self._nulls.get(row.recording, (np.empty(0), np.empty(0)))
                noted = json.loads(row.noted)
                self._nulls[row.recording] = (np.append(at_s, row.at_s), np.append(rest_N, noted["rest_N"]))

    @property
    def ends_s(self) -> float:
        """Return the last sample, in bench seconds; -inf without any."""
        return max(((row.last_s or 0.0) + row.offset_s for row in self._rows), default=-np.inf)

    def pour(self, pairs: Pairs, from_s: float, width_s: float) -> None:
        """Put what there is into columns that start at from_s, in place."""
        to_s = from_s + width_s * pairs.shape[0]
        for row in self._rows:
            begin_s, end_s = (row.first_s or 0.0) + row.offset_s, (row.last_s or 0.0) + row.offset_s
            if begin_s < to_s and end_s >= from_s:
                self._pour(row, pairs, from_s, width_s)

    def _pour(self, row: RecordingRow, pairs: Pairs, from_s: float, width_s: float) -> None:
        low_s, high_s = from_s - row.offset_s, from_s + width_s * pairs.shape[0] - row.offset_s
        if width_s >= COMMIT_S:
            lines = self._logbook.stretches(row.id, low_s, high_s)
            at_s, least, most = lines.first_s, lines.least_N, lines.most_N
        else:
            trace = self._logbook.trace(row.id, low_s, high_s)
            at_s, least, most = trace.time_s, trace.force_N, trace.force_N
        if not at_s.size:
            return
        rest_N = self._rest(row.id, at_s, least, most)
        into(
            pairs, at_s + row.offset_s, (least - rest_N).astype(np.float32), (most - rest_N).astype(np.float32),
            from_s, width_s,
        )  # fmt: skip

    def _rest(self, recording: int, at_s: FloatArray, least: FloatArray, most: FloatArray) -> FloatArray:
        """Return what was taken off when it was shown; without a note, the middle of what is drawn."""
        noted = self._nulls.get(recording)
        if noted is None:
            return np.full(at_s.size, float(np.median((least + most) / 2)))
        when_s, rest_N = noted
        return rest_N[np.clip(np.searchsorted(when_s, at_s, side="right") - 1, 0, None)]
