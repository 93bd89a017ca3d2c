"""Symbols as letters: `mu_s` with its Greek letter and a lowered s; words with such symbols between backticks.

Only symbols are read here (a name, Greek or not, with an optional subscript); whole formulas are set elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from xml.sax.saxutils import escape

from pullbench.render.labels import halo_pen
from pullbench.render.lettering import advance, clean
from pullbench.render.tokens import DECLARED, TEXT

LOWERED, SMALLER = 0.22, 0.68  # a subscript: how far down and how large, of the size
GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "Delta": "Δ", "theta": "θ", "mu": "μ", "phi": "φ",
    "pi": "π", "rho": "ρ", "sigma": "σ", "Sigma": "Σ", "omega": "ω", "lambda": "λ", "tau": "τ",
}  # fmt: skip
_SYMBOL = re.compile(r"([A-Za-zΑ-ω]+)(?:_([A-Za-z0-9]+))?")
_SIGNS = {" * ": " · ", "<=": "≤", ">=": "≥", "~=": "≈", '"': ""}


@dataclass(frozen=True, slots=True)
class Piece:
    """Letters that stand together, lowered or not."""

    text: str
    lowered: bool = False


def symbol_pieces(formula: str) -> list[Piece]:
    """Return a formula made of symbols, such as F_max or m_1 g, in pieces."""
    for sign, letter in _SIGNS.items():
        formula = formula.replace(sign, letter)
    pieces: list[Piece] = []
    end = 0
    for found in _SYMBOL.finditer(formula):
        pieces.append(Piece(formula[end : found.start()].replace("-", "−")))
        pieces.append(Piece(GREEK.get(found[1], found[1])))
        if found[2]:
            pieces.append(Piece(GREEK.get(found[2], found[2]), lowered=True))
        end = found.end()
    pieces.append(Piece(formula[end:].replace("-", "−")))
    return [piece for piece in pieces if piece.text]


def word_pieces(text: str) -> list[Piece]:
    """Return words with symbols between backticks, in pieces."""
    pieces: list[Piece] = []
    for at, part in enumerate(clean(text).split("`")):
        pieces += symbol_pieces(part) if at % 2 else [Piece(part)] * bool(part)
    return pieces


def width(pieces: Iterable[Piece], size: float, weight: int = TEXT) -> float:
    """Return how wide pieces are, in picture units."""
    return sum(advance(p.text, size * (SMALLER if p.lowered else 1.0), weight) for p in pieces)


def text_svg(
    pieces: Iterable[Piece],
    x: float,
    y: float,
    size: float,
    *,
    colour: str,
    weight: int = TEXT,
    halo: str = "",
) -> str:
    """Return pieces as one text element from x on, feet of the letters at y."""
    down, spans = False, []
    for piece in pieces:
        shift = (1 if piece.lowered else -1) * LOWERED * size if piece.lowered != down else 0.0
        down = piece.lowered
        small = f' font-size="{SMALLER * size:.1f}"' if piece.lowered else ""
        moved = f' dy="{shift:.1f}"' if shift else ""
        spans.append(
            f"<tspan{moved}{small}>{escape(piece.text)}</tspan>" if small or moved else escape(piece.text)
        )
    pen = f" {halo_pen(halo, 8)}" if halo else ""
    face = f'font-size="{size:g}" font-weight="{DECLARED[weight]}" fill="{colour}" xml:space="preserve"'
    return f'<text x="{x:.1f}" y="{y:.1f}" {face}{pen}>{"".join(spans)}</text>'
