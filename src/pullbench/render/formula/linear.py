"""A formula on one line: as plain Unicode text, and back in the notation it came from."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from pullbench.render.formula.decimals import decimal_mark
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
    in_brackets,
    needs_dot,
)

_LETTERS = {"*": "·", "-": "−", "<=": "≤", ">=": "≥", "~=": "≈"}
_RAISED = {"2": "²", "3": "³"}


@dataclass(frozen=True, slots=True)
class _Writer:
    """unicode: letters and signs for people; else the notation itself."""

    unicode: bool
    comma: bool = False

    def text(self, node: Node) -> str:
        match node:
            case Number(digits):
                return decimal_mark(digits, comma=self.comma)
            case Quoted(words):
                return decimal_mark(words, comma=self.comma) if self.unicode else f'"{words}"'
            case Symbol(name, below):
                return self._symbol(name, below)
            case Bracket(inside):
                return f"({self.text(inside)})"
            case Root(inside):
                return f"{'√' if self.unicode else 'sqrt'}({self.text(inside)})"
            case Applied(function, argument, power):
                return f"{function}{self._raised(power) if power else ''} {self.text(argument)}"
            case Power(base, exponent):
                return self.text(base) + self._raised(exponent)
            case Negative(inside):
                return self._sign("-") + self.text(inside)
            case Run(factors):
                return self._run(factors)
            case Fraction(over, under):
                return f"{self.text(over)} / {self.text(in_brackets(under) if self.unicode else under)}"
            case Chain(parts, signs):
                tail = (
                    f" {self._sign(sign)} {self.text(part)}"
                    for sign, part in zip(signs, parts[1:], strict=True)
                )
                return self.text(parts[0]) + "".join(tail)

    def _symbol(self, name: str, below: str) -> str:
        if not self.unicode:
            return f"{name}_{below}" if below else name
        return GREEK.get(name, name) + GREEK.get(below, below)

    def _raised(self, exponent: Node) -> str:
        text = self.text(exponent)
        return _RAISED.get(text, f"^{text}") if self.unicode else f"^{text}"

    def _run(self, factors: tuple[Node, ...]) -> str:
        out = self.text(factors[0])
        for left, right in pairwise(factors):
            dot = self.unicode and needs_dot(left, right)
            joined = self.unicode and left == DELTA
            out += (" · " if dot else "" if joined else " ") + self.text(right)
        return out

    def _sign(self, sign: str) -> str:
        return _LETTERS.get(sign, sign) if self.unicode else sign


def plain(node: Node, *, comma: bool = False) -> str:
    """Return a formula as one line of Unicode text, for a voice, a table or a description: "μs N"."""
    return _Writer(unicode=True, comma=comma).text(node)


def notation(node: Node) -> str:
    """Return a formula in the notation it was read from, with single spaces; reading it again gives the tree."""
    return _Writer(unicode=False).text(node)
