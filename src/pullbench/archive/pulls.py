"""Pulls and what was made of them: readings, set aside and why, moments moved by hand."""

from __future__ import annotations

import math
import sqlite3
from typing import Any, Literal

import msgspec

from pullbench.archive.packing import FlawRecord, flaw_records
from pullbench.archive.rows import Marks, PullRow, ReadingRow
from pullbench.archive.samples import trace
from pullbench.model import ByEye, PullWindow, Trace

_PULLS = """
SELECT p.id, p.day, p.number, p.recording, r.label, p.caught_at,
       (SELECT count(*) FROM reading WHERE pull = p.id),
       e.id, e.made_by, e.version, e.made_at, e.bounds, e.record,
       a.why, m.id, m.breakaway_s, m.sliding_from_s, m.sliding_to_s
FROM pull p JOIN recording r ON r.id = p.recording
JOIN reading e ON e.id = (SELECT max(id) FROM reading WHERE pull = p.id)
LEFT JOIN aside a ON a.id = (SELECT max(id) FROM aside WHERE pull = p.id)
LEFT JOIN mark m ON m.id = (SELECT max(id) FROM mark WHERE pull = p.id)
"""


class Bounds(msgspec.Struct, frozen=True, kw_only=True):
    """A window without its samples: first_s, last_s, count find them again among the raw ones."""

    first_s: float | None
    last_s: float | None
    count: int
    start_s: float
    end_s: float
    direction: Literal[1, -1]
    cut_start: bool
    cut_end: bool
    earlier_rest_N: float | None
    u_earlier_rest_N: float | None
    flaws: list[FlawRecord]
    by_eye: ByEye | None = None


_BOUNDS = msgspec.json.Decoder(Bounds)


def next_number(connection: sqlite3.Connection, day: str) -> int:
    """Return the next pull's number; pulls are never removed, so that none is used twice."""
    (number,) = connection.execute(
        "SELECT coalesce(max(number), 0) FROM pull WHERE day = ?", (day,)
    ).fetchone()
    return int(number) + 1


def add_pull(connection: sqlite3.Connection, day: str, recording: int, at: float, at_least: int = 1) -> int:
    """Add a pull without a reading, numbered from at_least on; return its id.  Inside the caller's transaction."""
    return _inserted(
        connection,
        "INSERT INTO pull (day, number, recording, caught_at) VALUES (?, ?, ?, ?)",
        (day, max(next_number(connection, day), at_least), recording, at),
    )


def add_reading(
    connection: sqlite3.Connection, pull: int, made_by: str, version: str, at: float, window: PullWindow,
    record: bytes,
) -> None:  # fmt: skip
    """Add a reading of a pull; those before it stay."""
    _inserted(
        connection,
        "INSERT INTO reading (pull, made_by, version, made_at, bounds, record) VALUES (?, ?, ?, ?, ?, ?)",
        (pull, made_by, version, at, _bounds(window), record),
    )


def add_aside(connection: sqlite3.Connection, pull: int, why: str | None, at: float) -> None:
    """Set a pull aside and say why, or bring it back (None)."""
    _inserted(connection, "INSERT INTO aside (pull, why, set_at) VALUES (?, ?, ?)", (pull, why, at))


def add_mark(connection: sqlite3.Connection, pull: int, marks: Marks, at: float) -> None:
    """Move a pull's moments by hand; the moves before stay in the history."""
    from_s, to_s = marks.sliding_s or (None, None)
    _inserted(
        connection,
        "INSERT INTO mark (pull, breakaway_s, sliding_from_s, sliding_to_s, made_at) VALUES (?, ?, ?, ?, ?)",
        (pull, marks.breakaway_s, from_s, to_s, at),
    )


def pulls_of(connection: sqlite3.Connection, day: str) -> tuple[PullRow, ...]:
    """Return a day's pulls by number, those set aside among them."""
    return tuple(map(_pull, connection.execute(f"{_PULLS} WHERE p.day = ? ORDER BY p.number", (day,))))


def pull_by_id(connection: sqlite3.Connection, pull: int) -> PullRow | None:
    """Return one pull, or None."""
    row = connection.execute(f"{_PULLS} WHERE p.id = ?", (pull,)).fetchone()
    return None if row is None else _pull(row)


def pull_by_number(connection: sqlite3.Connection, day: str, number: int) -> PullRow | None:
    """Return one pull of a day, or None."""
    row = connection.execute(f"{_PULLS} WHERE p.day = ? AND p.number = ?", (day, number)).fetchone()
    return None if row is None else _pull(row)


def found_in(connection: sqlite3.Connection, text: str) -> tuple[PullRow, ...]:
    """Return the pulls whose day, source, newest reading or reason to be set aside holds a text."""
    rows = connection.execute(
        f"{_PULLS} WHERE instr(lower(p.day || char(10) || r.source || char(10) || coalesce(a.why, '')"
        " || char(10) || CAST(e.record AS TEXT)), lower(?)) ORDER BY p.day, p.number",
        (text,),
    )
    return tuple(map(_pull, rows))


def readings_of(connection: sqlite3.Connection, pull: int) -> tuple[ReadingRow, ...]:
    """Return all readings of a pull, oldest first."""
    rows = connection.execute(
        "SELECT id, made_by, version, made_at, bounds, record FROM reading WHERE pull = ? ORDER BY id",
        (pull,),
    )
    return tuple(_reading(row) for row in rows)


def marks_of(connection: sqlite3.Connection, pull: int) -> tuple[Marks, ...]:
    """Return every move by hand of a pull, oldest first; an empty one took them back."""
    rows = connection.execute(
        "SELECT breakaway_s, sliding_from_s, sliding_to_s FROM mark WHERE pull = ? ORDER BY id", (pull,)
    )
    return tuple(_marks(*row) for row in rows)


def window_of(connection: sqlite3.Connection, pull: int) -> PullWindow | None:
    """Return the window of a pull's newest reading, from the raw samples; None when those are damaged."""
    recording, bounds_json = connection.execute(
        "SELECT p.recording, e.bounds FROM pull p JOIN reading e ON e.pull = p.id WHERE p.id = ?"
        " ORDER BY e.id DESC LIMIT 1",
        (pull,),
    ).fetchone()
    bounds = _BOUNDS.decode(bounds_json)
    if bounds.first_s is None or bounds.last_s is None:
        return None
    samples = trace(connection, recording, bounds.first_s, bounds.last_s)
    if samples.time_s.size != bounds.count:
        return None
    flaws = tuple(record.flaw() for record in bounds.flaws)
    return PullWindow(
        trace=Trace(time_s=samples.time_s, force_N=samples.force_N, flaws=flaws),
        start_s=bounds.start_s,
        end_s=bounds.end_s,
        direction=bounds.direction,
        cut_start=bounds.cut_start,
        cut_end=bounds.cut_end,
        earlier_rest_N=bounds.earlier_rest_N,
        u_earlier_rest_N=math.nan if bounds.u_earlier_rest_N is None else bounds.u_earlier_rest_N,
        by_eye=bounds.by_eye,
    )


def _bounds(window: PullWindow) -> bytes:
    time_s = window.trace.time_s
    bounds = Bounds(
        first_s=float(time_s[0]) if time_s.size else None,
        last_s=float(time_s[-1]) if time_s.size else None,
        count=time_s.size,
        start_s=float(window.start_s),
        end_s=float(window.end_s),
        direction=window.direction,
        cut_start=bool(window.cut_start),
        cut_end=bool(window.cut_end),
        earlier_rest_N=None if window.earlier_rest_N is None else float(window.earlier_rest_N),
        u_earlier_rest_N=float(window.u_earlier_rest_N),
        flaws=flaw_records([window.trace.flaws]),
        by_eye=window.by_eye,
    )
    return msgspec.json.encode(bounds)


def _pull(row: tuple[Any, ...]) -> PullRow:
    identity, day, number, recording, label, caught_at, readings = row[:7]
    reading, why, (mark, *moments) = _reading(row[7:13]), row[13], row[14:]
    marks = _marks(*moments) if mark is not None else Marks()
    return PullRow(
        identity, day, number, recording, label, caught_at, reading, readings, why,
        None if marks == Marks() else marks,
    )  # fmt: skip


def _reading(row: tuple[Any, ...]) -> ReadingRow:
    number, made_by, version, made_at, bounds, record = row
    window = _BOUNDS.decode(bounds)
    return ReadingRow(number, made_by, version, made_at, window.start_s, window.end_s, record)


def _marks(breakaway_s: float | None, from_s: float | None, to_s: float | None) -> Marks:
    return Marks(breakaway_s, None if from_s is None or to_s is None else (from_s, to_s))


def _inserted(connection: sqlite3.Connection, statement: str, values: tuple[object, ...]) -> int:
    number = connection.execute(statement, values).lastrowid
    assert number is not None
    return number
