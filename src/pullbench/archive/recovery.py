"""After a killed watch: recordings left open are closed, and said so in words."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path

from pullbench.archive.lease import is_held, sweep


def day_of(at: float) -> str:
    """Return the local day of a unix time, such as "2026-11-25"."""
    return time.strftime("%Y-%m-%d", time.localtime(at))


def close_left_open(connection: sqlite3.Connection, path: Path, *, at: float) -> tuple[str, ...]:
    """Close the recordings whose watch no longer lives; return one sentence each.

    connection: the writing one, in autocommit mode.  at: unix seconds, now.
    """
    told = []
    sweep(path)
    connection.execute("BEGIN IMMEDIATE")
    try:
        left = connection.execute(
            "SELECT id, watcher, kept_at, first_s, last_s FROM recording WHERE ended_at IS NULL ORDER BY id"
        ).fetchall()
        for recording, watcher, kept_at, first_s, last_s in left:
            if is_held(path, watcher):
                continue
            sentence = _sentence(kept_at, first_s, last_s, at)
            connection.execute(
                "UPDATE recording SET ended_at = kept_at, ending = ? WHERE id = ?", (sentence, recording)
            )
            told.append(sentence)
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    return tuple(told)


def _sentence(kept_at: float, first_s: float | None, last_s: float | None, at: float) -> str:
    when = time.localtime(kept_at)
    date = "" if day_of(kept_at) == day_of(at) else f"on {day_of(kept_at)} "
    ended = f"The watch ended without standing down {date}at {time.strftime('%H:%M', when)}"
    if first_s is None or last_s is None:
        return f"{ended}, before any sample came."
    until = time.strftime("%H:%M:%S", when)
    return f"{ended}; {last_s - first_s:.1f} s of samples up to {until} are kept."
