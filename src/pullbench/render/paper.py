"""The paper strip: its grid, its rest line, and punched holes that tell the time without an axis."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.render.ink import Axes, Drawn
from pullbench.render.labels import Box, Ground, Label, first_free
from pullbench.render.rounding import Scale, figures_of, fixed
from pullbench.render.tokens import DESK, HAIR, RULE, WIDTH, Room

STRIP = Box(0, 66, WIDTH, 356)
ZERO_Y, HOLE_Y, HOLE = 318.0, 340.0, 6.5
FOOT = 12.0  # paper between the lowest ink and the holes
HOLE_STEPS_s = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1800, 3600)
HOLES_NEAREST = 64.0


@dataclass(frozen=True, slots=True)
class Grid:
    """Forces that get a line, in newtons from 0, and the scale their numbers are written in."""

    step_N: float
    scale: Scale


def strip_axes(drawn: Drawn, t0_s: float, t1_s: float, *, top_N: float, headroom: float) -> Axes:
    """Return axes over the full width: top_N lies headroom under the strip's upper edge.

    The rest line lies at the usual height unless the line dips far below it, as it does when a pull is
    followed by a push: then it rises as much as it must.
    """
    seen = drawn.between(t0_s, t1_s).force_N
    low_N = min(0.0, float(np.min(seen))) if seen.size else 0.0
    ceiling, floor = STRIP.y0 + headroom, HOLE_Y - FOOT
    span_N = max(top_N, 1e-12 * abs(low_N), 1e-9)
    units_per_N = min((ZERO_Y - ceiling) / span_N, (floor - ceiling) / (span_N - low_N))
    zero_y = min(ZERO_Y, floor + low_N * units_per_N)
    return Axes(t0_s=t0_s, t1_s=t1_s, x0=0.0, x1=float(WIDTH), zero_y=zero_y, units_per_N=units_per_N)


def grid_for(units_per_N: float, height: float, scale: Scale) -> Grid:
    """Return the roundest step (1, 2 or 5) that gives two to about five strong lines in a height."""
    least = max(46.0, height / 5.5) / units_per_N / scale.size
    power = 10.0 ** math.floor(math.log10(least))
    step = next(m * power for m in (1, 2, 5, 10) if m * power >= least * (1 - 1e-9))
    return Grid(step * scale.size, scale)


def grid_forces(grid: Grid, low_N: float, high_N: float) -> list[float]:
    """Return the multiples of the step from low to high."""
    first, last = math.ceil(low_N / grid.step_N - 1e-9), math.floor(high_N / grid.step_N + 1e-9)
    return [k * grid.step_N for k in range(first, last + 1)]


def grid_word(grid: Grid, force_N: float, *, comma: bool) -> str:
    """Return a grid line's number with its unit."""
    decimals = max(0, -math.floor(math.log10(grid.step_N / grid.scale.size) + 1e-9))
    return f"{fixed(force_N / grid.scale.size, decimals, comma=comma)} {grid.scale.unit}"


def paper(axes: Axes, grid: Grid, room: Room, area: Box = STRIP) -> str:
    """Return the sheet with its grid: strong lines on the steps, weak ones half-way, a rule at rest."""
    parts = [
        f'<rect fill="{room.paper}" x="{area.x0:g}" y="{area.y0:g}" width="{area.x1 - area.x0:g}" '
        f'height="{area.y1 - area.y0:g}"/>'
    ]
    high_N, low_N = (axes.zero_y - area.y0 - 4) / axes.units_per_N, (axes.zero_y - area.y1) / axes.units_per_N
    across = f"{area.x0:g},{{y:.1f}}H{area.x1:g}"
    for force_N in grid_forces(Grid(grid.step_N / 2, grid.scale), max(low_N, grid.step_N / 4), high_N):
        strong = abs(force_N / grid.step_N - round(force_N / grid.step_N)) < 0.1
        colour, width = (room.grid_strong, 2) if strong else (room.grid, 1.5)
        line = across.format(y=axes.y(force_N))
        parts.append(f'<path stroke="{colour}" stroke-width="{width}" d="M{line}"/>')
    if area.y0 < axes.zero_y < area.y1:
        rest = across.format(y=axes.zero_y)
        parts.append(f'<path stroke="{room.edge}" stroke-width="{RULE:g}" d="M{rest}"/>')
    return "".join(parts)


def hole_step_s(axes: Axes) -> float:
    """Return the time from hole to hole: a second where that leaves them apart, else a round number."""
    per_s = (axes.x1 - axes.x0) / (axes.t1_s - axes.t0_s)
    if HOLES_NEAREST <= per_s <= WIDTH / 3:
        return 1.0
    longest = HOLE_STEPS_s[-1]
    return next(
        (s for s in HOLE_STEPS_s if s * per_s >= HOLES_NEAREST), longest * math.ceil(64 / per_s / longest)
    )


def holes(axes: Axes, step_s: float, room: Room) -> str:
    """Return the punched holes, one per step of the recording's own time."""
    first, last = math.ceil(axes.t0_s / step_s), math.floor(axes.t1_s / step_s)
    places = (axes.x(k * step_s) for k in range(first, last + 1))
    return "".join(f'<circle fill="{room.table}" cx="{x:.1f}" cy="{HOLE_Y:g}" r="{HOLE:g}"/>' for x in places)


def hole_words(step_s: float, *, comma: bool) -> str:
    """Return what a hole stands for."""
    if step_s == 1.0:
        return "one hole a second"
    if step_s < 1.0:
        return f"a hole every {figures_of(step_s, comma=comma).rstrip('0').rstrip('.,')} s"
    if step_s < 60:
        return f"a hole every {fixed(step_s, 0)} s"
    minutes = fixed(step_s / 60, 0)
    return "a hole every minute" if minutes == "1" else f"a hole every {minutes} min"


def grid_labels(axes: Axes, grid: Grid, room: Room, ground: Ground, *, comma: bool) -> list[Label]:
    """Return the numbers of the strong lines that find bare paper, at the left end, else at the right."""
    labels = []
    for force_N in grid_forces(grid, 0.0, (axes.zero_y - STRIP.y0) / axes.units_per_N):
        y, word = axes.y(force_N) - 7, grid_word(grid, force_N, comma=comma)
        left = Label(text=word, x=14, y=y, size=DESK, colour=room.soft)
        right = Label(text=word, x=WIDTH - 14, y=y, size=DESK, colour=room.soft, anchor="end")
        found = first_free(ground, [left, right])
        labels += [found] if found else []
    return labels


def hairline(room: Room, steps: str) -> str:
    """Return a thin line that joins two things."""
    return f'<path fill="none" stroke="{room.edge}" stroke-width="{HAIR:g}" d="{steps}"/>'
