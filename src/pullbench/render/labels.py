"""Words that find their own place: no label touches another, the line, a mark or the picture's edge."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal
from xml.sax.saxutils import escape

import numpy as np

from pullbench.model import FloatArray
from pullbench.render.lettering import ASCENT, DESCENT, LINE_HEIGHT, advance, clean
from pullbench.render.tokens import DECLARED, TEXT, WIDTH

Anchor = Literal["start", "middle", "end"]
AIR = 6.0  # bare paper kept around a label
SEARCH_X, SEARCH_Y = 8.0, 6.0  # grid on which a free place is looked for


def halo_pen(colour: str, width: int) -> str:
    """Return the pen that writes bare paper about a word, as the last of its text element's attributes.

    Sheets on paper look for it: `sheets/to_typst.py`.
    """
    return f'paint-order="stroke" stroke="{colour}" stroke-width="{width}" stroke-linejoin="round"'


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in picture units, y downward."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Box, air: float = 0.0) -> bool:
        """Return whether the two come nearer than air."""
        apart_x = self.x0 - other.x1 >= air or other.x0 - self.x1 >= air
        return not (apart_x or self.y0 - other.y1 >= air or other.y0 - self.y1 >= air)

    def inside(self, other: Box) -> bool:
        """Return whether this box lies wholly in the other."""
        return self.x0 >= other.x0 and self.y0 >= other.y0 and self.x1 <= other.x1 and self.y1 <= other.y1

    def distance(self, x: float, y: float) -> float:
        """Return how far a point is from the box, 0 inside it."""
        return math.hypot(max(self.x0 - x, 0.0, x - self.x1), max(self.y0 - y, 0.0, y - self.y1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One line of text at a baseline; halo: the colour that clears the ground behind it."""

    text: str
    x: float
    y: float
    size: int
    colour: str
    weight: int = TEXT
    anchor: Anchor = "start"
    halo: str | None = None

    @property
    def box(self) -> Box:
        """Return the room the text takes."""
        width = advance(self.text, self.size, self.weight)
        left = self.x - {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        return Box(left, self.y - ASCENT * self.size, left + width, self.y + DESCENT * self.size)

    def svg(self) -> str:
        """Return the text element."""
        anchor = "" if self.anchor == "start" else f' text-anchor="{self.anchor}"'
        halo = ""
        if self.halo:
            halo = f" {halo_pen(self.halo, 12)}"
        place = (
            f'x="{self.x:.1f}" y="{self.y:.1f}" font-size="{self.size}" font-weight="{DECLARED[self.weight]}"'
        )
        return f'<text {place}{anchor} fill="{self.colour}"{halo}>{escape(clean(self.text))}</text>'


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a block of text that is still to be placed."""

    text: str
    size: int
    weight: int
    colour: str


@dataclass(frozen=True, slots=True)
class Block:
    """Lines set under each other, flush left."""

    lines: tuple[Line, ...]

    @property
    def width(self) -> float:
        """Return the width of the widest line."""
        return max((advance(line.text, line.size, line.weight) for line in self.lines), default=0.0)

    @property
    def height(self) -> float:
        """Return the height from the top of the first line to the foot of the last."""
        inner = sum(line.size * LINE_HEIGHT for line in self.lines[1:])
        return self.lines[0].size * ASCENT + inner + self.lines[-1].size * DESCENT if self.lines else 0.0

    def box(self, x: float, y: float) -> Box:
        """Return the box with its upper left corner at x, y."""
        return Box(x, y, x + self.width, y + self.height)

    def labels(self, x: float, y: float, halo: str | None) -> list[Label]:
        """Return the lines as labels, the block's upper left corner at x, y."""
        labels: list[Label] = []
        baseline = y
        for line in self.lines:
            baseline += line.size * (LINE_HEIGHT if labels else ASCENT)
            labels.append(
                Label(
                    text=line.text,
                    x=x,
                    y=baseline,
                    size=line.size,
                    weight=line.weight,
                    colour=line.colour,
                    halo=halo,
                )
            )
        return labels


@dataclass(slots=True)
class Ground:
    """What is taken already: boxes, and per unit of width the highest and lowest y of the inked line.

    top, bottom: shape (width,), y of the line's upper and lower edge in each column, NaN where bare.
    """

    frame: Box
    boxes: list[Box] = field(default_factory=list)
    top: FloatArray = field(default_factory=lambda: np.full(WIDTH, np.nan))
    bottom: FloatArray = field(default_factory=lambda: np.full(WIDTH, np.nan))

    def free(self, box: Box, air: float = AIR) -> bool:
        """Return whether nothing is in the box and it lies in the frame."""
        if not box.inside(self.frame) or any(box.meets(taken, air) for taken in self.boxes):
            return False
        columns = slice(max(0, math.floor(box.x0 - air)), max(0, math.ceil(box.x1 + air)))
        crossed = (self.bottom[columns] > box.y0 - air) & (self.top[columns] < box.y1 + air)
        return not bool(crossed.any())

    def nearest(self, block: Block, within: Box, cost: Callable[[Box], float]) -> Box | None:
        """Return the free place for a block in `within` that costs least, or None."""
        best: tuple[float, Box] | None = None
        for y in _steps(within.y0, within.y1 - block.height, SEARCH_Y):
            for x in _steps(within.x0, within.x1 - block.width, SEARCH_X):
                box = block.box(x, y)
                price = cost(box)
                if (best is None or price < best[0]) and self.free(box):
                    best = (price, box)
        return best[1] if best else None


def _steps(first: float, last: float, step: float) -> Iterable[float]:
    return (first + step * k for k in range(max(0, math.floor((last - first) / step) + 1)))


def first_free(ground: Ground, labels: Sequence[Label]) -> Label | None:
    """Return the first label that touches nothing, and mark its place as taken."""
    for label in labels:
        if ground.free(label.box, air=2.0):
            ground.boxes.append(label.box)
            return label
    return None
