"""A sheet that grows with what is drawn on it: shapes, then words that find a free place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from pullbench.render.labels import Box
from pullbench.render.lettering import ASCENT, DESCENT, LINE_HEIGHT
from pullbench.render.scene.symbols import Piece, text_svg, width
from pullbench.render.tokens import TEXT, Room

Point = tuple[float, float]
AIR = 4.0  # kept around words


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label."""

    pieces: tuple[Piece, ...]
    size: float
    colour: str
    weight: int = TEXT


@dataclass(frozen=True, slots=True)
class Label:
    """Lines under each other, flush left."""

    lines: tuple[Line, ...]

    @property
    def width(self) -> float:
        """Return the width of the widest line."""
        return max((width(line.pieces, line.size, line.weight) for line in self.lines), default=0.0)

    @property
    def height(self) -> float:
        """Return the height of all lines."""
        return sum(line.size * LINE_HEIGHT for line in self.lines)


@dataclass(slots=True)
class Sketch:
    """What is drawn so far, what is taken, and how far it reaches; y downward."""

    room: Room
    ground: str
    shapes: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    reach: Box | None = None

    def grow(self, points: Iterable[Point], pad: float = 0.0) -> None:
        """Make the sheet reach these points."""
        for x, y in points:
            old = self.reach or Box(x, y, x, y)
            self.reach = Box(
                min(old.x0, x - pad), min(old.y0, y - pad), max(old.x1, x + pad), max(old.y1, y + pad)
            )

    def line(
        self, points: Sequence[Point], colour: str, width: float, *, fill: str = "none", closed: bool = False,
        dash: str = "", cap: str = "butt",
    ) -> None:  # fmt: skip
        """Draw a line through points, or a closed shape."""
        d = "M" + "L".join(f"{x:.1f},{y:.1f}" for x, y in points) + ("Z" if closed else "")
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        ends = f' stroke-linecap="{cap}"' if cap != "butt" else ""
        pen = (
            f'stroke="{colour}" stroke-width="{width:g}" stroke-linejoin="round"'
            if width
            else 'stroke="none"'
        )
        self.shapes.append(f'<path fill="{fill}" {pen}{ends}{dashes} d="{d}"/>')
        self.grow(points, width / 2)

    def circle(
        self, at: Point, radius: float, *, fill: str, stroke: str = "none", width: float = 0.0
    ) -> None:
        """Draw a circle."""
        pen = f' stroke="{stroke}" stroke-width="{width:g}"' if width else ""
        self.shapes.append(f'<circle fill="{fill}"{pen} cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius:g}"/>')
        self.grow([at], radius + width / 2)

    def take(self, points: Iterable[Point], pad: float) -> None:
        """Keep words off these points."""
        self.taken += [Box(x - pad, y - pad, x + pad, y + pad) for x, y in points]

    def write(self, label: Label, x: float, y: float, halo: str = "") -> Box:
        """Write a label, its upper left corner at x, y; halo: what it stands on, if not the sheet."""
        box = Box(x, y, x + label.width, y + label.height)
        for line in label.lines:
            feet = y + line.size * (ASCENT + (LINE_HEIGHT - ASCENT - DESCENT) / 2)
            self.words.append(
                text_svg(
                    line.pieces,
                    x,
                    feet,
                    line.size,
                    colour=line.colour,
                    weight=line.weight,
                    halo=halo or self.ground,
                )
            )
            y += line.size * LINE_HEIGHT
        self.taken.append(box)
        self.grow([(box.x0, box.y0), (box.x1, box.y1)])
        return box

    def write_near(self, label: Label, centres: Sequence[Point]) -> Box:
        """Write a label at the first of these places that touches least."""
        best: tuple[float, Box] | None = None
        for order, (x, y) in enumerate(centres):
            box = Box(x - label.width / 2, y - label.height / 2, x + label.width / 2, y + label.height / 2)
            airy = Box(box.x0 - AIR, box.y0 - AIR, box.x1 + AIR, box.y1 + AIR)
            touched = sum(_overlap(airy, other) for other in self.taken) / (label.width * label.height)
            price = 0.02 * order + 3 * touched
            if best is None or price < best[0] - 1e-9:
                best = price, box
        assert best is not None  # there is always a place, if not a free one
        return self.write(label, best[1].x0, best[1].y0)

    @property
    def size(self) -> tuple[float, float]:
        """Return width and height of what is drawn."""
        reach = self.reach or Box(0, 0, 0, 0)
        return reach.x1 - reach.x0, reach.y1 - reach.y0

    def put(self, other: Sketch, x: float, y: float) -> None:
        """Put another sketch on this one, its upper left corner at x, y."""
        theirs = other.reach or Box(0, 0, 0, 0)
        inside = "".join([*other.shapes, *other.words])
        self.shapes.append(f'<g transform="translate({x - theirs.x0:.1f} {y - theirs.y0:.1f})">{inside}</g>')
        wide, high = other.size
        self.grow([(x, y), (x + wide, y + high)])


def _overlap(box: Box, other: Box) -> float:
    across = min(box.x1, other.x1) - max(box.x0, other.x0)
    down = min(box.y1, other.y1) - max(box.y0, other.y0)
    return across * down if across > 0 and down > 0 else 0.0
