"""What can still be read of a damaged logbook, row by row; the damaged file is never written."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from pullbench.archive import faults
from pullbench.archive.packing import unpack
from pullbench.archive.schema import migrate
from pullbench.errors import LogbookError

# Parents before children, as the new file checks its references.
_TABLES = (
    "recording",
    "samples",
    "news",
    "conditions",
    "pull",
    "reading",
    "aside",
    "mark",
    "setting",
    "pull_setting",
    "tilt",
    "tilt_aside",
    "prediction",
    "open_slips",
)
_CHECKED = "crc, chunks, flaws, time_s, force_N"


def what_is_left(path: Path) -> str:
    """Return one sentence on what of a damaged logbook can still be read; samples counted by their checksum."""
    with closing(_reading(path)) as connection:
        stretches = samples = spoilt = pulls = 0
        for row in _rows(connection, "samples", _CHECKED):
            chunks = _unpacked(row)
            stretches, spoilt = stretches + 1, spoilt + (chunks is None)
            samples += sum(chunk.time_s.size for chunk in chunks or ())
        pulls = sum(1 for _ in _rows(connection, "pull", "id"))
    if not stretches and not pulls:
        return "Nothing in it can be read any more."
    also = f" ({spoilt} stretches of samples were overwritten)" if spoilt else ""
    return f"{samples} samples and {pulls} pulls in it can still be read{also}."


def rescue(path: Path, into: Path, *, at: float) -> str:
    """Copy all that can be read of a damaged logbook into a new file; return one sentence on what was copied.

    path: the damaged file, only read.  into: must not exist.  at: unix seconds.  Samples whose checksum does
    not fit are left out.  Raises LogbookError when the new file exists or cannot be written.
    """
    if into.exists():
        raise LogbookError(
            "logbook-exists", f"{into} exists already.", "A rescued logbook goes to a new file.", "Give another name."
        )  # fmt: skip
    with faults.plainly(into), closing(_reading(path)) as old, closing(_new(into, at)) as new:
        copied = dict.fromkeys(_TABLES, 0)
        new.execute("BEGIN IMMEDIATE")
        for table in _TABLES:
            names = [row[1] for row in new.execute(f"PRAGMA table_info({table})")]
            for row in _rows(old, table, ", ".join(names)):
                if table == "samples" and _unpacked(row[names.index("crc") :]) is None:
                    continue
                with suppress(sqlite3.IntegrityError):  # a row whose parent is lost, or garbage
                    new.execute(f"INSERT INTO {table} VALUES ({', '.join('?' * len(names))})", row)
                    copied[table] += 1
        new.execute("COMMIT")
        samples = new.execute("SELECT coalesce(sum(count), 0) FROM samples").fetchone()[0]
    return f"{samples} samples and {copied['pull']} pulls were copied from {path} to {into}."


def _reading(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, isolation_level=None)


def _new(into: Path, at: float) -> sqlite3.Connection:
    connection = sqlite3.connect(into, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA foreign_keys = ON")
    migrate(connection, at=at)
    return connection


def _rows(connection: sqlite3.Connection, table: str, columns: str) -> Iterator[tuple[Any, ...]]:
    """Yield rows by their number, past those that cannot be read."""
    for number in range(1, _last(connection, table) + 1):
        try:
            row = connection.execute(f"SELECT {columns} FROM {table} WHERE id = ?", (number,)).fetchone()
        except sqlite3.DatabaseError:
            continue
        if row is not None:
            yield row


def _last(connection: sqlite3.Connection, table: str) -> int:
    """Return the highest row number: as counted beside the tables, or else as the table itself says."""
    numbers = [0]
    for question in (
        f"SELECT seq FROM sqlite_sequence WHERE name = '{table}'",
        f"SELECT max(id) FROM {table}",
    ):
        with suppress(sqlite3.DatabaseError, TypeError, ValueError):
            numbers.append(int(connection.execute(question).fetchone()[0] or 0))
    believable = 0
    with suppress(sqlite3.DatabaseError):
        believable = 200 * int(connection.execute("PRAGMA page_count").fetchone()[0])
    return min(max(numbers), believable)


def _unpacked(row: tuple[Any, ...]) -> list[Any] | None:
    try:
        return unpack(*row)
    except (TypeError, ValueError):
        return None
