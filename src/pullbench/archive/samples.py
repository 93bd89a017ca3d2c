"""Raw samples: written once, read by time, told of when a row of them is no longer what it was."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import astuple
from itertools import chain
from typing import Any

import numpy as np

from pullbench.archive.packing import pack, stored_flaws, unpack
from pullbench.archive.rows import Stretches
from pullbench.model import Chunk, Flaw, Trace

MOST_IN_A_ROW = 20_000  # keeps ranges cheap when a long wait is written at once
_ROWS_AT_ONCE = 64  # a cursor left open would hold back the tidying of the write-ahead log
_BLOBS = "crc, chunks, flaws, time_s, force_N"


def write(connection: sqlite3.Connection, recording: int, chunks: Sequence[Chunk], at: float) -> None:
    """Write deliveries of one recording, in order; at: unix seconds.  Inside the caller's transaction."""
    for together in _rows_of(chunks):
        row = pack(together)
        connection.execute(
            "INSERT INTO samples (recording, kept_at, first_s, last_s, count, least_N, most_N,"
            " crc, chunks, flaws, time_s, force_N) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (recording, at, *astuple(row)),
        )
        connection.execute(
            "UPDATE recording SET kept_at = ?, count = count + ?,"
            " first_s = coalesce(first_s, ?), last_s = coalesce(?, last_s) WHERE id = ?",
            (at, row.count, row.first_s, row.last_s, recording),
        )


def chunks(connection: sqlite3.Connection, recording: int) -> Iterator[Chunk]:
    """Yield a recording's deliveries as they were received; a damaged row is told as a gap."""
    after = 0
    while rows := connection.execute(
        f"SELECT id, first_s, last_s, count, {_BLOBS} FROM samples"
        " WHERE recording = ? AND id > ? ORDER BY id LIMIT ?",
        (recording, after, _ROWS_AT_ONCE),
    ).fetchall():
        for row in rows:
            yield from _deliveries(row[1:])
        after = int(rows[-1][0])


def trace(connection: sqlite3.Connection, recording: int, from_s: float, to_s: float) -> Trace:
    """Return all samples from from_s to to_s, both included, and the flaws that touch them."""
    pieces = [
        chunk for row in _between(connection, recording, from_s, to_s, _BLOBS) for chunk in _deliveries(row)
    ]
    time_s = np.concatenate([np.empty(0), *(piece.time_s for piece in pieces)])
    force_N = np.concatenate([np.empty(0), *(piece.force_N for piece in pieces)])
    kept = (time_s >= from_s) & (time_s <= to_s)
    # A flaw may have come later than the samples it is about, so all of the recording's are looked at.
    told = [*_all_flaws(connection, recording), *(flaw for piece in pieces for flaw in piece.flaws)]
    touching = (flaw for flaw in told if flaw.end_s >= from_s and flaw.start_s <= to_s)
    return Trace(time_s=time_s[kept], force_N=force_N[kept], flaws=tuple(dict.fromkeys(touching)))


def stretches(connection: sqlite3.Connection, recording: int, from_s: float, to_s: float) -> Stretches:
    """Return one line per stored row that touches from_s to to_s, from the index alone."""
    rows = _between(connection, recording, from_s, to_s, "least_N, most_N")
    table = np.fromiter(chain.from_iterable(rows), dtype=np.float64).reshape(-1, 5)
    return Stretches(*np.ascontiguousarray(table.T))


def _between(
    connection: sqlite3.Connection, recording: int, from_s: float, to_s: float, columns: str
) -> sqlite3.Cursor:
    # Rows do not overlap: the first that can touch is the last one that begins at or before from_s.
    return connection.execute(
        f"SELECT first_s, last_s, count, {columns} FROM samples WHERE recording = ?1 AND first_s <= ?3"
        " AND first_s >= coalesce((SELECT max(first_s) FROM samples"
        " WHERE recording = ?1 AND first_s <= ?2), ?2) AND last_s >= ?2 ORDER BY first_s",
        (recording, from_s, to_s),
    )


def _deliveries(row: tuple[Any, ...]) -> list[Chunk]:
    first_s, last_s, count, *blobs = row
    whole = unpack(*blobs)
    return [_gap(first_s, last_s, count)] if whole is None else whole


def _gap(first_s: float | None, last_s: float | None, count: int) -> Chunk:
    start_s, end_s = first_s or 0.0, last_s or 0.0
    flaw = Flaw(
        kind="gap", start_s=start_s, end_s=end_s, count=count,
        sentence=f"{count} samples between {start_s:.3f} s and {end_s:.3f} s are damaged in the logbook; "
        "nothing is put in their place.",
    )  # fmt: skip
    return Chunk(time_s=np.empty(0), force_N=np.empty(0), flaws=(flaw,))


def _all_flaws(connection: sqlite3.Connection, recording: int) -> Iterator[Flaw]:
    for (flaws,) in connection.execute(
        "SELECT flaws FROM samples WHERE recording = ? AND flaws IS NOT NULL ORDER BY id", (recording,)
    ):
        try:
            yield from stored_flaws(flaws)
        except ValueError:  # its row is damaged, which is told by the gap in its place
            continue


def _rows_of(chunks: Sequence[Chunk]) -> Iterator[list[Chunk]]:
    together: list[Chunk] = []
    samples = 0
    for chunk in chunks:
        if together and samples + chunk.time_s.size > MOST_IN_A_ROW:
            yield together
            together, samples = [], 0
        together.append(chunk)
        samples += chunk.time_s.size
    if together:
        yield together
