"""A formula as a small tree of frozen values, from the one notation that problems are written in.

relation  = sum { (= < > <= >= ~=) sum }
sum       = [-] product { (+ - ±) product }
product   = fraction { * fraction }
fraction  = run { / run }                     both sides whole: F / m g is F over (m g)
run       = [-] power { power }               side by side: an implicit product
power     = atom [ ^ [-] atom ]
atom      = number | symbol | "quoted" | ( relation ) | sqrt( relation ) | function [^ atom] atom
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Function = Literal["sin", "cos", "tan", "arcsin", "arccos", "arctan"]
Sign = Literal["=", "<", ">", "<=", ">=", "~=", "+", "-", "±", "*"]
FUNCTIONS: tuple[Function, ...] = ("sin", "cos", "tan", "arcsin", "arccos", "arctan")
RELATIONS: tuple[Sign, ...] = ("=", "<", ">", "<=", ">=", "~=")

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "Delta": "Δ", "theta": "θ", "mu": "μ", "phi": "φ",
    "pi": "π", "rho": "ρ", "sigma": "σ", "Sigma": "Σ", "omega": "ω", "lambda": "λ", "tau": "τ",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Number:
    """A number as it is written, with a point."""

    text: str


@dataclass(frozen=True, slots=True)
class Quoted:
    """A number with its unit, or words, set upright."""

    text: str


@dataclass(frozen=True, slots=True)
class Symbol:
    """A quantity: its name ("F", "mu") and what is written below it ("max", "" for nothing)."""

    name: str
    below: str = ""


DELTA = Symbol("Delta")  # a change of what follows, written close to it


@dataclass(frozen=True, slots=True)
class Bracket:
    """What stands in round brackets."""

    inside: Node


@dataclass(frozen=True, slots=True)
class Root:
    """A square root."""

    inside: Node


@dataclass(frozen=True, slots=True)
class Applied:
    """A function of the next atom, to a power when there is one (sin^2 theta)."""

    function: Function
    argument: Node
    power: Node | None = None


@dataclass(frozen=True, slots=True)
class Power:
    """A base with its exponent."""

    base: Node
    exponent: Node


@dataclass(frozen=True, slots=True)
class Negative:
    """A minus before what is no difference."""

    inside: Node


@dataclass(frozen=True, slots=True)
class Run:
    """Two or more factors side by side."""

    factors: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Fraction:
    """One thing over another."""

    over: Node
    under: Node


@dataclass(frozen=True, slots=True)
class Chain:
    """Two or more parts with signs between them, all of one rank: relations, plus and minus, or times dots."""

    parts: tuple[Node, ...]
    signs: tuple[Sign, ...]


Node: TypeAlias = (
    Number | Quoted | Symbol | Bracket | Root | Applied | Power | Negative | Run | Fraction | Chain
)


def bare(node: Node) -> Node:
    """Return what is inside a bracket that the drawing makes needless, such as above a fraction's line."""
    return node.inside if isinstance(node, Bracket) else node


def in_brackets(under: Node) -> Node:
    """Return a denominator for a slash: a product gets brackets, since people read a / b c in two ways."""
    return Bracket(under) if isinstance(under, Run) else under


def needs_dot(left: Node, right: Node) -> bool:
    """Return whether two factors side by side need a times dot, because they would read as one number."""
    return _starts_with_digit(right) or (isinstance(left, Quoted) and not isinstance(right, Bracket))


def _starts_with_digit(node: Node) -> bool:
    if isinstance(node, Power):
        return _starts_with_digit(node.base)
    return isinstance(node, Number | Quoted)
