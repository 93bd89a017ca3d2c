"""How a table writes its rows: what parts the cells, and the mark of the decimals."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, takewhile

from pullbench.errors import RecordingError
from pullbench.sources.cells import Cell, CellKind, DecimalMark, bare, read_cell
from pullbench.sources.decimals import refuse_undecided_decimals

NAMES = {"\t": "tab", ";": "semicolon", ",": "comma", "|": "bar", " ": "blank", None: "one-column"}
_COMMENT_MARKS = ("#", "%", "//", ";", "!", "*", "\\")
_UNIT_TOKEN = re.compile(r"[A-Za-zµμ%°][\wµμ°%/²^]*$")
_PARTED = (",", ";", "\t", "|")


@dataclass(frozen=True, slots=True)
class Dialect:
    """separator: one character, or None for a single column; columns: cells in a row.

    pairs: the comma is both separator and decimal mark ("0,01,2,34" is two cells).
    """

    separator: str | None
    decimal: DecimalMark
    columns: int
    pairs: bool = False

    def split(self, line: str) -> list[str]:
        """Return the cells of a line; empty cells beyond the last column (trailing separators) are cut."""
        cells = split_cells(line, self.separator)
        if self.pairs and len(cells) == 2 * self.columns:
            cells = [f"{whole},{part.strip()}" for whole, part in zip(cells[::2], cells[1::2], strict=True)]
        while len(cells) > self.columns and not cells[-1].strip():
            cells.pop()
        return cells

    def is_comment(self, line: str) -> bool:
        """Say whether a line is marked as a comment."""
        stripped = line.lstrip()
        return stripped.startswith(_COMMENT_MARKS) and not (self.separator and stripped[0] == self.separator)

    @property
    def name(self) -> str:
        """The dialect in words, such as "semicolon table, decimal comma"."""
        mark = "comma" if self.decimal == "," else "point"
        return f"{NAMES[self.separator if self.columns > 1 else None]} table, decimal {mark}"


def split_cells(line: str, separator: str | None) -> list[str]:
    """Return the cells of a line as they stand; a quoted cell may hold the separator.

    Blanks: any run of blanks and tabs parts cells, but a unit stays with the number before it.
    """
    if separator is None:
        return [line]
    if '"' in line:
        return _quoted_cells(line, separator)
    if separator != " ":
        return line.split(separator)
    cells: list[str] = []
    for token in line.split():
        if cells and token[0] not in "+-.0123456789" and _belongs_to(cells[-1], token):
            cells[-1] += " " + token
        else:
            cells.append(token)
    return cells


def find_dialect(lines: Sequence[str], separator: str | None, decimal: DecimalMark | None) -> Dialect:
    """Return the dialect in which most lines are rows of numbers.

    lines: text lines of the file's head, in order, chatter included.  separator, decimal: the person's
    choices or None.  Raises RecordingError when no line is a row, or when the decimal mark is undecided.
    """
    separators = (separator,) if separator else ("\t", ";", ",", "|", " ", None)
    sample = [line for line in (*lines[:400], *lines[400:][-200:]) if line.strip()]
    best, best_score = Dialect(None, ".", 0), 0.0
    for mark in separators:
        for point in _decimals_for(mark, decimal, sample):
            dialect, score = _rate(sample, mark, point)
            if score > best_score + 1e-9:
                best, best_score = dialect, score
    if best_score == 0.0:
        raise no_numbers(len(lines))
    return refined(best, lines, sample, decimal)


def refined(
    best: Dialect, lines: Sequence[str], sample: Sequence[str], decimal: DecimalMark | None
) -> Dialect:
    """Settle what the best score leaves open: pairs of whole numbers round a comma, undecided decimals."""
    if best.separator == "," and best.decimal == "." and decimal != ".":
        verdict = comma_pairs(best, sample, chosen=decimal == ",")
        if verdict:
            one = best.columns == 2
            return Dialect(None if one else ",", ",", best.columns // 2, pairs=not one)
    if decimal is None:
        rows = [cells for line in sample if len(cells := best.split(line)) == best.columns]
        mark = refuse_undecided_decimals(rows, (best.split(line) for line in lines[400:]), best.columns)
        if mark is not None:
            return replace(best, decimal=mark)
    return best


def comma_pairs(best: Dialect, sample: Iterable[str], *, chosen: bool) -> bool:
    """Say whether "0,01,2,34" means two numbers with decimal comma rather than four whole ones.

    Proofs against: a sign or a decimal point anywhere behind, or as many names above.  Then for: a part
    behind a comma that begins with a nought, or blanks only between pairs.  Then against: a first column
    that counts on evenly.
    Raises RecordingError when nothing proves either.
    """
    rows = [split_cells(line, ",") for line in sample if _is_whole_row(line)]
    texts = [line for line in sample if read_cell(split_cells(line, ",")[0], ".").kind == "number"]
    pointed = any("." in line and not _is_whole_row(line) for line in texts)
    if not rows or pointed:
        return False
    lengths = Counter(len(row) for row in rows)
    even = [row for row in rows if len(row) == best.columns and best.columns % 2 == 0]
    behind = [part for row in even for part in row[1::2]]
    if chosen and even:
        return True
    if lengths[best.columns] * 10 < 9 * len(rows):
        raise _undecided(rows)
    signed = any(bare(part)[:1] in "+-" for part in behind)
    if not even or signed or _named_columns(sample) == best.columns:
        return False
    if any(len(bare(part)) > 1 and bare(part)[0] == "0" for part in behind) or _blank_only_between(even):
        return True
    if _counts_on([int(bare(row[0])) for row in even]):
        return False
    raise _undecided(rows)


def no_numbers(lines: int) -> RecordingError:
    """Return the error for a file without a single row of numbers."""
    return RecordingError(
        "no-numbers",
        f"No row of numbers was found in the first {lines} lines.",
        "A recording holds one line per sample, with a force and, best, a time.",
        "Check that this is the right file, or give --separator and --decimal.",
    )


def _rate(sample: Sequence[str], separator: str | None, decimal: DecimalMark) -> tuple[Dialect, float]:
    """Return the dialect with the commonest number of cells, and the numeric share of rows under it."""
    by_length: Counter[int] = Counter()
    probe = Dialect(separator, decimal, 0)
    for line in sample:
        if probe.is_comment(line):
            continue
        cells = split_cells(line, separator)
        while cells and not cells[-1].strip():
            cells.pop()
        share = _numeric_share([read_cell(cell, decimal) for cell in cells])
        if share >= 0.5:
            by_length[len(cells)] += share  # type: ignore[assignment]
    if not by_length:
        return probe, 0.0
    columns, score = max(by_length.items(), key=lambda item: (item[1], item[0]))
    return Dialect(separator, decimal, columns), score * (1 + 1e-6 * min(columns, 1000))


def _numeric_share(cells: Sequence[Cell]) -> float:
    kinds: Counter[CellKind] = Counter(cell.kind for cell in cells)
    if not kinds["number"]:
        return 0.0
    return (kinds["number"] + kinds["clock"] + kinds["missing"]) / len(cells)


def _decimals_for(
    separator: str | None, chosen: DecimalMark | None, sample: Sequence[str]
) -> list[DecimalMark]:
    if separator == "," and not any('"' in line for line in sample):
        return ["."]  # a chosen decimal comma is then looked at as pairs
    return [chosen] if chosen else [".", ","]


def _belongs_to(number: str, token: str) -> bool:
    """Say whether a blank-parted token is the unit of the number before it ("0.02 N1")."""
    if not _UNIT_TOKEN.match(token) or " " in number:
        return False
    marks: tuple[DecimalMark, ...] = (".", ",")
    units = (read_cell(f"{number} {token}", mark).unit for mark in marks)
    return any(unit is not None and unit.quantity in ("force", "mass", "time") for unit in units)


def _quoted_cells(line: str, separator: str) -> list[str]:
    if separator == " ":
        line = " ".join(line.split())
    try:
        return next(csv.reader([line], delimiter=separator, skipinitialspace=True), [])
    except csv.Error:  # a zero byte or a cell beyond the module's limit
        return line.split(separator)


def _is_whole(cell: str) -> bool:
    text = bare(cell)
    return text.lstrip("+-").isascii() and text.lstrip("+-").isdigit() and len(text) < 19


def _is_whole_row(line: str) -> bool:
    return all(_is_whole(cell) for cell in split_cells(line.rstrip(", "), ","))


def _blank_only_between(rows: Sequence[Sequence[str]]) -> bool:
    return len(rows[0]) > 2 and all(
        all(cell[:1] == " " for cell in row[2::2]) and not any(cell[:1] == " " for cell in row[1::2])
        for row in rows
    )


def _counts_on(first: Sequence[int]) -> bool:
    steps = {b - a for a, b in pairwise(first)}
    return len(first) >= 3 and min(steps) > 0 and max(steps) <= 2 * min(steps)


def _named_columns(sample: Iterable[str]) -> int:
    """Return how many names stand in the line above the first row of whole numbers, 0 for none."""
    above = list(takewhile(lambda line: not _is_whole_row(line), sample))
    cells = split_cells(above[-1].rstrip(", "), ",") if above else []
    return len(cells) if all(bare(cell)[:1].isalpha() for cell in cells) else 0


def _undecided(rows: Sequence[Sequence[str]]) -> RecordingError:
    return RecordingError(
        "decimal-ambiguous",
        f"Rows such as {','.join(rows[0])!r} can be whole numbers or numbers with decimal comma.",
        "The comma must be either the separator or the decimal mark.",
        'Give --decimal "." or --decimal ",", or export the table with semicolons.',
    )
