"""Coefficients of named pairs of surfaces from named sources, and what to make of it when they disagree.

The table is `coefficients.csv` beside this file: every row with its source and licence.  A row that was
written down from memory says so, and so does one whose printed value is a known misprint.
"""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from pullbench.errors import ConditionsError

Range = tuple[float, float]

_SAME_WORD: Mapping[str, str] = MappingProxyType(
    {"ptfe": "teflon", "aluminum": "aluminium", "wooden": "wood", "shoe": "shoes"}
)
_DRY = ("", "dry", "clean dry", "threads", "clean 0 c", "dry 0 c", "synovial fluid", "along the grain")
_FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of the handbook.

    static, kinetic: lowest and highest printed value, None where the source has none.  seen: whether the
    value was seen in the source, rather than written down from memory.
    """

    name: str
    first: str
    second: str
    condition: str
    static: Range | None
    kinetic: Range | None
    source: str
    licence: str
    seen: bool
    note: str

    @property
    def pair(self) -> str:
        """Return both materials, as in "oak on oak"."""
        return f"{self.first} on {self.second}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What the handbook says about one pair: the rows that count, the ranges they span, and remarks.

    static, kinetic: from the lowest to the highest value of any source; None where none has one.
    remarks: disagreements, misprints, values from memory, conditions left out.
    """

    surfaces: str
    rows: tuple[Row, ...]
    static: Range | None
    kinetic: Range | None
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Handbook:
    """All rows, searchable by pair."""

    rows: tuple[Row, ...]

    def find(self, surfaces: str) -> Entry:
        """Return what is known of a pair such as "oak on oak" or "steel on steel, oiled".

        The order of the materials does not matter.  Materials match by whole words: exact ones first.
        Without a condition the dry rows count.  Raises ConditionsError when nothing matches.
        """
        asked, _, condition = surfaces.partition(",")
        materials = [_words(part) for part in re.split(r"\s+on\s+|\s+against\s+|/", asked.strip())]
        if len(materials) > 2:
            raise self._unknown(surfaces)
        matching = self._matching([material for material in materials if material])
        if not matching:
            raise self._unknown(surfaces)
        chosen = [row for row in matching if _suits(row, condition)]
        if not condition.strip():
            chosen = chosen or matching
        if not chosen:
            known = ", ".join(dict.fromkeys(row.condition or "dry" for row in matching))
            raise ConditionsError(
                "surfaces-condition-unknown",
                f"The handbook has {asked.strip()}, but not {condition.strip()!r}.",
                f"It has {known}.",
                "Choose one of these, or leave the condition out.",
            )
        left_out = [row for row in matching if row not in chosen]
        return Entry(
            surfaces=surfaces.strip(),
            rows=tuple(chosen),
            static=_span(row.static for row in chosen),
            kinetic=_span(row.kinetic for row in chosen),
            remarks=tuple(_remarks(chosen, left_out)),
        )

    def _matching(self, materials: list[frozenset[str]]) -> list[Row]:
        """Return the rows of a pair (or of one material), those that match to the word if there are any."""
        wanted = sorted(materials, key=sorted)
        exact = [row for row in self.rows if sorted(_sides(row), key=sorted) == wanted]
        if exact or not materials:
            return exact
        return [row for row in self.rows if _covers(_sides(row), materials)]

    def _unknown(self, surfaces: str) -> ConditionsError:
        pairs = list(dict.fromkeys(row.pair for row in self.rows))
        by_name = {pair.casefold(): pair for pair in pairs}
        words = _words(surfaces)
        near = [by_name[p] for p in difflib.get_close_matches(surfaces.casefold(), by_name, n=3, cutoff=0.4)]
        sharing = [pair for pair in pairs if words & _words(pair) - {"on"}]
        offered = list(dict.fromkeys([*sharing, *near]))[:5] or pairs[:5]
        return ConditionsError(
            "surfaces-unknown",
            f"The handbook has no {surfaces.strip()!r}.",
            f"It has {', '.join(offered)} and others.",
            "Name two materials, such as oak on oak, or give --mu instead.",
        )


def handbook_from(text: str) -> Handbook:
    """Return the handbook written in a text like `coefficients.csv`.  Raises ConditionsError for a bad row."""
    rows = []
    for number, row in enumerate(csv.DictReader(text.splitlines()), 2):
        try:
            rows.append(_row(row))
        except (KeyError, TypeError, ValueError) as fault:
            raise ConditionsError(
                "handbook-unreadable",
                f"Line {number} of the handbook cannot be read ({fault}).",
                "Each needs two materials, their ranges, source, licence, and whether it was seen.",
                "Mend that line.",
            ) from fault
    return Handbook(tuple(rows))


def _row(row: Mapping[str, str]) -> Row:
    if not (row["source"] and row["licence"] and row["first"] and row["second"]):
        raise ValueError("a material, the source or the licence is missing")
    return Row(
        name=row["id"],
        first=row["first"],
        second=row["second"],
        condition=row["condition"],
        static=_range(row["static_low"], row["static_high"]),
        kinetic=_range(row["kinetic_low"], row["kinetic_high"]),
        source=row["source"],
        licence=row["licence"],
        seen=row["seen"] != _FROM_MEMORY,
        note=row["note"],
    )


def _range(low: str, high: str) -> Range | None:
    if not low and not high:
        return None
    span = float(low), float(high)
    if not 0 < span[0] <= span[1]:
        raise ValueError(f"the range {low} to {high} is impossible")
    return span


def _words(text: str) -> frozenset[str]:
    return frozenset(_SAME_WORD.get(word, word) for word in re.findall(r"[\w-]+", text.casefold()))


def _sides(row: Row) -> tuple[frozenset[str], frozenset[str]]:
    return _words(row.first), _words(row.second)


def _covers(sides: tuple[frozenset[str], frozenset[str]], materials: list[frozenset[str]]) -> bool:
    """Return whether each asked material is part of a side of its own."""
    one, other = sides
    if len(materials) == 1:
        return materials[0] <= one or materials[0] <= other
    a, b = materials
    return (a <= one and b <= other) or (b <= one and a <= other)


def _suits(row: Row, condition: str) -> bool:
    asked = condition.strip().casefold()
    if not asked:
        return row.condition.casefold() in _DRY or row.condition.casefold().startswith("dry")
    return _words(asked) <= _words(row.condition) or asked == "dry" == (row.condition or "dry")


def _span(ranges: Iterable[Range | None]) -> Range | None:
    known = [span for span in ranges if span is not None]
    return (min(low for low, _ in known), max(high for _, high in known)) if known else None


def _remarks(chosen: list[Row], left_out: list[Row]) -> Iterable[str]:
    for name, told in (
        ("static", {(row.condition, row.static) for row in chosen if row.static}),
        ("kinetic", {(row.condition, row.kinetic) for row in chosen if row.kinetic}),
    ):
        span = _span(values for _, values in told)
        if span is not None and span[0] < span[1]:
            alike = len({condition.removeprefix("clean ") or "dry" for condition, _ in told}) == 1
            why = "sources do not agree" if alike else "it depends on the source and the condition"
            yield f"{name.capitalize()} from {span[0]:g} to {span[1]:g}: {why}."
    for row in chosen:
        if row.note:
            yield f"{row.pair} ({row.source}): {row.note}."
    if any(not row.seen for row in chosen):
        yield "Some of these values were written down from memory: check them before you quote them."
    conditions = list(dict.fromkeys(row.condition for row in left_out if row.condition))
    if conditions:
        yield f"Left out: {', '.join(conditions)}. Add a condition after a comma to see these."
