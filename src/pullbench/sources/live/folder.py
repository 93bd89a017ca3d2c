"""A folder where another program leaves its tables: each new file is read once, whole."""

from __future__ import annotations

import hashlib
import os
import pathlib
import threading
from collections.abc import Iterator
from dataclasses import dataclass, replace

from pullbench.errors import RecordingError, SourceError
from pullbench.model import Delivery, Ended, News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.source import NOTHING, Clock, Sleep, WAIT_s
from pullbench.sources.tables import Table, open_table

_LOOK_s, _SETTLED_s = 0.5, 1.0
_HEAD_BYTES = 1 << 16
_UNFINISHED = (".tmp", ".part", ".partial", ".crdownload", ".download", ".lock", ".swp")
_NO_CHOICES = TableChoices()


@dataclass(frozen=True, slots=True)
class _Seen:
    """A file as it was last seen: size (bytes), time of change (ns), since when it stands so.

    done: it was read or is to be passed over; head: what it began with then.
    """

    size: int
    changed_ns: int
    since_s: float
    done: bool = False
    head: bytes = b""


class FolderOfTables:
    """Text tables as they appear in a folder, each a recording of its own.

    A file is read once its size has not changed for a second.  Files that are there at the start are
    passed over; a file that is written anew under an old name is a new file, one that merely grows after
    it was read is not.
    """

    label = None

    def __init__(self, folder: pathlib.Path, choices: TableChoices = _NO_CHOICES) -> None:
        self._folder, self._choices = folder, choices
        self._closing = threading.Event()
        self._seen: dict[str, _Seen] = {}
        self.name = f"folder {folder}"

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        self._closing.set()

    def deliveries(self, *, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        """Yield each new table's samples, then its end; raises SourceError when the folder cannot be read."""
        try:
            for name, size, changed_ns in self._listed():
                head = _head(self._folder / name)
                self._seen[name] = _Seen(size, changed_ns, clock(), done=True, head=head)
        except OSError as error:
            raise _no_folder(self._folder, error) from error
        passed = f" {len(self._seen)} files that are there already are passed over." if self._seen else ""
        yield News("connected", f"Watching the {self.name} for new tables.{passed}")
        looked_s, there = clock(), True
        while not self._closing.is_set():
            sleep(WAIT_s)
            yield NOTHING
            if clock() - looked_s < _LOOK_s:
                continue
            looked_s = clock()
            try:
                ready = self._ready(looked_s)
            except OSError as error:
                if there:
                    yield News("lost", f"The {self.name} cannot be read ({error.strerror}). Looking on.")
                there = False
                continue
            if not there:
                yield News("back", f"The {self.name} is back.")
            there = True
            for name in ready:
                yield from self._read(name)

    def _listed(self) -> list[tuple[str, int, int]]:
        """Return (name, size, time of change) of the files that may be tables, oldest first."""
        found = []
        with os.scandir(self._folder) as entries:
            for entry in entries:
                hidden = entry.name.startswith((".", "~", "#")) or entry.name.endswith("~")
                if hidden or entry.name.lower().endswith(_UNFINISHED):
                    continue
                try:
                    if entry.is_file():
                        state = os.stat(entry.path)  # entry.stat() may be stale on some systems
                        found.append((entry.name, state.st_size, state.st_mtime_ns))
                except OSError:
                    continue  # gone between listing and looking
        return sorted(found, key=lambda file: (file[2], file[0]))

    def _ready(self, now_s: float) -> list[str]:
        """Return the files whose size has settled since they appeared or changed."""
        ready = []
        for name, size, changed_ns in self._listed():
            before = self._seen.get(name)
            if before is None or (before.size, before.changed_ns) != (size, changed_ns):
                head = before.head if before is not None else b""
                self._seen[name] = _Seen(size, changed_ns, now_s, head=head)
            elif not before.done and size and now_s - before.since_s >= _SETTLED_s:
                ready.append(name)
        return ready

    def _read(self, name: str) -> Iterator[Delivery]:
        path, before = self._folder / name, self._seen[name]
        head = _head(path)
        self._seen[name] = replace(before, done=True, head=head or before.head)
        if before.head and _grew(before.head, path):
            sentence = (
                f"{name} has changed since it was read or passed over, but begins as before: left alone."
            )
            yield News(
                "file refused", f"{sentence} A file is read once, whole; give the next one a new name."
            )
            return
        try:
            table = open_table(path, self._choices)
        except RecordingError as refusal:
            yield News("file refused", f"{name} is not read. {refusal} The watch goes on.")
            return
        yield from self._play(name, table)

    def _play(self, name: str, table: Table) -> Iterator[Delivery]:
        yield News("file read", f"Reading {name} as: {table.assumed}.")
        samples = 0
        try:
            for chunk in table.chunks():
                samples += chunk.time_s.size
                yield chunk
        except RecordingError as refusal:
            yield News("file refused", f"{name} is not read to its end. {refusal} The watch goes on.")
        yield Ended(f"{name} is read: {samples} samples.")


def _head(path: pathlib.Path) -> bytes:
    """Return length and digest of a file's beginning, to know it again; nothing if it cannot be read."""
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
    except OSError:
        return b""
    return len(head).to_bytes(4, "big") + hashlib.sha256(head).digest()


def _grew(before: bytes, path: pathlib.Path) -> bool:
    """Say whether a file still begins with what it began with before."""
    length = int.from_bytes(before[:4], "big")
    try:
        with path.open("rb") as file:
            head = file.read(length)
    except OSError:
        return False
    return length > 0 and len(head) == length and hashlib.sha256(head).digest() == before[4:]


def _no_folder(folder: pathlib.Path, error: OSError) -> SourceError:
    if isinstance(error, PermissionError):
        what, code = f"The folder {str(folder)!r} may not be read by this user.", "folder-forbidden"
    else:
        what, code = f"The folder {str(folder)!r} cannot be watched ({error.strerror}).", "folder-missing"
    allowed = "It must be a folder that is there and may be read."
    return SourceError(code, what, allowed, "Make it, or give --folder another one.")
