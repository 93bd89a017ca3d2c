"""From blocks of lines to rows of time and force: a fast road for clean lines, a careful one for the rest.

Both roads turn the same digits into the same float, since both end in Python's own `float`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from pullbench.model import FloatArray
from pullbench.sources.cells import Cell, read_cell
from pullbench.sources.dialect import Dialect
from pullbench.sources.octets import as_text
from pullbench.sources.units import Unit

GOOD, MISSING, UNREADABLE = 0, 1, 2
_NUMBER_BYTES = b"0123456789+-.eE\n"


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Rows as they stand in the file: time and force in their column's own unit, shape (n,).

    state: GOOD, MISSING (a cell that is needed is no number) or UNREADABLE (the line is no row);
    time or force is NaN where it is not known.  texts: some unreadable lines by their row.
    """

    time: FloatArray
    force: FloatArray
    state: npt.NDArray[np.uint8]
    texts: dict[int, str] = field(default_factory=dict)


@dataclass(slots=True)
class _Lists:
    time: list[float] = field(default_factory=list)
    force: list[float] = field(default_factory=list)
    state: list[int] = field(default_factory=list)
    texts: dict[int, str] = field(default_factory=dict)

    def add(self, time: float, force: float, state: int) -> None:
        self.time.append(time)
        self.force.append(force)
        self.state.append(state)


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads blocks of one table.

    time, force: columns from 0, time None without a time column.  time_unit, force_unit: a cell with
    another unit of the same kind glued to it is converted; None takes every cell at its number.
    """

    dialect: Dialect
    encoding: str
    time: int | None
    force: int
    time_unit: Unit | None
    force_unit: Unit | None

    def read(self, block: bytes) -> Rows:
        r"""Return the rows of a block of whole lines, each ended by \n.

        Blank lines and lines marked as comments leave no row.
        """
        numbers = None if self.dialect.pairs else self._clean_block(block)
        if numbers is not None:
            time, force = numbers
            return Rows(time, force, np.zeros(force.size, dtype=np.uint8))
        lists = _Lists()
        for line in block.split(b"\n")[:-1]:
            plain = self._clean_line(line)
            if plain is None:
                self._add_line(line, lists)
            else:
                lists.add(*plain, GOOD)
        return Rows(
            np.array(lists.time, dtype=np.float64),
            np.array(lists.force, dtype=np.float64),
            np.array(lists.state, dtype=np.uint8),
            lists.texts,
        )

    def _separator_byte(self) -> bytes:
        # One column with a separator at the line's end needs a byte to cut at, too.
        return (self.dialect.separator or "\t").encode()

    def _clean_block(self, block: bytes) -> tuple[FloatArray, FloatArray] | None:
        """Return (time, force) of a block whose every line is a plain row, else None."""
        separator, columns = self._separator_byte(), self.dialect.columns
        if block.translate(None, self._allowed()):
            return None
        block = self._trimmed(block, separator)
        lines = block.count(b"\n")
        if self.dialect.decimal == ",":
            block = block.replace(b",", b".")
        if columns > 1 and not _is_regular(block, separator, columns):
            return None
        cells = block.replace(b"\n", separator).split(separator)[:-1]
        if len(cells) != lines * columns:
            return None
        try:
            force = np.array(list(map(float, cells[self.force :: columns])))
            time = (
                np.full(lines, math.nan)
                if self.time is None
                else np.array(list(map(float, cells[self.time :: columns])))
            )
        except ValueError:
            return None
        if not np.isfinite(force).all() or (self.time is not None and not np.isfinite(time).all()):
            return None  # "1e999": the careful road calls it missing
        return time, force

    def _clean_line(self, line: bytes) -> tuple[float, float] | None:
        """Return (time, force) of a line that is a plain row, else None: the block's rule for one line."""
        if self.dialect.pairs or line.translate(None, self._allowed()):
            return None
        if self.dialect.decimal == ",":
            line = line.replace(b",", b".")
        cells = line.split() if self.dialect.separator == " " else line.split(self._separator_byte())
        if len(cells) != self.dialect.columns:
            return None
        try:
            time = math.nan if self.time is None else float(cells[self.time])
            force = float(cells[self.force])
        except ValueError:
            return None
        finite = math.isfinite(force) and (self.time is None or math.isfinite(time))
        return (time, force) if finite else None

    def _allowed(self) -> bytes:
        allowed = _NUMBER_BYTES + self._separator_byte() + b" "
        if self.dialect.separator == " ":
            allowed += b"\t"
        return allowed.replace(b".", b",") if self.dialect.decimal == "," else allowed

    def _trimmed(self, block: bytes, separator: bytes) -> bytes:
        r"""Return a block without blanks and separators before \n; if they part cells, runs become one."""
        if separator == b" ":
            block = block.replace(b"\t", b" ")
            while b"  " in block:
                block = block.replace(b"  ", b" ")
            return block.replace(b" \n", b"\n").replace(b"\n ", b"\n").lstrip(b" ")
        if b" \n" in block:
            block = block.replace(b" \n", b"\n")
        return block.replace(separator + b"\n", b"\n") if separator + b"\n" in block else block

    def _add_line(self, line: bytes, lists: _Lists) -> None:
        text = as_text(line, self.encoding)
        if not text.strip() or self.dialect.is_comment(text):
            return
        cells = self.dialect.split(text)
        if not any(cell.strip() for cell in cells):
            return
        needed = (self.force,) if self.time is None else (self.time, self.force)
        if self._is_row(cells, needed):
            read = [read_cell(cells[column], self.dialect.decimal) for column in needed]
            if any(cell.kind != "text" for cell in read):
                time = _value(read[0], self.time_unit, clock=True) if self.time is not None else math.nan
                force = _value(read[-1], self.force_unit, clock=False)
                known = math.isfinite(force) and (self.time is None or math.isfinite(time))
                lists.add(time, force, GOOD if known else MISSING)
                return
        if len(lists.texts) < 3:
            lists.texts[len(lists.state)] = text.strip()
        lists.add(math.nan, math.nan, UNREADABLE)

    def _is_row(self, cells: list[str], needed: tuple[int, ...]) -> bool:
        """Say whether a line has the cells of a row.

        A short row counts while the needed cells are not its last (that one may be cut off); a long one
        while only words stand behind it (a remark), since numbers there mean two lines run together.
        """
        if len(cells) < self.dialect.columns:
            return max(needed) < len(cells) - 1
        extra = cells[self.dialect.columns :]
        return all(read_cell(cell, self.dialect.decimal).kind in ("text", "missing") for cell in extra)


def _value(cell: Cell, unit: Unit | None, *, clock: bool) -> float:
    if cell.kind == "clock":
        return cell.value if clock else math.nan
    if cell.unit is None or unit is None or cell.unit == unit or cell.unit.quantity != unit.quantity:
        return cell.value
    in_SI = cell.value * cell.unit.times / cell.unit.over
    return in_SI * unit.over / unit.times


def _is_regular(block: bytes, separator: bytes, columns: int) -> bool:
    """Say whether every line holds columns - 1 separators."""
    octets = np.frombuffer(block, dtype=np.uint8)
    ends = octets == 10
    marks = octets[ends | (octets == separator[0])] == 10
    if marks.size % columns:
        return False
    by_line = marks.reshape(-1, columns)
    return bool(by_line[:, -1].all() and not by_line[:, :-1].any())
