"""What SQLite says, turned into what the person at the bench can do."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from pullbench.errors import LogbookError

BUSY_S = 10.0  # how long a change waits for another program's


@contextmanager
def plainly(path: Path) -> Iterator[None]:
    """Turn every SQLite fault inside into a LogbookError about the file at this path."""
    try:
        yield
    except sqlite3.Error as fault:
        raise as_logbook_error(fault, path) from fault


def as_logbook_error(fault: sqlite3.Error, path: Path) -> LogbookError:
    """Return the error for a fault of SQLite; its extended name decides, its text is quoted last."""
    name = getattr(fault, "sqlite_errorname", "")
    if isinstance(fault, sqlite3.ProgrammingError) and "closed" in str(fault):
        return closed(path)
    for prefix, make in _BY_NAME.items():
        if name.startswith(prefix):
            return make(path, str(fault))
    return LogbookError(
        "logbook-fault", f"The logbook {path} cannot be used: {fault}.",
        "A logbook is an SQLite file that pullbench made.", "Close the program and open it again.",
    )  # fmt: skip


def disk_full(path: Path, _: str = "") -> LogbookError:
    """Return the error for a disk without space: nothing committed is touched."""
    return LogbookError(
        "logbook-disk-full", f"The disk that holds the logbook {path} is full.",
        "What was committed stays; new samples wait in memory and are written once there is space.",
        "Make space on that disk now.",
    )  # fmt: skip


def disk_fault(path: Path, detail: str) -> LogbookError:
    """Return the error for a disk that reads or writes wrongly."""
    return LogbookError(
        "logbook-disk-fault", f"The disk that holds the logbook {path} fails: {detail}.",
        "What was committed stays; new samples wait in memory.",
        "Check the cable or the space of that disk, or go on watch with another --logbook FILE.",
    )  # fmt: skip


def busy(path: Path, _: str = "") -> LogbookError:
    """Return the error for a file that another program does not let go."""
    return LogbookError(
        "logbook-busy", f"Another program has held the logbook {path} for {BUSY_S:g} s.",
        "Several may write to a logbook, each for a moment.", "Close the program that looks into the file.",
    )  # fmt: skip


def read_only(path: Path, _: str = "") -> LogbookError:
    """Return the error for a file or folder that may not be written."""
    return LogbookError(
        "logbook-read-only", f"The logbook {path} may not be written.",
        "The file and its folder must be writable by this user.", "Give --logbook a file in another folder.",
    )  # fmt: skip


def folder_missing(path: Path) -> LogbookError:
    """Return the error for a logbook in a folder that is not there."""
    return LogbookError(
        "logbook-folder-missing", f"The folder {path.parent} of the logbook {path.name} does not exist.",
        "A logbook is made in a folder that is there.", "Make the folder, or give --logbook another place.",
    )  # fmt: skip


def is_folder(path: Path) -> LogbookError:
    """Return the error for a folder where a file belongs."""
    return LogbookError(
        "logbook-is-folder", f"{path} is a folder.",
        "A logbook is one file.", "Give --logbook the name of a file in it.",
    )  # fmt: skip


def cannot_open(path: Path, detail: str) -> LogbookError:
    """Return the error for a file that cannot be opened or made at all."""
    return LogbookError(
        "logbook-cannot-open", f"The logbook {path} cannot be opened: {detail}.",
        "The file and its folder must be readable and writable by this user.",
        "Give --logbook a file in another folder.",
    )  # fmt: skip


def not_a_logbook(path: Path, _: str = "") -> LogbookError:
    """Return the error for a file that is something else; it is left alone."""
    return LogbookError(
        "logbook-not-a-logbook", f"{path} is no logbook of pullbench.",
        "A logbook is an SQLite file that pullbench made; this file is left as it is.",
        "Give --logbook another name.",
    )  # fmt: skip


def newer(path: Path, found: int, known: int) -> LogbookError:
    """Return the error for a logbook made by a newer pullbench; it is left alone."""
    return LogbookError(
        "logbook-newer", f"The logbook {path} has form {found}; this pullbench knows forms up to {known}.",
        "A logbook can be opened by the pullbench that made it or a newer one; the file is left as it is.",
        "Install the newer pullbench, or give --logbook another name.",
    )  # fmt: skip


def damaged(path: Path, detail: str, rescued: str = "") -> LogbookError:
    """Return the error for a damaged file; rescued: what can still be read of it, a sentence."""
    kept = "The file is kept as it is and nothing is written to it."
    return LogbookError(
        "logbook-damaged", f"The logbook {path} is damaged ({detail}).", f"{rescued} {kept}".strip(),
        "Go on with another --logbook FILE, and rescue this one from a copy after the lesson.",
    )  # fmt: skip


def closed(path: Path) -> LogbookError:
    """Return the error for a logbook that was closed before."""
    return LogbookError(
        "logbook-closed",
        f"The logbook {path} is closed.",
        "Only an open logbook can be used.",
        "Open it again.",
    )


def unknown(path: Path, what: str, known: str) -> LogbookError:
    """Return the error for a day, recording or pull that is not in the logbook."""
    return LogbookError("logbook-unknown", f"The logbook {path} has no {what}.", known, "Name one of these.")


def samples_lost(path: Path, what: str) -> LogbookError:
    """Return the error for a pull whose raw samples are no longer as they were."""
    return LogbookError(
        "logbook-damaged", f"The samples of {what} in the logbook {path} are damaged.",
        "Its readings are still there; it cannot be read again.", "Take the recording from a copy of the logbook.",
    )  # fmt: skip


def times_back(path: Path, newest_s: float, got_s: float) -> LogbookError:
    """Return the error for samples that are not later than those before."""
    return LogbookError(
        "logbook-times-back", f"A sample at {got_s:.6f} s comes after one at {newest_s:.6f} s.",
        "Times of a recording only go up.", f"Begin a new recording in the logbook {path}.",
    )  # fmt: skip


_BY_NAME: dict[str, Callable[[Path, str], LogbookError]] = {
    "SQLITE_FULL": disk_full,
    "SQLITE_BUSY": busy,
    "SQLITE_LOCKED": busy,
    "SQLITE_READONLY": read_only,
    "SQLITE_PERM": read_only,
    "SQLITE_CANTOPEN": cannot_open,
    "SQLITE_AUTH": cannot_open,
    "SQLITE_NOTADB": not_a_logbook,
    "SQLITE_CORRUPT": damaged,
    "SQLITE_IOERR": disk_fault,
}
