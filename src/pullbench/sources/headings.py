"""What a column's heading says: its name, its unit, and whether it is a time, a force or neither."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.sources.cells import bare, read_cell
from pullbench.sources.dialect import Dialect, split_cells
from pullbench.sources.units import Unit, unit_of


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Everyday words for time and pull in languages that classrooms here and there write their headings in.
TIME_WORDS = _words(
    "time t zeit temps tiempo tempo czas tid tijd aika cas čas vreme idő ido zaman aeg laikas laiks "
    "timp время час χρόνος χρονος 时间 時間 시간 timestamp timestamps elapsed clock millis micros "
    "uhrzeit laufzeit messzeit hora heure ora seconds secs sekunden stamp"
)
FORCE_WORDS = _words(
    "force forces f fx fz kraft zug pull load fuerza forza força forca kracht siła sila voima erő ero kuvvet "
    "jõud jėga spēks forță forta сила δύναμη δυναμη 力 힘 friction reibung frottement rozamiento attrito "
    "fricción friccion weight gewicht poids peso thrust loadcell drag newton newtons"
)
OTHER_WORDS = _words(
    "position pos displacement distance travel stroke weg abstand x y z length länge speed velocity v vel "
    "geschwindigkeit acceleration accel acc beschleunigung a ax ay az gyro gx gy gz temp "
    "temperature temperatur pressure druck voltage spannung current index no nr n num number sample samples "
    "count counter id marker event events run trial date datum status flag angle winkel humidity "
    "battery rssi line row seq packet"
)
_FORCE_ENDINGS = ("kraft", "kracht", "kraften", "force")
_ACCELERATIONS = _words("acceleration accel acc beschleunigung a ax ay az")
_INDEX_WORDS = _words("index no nr n num number sample samples count counter id line row seq packet")
_BRACKETED = re.compile(r"[\[(<{]([^\[\](){}<>]*(?:\([^)]*\))?[^\[\](){}<>]*)[\])>}]")
_LEADING_MARKS = re.compile(r"^\s*(?:#+|%+|//+|;|!+|\*+|\\+)\s*")
_RULE = re.compile(r"[-=_+|:\s,;~]+$")


@dataclass(frozen=True, slots=True)
class Heading:
    """One column's heading: text as written, name without the unit, unit or None."""

    text: str = ""
    name: str = ""
    unit: Unit | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The name's words in lower case, numbers at their ends cut ("Force1" is "force")."""
        parts = re.split(r"[\W_]+", re.sub(r"(?<=[a-z])(?=[A-Z])", " ", self.name).lower())
        return tuple(word for part in parts if (word := part.rstrip("0123456789"))) if self.name else ()

    @property
    def is_time(self) -> bool:
        """Whether name or unit says that the column is a time."""
        if self.unit is not None and self.unit.quantity != "time":
            return False
        return any(word in TIME_WORDS for word in self.words) or (
            self.unit is not None and not self._named_other
        )

    @property
    def is_force(self) -> bool:
        """Whether name or unit says that the column is a force (or a weight on a scale)."""
        if self.unit is None:
            return self._named_force
        if self.unit.quantity == "mass":
            return not _ACCELERATIONS.intersection(self.words)  # a reading in g of an accelerometer
        return self.unit.quantity == "force"

    @property
    def is_raw_force(self) -> bool:
        """Whether the column is named a force but holds a raw signal that needs a scale."""
        return self.unit is not None and self.unit.quantity == "raw" and self._named_force

    @property
    def is_other(self) -> bool:
        """Whether the column is surely no force: a length, an acceleration, a pressure, a counter."""
        if self.is_force:
            return False
        if self.unit is not None:
            return self.unit.quantity != "raw"
        return self._named_other

    @property
    def is_counter(self) -> bool:
        """Whether the column merely counts the rows."""
        return self.unit is None and any(word in _INDEX_WORDS for word in self.words)

    @property
    def _named_force(self) -> bool:
        if _INDEX_WORDS.intersection(self.words):  # "pull no" counts the pulls
            return False
        return any(word in FORCE_WORDS or word.endswith(_FORCE_ENDINGS) for word in self.words)

    @property
    def _named_other(self) -> bool:
        return bool(self.words) and not self._named_force and any(word in OTHER_WORDS for word in self.words)


def read_heading(text: str) -> Heading:
    """Return the name and unit in a heading: "F [N]", "F (N)", "F / N", "F, N", "F in N", "F_N", "N"."""
    text = " ".join(bare(text).split())
    whole = unit_of(text)
    if whole is not None:  # "m/s²" is a unit, not a column m in s²
        return Heading(text, "", whole)
    for match in _BRACKETED.finditer(text):
        unit = unit_of(match.group(1))
        if unit is not None:
            return Heading(text, (text[: match.start()] + text[match.end() :]).strip(), unit)
    for parting in ("/", ",", " in ", ":"):
        name, found, rest = text.partition(parting)
        unit = unit_of(rest)
        if found and name.strip() and unit is not None:
            return Heading(text, name.strip(), unit)
    return _with_last_words_as_unit(text)


def _with_last_words_as_unit(text: str) -> Heading:
    parts = re.split(r"[\s_]+", text)
    for taken in (3, 2, 1):  # "v_m_s2" before "s2"
        if len(parts) > taken and (unit := unit_of("/".join(parts[-taken:]))) is not None:
            return Heading(text, " ".join(parts[:-taken]), unit)
    return Heading(text, _BRACKETED.sub("", text).strip() or text)


def find_headings(above: Sequence[str], dialect: Dialect) -> tuple[Heading, ...]:
    """Return one heading per column from the lines above the first row, or () when there are none.

    above: the nearest lines last.  A row of units under the names is joined with them.
    """
    near = [line for line in above if line.strip() and not _RULE.match(line)][-3:]
    while near and _header_cells(near[-1], dialect) is None:
        near.pop()  # a lost first row or a remark may stand between
    last = _header_cells(near[-1], dialect) if near else None
    if last is None:
        return ()
    units = _unit_row(last)
    if units is None:
        found = tuple(read_heading(cell) for cell in last)
        return found if _plausible(found, dialect, first=len(above) == 1) else ()
    names = _header_cells(near[-2], dialect) if len(near) > 1 else None
    if names is None or _unit_row(names) is not None:
        names = [""] * dialect.columns
    return tuple(_joined(name, unit) for name, unit in zip(names, units, strict=True))


def _joined(name: str, unit: Unit | None) -> Heading:
    heading = read_heading(name)
    text = heading.text or (unit.symbol if unit else "")
    if unit is None:
        return heading
    # In a table with a row of units, a bare "N" or "s" above it is a name.
    return Heading(text, heading.name or heading.text, unit)


def _unit_row(cells: Sequence[str]) -> list[Unit | None] | None:
    """Return the units if every cell is one, or empty; None if some cell is something else."""
    texts = [bare(cell) for cell in cells]
    units = [unit_of(text) for text in texts]
    fits = all(unit or not text or text.strip("[]()-") == "" for text, unit in zip(texts, units, strict=True))
    return units if fits and any(units) else None


def _header_cells(line: str, dialect: Dialect) -> list[str] | None:
    """Return a line's cells if it has one per column, whatever parts them, and is not numeric."""
    line = _LEADING_MARKS.sub("", line) if not line.lstrip().startswith(dialect.separator or "\0") else line
    for cells in _ways_to_split(line, dialect):
        while len(cells) > dialect.columns and not cells[-1].strip():
            cells = cells[:-1]
        if len(cells) == dialect.columns:
            numeric = sum(read_cell(cell, dialect.decimal).kind == "number" for cell in cells)
            return cells if 2 * numeric < len(cells) else None
    return None


def _ways_to_split(line: str, dialect: Dialect) -> list[list[str]]:
    marks = dict.fromkeys((dialect.separator, "\t", ";", ",", "|"))
    ways = [_quote_aware(line, mark) for mark in marks if mark and mark != " "]
    if dialect.separator in (" ", None):
        ways += [re.split(r"\s{2,}|\t", line.strip()), _quote_aware(line, " ")]
        ways.append(re.sub(r"\s+(?=[\[(/])|(?<=/)\s+", "\u00a0", line).split(" "))
    return [*ways, [line]] if dialect.columns == 1 else ways


def _quote_aware(line: str, mark: str) -> list[str]:
    return split_cells(line.strip(" ") if mark != " " else line, mark)


def _plausible(found: Sequence[Heading], dialect: Dialect, *, first: bool) -> bool:
    """Tell headings from chatter that happens to have as many words as the table has columns."""
    known = any(h.is_time or h.is_force or h.is_other or h.is_raw_force for h in found)
    if dialect.columns == 1:  # "Ready to run experiment" is no heading
        only = found[0]
        return len(only.words) <= 4 and (only.unit is not None or only.is_force)
    return known or first or dialect.separator != " "
