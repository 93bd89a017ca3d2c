"""The plane of a load ladder: loads across, forces up, rungs under the loads, and words set along a line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

import numpy as np

from pullbench.analysis import line_at
from pullbench.model import FloatArray, Ladder, LoadLine
from pullbench.render.labels import Box, Ground, Label, first_free, halo_pen
from pullbench.render.lettering import advance, clean
from pullbench.render.line_words import load_words
from pullbench.render.paper import Grid, grid_for, grid_forces, grid_word
from pullbench.render.rounding import Scale, fixed
from pullbench.render.tokens import DECLARED, DESK, EDGE_WORD, MARK, ON_LINE, RULE, STRONG, WIDTH, Room

SHEET = Box(0, 66, WIDTH, 506)
LEFT, RIGHT, FLOOR, CEILING = 110.0, 1206.0, 458.0, 81.0
RUNG_WORDS_Y, LOAD_WORD_Y = 494.0, 496.0
STEPS = 60  # a band is drawn in so many steps
ROOM_ABOVE = 1.08  # of the highest point
GAPS = (14.0, 22.0, 34.0, 50.0, 70.0)  # between a line and the words along it
CAPITALS = 0.72  # height of a capital, of the size
SPOTS_UP = (4.0, -0.35 * ON_LINE, -0.75 * ON_LINE)  # over a line of text, from its baseline


@dataclass(frozen=True, slots=True)
class Plane:
    """Newtons to picture units: load to the right from LEFT, force upward from FLOOR."""

    units_per_load_N: float
    units_per_N: float

    def x(self, normal_N: float) -> float:
        """Return where a load lies."""
        return LEFT + normal_N * self.units_per_load_N

    def y(self, force_N: float) -> float:
        """Return where a force lies, not below the paper's floor."""
        return min(FLOOR - force_N * self.units_per_N, SHEET.y1 - 40)

    @property
    def most_N(self) -> float:
        """Return the load at the right end of the lines."""
        return (RIGHT - LEFT) / self.units_per_load_N


def plane_of(ladder: Ladder, *, highest_N: float) -> Plane:
    """Return the plane that holds all loads, with room to the right, and forces up to highest_N."""
    most = max(pull.normal_N for pull in ladder.pulls)
    hidden = ladder.mystery
    told = [] if hidden is None else [m.value for m in (hidden.static, hidden.kinetic) if m and m.value]
    most = max([most, *(value for value in told if value < 1.5 * most)])
    return Plane((RIGHT - LEFT) / (ROOM_ABOVE * most), (FLOOR - CEILING) / (ROOM_ABOVE * highest_N))


def sheet(plane: Plane, room: Room) -> str:
    """Return the paper with its force lines, strong on the steps and weak half-way."""
    grid = _grid(plane)
    parts = [
        f'<rect fill="{room.paper}" x="0" y="{SHEET.y0:g}" width="{WIDTH}" height="{SHEET.y1 - SHEET.y0:g}"/>'
    ]
    top_N = (FLOOR - CEILING) / plane.units_per_N
    for force_N in grid_forces(Grid(grid.step_N / 2, grid.scale), grid.step_N / 4, top_N):
        strong = abs(force_N / grid.step_N - round(force_N / grid.step_N)) < 0.1
        colour = room.grid_strong if strong else room.grid
        parts.append(
            f'<path stroke="{colour}" stroke-width="{2 if strong else 1.5}" '
            f'd="M{LEFT:g},{plane.y(force_N):.1f}H{WIDTH}"/>'
        )
    edge = f'fill="none" stroke="{room.edge}" stroke-width="{RULE:g}"'
    return "".join(parts) + f'<path {edge} d="M{LEFT:g},{CEILING - 5:g}V{FLOOR:g}H{WIDTH}"/>'


def force_labels(plane: Plane, room: Room, *, comma: bool) -> list[Label]:
    """Return the numbers of the strong force lines, left of the edge."""
    grid = _grid(plane)
    top_N = (FLOOR - CEILING) / plane.units_per_N
    words = [
        (0.0, "0"),
        *((n, grid_word(grid, n, comma=comma)) for n in grid_forces(grid, grid.step_N, top_N)),
    ]
    return [
        Label(text=word, x=LEFT - 12, y=plane.y(force_N) + 8, size=DESK, colour=room.soft, anchor="end")
        for force_N, word in words
    ]


def rungs(
    plane: Plane, loads_N: Sequence[float], g_m_s2: float, room: Room, *, comma: bool
) -> tuple[str, list[Label]]:
    """Return a strong line at each load, and under it kilograms and newtons as far as they find room."""
    ground = Ground(Box(8, FLOOR, WIDTH - 60, SHEET.y1 + 6))
    lines = "".join(
        f'<path stroke="{room.grid_strong}" stroke-width="2" d="M{plane.x(load):.1f},{CEILING:g}V{FLOOR:g}"/>'
        for load in loads_N
        if load > 0
    )
    labels = []
    both_fit = all(
        b - a > 230 for a, b in zip(map(plane.x, loads_N), map(plane.x, loads_N[1:]), strict=False)
    )
    for load in loads_N:
        mass = load_words(load, g_m_s2, comma=comma)
        full = f"{mass} · {fixed(load, 1, comma=comma)} N" if load > 0 else mass
        tries = [(full, EDGE_WORD), (full, DESK)] if both_fit else []
        found = first_free(ground, [
            Label(text=text, x=plane.x(load), y=RUNG_WORDS_Y, size=size, colour=room.ink, anchor="middle")
            for text, size in [*tries, (mass, EDGE_WORD), (mass, DESK)]
        ])  # fmt: skip
        labels += [found] if found else []
    word = Label(text="load", x=WIDTH - 8, y=LOAD_WORD_Y, size=DESK, colour=room.soft, anchor="end")
    return lines, [*labels, word]


def drawn_line(line: LoadLine, plane: Plane, colour: str, band: str) -> str:
    """Return a line over its 95 % band, from no load to the right end."""
    if line.slope.value is None or line.intercept.value is None:
        return ""
    slope, intercept = line.slope.value, line.intercept.value
    start = min(max(0.0, -intercept / slope), plane.most_N) if slope > 0 else 0.0  # no force is below nought
    normal = np.linspace(start, plane.most_N, STEPS)
    force, half = line_at(line, normal)
    rim = [*_steps(normal, force + half, plane), *reversed(_steps(normal, force - half, plane))]
    area = f'<path fill="{band}" d="M{" ".join(rim)}Z"/>'
    pen = f'fill="none" stroke="{colour}" stroke-width="{MARK:g}"'
    return f'{area}<path {pen} d="M{" ".join(_steps(normal, force, plane))}"/>'


def _steps(normal_N: FloatArray, force_N: FloatArray, plane: Plane) -> list[str]:
    return [
        f"{plane.x(n):.1f},{min(max(plane.y(f), SHEET.y0 + 4), FLOOR):.1f}"
        for n, f in zip(normal_N, force_N, strict=True)
    ]


def along(
    text: str, line: LoadLine, plane: Plane, taken: Sequence[Box], lines: Sequence[LoadLine], *,
    below: bool, colour: str, halo: str,
) -> str:  # fmt: skip
    """Return words set along a line, above or below it, where they touch the fewest marks and lines."""
    slope, intercept = line.slope.value or 0.0, line.intercept.value or 0.0
    angle = -math.atan(slope * plane.units_per_N / plane.units_per_load_N)
    share, gap = (grid.ravel() for grid in np.meshgrid(np.linspace(0.06, 0.9, 29), GAPS))
    x = LEFT + share * (RIGHT - LEFT)
    base = FLOOR - (intercept + slope * (x - LEFT) / plane.units_per_load_N) * plane.units_per_N
    y = base + (gap + CAPITALS * ON_LINE if below else -gap)
    touched = _touched(x, y, advance(text, ON_LINE, STRONG), angle, taken, lines, plane)
    best = int(np.argmin(touched + 0.02 * gap + np.abs(share - 0.45)))
    place = f'x="{x[best]:.1f}" y="{y[best]:.1f}"'
    turn = f'transform="rotate({math.degrees(angle):.1f} {x[best]:.1f} {y[best]:.1f})"'
    pen = halo_pen(halo, 10)
    face = f'font-size="{ON_LINE}" font-weight="{DECLARED[STRONG]}" fill="{colour}"'
    return f"<text {place} {turn} {face} {pen}>{escape(clean(text))}</text>"


def _touched(
    x: FloatArray,
    y: FloatArray,
    width: float,
    angle: float,
    taken: Sequence[Box],
    lines: Sequence[LoadLine],
    plane: Plane,
) -> FloatArray:
    """Return how ill lines of text turned by angle stand at x, y, shape (n,).

    Spots over the whole text are looked at; each one off the paper, on a mark or on a line costs 20.
    """
    step, up = (grid.ravel() for grid in np.meshgrid(np.linspace(0, width, 13), SPOTS_UP))
    px = x[:, None] + step * math.cos(angle) - up * math.sin(angle)
    py = y[:, None] + step * math.sin(angle) + up * math.cos(angle)
    bad = (px < LEFT + 6) | (px > WIDTH - 10) | (py < CEILING - 8) | (py > FLOOR - 4)
    for box in taken:
        bad |= (px > box.x0 - 5) & (px < box.x1 + 5) & (py > box.y0 - 5) & (py < box.y1 + 5)
    normal = (px - LEFT) / plane.units_per_load_N
    for one in lines:
        force = (one.intercept.value or 0.0) + (one.slope.value or 0.0) * normal
        bad |= np.abs(FLOOR - force * plane.units_per_N - py) < 9
    costs: FloatArray = 20.0 * bad.sum(axis=1)
    return costs


def _grid(plane: Plane) -> Grid:
    return grid_for(plane.units_per_N, FLOOR - CEILING, Scale("N", 1.0))
