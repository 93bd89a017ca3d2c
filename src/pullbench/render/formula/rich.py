"""Words with formulas between backticks, in pieces."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.render.formula.decimals import decimal_mark
from pullbench.render.formula.linear import plain
from pullbench.render.formula.parse import parse
from pullbench.render.formula.tree import Node


def pieces(text: str) -> Iterator[str | Node]:
    """Yield words and formulas in turn.  Raises ValueError for a formula that cannot be read or never ends."""
    parts = text.split("`")
    if len(parts) % 2 == 0:
        raise ValueError(f"a formula has no end in {text!r}")
    for at, part in enumerate(parts):
        if at % 2:
            yield parse(part)
        elif part:
            yield part


def plain_words(text: str, *, comma: bool = False) -> str:
    """Return words with their formulas as plain Unicode text."""
    told = (
        decimal_mark(p, comma=comma) if isinstance(p, str) else plain(p, comma=comma) for p in pieces(text)
    )
    return "".join(told)
