"""A trace or a load line to be read off: axes in round steps, a line or points, bars of plus or minus."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pullbench.model.scene import TraceFigure
from pullbench.render.rounding import fixed
from pullbench.render.scene.sketch import Label, Line, Sketch
from pullbench.render.scene.symbols import Piece, word_pieces
from pullbench.render.tokens import Room

WIDE, HIGH = 620.0, 340.0
WORDS = 26.0
LINES = 8  # of a grid, at most
THIN = 4  # samples drawn per column of one unit


@dataclass(frozen=True, slots=True)
class Scale:
    """One axis: from the first to the last grid line, in picture units."""

    first: float
    last: float
    step: float
    units: float

    def at(self, value: float) -> float:
        """Return how far along the axis a value lies."""
        return (value - self.first) / (self.last - self.first) * self.units

    def ticks(self) -> list[float]:
        """Return the values of the grid lines."""
        return [self.first + k * self.step for k in range(round((self.last - self.first) / self.step) + 1)]

    def text(self, value: float, *, comma: bool) -> str:
        """Return a grid line's number, with the decimals its step needs."""
        return fixed(value, max(0, -math.floor(math.log10(self.step) + 1e-9)), comma=comma)


def scale_over(low: float, high: float, units: float, most: int = LINES) -> Scale:
    """Return an axis in steps of 1, 2 or 5 that holds low to high; from nought where that is near."""
    if low > 0 and low < 0.6 * high:
        low = 0.0
    span = high - low or abs(high) or 1.0
    power = 10.0 ** math.floor(math.log10(span / most))
    step = next(m * power for m in (1, 2, 5, 10) if span / (m * power) <= most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return Scale(first * step, max(last, first + 1) * step, step, units)


def drawn_trace(figure: TraceFigure, room: Room, ground: str, *, comma: bool) -> Sketch:
    """Return a trace on a sheet."""
    sketch = Sketch(room, ground)
    half = figure.plus_minus or (0.0,) * len(figure.y)
    x = scale_over(min(figure.x, default=0.0), max(figure.x, default=1.0), WIDE)
    low = min((y - h for y, h in zip(figure.y, half, strict=True)), default=0.0)
    high = max((y + h for y, h in zip(figure.y, half, strict=True)), default=1.0)
    y = scale_over(low, high, HIGH, 6)
    _grid(sketch, x, y, comma=comma)
    points = [(x.at(a), -y.at(b)) for a, b in zip(figure.x, figure.y, strict=True)]
    for (at, _), value, h in zip(points, figure.y, half, strict=True):
        if h > 0:
            _bar(sketch, at, -y.at(value - h), -y.at(value + h))
    if figure.joined and points:
        sketch.line(_thinned(points), room.ink, 3.5, cap="round")
    else:
        for point in points:
            sketch.circle(point, 6, fill=room.ink)
    _axis_words(sketch, figure)
    return sketch


def _grid(sketch: Sketch, x: Scale, y: Scale, *, comma: bool) -> None:
    room = sketch.room
    for value in x.ticks():
        at = x.at(value)
        sketch.line([(at, 0), (at, -HIGH)], room.grid_strong, 1.5)
        label = _number(x.text(value, comma=comma), room)
        sketch.write(label, at - label.width / 2, 8)
    for value in y.ticks():
        at = -y.at(value)
        sketch.line([(0, at), (WIDE, at)], room.grid_strong, 1.5)
        label = _number(y.text(value, comma=comma), room)
        sketch.write(label, -label.width - 12, at - label.height / 2)
    sketch.line([(0, -HIGH), (0, 0), (WIDE, 0)], room.ink, 3)
    if y.first < 0 < y.last:
        sketch.line([(0, -y.at(0)), (WIDE, -y.at(0))], room.ink, 2)


def _number(text: str, room: Room) -> Label:
    return Label((Line((Piece(text),), WORDS, room.ink),))


def _bar(sketch: Sketch, x: float, foot: float, top: float) -> None:
    for line in ([(x, foot), (x, top)], [(x - 7, foot), (x + 7, foot)], [(x - 7, top), (x + 7, top)]):
        sketch.line(line, sketch.room.ink, 2.5)


def _axis_words(sketch: Sketch, figure: TraceFigure) -> None:
    across = Label((Line(tuple(word_pieces(figure.x_words)), WORDS, sketch.room.ink),))
    sketch.write(across, WIDE - across.width, 8 + 1.3 * WORDS)
    up = Label((Line(tuple(word_pieces(figure.y_words)), WORDS, sketch.room.ink),))
    sketch.write(up, min(0.0, -40.0), -HIGH - 1.9 * WORDS)


def _thinned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return a line with first, lowest, highest and last point of each column of one unit."""
    if len(points) <= THIN * WIDE:
        return points
    columns: dict[int, list[tuple[float, float]]] = {}
    for point in points:
        columns.setdefault(math.floor(point[0]), []).append(point)
    kept: list[tuple[float, float]] = []
    for column in columns.values():
        least, most = min(column, key=lambda p: p[1]), max(column, key=lambda p: p[1])
        kept += sorted({column[0], least, most, column[-1]}, key=column.index)
    return kept
