"""Text tables, whatever they look like: opened, found out, read in pieces or whole."""

from __future__ import annotations

import pathlib
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from pullbench.errors import RecordingError
from pullbench.model import Chunk, Trace
from pullbench.sources.assumed import assumed_sentence
from pullbench.sources.batch import NO_ROWS, Piece, Queue
from pullbench.sources.choices import TableChoices, check_choices, separator
from pullbench.sources.damage import Damage, joined
from pullbench.sources.layout import Layout, find_layout
from pullbench.sources.octets import BLOCK_BYTES, as_text, blocks, file_encoding
from pullbench.sources.plan import Plan, pick_columns, plan_force, plan_time
from pullbench.sources.rows import GOOD, RowReader, Rows

HEAD_BYTES = 1 << 20  # what is looked at before reading: some 50 000 rows
_NO_CHOICES = TableChoices()


@dataclass(frozen=True, slots=True)
class Table:
    """A text table that was found out; `assumed` says in one sentence how it is read."""

    path: pathlib.Path
    assumed: str
    encoding: str
    skip_bytes: int
    reader: RowReader
    plan: Plan

    def chunks(self, *, block_bytes: int = BLOCK_BYTES) -> Iterator[Chunk]:
        """Yield the recording in pieces, in order; the file is read once, a block at a time.

        block_bytes: how much is read at once; times and forces do not depend on it.  Times are finite and
        strictly increasing from chunk to chunk.  Raises RecordingError when fewer than two samples are left.
        """
        for piece in self._pieces(block_bytes):
            if piece.time_s.size or piece.damages:
                flaws = tuple(damage.as_flaw() for damage in joined(piece.damages))
                yield Chunk(time_s=piece.time_s, force_N=piece.force_N, flaws=flaws)

    def trace(self) -> Trace:
        """Return the whole recording, its flaws joined across pieces."""
        pieces = list(self._pieces(BLOCK_BYTES))
        damages: list[Damage] = [damage for piece in pieces for damage in piece.damages]
        return Trace(
            time_s=np.concatenate([piece.time_s for piece in pieces]),
            force_N=np.concatenate([piece.force_N for piece in pieces]),
            flaws=tuple(damage.as_flaw() for damage in joined(damages)),
        )

    def _pieces(self, block_bytes: int) -> Iterator[Piece]:
        queue, clock, samples, skip = Queue(), self.plan.clock(), 0, self.skip_bytes
        for block in blocks(self.path, self.encoding, block_bytes=block_bytes):
            rest = block[skip:]
            skip = max(0, skip - len(block))
            if rest:
                piece = clock.feed(self.plan.batch(self.reader.read(rest), queue), last=False)
                samples += piece.time_s.size
                yield piece
        piece = clock.feed(NO_ROWS, last=True)
        samples += piece.time_s.size
        if samples < 2:
            raise _too_few(samples)
        yield piece


def open_table(path: pathlib.Path, choices: TableChoices = _NO_CHOICES) -> Table:
    """Return a text table, found out from its first megabyte and the person's choices.

    Raises RecordingError, each kind with its own code, when the file is no table of readings or when
    reading it would need a guess that changes a number.
    """
    check_choices(choices)
    encoding = file_encoding(path, choices.encoding)
    head, whole = _head(path, encoding)
    lines = head.split(b"\n")[:-1]
    texts = [as_text(line, encoding) for line in lines]
    layout = find_layout(texts, separator(choices), choices.decimal)
    skip = sum(len(line) + 1 for line in lines[: layout.lines_above])
    reader, plan = _reading(layout, encoding, head[skip:], choices, whole=whole)
    return Table(path, assumed_sentence(layout, plan, encoding), encoding, skip, reader, plan)


def read_table(path: pathlib.Path, choices: TableChoices = _NO_CHOICES) -> tuple[Trace, str]:
    """Return the whole recording of a text table, and the sentence that says how it was read."""
    table = open_table(path, choices)
    return table.trace(), table.assumed


def _head(path: pathlib.Path, encoding: str) -> tuple[bytes, bool]:
    """Return the first blocks of a file and whether they are all of it."""
    head: list[bytes] = []
    for block in blocks(path, encoding):
        if sum(map(len, head)) >= HEAD_BYTES:
            return b"".join(head), False
        head.append(block)
    return b"".join(head), True


def _reading(
    layout: Layout, encoding: str, head: bytes, choices: TableChoices, *, whole: bool
) -> tuple[RowReader, Plan]:
    picked = pick_columns(layout, choices)
    force = plan_force(picked.force, choices)
    time_index = None if picked.time is None else picked.time.number - 1
    time_unit = picked.time.unit if picked.time is not None and choices.time_unit is None else None
    as_written = choices.force_unit is None and choices.scale_N is None
    reader = RowReader(
        layout.dialect,
        encoding,
        time_index,
        picked.force.number - 1,
        time_unit,
        force.unit if as_written else None,
    )
    rows = reader.read(head)
    _check_enough(rows, whole=whole)
    time = None if picked.time is None else plan_time(picked.time, rows, choices)
    return reader, Plan(picked, time, force, choices.rate_Hz)


def _check_enough(rows: Rows, *, whole: bool) -> None:
    good = int(np.count_nonzero(rows.state == GOOD))
    if good == 0 or (whole and good < 2):
        raise _too_few(good)


def _too_few(samples: int) -> RecordingError:
    return RecordingError(
        "too-few-samples",
        f"Only {samples} usable reading{'' if samples == 1 else 's'} can be found.",
        "A recording needs at least two, each with its time.",
        "Check that this is the right file and column, or record again.",
    )
