"""The reading side of a logbook: safe from any thread, never waits for the one who writes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

from pullbench.archive import day as days_of_it
from pullbench.archive import faults, laws, pulls, samples
from pullbench.archive.connections import Readers
from pullbench.archive.opening import look_through
from pullbench.archive.rows import (
    ConditionsRow,
    CorrectionRow,
    DayRow,
    Marks,
    NewsRow,
    PredictionRow,
    PullRow,
    ReadingRow,
    RecordingRow,
    SettingRow,
    Stretches,
    TiltRow,
)
from pullbench.errors import LogbookError
from pullbench.model import Chunk, PullWindow, Trace


class LogbookReader:
    """What is committed in a logbook.  Every method raises LogbookError for what the disk or the file denies."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._readers = Readers(path)

    def days(self) -> tuple[DayRow, ...]:
        """Return all days, oldest first."""
        with self._readers.one() as connection:
            return days_of_it.days(connection)

    def recordings(self, day: str) -> tuple[RecordingRow, ...]:
        """Return a day's recordings in order, with their offsets to bench seconds."""
        with self._readers.one() as connection:
            return days_of_it.recordings(connection, day)

    def recording(self, recording: int) -> RecordingRow:
        """Return one recording."""
        with self._readers.one() as connection:
            row = days_of_it.recording(connection, recording)
        if row is None:
            raise faults.unknown(self.path, f"recording {recording}", "Its days list their recordings.")
        return row

    def news(self, day: str) -> tuple[NewsRow, ...]:
        """Return a day's news in the order they were told."""
        with self._readers.one() as connection:
            return days_of_it.news(connection, day)

    def conditions(self, day: str) -> tuple[ConditionsRow, ...]:
        """Return what was noted about the bench on a day, in order."""
        with self._readers.one() as connection:
            return days_of_it.conditions(connection, day)

    def pulls(self, day: str) -> tuple[PullRow, ...]:
        """Return a day's pulls by number, those set aside among them."""
        with self._readers.one() as connection:
            return pulls.pulls_of(connection, day)

    def pull(self, pull_id: int) -> PullRow:
        """Return one pull."""
        with self._readers.one() as connection:
            row = pulls.pull_by_id(connection, pull_id)
        if row is None:
            raise self._no_pull(pull_id)
        return row

    def search(self, text: str) -> tuple[PullRow, ...]:
        """Return the pulls whose day, source, newest reading or reason to be set aside holds a text."""
        with self._readers.one() as connection:
            return pulls.found_in(connection, text)

    def readings(self, pull_id: int) -> tuple[ReadingRow, ...]:
        """Return every reading of a pull that was ever made, oldest first."""
        with self._readers.one() as connection:
            return pulls.readings_of(connection, pull_id)

    def marks(self, pull_id: int) -> tuple[Marks, ...]:
        """Return every move by hand of a pull, oldest first; an empty one took the moves before back."""
        with self._readers.one() as connection:
            return pulls.marks_of(connection, pull_id)

    def settings(self, day: str) -> tuple[SettingRow, ...]:
        """Return what was said to be on the sled, and from when on, in the order it was said."""
        with self._readers.one() as connection:
            return laws.settings(connection, day)

    def corrections(self, day: str) -> tuple[CorrectionRow, ...]:
        """Return the newest setting of each pull that was corrected."""
        with self._readers.one() as connection:
            return laws.corrections(connection, day)

    def tilts(self, day: str) -> tuple[TiltRow, ...]:
        """Return a day's trials on the tilted board, those left out among them."""
        with self._readers.one() as connection:
            return laws.tilts(connection, day)

    def prediction(self, day: str) -> PredictionRow | None:
        """Return the day's last question to the class unless it was put away."""
        with self._readers.one() as connection:
            return laws.last_prediction(connection, day)

    def chunks(self, recording: int) -> Iterator[Chunk]:
        """Yield a recording's deliveries as they were received: same digits, same cuts, same flaws.

        A stored row that no longer fits its checksum comes as a flaw of kind "gap" and no samples.
        """
        with self._readers.one() as connection:
            yield from samples.chunks(connection, recording)

    def trace(self, recording: int, from_s: float = -math.inf, to_s: float = math.inf) -> Trace:
        """Return the samples from from_s to to_s of the recording's own time, both included, and their flaws."""
        with self._readers.one() as connection:
            return samples.trace(connection, recording, from_s, to_s)

    def stretches(self, recording: int, from_s: float = -math.inf, to_s: float = math.inf) -> Stretches:
        """Return least and most force of every commit that touches from_s to to_s: the top of a strip's pyramid."""
        with self._readers.one() as connection:
            return samples.stretches(connection, recording, from_s, to_s)

    def window(self, pull_id: int) -> PullWindow:
        """Return the window of a pull's newest reading, from raw samples: the very same digits.

        Raises LogbookError when a sample of it was damaged since.
        """
        with self._readers.one() as connection:
            if pulls.pull_by_id(connection, pull_id) is None:
                raise self._no_pull(pull_id)
            window = pulls.window_of(connection, pull_id)
        if window is None:
            raise faults.samples_lost(self.path, f"pull {self.pull(pull_id).number}")
        return window

    def check(self) -> str | None:
        """Look all pages over, however long it takes; return the first fault found, or None."""
        with self._readers.one() as connection:
            return look_through(connection, None)

    def _no_pull(self, pull_id: int) -> LogbookError:
        return faults.unknown(self.path, f"pull with the identity {pull_id}", "Its days list their pulls.")
