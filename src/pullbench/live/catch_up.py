"""Pulls that a killed watch had kept the samples of, and had not read."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.archive import LogbookReader, RecordingRow
from pullbench.detect import windows
from pullbench.model import Chunk, PullWindow
from pullbench.sources import TypedReadings

SOON_READ = 3_000_000  # samples watched again within a few seconds; of a longer recording only the end is
BEFORE_S = 60.0  # of it, before the last pull that was read
SHORTEST_S = 1.0  # no pull is shorter, rests included


def left_unread(logbook: LogbookReader, day: str) -> Iterator[tuple[RecordingRow, PullWindow]]:
    """Yield the windows after the last pull that was read, of the day's recordings that are over.

    A watch that stands down reads all it has caught, so these are recordings that ended without that.  A
    recording is watched again from its start, which gives the very windows that `pullbench read` gives.
    """
    pulls = logbook.pulls(day)
    for row in logbook.recordings(day):
        if row.source == TypedReadings.name:
            continue  # no samples to watch: what was typed and not read is in the raw export, to be typed again
        if row.ended_at is None or row.first_s is None or row.last_s is None:
            continue
        read_to_s = max(
            (pull.reading.end_s for pull in pulls if pull.recording == row.id), default=row.first_s
        )
        if row.last_s - read_to_s < SHORTEST_S:
            continue
        for window in windows(_chunks(logbook, row, read_to_s)):
            if window.start_s >= read_to_s:
                yield row, window


def _chunks(logbook: LogbookReader, row: RecordingRow, read_to_s: float) -> Iterator[Chunk]:
    if row.count <= SOON_READ:
        yield from logbook.chunks(row.id)
        return
    end = logbook.trace(row.id, read_to_s - BEFORE_S, row.last_s or read_to_s)
    yield Chunk(time_s=end.time_s, force_N=end.force_N, flaws=end.flaws)
