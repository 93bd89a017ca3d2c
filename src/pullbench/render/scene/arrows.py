"""One force as an arrow, its kind told by word, shape and texture as well as by colour.

Static friction: rust, a round point at its foot, a whole shaft.  Kinetic friction: blue, a diamond, a dashed
shaft.  The net force: hollow.  All others: ink.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from pullbench.model import Measured
from pullbench.model.scene import ForceArrow, ForceKind
from pullbench.render.lettering import balanced
from pullbench.render.rounding import fixed, plus_minus
from pullbench.render.scene.sketch import Label, Line, Point, Sketch
from pullbench.render.scene.symbols import Piece, symbol_pieces, word_pieces
from pullbench.render.tokens import STRONG, Room

SHAFT, HEAD, HALF_HEAD, FOOT = 9.0, 24.0, 13.0, 8.0
WORDS, NOTE = 26.0, 21.0
NARROW = 190.0  # words wider than this are broken
AWAY = 12.0  # of words from their arrow
WALL = 30.0  # half the height of the mark at a static limit
FIGURES = 3


@dataclass(frozen=True, slots=True)
class Placed:
    """An arrow on the sheet: foot, tip, and its direction in the picture (y downward)."""

    foot: Point
    tip: Point
    along: Point

    def off(self, s: float, n: float) -> Point:
        """Return the point s along from the foot and n to the left of the arrow."""
        (x, y), (dx, dy) = self.foot, self.along
        return x + s * dx + n * dy, y + s * dy - n * dx


def placed(foot: Point, angle_deg: float, length: float) -> Placed:
    """Return an arrow from its foot, angle anticlockwise from the picture's right."""
    turn = math.radians(angle_deg)
    dx, dy = math.cos(turn), -math.sin(turn)
    return Placed(foot, (foot[0] + length * dx, foot[1] + length * dy), (dx, dy))


def colour_of(kind: ForceKind, room: Room) -> str:
    """Return the colour of a kind of force."""
    return {"static": room.static, "kinetic": room.kinetic}.get(kind, room.ink)


def draw_arrow(sketch: Sketch, force: ForceArrow, arrow: Placed, units_per_N: float) -> None:
    """Draw an arrow and the mark at its limit; its words come later, when all shapes are there."""
    colour = colour_of(force.kind, sketch.room)
    length = force.length_N * units_per_N
    head = min(HEAD, 0.6 * length)
    before = len(sketch.shapes)
    if force.kind == "net":
        _hollow(sketch, arrow, length, head, colour)
    elif length > 0:
        _shaft(sketch, force.kind, arrow, length - head, colour)
        half = HALF_HEAD * head / HEAD
        sketch.line(
            [arrow.tip, arrow.off(length - head, half), arrow.off(length - head, -half)], colour, 0,
            fill=colour, closed=True,
        )  # fmt: skip
    _foot(sketch, force.kind, arrow, colour)
    mine = "".join(sketch.shapes[before:])
    sketch.shapes[before:] = [f'<g data-force="{force.kind}">{mine}</g>']
    if force.limit_N is not None:
        _wall(sketch, force, arrow, units_per_N, colour)
    steps = max(2, round(length / 12))
    sketch.take([arrow.off(length * k / steps, 0) for k in range(steps + 1)], 12)


def _shaft(sketch: Sketch, kind: ForceKind, arrow: Placed, length: float, colour: str) -> None:
    dash = "14 5" if kind == "kinetic" else ""
    sketch.line([arrow.foot, arrow.off(length + 0.5, 0)], colour, SHAFT, dash=dash)


def _hollow(sketch: Sketch, arrow: Placed, length: float, head: float, colour: str) -> None:
    half, thin = HALF_HEAD * head / HEAD if head else 0.0, SHAFT / 2
    rim = [(0.0, thin), (length - head, thin), (length - head, half), (length, 0.0), (length - head, -half)]
    sketch.line(
        [arrow.off(s, n) for s, n in [*rim, (length - head, -thin), (0.0, -thin)]], colour, 3,
        fill=sketch.ground, closed=True,
    )  # fmt: skip


def _foot(sketch: Sketch, kind: ForceKind, arrow: Placed, colour: str) -> None:
    if kind == "static":
        sketch.circle(arrow.foot, FOOT, fill=colour)
    if kind == "kinetic":
        diamond = [
            arrow.off(-FOOT - 2, 0),
            arrow.off(0, FOOT + 2),
            arrow.off(FOOT + 2, 0),
            arrow.off(0, -FOOT - 2),
        ]
        sketch.line(diamond, colour, 0, fill=colour, closed=True)


def _wall(sketch: Sketch, force: ForceArrow, arrow: Placed, units_per_N: float, colour: str) -> None:
    """Draw the limit as a wall across, hatched behind; as thick as its plus or minus where that can be seen."""
    at = (force.limit_N or 0.0) * units_per_N
    half = max(2.5, (force.limit_plus_minus_N or 0.0) * units_per_N)
    wall = [
        arrow.off(at - half, WALL),
        arrow.off(at + half, WALL),
        arrow.off(at + half, -WALL),
        arrow.off(at - half, -WALL),
    ]
    sketch.line(wall, colour, 0, fill=colour, closed=True)
    for k in range(-3, 3):
        n = 10.0 * k
        sketch.line([arrow.off(at + half, n + 10), arrow.off(at + half + 12, n)], colour, 2)
    sketch.take([arrow.off(at, n) for n in (-20, 0, 20)], 14)


def label_of(force: ForceArrow, room: Room, *, comma: bool) -> Label:
    """Return an arrow's words: what it is with its symbol, its value with plus or minus, what is inferred."""
    colour = colour_of(force.kind, room)
    symbol = symbol_pieces(force.symbol)
    said = balanced(force.words, NARROW, WORDS) if "`" not in force.words else [force.words]
    rows = [list(word_pieces(line)) for line in said] or [[]]
    rows[-1] += [*([Piece(" ")] if rows[-1] and symbol else []), *symbol]
    lines = [Line(tuple(row), WORDS, colour) for row in rows if row]
    if force.value_N is not None:
        lines.append(
            Line((Piece(value_text(force.value_N, force.plus_minus_N, comma=comma)),), WORDS, colour, STRONG)
        )
    if force.note:
        lines.append(Line(tuple(word_pieces(force.note)), NOTE, room.soft))
    return Label(tuple(lines))


def value_text(value_N: float, plus_minus_N: float | None, *, comma: bool) -> str:
    """Return a force as it is written: with its plus or minus, or with three figures."""
    if plus_minus_N:
        limits = value_N - plus_minus_N, value_N + plus_minus_N
        told = Measured(
            kind="value", value=value_N, standard_uncertainty=plus_minus_N / 2, limits=limits, unit="N"
        )
        return plus_minus(told, comma=comma, short=True)
    decimals = FIGURES - 1 - math.floor(math.log10(abs(value_N))) if value_N else 0
    return f"{fixed(value_N, max(0, decimals), comma=comma)} N"


def places(arrow: Placed, length: float, label: Label) -> list[Point]:
    """Return centres for an arrow's words, the best first: at its tip's side, along it, beyond it, farther off."""
    (dx, dy), w, h = arrow.along, label.width, label.height
    side = AWAY + HALF_HEAD + abs(dy) * w / 2 + abs(dx) * h / 2
    beyond = AWAY + abs(dx) * w / 2 + abs(dy) * h / 2
    if abs(dy) > abs(dx):  # steep: words stand level with the tip, as they do in a diagram by hand
        to = (-1.0, 1.0) if dy < 0 else (1.0, -1.0)
        beside = [arrow.off(length - back, turn * side) for back in (h / 2, length / 2) for turn in to]
        return [
            *beside,
            arrow.off(length + beyond, 0),
            *(arrow.off(length + beyond, turn * w / 2) for turn in to),
        ]
    ring = [
        arrow.off(along, turn * (side + far))
        for far in (0.0, 26.0, 52.0)
        for turn in (1.0, -1.0)
        for along in (length / 2, length, 0.0, length + w / 2)
    ]
    shifted = [arrow.off(length + beyond, turn * (h / 2 - 10)) for turn in (1.0, -1.0)]
    return [arrow.off(length + beyond, 0), *shifted, *ring, arrow.off(length + beyond + 110, 0)]
