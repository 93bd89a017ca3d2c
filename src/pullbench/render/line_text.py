"""A load ladder as text: a row a line, the law, what is wrong with one fix each, the statistics."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from pullbench.model import Ladder, LoadLine
from pullbench.render.line_words import (
    aside_sentence,
    diagnosis_sentence,
    fix_sentence,
    law_sentence,
    mystery_sentences,
    scatter_words,
    statistics_sentence,
    untold_sentences,
)
from pullbench.render.rounding import plus_minus

COLUMNS = 100
HEADINGS = ("line", "coefficient", "at no load", "pulls", "loads", "scatter")


def line_table(ladder: Ladder, *, comma: bool = False) -> str:
    """Return the lines as a table: coefficient, force at no load, pulls, loads, scatter between pulls."""
    rows = [HEADINGS, *(_row(line, comma) for line in ladder.lines)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    return "\n".join("  ".join(map(str.ljust, row, widths)).rstrip() for row in rows)


def line_text(ladder: Ladder, *, sled_kg: float = 0.0, comma: bool = False) -> str:
    """Return the whole ladder for people.  No line is longer than 100 columns.

    sled_kg: known part of a hidden load.
    """
    said = [law_sentence(ladder, comma=comma)]
    said += [
        f"{diagnosis_sentence(one, ladder, comma=comma)} {fix_sentence(one)}" for one in ladder.diagnoses
    ]
    said += mystery_sentences(ladder, sled_kg=sled_kg, comma=comma)
    said += untold_sentences(ladder)
    said += [aside_sentence(ladder, comma=comma), statistics_sentence(ladder, comma=comma)]
    return "\n".join([line_table(ladder, comma=comma), "", *_wrapped(said)])


def _row(line: LoadLine, comma: bool) -> Sequence[str]:
    return (
        line.series,
        plus_minus(line.slope, comma=comma),
        plus_minus(line.intercept, comma=comma),
        str(line.pulls),
        str(line.loads),
        scatter_words(line, comma=comma),
    )


def _wrapped(sentences: Sequence[str]) -> Iterator[str]:
    for sentence in sentences:
        yield from textwrap.wrap(sentence, COLUMNS, subsequent_indent="  ")
