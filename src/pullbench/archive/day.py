"""The recordings of a day on one axis, and lists of what a day holds."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from pullbench.archive.rows import ConditionsRow, DayRow, NewsRow, RecordingRow
from pullbench.model import News, NewsKind

BETWEEN_RECORDINGS_s = 1.0
_COLUMNS = "id, day, source, label, began_at, kept_at, ended_at, ending, first_s, last_s, count"


def days(connection: sqlite3.Connection) -> tuple[DayRow, ...]:
    """Return all days, oldest first."""
    rows = connection.execute(
        "SELECT day, count(*), sum(count), (SELECT count(*) FROM pull WHERE pull.day = recording.day),"
        " min(began_at), max(kept_at) FROM recording GROUP BY day ORDER BY day"
    )
    return tuple(DayRow(*row) for row in rows)


def recordings(connection: sqlite3.Connection, day: str) -> tuple[RecordingRow, ...]:
    """Return a day's recordings in order, each with its place on the bench's axis."""
    rows = connection.execute(f"SELECT {_COLUMNS} FROM recording WHERE day = ? ORDER BY id", (day,))
    return on_one_axis([RecordingRow(*row) for row in rows])


def recording(connection: sqlite3.Connection, number: int) -> RecordingRow | None:
    """Return one recording, or None."""
    found = connection.execute("SELECT day FROM recording WHERE id = ?", (number,)).fetchone()
    return (
        None if found is None else next(row for row in recordings(connection, found[0]) if row.id == number)
    )


def on_one_axis(rows: Sequence[RecordingRow]) -> tuple[RecordingRow, ...]:
    """Return recordings of one day with their offsets to bench seconds.

    The first keeps its own time.  Each further one begins at its distance by the wall clock from the first,
    but at least 1 s after the last sample before it; its offset is whole seconds.  While a recording has no
    sample it is placed as if its own time began at 0 s.
    """
    placed: list[RecordingRow] = []
    ends_s = -math.inf
    for row in rows:
        first_s = row.first_s or 0.0
        if placed:
            distance_s = row.began_at - placed[0].began_at + (placed[0].first_s or 0.0)
            begins_s = max(distance_s, ends_s + BETWEEN_RECORDINGS_s)
            row = replace(row, offset_s=float(math.ceil(begins_s - first_s)))
        ends_s = max(ends_s, row.offset_s + (first_s if row.last_s is None else row.last_s))
        placed.append(row)
    return tuple(placed)


def news(connection: sqlite3.Connection, day: str) -> tuple[NewsRow, ...]:
    """Return a day's news in the order they were told."""
    rows = connection.execute(
        "SELECT n.recording, n.kind, n.sentence, n.at_s, n.after_s, n.told_at"
        " FROM news n JOIN recording r ON r.id = n.recording WHERE r.day = ? ORDER BY n.id",
        (day,),
    )
    return tuple(
        NewsRow(recording, News(cast(NewsKind, kind), sentence, at_s), after_s, told_at)
        for recording, kind, sentence, at_s, after_s, told_at in rows
    )


def conditions(connection: sqlite3.Connection, day: str) -> tuple[ConditionsRow, ...]:
    """Return what was noted about the bench on a day, in order."""
    rows = connection.execute(
        "SELECT c.recording, c.kind, c.noted, c.at_s, c.noted_at"
        " FROM conditions c JOIN recording r ON r.id = c.recording WHERE r.day = ? ORDER BY c.id",
        (day,),
    )
    return tuple(ConditionsRow(*row) for row in rows)
