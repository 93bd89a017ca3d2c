"""Who is still on watch: a small file beside the logbook, locked by its owner for as long as it lives.

The system gives a lock back when a process dies, however it dies, so that a recording left open by a killed
watch can be told at once from one that another program is writing now.
"""

from __future__ import annotations

import contextlib
import glob
import os
import sys
import time
import uuid
from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _lock(number: int) -> None:
        msvcrt.locking(number, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(number: int) -> None:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)


_YOUNG_S = 60.0  # a file this young may be about to be locked


class Lease:
    """A locked file named after the logbook and a token of its own."""

    def __init__(self, logbook: Path) -> None:
        self.token = uuid.uuid4().hex[:12]
        self._path = _path(logbook, self.token)
        self._number: int | None = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        with contextlib.suppress(OSError):  # a place without locks: see is_held
            _lock(self._number)

    def give_back(self) -> None:
        """Let the lock go and remove the file."""
        if self._number is not None:
            os.close(self._number)
            self._number = None
            self._path.unlink(missing_ok=True)


def sweep(logbook: Path) -> None:
    """Remove the files of watches that died before they began a recording; a minute old, so that none is young."""
    for path in logbook.parent.glob(f"{glob.escape(logbook.name)}-watch-*"):
        with contextlib.suppress(OSError):
            if time.time() - path.stat().st_mtime > _YOUNG_S:
                is_held(logbook, path.name.rpartition("-")[2])


def is_held(logbook: Path, token: str) -> bool:
    """Say whether the owner of a token still lives.  A dead owner's file is removed.

    Where the place has no locks everybody counts as dead; then a living watch's recording is closed in name
    only: its samples are still taken, and its own end is written over the supposed one.
    """
    path = _path(logbook, token)
    try:
        number = os.open(path, os.O_RDWR)
    except OSError:
        return False
    try:
        _lock(number)
    except (BlockingIOError, PermissionError):
        return True
    except OSError:
        return False
    finally:
        os.close(number)
    path.unlink(missing_ok=True)
    return False


def _path(logbook: Path, token: str) -> Path:
    return logbook.with_name(f"{logbook.name}-watch-{token}")
