"""A formula as Typst maths: calls of functions only, so that no letter of ours can be taken for a command."""

from __future__ import annotations

import json
from dataclasses import dataclass
from itertools import pairwise

from pullbench.render.formula.decimals import decimal_mark
from pullbench.render.formula.linear import plain
from pullbench.render.formula.tree import (
    DELTA,
    GREEK,
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
    Symbol,
    bare,
    in_brackets,
    needs_dot,
)

UNBROKEN = 24  # letters of a formula that no line may break
_SIGNS = {"*": "·", "-": "−", "<=": "≤", ">=": "≥", "~=": "≈"}


def typst_maths(node: Node, *, block: bool = False, comma: bool = False, upright: bool = False) -> str:
    """Return an expression of Typst code (after a #) that draws a formula, with its plain line as alt text.

    block: on a line of its own, fractions stacked; else in a line of words, fractions with a slash, and a short
    formula on one line.  upright: no slanted letters.
    """
    inside = _Drawer(comma, upright, stacked=block).drawn(node)
    told = plain(node, comma=comma)
    drawn = f"math.equation(block: {str(block).lower()}, alt: {_quoted(told)}, $ {inside} $.body)"
    return f"box({drawn})" if not block and len(told) <= UNBROKEN else drawn


@dataclass(frozen=True, slots=True)
class _Drawer:
    comma: bool
    upright: bool
    stacked: bool

    def drawn(self, node: Node) -> str:
        match node:
            case Number(text) | Quoted(text):
                return _quoted(decimal_mark(text, comma=self.comma))
            case Symbol(name, below):
                return self._symbol(name, below)
            case Bracket(inside):
                return f"lr(({self.drawn(inside)}))"
            case Root(inside):
                return f"sqrt({self.drawn(inside)})"
            case Applied(function, argument, power):
                raised = f"^({self.drawn(power)})" if power else ""
                return f"op({_quoted(function)}){raised} {self.drawn(argument)}"
            case Power(base, exponent):
                return f"{self.drawn(base)}^({self.drawn(exponent)})"
            case Negative(inside):
                return f"−{self.drawn(inside)}"
            case Run(factors):
                return self._run(factors)
            case Fraction(over, under) if self.stacked:
                return f"frac({self.drawn(bare(over))}, {self.drawn(bare(under))})"
            case Fraction(over, under):
                return f"{self.drawn(over)} \\/ {self.drawn(in_brackets(under))}"
            case Chain(parts, signs):
                tail = (
                    f" {_SIGNS.get(sign, sign)} {self.drawn(part)}"
                    for sign, part in zip(signs, parts[1:], strict=True)
                )
                return self.drawn(parts[0]) + "".join(tail)

    def _symbol(self, name: str, below: str) -> str:
        letter = GREEK.get(name, name)
        one = (
            _quoted(letter)
            if len(letter) > 1
            else f"upright({letter})"
            if self.upright or letter == "Δ"
            else letter
        )
        return f"{one}_{_quoted(GREEK.get(below, below))}" if below else one

    def _run(self, factors: tuple[Node, ...]) -> str:
        out = self.drawn(factors[0])
        for left, right in pairwise(factors):
            close = left == DELTA
            out += (
                " · " if needs_dot(left, right) else " " if close else " med " if self.upright else " thin "
            ) + self.drawn(right)
        return out


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
