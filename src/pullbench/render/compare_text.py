"""Surfaces side by side as text for people: a table, the room's sentences, the colleague's."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from pullbench.model import Comparison, SurfaceLevel
from pullbench.render.compare_words import colleague_sentences, room_sentences
from pullbench.render.lettering import GLUE, glued
from pullbench.render.rounding import figures_of, plus_minus

COLUMNS = 100
HEADINGS = ("surface", "", "mean", "scatter", "pulls", "no value", "set aside")


def compare_table(comparison: Comparison, *, comma: bool = False) -> str:
    """Return the table alone: each surface's mean with its limits, scatter, and how many pulls there are."""
    return aligned([HEADINGS, *(_row(level, comma) for level in comparison.levels)])


def compare_text(comparison: Comparison, *, comma: bool = False) -> str:
    """Return table, one sentence a finding for the room, then the statistics.  No line is over 100 columns."""
    lines = [compare_table(comparison, comma=comma), ""]
    lines += [line for said in room_sentences(comparison, comma=comma) for line in wrapped(said)]
    lines += ["", "For the colleague with the statistics:"]
    lines += [line for said in colleague_sentences(comparison, comma=comma) for line in wrapped(said, "  ")]
    return "\n".join(lines)


def aligned(rows: Sequence[tuple[str, ...]]) -> str:
    """Return rows as columns, two blanks apart."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return "\n".join("  ".join(map(str.ljust, row, widths)).rstrip() for row in rows)


def wrapped(text: str, indent: str = "") -> Iterator[str]:
    """Yield a sentence in lines of 100 columns at most; number and unit stay together."""
    for line in textwrap.wrap(glued(text), COLUMNS, initial_indent=indent, subsequent_indent=indent + "  "):
        yield line.replace(GLUE, " ")


def _row(level: SurfaceLevel, comma: bool) -> tuple[str, ...]:
    scatter = "not known" if level.scatter is None else figures_of(level.scatter, comma=comma)
    counts = (str(level.pulls), str(level.untold or ""), str(level.aside or ""))
    return (level.surface, level.quantity, plus_minus(level.mean, comma=comma), scatter, *counts)
