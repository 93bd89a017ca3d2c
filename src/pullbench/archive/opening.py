"""Opening the file: what is it, is it sound, may it be written; then the one writing connection.

A file that is foreign, newer or damaged is only looked at, through a connection that cannot write.
"""

from __future__ import annotations

import sqlite3
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from pullbench.archive import faults
from pullbench.archive.faults import BUSY_S
from pullbench.archive.rescue import what_is_left
from pullbench.archive.schema import APPLICATION_ID, MIGRATIONS, Migration, form_of, migrate, newest_form

_HEADER = b"SQLite format 3\0"
CHECK_S = 0.4  # for looking a file over while somebody waits; a day of 6 h at 1 kHz takes 0.1 s when cached


def open_file(
    path: Path, *, at: float, check_s: float = CHECK_S, migrations: Sequence[Migration] = MIGRATIONS
) -> tuple[sqlite3.Connection, tuple[str, ...]]:
    """Return the writing connection to a logbook, made if it is not there, and what is to be said about it.

    at: unix seconds.  check_s: how long the look-over may take; a file too big for it is taken as sound.
    Raises LogbookError, each kind with its own code.
    """
    if path.is_dir():
        raise faults.is_folder(path)
    if not path.parent.is_dir():
        raise faults.folder_missing(path)
    until_s = time.monotonic() + BUSY_S
    with faults.plainly(path):
        while True:
            try:
                return _opened(path, at, check_s, migrations)
            except sqlite3.OperationalError as fault:
                # While another program opens or closes the file it is locked whole, and SQLite does not wait.
                if (
                    not getattr(fault, "sqlite_errorname", "").startswith("SQLITE_BUSY")
                    or time.monotonic() > until_s
                ):
                    raise
            time.sleep(0.02)


def _opened(
    path: Path, at: float, check_s: float, migrations: Sequence[Migration]
) -> tuple[sqlite3.Connection, tuple[str, ...]]:
    if path.exists() and path.stat().st_size > 0:
        _refuse_other_files(path)
        _look_over(path, check_s, newest_form(migrations))
    connection = connect(path)
    try:
        return connection, _made_ready(connection, at, migrations)
    except BaseException:
        connection.close()
        raise


def connect(path: Path, *, reading: bool = False) -> sqlite3.Connection:
    """Return a connection in autocommit mode that any one thread at a time may use; reading: cannot write."""
    uri = f"{path.absolute().as_uri()}?mode={'rw' if reading else 'rwc'}"  # a reader makes no file
    connection = sqlite3.connect(uri, uri=True, timeout=BUSY_S, isolation_level=None, check_same_thread=False)
    connection.execute("PRAGMA foreign_keys = ON")
    if reading:
        connection.execute("PRAGMA query_only = ON")
    return connection


def look_through(connection: sqlite3.Connection, check_s: float | None) -> str | None:
    """Return the first fault that a check of all pages finds, None when there is none or time ran out.

    check_s: seconds it may take; None takes as long as it takes.
    """
    timer = threading.Timer(check_s, connection.interrupt) if check_s is not None else None
    if timer is not None:
        timer.start()
    try:
        found = str(connection.execute("PRAGMA quick_check(1)").fetchone()[0])
    except sqlite3.OperationalError as fault:
        if fault.sqlite_errorname != "SQLITE_INTERRUPT":
            raise
        found = "ok"
    finally:
        if timer is not None:
            timer.cancel()
            timer.join()  # a late interrupt would hit the next statement
    return None if found == "ok" else " ".join(found.replace("*** in database main ***", "").split())


def _made_ready(
    connection: sqlite3.Connection, at: float, migrations: Sequence[Migration]
) -> tuple[str, ...]:
    connection.execute("BEGIN IMMEDIATE")
    connection.execute(f"PRAGMA user_version = {form_of(connection)}")  # says whether the file may be written
    connection.execute("ROLLBACK")
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA fullfsync = ON")  # where fsync alone leaves the disk's own memory unwritten
    return migrate(connection, at=at, migrations=migrations)


def _refuse_other_files(path: Path) -> None:
    try:
        with path.open("rb") as file:
            head = file.read(len(_HEADER))
    except OSError as fault:
        raise faults.cannot_open(path, fault.strerror or str(fault)) from fault
    # SQLite would take a file of a few bytes for an empty one and write over it.
    if head != _HEADER and not path.with_name(f"{path.name}-journal").exists():
        raise faults.not_a_logbook(path)


def _look_over(path: Path, check_s: float, newest: int) -> None:
    try:
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=BUSY_S)
    except sqlite3.OperationalError:
        return  # opening it for writing will say why
    try:
        _refuse_foreign(connection, path, newest)
        fault = look_through(connection, check_s)
    except sqlite3.DatabaseError as error:
        name = error.sqlite_errorname
        if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN")):
            return  # no room for the shared memory beside it, or a half-made file to be rolled back
        if not name.startswith("SQLITE_CORRUPT"):
            raise
        fault = str(error)
    finally:
        with suppress(sqlite3.Error):
            connection.close()
    if fault is not None:
        raise faults.damaged(path, fault, what_is_left(path))


def _refuse_foreign(connection: sqlite3.Connection, path: Path, newest: int) -> None:
    own = connection.execute("PRAGMA application_id").fetchone()[0] == APPLICATION_ID
    empty = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    if not own and not empty:
        raise faults.not_a_logbook(path)
    if form_of(connection) > newest:
        raise faults.newer(path, form_of(connection), newest)
