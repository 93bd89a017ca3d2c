"""The close-up: the breakaway enlarged, the plus or minus of static as the hatched band it sits in."""

from __future__ import annotations

import numpy as np

from pullbench.model import Pull
from pullbench.render.ink import Axes, path, points, runs, take_ground
from pullbench.render.labels import Block, Box, Ground, Label, Line, first_free
from pullbench.render.marks import bound, ring_or_point
from pullbench.render.paper import STRIP, grid_for, grid_forces, grid_word, hairline, paper
from pullbench.render.rounding import fixed
from pullbench.render.strip import Strip
from pullbench.render.textures import fill
from pullbench.render.tokens import DESK, EDGE_WORD, LINE_CLOSE, ON_LINE, STRONG, Room
from pullbench.render.wording import pull_scale

AREA = Box(40, 404, 520, 704)
TOP, FOOT = AREA.y0 + 26, AREA.y1 - 52  # highest and lowest ink
FOOTNOTE_Y = 690.0
FEWEST_SAMPLES, SHORTEST_s, MOST_OF_STRIP = 14, 0.3, 0.3
BEFORE = 0.5  # of the stretch lies before the breakaway
BAND_LEAST = 6.0
SAID = {
    "value": ("it breaks", "away here"),
    "lower bound": ("at least", "this much"),
    "upper bound": ("at most", "this much"),
    "cannot tell": ("static:", "cannot tell"),
}


def close_up(pull: Pull, strip: Strip, room: Room, *, comma: bool) -> tuple[str, str, list[Label]]:
    """Return what lies under the flags (hairlines and bar), the close-up itself, and its words."""
    moment = pull.breakaway.time_s
    assert moment is not None
    t0, t1 = _stretch_s(moment, strip)
    seen = strip.drawn.between(t0, t1)
    axes = _axes(pull, seen.force_N, t0, t1)
    pieces, ground = runs(seen, axes), Ground(AREA)
    take_ground(ground, pieces, LINE_CLOSE)
    x, number = axes.x(moment), bound(pull.breakaway.force)
    y = float(np.interp(moment, seen.time_s, axes.zero_y - seen.force_N * axes.units_per_N))
    y = y if number is None else axes.y(number)
    ground.boxes.append(Box(x - 14, y - 14, x + 14, y + 14))
    band, taken = _band(pull, axes, room)
    ground.boxes += taken
    grid = grid_for(axes.units_per_N, FOOT - TOP, pull_scale(pull))
    labels = [_footnote(t1 - t0, room, comma)]
    ground.boxes.append(labels[0].box)
    labels += _said(pull, x, y, ground, room)
    for force_N in grid_forces(grid, (axes.zero_y - FOOT) / axes.units_per_N, _highest_N(axes)):
        word, line_y = grid_word(grid, force_N, comma=comma), axes.y(force_N) - 7
        right = Label(text=word, x=AREA.x1 - 12, y=line_y, size=DESK, colour=room.soft, anchor="end")
        left = Label(text=word, x=AREA.x0 + 12, y=line_y, size=DESK, colour=room.soft)
        found = first_free(ground, [right, left])
        labels += [found] if found else []
    parts = [paper(axes, grid, room, AREA), band, path(pieces, room, LINE_CLOSE)]
    parts += [points(pieces, room, LINE_CLOSE), ring_or_point(pull.breakaway.force, x, y, 10.0, room)]
    return _joined(strip, t0, t1, room), "".join(parts), labels


def _stretch_s(moment: float, strip: Strip) -> tuple[float, float]:
    """Return the stretch around the breakaway: long enough for its fall, and for a dozen samples."""
    t0, t1 = strip.axes.t0_s, strip.axes.t1_s
    steps = np.diff(strip.drawn.time_s)
    sampled = FEWEST_SAMPLES * float(np.median(steps)) if steps.size else 0.0
    length = min(max(SHORTEST_s, sampled), MOST_OF_STRIP * (t1 - t0))
    start = min(max(moment - BEFORE * length, t0), t1 - length)
    return start, start + length


def _axes(pull: Pull, force_N: np.typing.NDArray[np.float64], t0: float, t1: float) -> Axes:
    low, high = pull.breakaway.force.limits or (None, None)
    numbers = [float(force_N.min()), float(force_N.max())] if force_N.size else [0.0, 1.0]
    span = numbers[1] - numbers[0]
    for number in (low, high, bound(pull.breakaway.force)):
        if number is not None and numbers[0] - span < number < numbers[1] + span:
            numbers.append(number)
    bottom, top = min(numbers), max(numbers)
    units_per_N = (FOOT - TOP) / max(top - bottom, 1e-9)
    zero_y = FOOT + bottom * units_per_N
    return Axes(t0_s=t0, t1_s=t1, x0=AREA.x0, x1=AREA.x1, zero_y=zero_y, units_per_N=units_per_N)


def _band(pull: Pull, axes: Axes, room: Room) -> tuple[str, list[Box]]:
    """Return the hatched band of the 95 % limits across the close-up; a bound hatches its open side."""
    low, high = pull.breakaway.force.limits or (None, None)
    if low is None and high is None:
        return "", []
    top = AREA.y0 if high is None else axes.y(high)
    foot = FOOT if low is None else axes.y(low)
    if foot - top < BAND_LEAST:
        middle = (foot + top) / 2
        top, foot = middle - BAND_LEAST / 2, middle + BAND_LEAST / 2
    top, foot = max(AREA.y0, top), min(FOOT, foot)
    if foot <= top:
        return "", []
    size = f'x="{AREA.x0:g}" width="{AREA.x1 - AREA.x0:g}"'
    rect = f'<rect fill="{fill(room, "static-band")}" {size} y="{top:.1f}" height="{foot - top:.1f}"/>'
    return rect, [Box(AREA.x0, top, AREA.x1, foot)]


def _said(pull: Pull, x: float, y: float, ground: Ground, room: Room) -> list[Label]:
    """Return the words beside the point, in the nearest free place."""
    words = SAID[pull.breakaway.force.kind]
    for size in (ON_LINE, EDGE_WORD):
        for lines in (words, (" ".join(words),)):
            block = Block(tuple(Line(text, size, STRONG, room.static) for text in lines))
            within = Box(AREA.x0 + 16, AREA.y0 + 8, AREA.x1 - 16, AREA.y1 - 40)
            box = ground.nearest(block, within, lambda box: box.distance(x, y))
            if box is not None:
                ground.boxes.append(box)
                return block.labels(box.x0, box.y0, room.paper)
    return []


def _footnote(length_s: float, room: Room, comma: bool) -> Label:
    milli = length_s < 0.1
    length = f"{fixed(1000 * length_s, 0)} ms" if milli else f"{fixed(length_s, 2, comma=comma)} s"
    return Label(text=f"close-up, {length}", x=54, y=FOOTNOTE_Y, size=DESK, colour=room.soft, halo=room.paper)


def _highest_N(axes: Axes) -> float:
    return (axes.zero_y - AREA.y0 - 30) / axes.units_per_N


def _joined(strip: Strip, t0: float, t1: float, room: Room) -> str:
    """Return the bar on the stretch that is enlarged and the two hairlines to its enlargement."""
    a, b, y = strip.axes.x(t0), strip.axes.x(t1), strip.axes.zero_y
    turn = STRIP.y1 + 34
    lines = (
        f"M{a:.1f},{y:.1f}V{turn:g}L{AREA.x0:g},{AREA.y0:g}M{b:.1f},{y:.1f}V{turn:g}L{AREA.x1:g},{AREA.y0:g}"
    )
    bar = f'<path stroke="{room.ink}" stroke-width="6" d="M{a:.1f},{y:.1f}H{b:.1f}"/>'
    return hairline(room, lines) + bar
