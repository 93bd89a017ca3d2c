"""The notation, read: formula text to a tree."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import cast

from pullbench.render.formula.tree import (
    FUNCTIONS,
    RELATIONS,
    Applied,
    Bracket,
    Chain,
    Fraction,
    Negative,
    Node,
    Number,
    Power,
    Quoted,
    Root,
    Run,
    Sign,
    Symbol,
)

_TOKEN = re.compile(
    r'\s*(?:(?P<quoted>"[^"]*")|(?P<number>\d+(?:\.\d+)?)|(?P<name>[^\W\d_]+(?:_[^\W_]+)?)'
    r"|(?P<sign><=|>=|~=|\+-|[=<>+\-*/^()±·−≈≤≥]))"
)
_SAME = {"·": "*", "−": "-", "≈": "~=", "≤": "<=", "≥": ">=", "+-": "±"}


def parse(text: str) -> Node:
    """Return the tree of a formula.

    Raises ValueError, with the place, for what the notation does not know: a formula is ours, so a bad one is
    a mistake in the program and not at the bench.
    """
    reader = _Reader(text)
    node = reader.relation()
    if reader.kind:
        raise reader.mistake("nothing more")
    return node


class _Reader:
    """Walks over the tokens of one formula, one rank of the notation a method."""

    def __init__(self, text: str) -> None:
        self._text, self._at = text, 0
        self.kind, self.token = "", ""
        self._step()

    def _step(self) -> str:
        """Take the next token; return the one before it."""
        before, rest = self.token, self._text[self._at :]
        if not rest.strip():
            self._at, self.kind, self.token = len(self._text), "", ""
            return before
        found = _TOKEN.match(self._text, self._at)
        if found is None:
            self.token = rest.strip()[0]
            raise self.mistake("a symbol, a number, a sign or a bracket")
        self._at, self.kind = found.end(), str(found.lastgroup)
        self.token = _SAME.get(found[self.kind], found[self.kind])
        return before

    def mistake(self, wanted: str) -> ValueError:
        got = repr(self.token) if self.token else "the end"
        return ValueError(
            f"formula {self._text!r}: expected {wanted}, found {got} before character {self._at}"
        )

    def relation(self) -> Node:
        return self._chain(self._sum, RELATIONS)

    def _sum(self) -> Node:
        return self._chain(self._product, ("+", "-", "±"))

    def _product(self) -> Node:
        return self._chain(self._fraction, ("*",))

    def _chain(self, part: Callable[[], Node], signs: tuple[Sign, ...]) -> Node:
        parts, between = [part()], []
        while self.kind == "sign" and self.token in signs:
            between.append(cast(Sign, self._step()))
            parts.append(part())
        return Chain(tuple(parts), tuple(between)) if between else parts[0]

    def _fraction(self) -> Node:
        node = self._run()
        while self.token == "/" and self.kind == "sign":
            self._step()
            node = Fraction(node, self._run())
        return node

    def _run(self) -> Node:
        if self._took("-"):
            return Negative(self._run())
        factors = [self._power()]
        while self.kind in ("quoted", "number", "name") or self.token == "(":
            factors.append(self._power())
        return Run(tuple(factors)) if len(factors) > 1 else factors[0]

    def _power(self) -> Node:
        base = self._atom()
        if not self._took("^"):
            return base
        if isinstance(base, Applied):
            raise self.mistake("a power before the argument, as in sin^2 theta,")
        return Power(base, self._exponent())

    def _exponent(self) -> Node:
        return Negative(self._atom()) if self._took("-") else self._atom()

    def _atom(self) -> Node:
        if self.kind == "number":
            return Number(self._step())
        if self.kind == "quoted":
            return Quoted(self._step()[1:-1])
        if self.kind == "name":
            return self._named(self._step())
        if self._took("("):
            return Bracket(self._closed())
        raise self.mistake("a symbol, a number or a bracket")

    def _named(self, name: str) -> Node:
        if name == "sqrt":
            if not self._took("("):
                raise self.mistake("( after sqrt")
            return Root(self._closed())
        if name in FUNCTIONS:
            power = self._exponent() if self._took("^") else None
            return Applied(name, self._atom(), power)
        symbol, _, below = name.partition("_")
        return Symbol(symbol, below)

    def _closed(self) -> Node:
        inside = self.relation()
        if not self._took(")"):
            raise self.mistake(")")
        return inside

    def _took(self, sign: str) -> bool:
        if self.kind == "sign" and self.token == sign:
            self._step()
            return True
        return False
