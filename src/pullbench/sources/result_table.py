"""A small table of results (one row a pull or a group), as a spreadsheet saves it: headings, then rows."""

from __future__ import annotations

import math
import pathlib
from collections.abc import Iterator
from dataclasses import dataclass

from pullbench.errors import RecordingError
from pullbench.sources.cells import DecimalMark, read_cell
from pullbench.sources.octets import as_text, blocks, file_encoding

_SEPARATORS = ("\t", ";", ",")


@dataclass(frozen=True, slots=True)
class ResultTable:
    """Cells by heading (lower case), all columns of one length, with the line of each row in the file."""

    name: str
    columns: dict[str, tuple[str, ...]]
    lines: tuple[int, ...]
    decimal: DecimalMark

    def words(self, heading: str) -> tuple[str, ...]:
        """Return a column as text.  Raises RecordingError when there is none."""
        if heading not in self.columns:
            raise RecordingError(
                "column-missing", f"{self.name} has no column {written(heading)!r}.",
                f"Its columns are {', '.join(map(written, self.columns))}.",
                f"Add {written(heading)!r}, or rename one to it.",
            )  # fmt: skip
        return self.columns[heading]

    def numbers(self, heading: str) -> tuple[float | None, ...]:
        """Return a column as numbers, None where a cell is blank.

        Raises RecordingError for a missing column, and for a cell that is neither blank nor a finite number.
        """
        cells = zip(self.words(heading), self.lines, strict=True)
        return tuple(self._number(cell, heading, line) for cell, line in cells)

    def _number(self, cell: str, heading: str, line: int) -> float | None:
        if not cell:
            return None
        told = read_cell(cell, self.decimal)
        if told.kind != "number" or told.unit is not None or not math.isfinite(told.value):
            raise RecordingError(
                "number-unreadable", f"{self.name}, line {line}: {written(heading)} is {cell!r}.",
                "It must be one finite number without a unit, or blank where it could not be told.", "Mend that cell.",
            )  # fmt: skip
        return told.value


def read_result_table(path: pathlib.Path) -> ResultTable:
    """Return a table of results: one line of headings, then one row a result; # begins a remark.

    Separated by tab, semicolon or comma.  Raises RecordingError.
    """
    kept = list(_kept(path))
    if len(kept) < 2:
        raise RecordingError(
            "table-empty", f"{path.name} holds {len(kept)} lines.", "A table has headings and at least one row.",
            "Check that this is the right file.",
        )  # fmt: skip
    separator, headings = _headings(kept[0][1])
    if len(set(headings)) < len(headings):
        raise RecordingError(
            "headings-equal", f"{path.name} has two columns of one heading: {', '.join(headings)}.",
            "Each column needs a heading of its own.", "Rename one of them.",
        )  # fmt: skip
    rows = [(n, _row(path.name, n, _cells(text, separator), headings)) for n, text in kept[1:]]
    comma = separator != "," and any("," in cell for _, row in rows for cell in row)
    columns = zip(headings, zip(*(row for _, row in rows), strict=True), strict=True)
    return ResultTable(path.name, dict(columns), tuple(n for n, _ in rows), "," if comma else ".")


def written(heading: str) -> str:
    """Return a heading as people write it: newtons have a capital N."""
    return f"{heading[:-2]}_N" if heading.endswith("_n") else heading


def result_headings(path: pathlib.Path) -> list[str]:
    """Return the cells of the first line that is no remark, lower case.  Raises RecordingError."""
    return next((_headings(text)[1] for _, text in _kept(path)), [])


def _kept(path: pathlib.Path) -> Iterator[tuple[int, str]]:
    """Yield the lines that are neither blank nor a remark, each with its number."""
    encoding = file_encoding(path, None)
    lines = (line for block in blocks(path, encoding) for line in block.removesuffix(b"\n").split(b"\n"))
    for number, line in enumerate(lines, 1):
        text = as_text(line, encoding).lstrip("\ufeff")
        if text.strip() and not text.lstrip().startswith("#"):
            yield number, text


def _headings(text: str) -> tuple[str, list[str]]:
    separator = next((mark for mark in _SEPARATORS if mark in text), ",")
    return separator, [heading.lower() for heading in _cells(text, separator)]


def _row(name: str, line: int, cells: list[str], headings: list[str]) -> list[str]:
    """Return the cells of a row, blank ones added at its end."""
    if len(cells) > len(headings) and any(cells[len(headings) :]):
        raise RecordingError(
            "row-too-long", f"{name}, line {line} has {len(cells)} cells for {len(headings)} headings.",
            "Each row must fit the headings.",
            "With decimal commas, separate the cells by semicolons.",
        )  # fmt: skip
    return [*cells, *[""] * len(headings)][: len(headings)]


def _cells(text: str, separator: str) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in text.split(separator)]
