"""The logbook: everything a day at the bench leaves behind, in one SQLite file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from sqlite3 import Connection
from types import TracebackType
from typing import Self

from pullbench.archive import faults, laws, pulls, samples
from pullbench.archive.connections import Pen
from pullbench.archive.held import MOST_SAMPLES, Waiting
from pullbench.archive.lease import Lease
from pullbench.archive.opening import open_file
from pullbench.archive.packing import plain_text
from pullbench.archive.raw import TextOut, write_raw
from pullbench.archive.reader import LogbookReader
from pullbench.archive.recovery import close_left_open, day_of
from pullbench.archive.rows import Marks, OpenSlips, PullRow
from pullbench.model import Chunk, News, Prediction, PullWindow, Setting, TiltReading


class Logbook(LogbookReader):
    """One open logbook.

    Deliveries are held by `keep` and `keep_news` (which never touch the disk) until `commit` writes them, or
    any other change does; what is committed survives a killed process and a pulled plug.  When the disk is
    full every change raises LogbookError and changes nothing; what waits goes on waiting, up to MOST_SAMPLES,
    and is written by the next commit that finds space.  All methods may be called from any thread.  Several
    programs may have the same file open and write, each its own recordings.

    found: sentences on what opening it found, empty when all was well.
    """

    def __init__(
        self, path: Path, pen: Pen, lease: Lease, found: tuple[str, ...], *, now: Callable[[], float],
        most_waiting: int = MOST_SAMPLES,
    ) -> None:  # fmt: skip
        super().__init__(path)
        self.found = found
        self._pen, self._lease, self._now = pen, lease, now
        self._waiting = Waiting(most_waiting)
        self._open: set[int] = set()

    @classmethod
    def open(cls, path: Path, *, now: Callable[[], float], most_waiting: int = MOST_SAMPLES) -> Self:
        """Open a logbook, or make it when the file is not there; close what a killed watch left open.

        now: unix seconds.  most_waiting: samples held at most while the disk takes none.  Raises LogbookError
        for a folder that is missing, a place that is read-only or full, a file that is foreign, newer or
        damaged; such a file is not touched.
        """
        path = Path(path)
        connection, told = open_file(path, at=now())
        try:
            with faults.plainly(path):
                found = (*told, *close_left_open(connection, path, at=now()))
            lease = _lease(path)
        except BaseException:
            connection.close()
            raise
        return cls(path, Pen(connection, path), lease, found, now=now, most_waiting=most_waiting)

    @property
    def waiting(self) -> int:
        """Return how many samples wait for the next commit."""
        return self._waiting.samples

    def begin_recording(self, *, source: str, label: str | None, day: str | None = None) -> int:
        """Begin a recording and return its id.  day: "2026-11-25"; today by the clock when not given."""
        at = self._now()
        values = (day or day_of(at), plain_text(source), label, self._lease.token, at, at)
        with self._changes() as connection:
            cursor = connection.execute(
                "INSERT INTO recording (day, source, label, watcher, began_at, kept_at) VALUES (?, ?, ?, ?, ?, ?)",
                values,
            )
            recording = cursor.lastrowid
        assert recording is not None
        self._open.add(recording)
        self._waiting.begin(recording)
        return recording

    def keep(self, recording_id: int, chunk: Chunk) -> None:
        """Hold a delivery for the next commit.  Raises LogbookError for times that do not go up."""
        self._refuse_ended(recording_id)
        newest_s = self._waiting.add(recording_id, chunk)
        if newest_s is not None:
            raise faults.times_back(self.path, newest_s, float(chunk.time_s[0]))

    def keep_news(self, recording_id: int, news: News) -> None:
        """Hold news for the next commit."""
        self._refuse_ended(recording_id)
        self._waiting.add_news(recording_id, news, self._now())

    def commit(self) -> None:
        """Write what waits; when this returns it is on the disk.  Costs nothing when nothing waits."""
        if self._waiting.snapshot():
            with self._changes():
                pass

    def end_recording(self, recording_id: int, sentence: str) -> None:
        """Write what waits and end a recording; sentence: why it ended."""
        self._refuse_ended(recording_id)
        with self._changes() as connection:
            connection.execute(
                "UPDATE recording SET ended_at = ?, ending = ? WHERE id = ?",
                (self._now(), plain_text(sentence), recording_id),
            )
        self._open.discard(recording_id)
        self._waiting.end(recording_id)

    def add_reading(
        self, recording_id: int, *, window: PullWindow, record: bytes, version: str,
        pull_number: int | None = None, made_by: str = "watch", at_least: int = 1,
    ) -> PullRow:  # fmt: skip
        """Add a reading and return its pull: a new one, or that day's pull_number read again.

        record: the JSON line of `pullbench read`.  version: of the analysis.  made_by: "watch", "read again",
        "marks" ...  at_least: the least number for a new pull, when others were told that could not be kept.
        The samples of the window are committed with it.
        """
        day, at = self.recording(recording_id).day, self._now()
        with self._changes() as connection:
            if pull_number is None:
                pull = pulls.add_pull(connection, day, recording_id, at, at_least)
            else:
                row = pulls.pull_by_number(connection, day, pull_number)
                if row is None:
                    raise faults.unknown(
                        self.path, f"pull {pull_number} on {day}", "A new pull gets its number."
                    )
                pull = row.id
            pulls.add_reading(connection, pull, made_by, version, at, window, record)
        return self.pull(pull)

    def set_aside(self, pull_id: int, why: str) -> PullRow:
        """Set a pull aside and say why; it stays visible."""
        return self._with_pull(pull_id, lambda c: pulls.add_aside(c, pull_id, plain_text(why), self._now()))

    def bring_back(self, pull_id: int) -> PullRow:
        """Bring back a pull that was set aside."""
        return self._with_pull(pull_id, lambda c: pulls.add_aside(c, pull_id, None, self._now()))

    def mark(
        self, pull_id: int, *, breakaway_s: float | None = None, sliding_s: tuple[float, float] | None = None
    ) -> PullRow:
        """Move a pull's moments by hand, in the recording's own seconds; what is not given stays as it is."""
        before = self.pull(pull_id).marks or Marks()
        moved = Marks(
            before.breakaway_s if breakaway_s is None else breakaway_s,
            before.sliding_s if sliding_s is None else sliding_s,
        )
        return self._with_pull(pull_id, lambda c: pulls.add_mark(c, pull_id, moved, self._now()))

    def unmark(self, pull_id: int) -> PullRow:
        """Take all moves by hand back; they stay in the history."""
        return self._with_pull(pull_id, lambda c: pulls.add_mark(c, pull_id, Marks(), self._now()))

    def note_conditions(
        self, recording_id: int, *, kind: str, noted: bytes, at_s: float | None = None
    ) -> None:
        """Note something about the bench: kind ("load", "gain", "null" ...), JSON, from when it holds."""
        self.recording(recording_id)
        with self._changes() as connection:
            connection.execute(
                "INSERT INTO conditions (recording, kind, noted, at_s, noted_at) VALUES (?, ?, ?, ?, ?)",
                (recording_id, kind, noted, at_s, self._now()),
            )

    def note_setting(self, day: str, setting: Setting, *, at_s: float | None, made_by: str) -> None:
        """Keep what is on the sled from at_s (bench seconds) on; None: from the start of the day."""
        with self._changes() as connection:
            laws.add_setting(connection, day, setting, at_s, made_by, self._now())

    def correct_setting(self, pull_id: int, setting: Setting) -> PullRow:
        """Correct one pull's setting; those before stay in the history."""
        return self._with_pull(pull_id, lambda c: laws.add_correction(c, pull_id, setting, self._now()))

    def note_tilt(self, day: str, reading: TiltReading) -> int:
        """Keep a trial on the tilted board; return its id."""
        with self._changes() as connection:
            return laws.add_tilt(connection, day, reading, self._now())

    def set_tilt_aside(self, tilt_id: int, why: str | None) -> None:
        """Leave a trial out and say why, or bring it back (None)."""
        told = None if why is None else plain_text(why)
        with self._changes() as connection:
            laws.add_tilt_aside(connection, tilt_id, told, self._now())

    def open_prediction(self, day: str, asked: Prediction) -> int:
        """Keep a question that is open; return its id."""
        with self._changes() as connection:
            return laws.add_prediction(connection, day, asked, self._now())

    def keep_open_slips(self, number: int, slips: OpenSlips) -> None:
        """Keep what is handed in to an open question, in place of what was kept of it before."""
        with self._changes() as connection:
            laws.keep_open_slips(connection, number, slips)

    def commit_prediction(self, number: int, asked: Prediction) -> None:
        """Keep a question's slips, nameless."""
        with self._changes() as connection:
            laws.commit_prediction(connection, number, asked, self._now())

    def reveal_prediction(self, number: int, asked: Prediction) -> None:
        """Keep what it was."""
        with self._changes() as connection:
            laws.reveal_prediction(connection, number, asked, self._now())

    def clear_prediction(self, number: int) -> None:
        """Put a question away."""
        with self._changes() as connection:
            laws.clear_prediction(connection, number, self._now())

    def write_raw(self, day: str, out: TextOut) -> int:
        """Write a day's raw samples as a text table that `pullbench read` takes; return how many."""
        if not self.recordings(day):
            known = ", ".join(row.day for row in self.days()[-5:]) or "none"
            raise faults.unknown(self.path, f"day {day}", f"Its latest days: {known}.")
        return write_raw(self, day, out)

    def close(self) -> None:
        """Write what waits, end what is open, close.  The file is closed even when that fails (LogbookError)."""
        try:
            for recording in sorted(self._open):
                self.end_recording(recording, "The watch stood down.")
        finally:
            self._readers.close()
            self._pen.close()
            self._lease.give_back()
            self._open.clear()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, where: TracebackType | None
    ) -> None:
        self.close()

    @contextmanager
    def _changes(self) -> Iterator[Connection]:
        """One transaction for what waits and for what is done inside."""
        with self._pen.lock:
            waiting = self._waiting.snapshot()
            with self._pen.transaction() as connection:
                for recording, (chunks, news) in waiting.items():
                    samples.write(connection, recording, chunks, self._now())
                    connection.executemany(
                        "INSERT INTO news (recording, kind, sentence, at_s, after_s, told_at)"
                        " VALUES (?, ?, ?, ?, ?, ?)",
                        [
                            (recording, one.kind, plain_text(one.sentence), one.at_s, after_s, told_at)
                            for one, after_s, told_at in news
                        ],
                    )
                yield connection
            for recording, (chunks, news) in waiting.items():
                self._waiting.drop(recording, len(chunks), len(news))

    def _with_pull(self, pull_id: int, change: Callable[[Connection], None]) -> PullRow:
        self.pull(pull_id)
        with self._changes() as connection:
            change(connection)
        return self.pull(pull_id)

    def _refuse_ended(self, recording_id: int) -> None:
        if not self._waiting.knows(recording_id):
            raise faults.unknown(
                self.path,
                f"open recording {recording_id}",
                "Samples go to a recording that was begun and not ended.",
            )


def _lease(path: Path) -> Lease:
    try:
        return Lease(path)
    except OSError as fault:
        raise faults.cannot_open(path, fault.strerror or str(fault)) from fault
