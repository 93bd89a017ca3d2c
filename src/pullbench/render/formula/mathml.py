"""A formula as MathML Core, for pages that need no script and no font to draw it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

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

_SIGNS = {"*": "·", "-": "−", "<=": "≤", ">=": "≥", "~=": "≈", "<": "&lt;", ">": "&gt;"}
_GAP = '<mspace width="0.17em"/>'
_TIMES, _OF = f"<mo>&#8290;</mo>{_GAP}", f"<mo>&#8289;</mo>{_GAP}"  # unseen signs, but a voice says them


def mathml(node: Node, *, block: bool = False, comma: bool = False, upright: bool = False) -> str:
    """Return a <math> element.  block: on a line of its own, fractions stacked; else with a slash.  upright: no
    slanted letters.

    alttext holds the plain line, for readers that know no MathML.
    """
    display = ' display="block"' if block else ""
    told = quoteattr(plain(node, comma=comma))
    inside = _Drawer(comma, upright, stacked=block).drawn(node)
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML"{display} alttext={told}>{inside}</math>'


@dataclass(frozen=True, slots=True)
class _Drawer:
    comma: bool
    upright: bool
    stacked: bool

    def drawn(self, node: Node) -> str:
        match node:
            case Number(digits):
                return f"<mn>{decimal_mark(digits, comma=self.comma)}</mn>"
            case Quoted(words):
                return f"<mtext>{escape(decimal_mark(words, comma=self.comma))}</mtext>"
            case Symbol(name, below):
                return self._symbol(name, below)
            case Bracket(inside):
                return f"<mrow><mo>(</mo>{self.drawn(inside)}<mo>)</mo></mrow>"
            case Root(inside):
                return f"<msqrt>{self.drawn(inside)}</msqrt>"
            case Applied(function, argument, power):
                name = f'<mi mathvariant="normal">{function}</mi>'
                head = f"<msup>{name}{self._row(power)}</msup>" if power else name
                return f"<mrow>{head}{_OF}{self.drawn(argument)}</mrow>"
            case Power(base, exponent):
                return f"<msup>{self._row(base)}{self._row(exponent)}</msup>"
            case Negative(inside):
                return f'<mrow><mo form="prefix">−</mo>{self.drawn(inside)}</mrow>'
            case Run(factors):
                return f"<mrow>{self._run(factors)}</mrow>"
            case Fraction(over, under) if self.stacked:
                return f"<mfrac>{self._row(bare(over))}{self._row(bare(under))}</mfrac>"
            case Fraction(over, under):
                return f"<mrow>{self.drawn(over)}<mo>/</mo>{self.drawn(in_brackets(under))}</mrow>"
            case Chain(parts, signs):
                tail = (
                    f"<mo>{_SIGNS.get(sign, sign)}</mo>{self.drawn(part)}"
                    for sign, part in zip(signs, parts[1:], strict=True)
                )
                return f"<mrow>{self.drawn(parts[0])}{''.join(tail)}</mrow>"

    def _row(self, node: Node) -> str:
        return f"<mrow>{self.drawn(node)}</mrow>"

    def _symbol(self, name: str, below: str) -> str:
        normal = ' mathvariant="normal"' if self.upright or name == DELTA.name else ""
        letter = f"<mi{normal}>{GREEK.get(name, name)}</mi>"
        if not below:
            return letter
        return f'<msub>{letter}<mi mathvariant="normal">{GREEK.get(below, below)}</mi></msub>'

    def _run(self, factors: tuple[Node, ...]) -> str:
        out = self.drawn(factors[0])
        for left, right in pairwise(factors):
            sign = "<mo>·</mo>" if needs_dot(left, right) else "<mo>&#8290;</mo>" if left == DELTA else _TIMES
            out += sign + self.drawn(right)
        return out
