"""Where a table begins, what its columns are called, and what they hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.model import FloatArray
from pullbench.sources.cells import Cell, CellKind, DecimalMark, bare, read_cell
from pullbench.sources.dialect import Dialect, find_dialect, no_numbers
from pullbench.sources.headings import Heading, find_headings
from pullbench.sources.units import Unit

_ROWS_LOOKED_AT = 600


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One column: its number from 1, heading, what most cells are, sample values, the unit in its cells.

    values: shape (rows looked at,), in the cells' own unit, NaN where missing.
    """

    number: int
    heading: Heading
    kind: CellKind
    first: str
    values: FloatArray
    cell_unit: Unit | None

    @property
    def unit(self) -> Unit | None:
        """The unit in the heading, or else in the cells."""
        return self.heading.unit or self.cell_unit

    @property
    def title(self) -> str:
        """The column for a person: its number, and its name in quotes if it has one."""
        return (
            f'column {self.number}, "{self.heading.text}"' if self.heading.text else f"column {self.number}"
        )


@dataclass(frozen=True, slots=True)
class Layout:
    """dialect and columns of a table, and how many lines stand above its first row."""

    dialect: Dialect
    columns: tuple[Column, ...]
    lines_above: int


def find_layout(lines: Sequence[str], separator: str | None, decimal: DecimalMark | None) -> Layout:
    """Return the layout of a table from the lines of its head, chatter included.

    Raises RecordingError when there is no row, or separator or decimal mark cannot be decided.
    """
    dialect = find_dialect(lines, separator, decimal)
    rows = _rows(lines, dialect)
    kinds = _majority([cells for _, cells in rows], dialect.columns)
    start = _first_row(rows, kinds)
    if start is None:
        raise no_numbers(len(lines))
    above = rows[start][0]
    headings = find_headings(lines[:above], dialect) or (Heading(),) * dialect.columns
    sample = [cells for _, cells in rows[start:]][:_ROWS_LOOKED_AT]
    read = [[read_cell(cell, dialect.decimal) for cell in row] for row in sample]
    columns = tuple(_column(i, headings[i], kinds[i], sample, read) for i in range(dialect.columns))
    return Layout(dialect, columns, above)


def _rows(lines: Sequence[str], dialect: Dialect) -> list[tuple[int, list[str]]]:
    """Return (line number from 0, cells) of lines that have the table's number of cells."""
    rows: list[tuple[int, list[str]]] = []
    for number, line in enumerate(lines):
        if not line.strip() or dialect.is_comment(line):
            continue
        cells = dialect.split(line)
        if len(cells) == dialect.columns:
            rows.append((number, cells))
        if len(rows) > 4 * _ROWS_LOOKED_AT:
            break
    return rows


def _majority(rows: Sequence[Sequence[str]], columns: int) -> list[CellKind]:
    """Return what each column mostly holds; a gap in the middle does not make a column of gaps."""
    counts: list[Counter[CellKind]] = [Counter() for _ in range(columns)]
    for cells in rows:
        seen = [_any_kind(cell) for cell in cells]
        if "number" in seen or "clock" in seen:  # headings do not vote
            for count, kind in zip(counts, seen, strict=True):
                count[kind] += 1
    order: tuple[CellKind, ...] = ("number", "clock", "text", "missing")
    return [max(order, key=lambda kind: count[kind] * (0.1 if kind == "missing" else 1)) for count in counts]


def _any_kind(cell: str) -> CellKind:
    """Return what a cell is under either decimal mark."""
    kind = read_cell(cell, ".").kind
    return kind if kind != "text" or "," not in cell else read_cell(cell, ",").kind


def _first_row(rows: Sequence[tuple[int, Sequence[str]]], kinds: Sequence[CellKind]) -> int | None:
    """Return the index of the first row; a lone row among chatter does not begin a table."""
    fits = [_fits(cells, kinds) for _, cells in rows]
    for index, good in enumerate(fits):
        if good and (index + 1 >= len(fits) or fits[index + 1] or sum(fits) == 1):
            return index
    return next((index for index, good in enumerate(fits) if good), None)


def _fits(cells: Sequence[str], kinds: Sequence[CellKind]) -> bool:
    seen = [_any_kind(cell) for cell in cells]
    pairs = [
        (kind, wanted) for kind, wanted in zip(seen, kinds, strict=True) if wanted in ("number", "clock")
    ]
    return any(kind == wanted for kind, wanted in pairs) and all(
        kind in (wanted, "missing") for kind, wanted in pairs
    )


def _column(
    index: int,
    heading: Heading,
    kind: CellKind,
    sample: Sequence[Sequence[str]],
    read: Sequence[Sequence[Cell]],
) -> Column:
    cells = [row[index] for row in read]
    # "Number" needs one cell that is a number under the table's own decimal mark.
    units = Counter(cell.unit for cell in cells if cell.unit is not None)
    common = units.most_common(1)[0] if units else None
    cell_unit = common[0] if common and 2 * common[1] > sum(cell.kind == "number" for cell in cells) else None
    values = np.array([cell.value for cell in cells], dtype=np.float64)
    return Column(index + 1, heading, kind, bare(sample[0][index])[:20], values, cell_unit)
