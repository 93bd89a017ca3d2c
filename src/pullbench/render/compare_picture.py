"""Surfaces side by side on one strip of paper: every pull a mark, every mean in its hatched limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pullbench.analysis import coverage_factor
from pullbench.model import Comparison, Measured, Quantity, Surface, SurfaceLevel, SurfacePull
from pullbench.render.compare_words import HOLDS_FOR_SHORT, colleague_sentences, room_sentences
from pullbench.render.heading import BASELINE, heading
from pullbench.render.ink import Axes
from pullbench.render.labels import Block, Box, Ground, Label, Line, first_free
from pullbench.render.lettering import ASCENT, DESCENT, LINE_HEIGHT, balanced, cut, wrapped
from pullbench.render.paper import Grid, grid_for, grid_forces, grid_word, paper
from pullbench.render.pull_link import linked
from pullbench.render.rounding import figures_of, fixed, plus_minus, rounded_half_width, scale_for
from pullbench.render.sheet import picture
from pullbench.render.textures import fill
from pullbench.render.tokens import (
    DESK,
    EDGE_WORD,
    HEIGHT,
    LINE,
    MARK,
    ON_LINE,
    ROOMS,
    STRONG,
    TEXT,
    WIDTH,
    Room,
    RoomName,
)

AREA = Box(0, 66, WIDTH, 424)
ZERO_Y, CEILING, NAME_Y, LEFT = 376.0, 124.0, 411.0, 110.0
POINT, NUDGE, BAND = 9.0, 15.0, 42.0
MOST_MARKS = 300  # of one surface: of more, every other one or fewer is drawn
SAID_TOP, MARGIN, SLIP_GAP, PADDING = 438.0, 40.0, 20.0, 14.0
FEWEST_LINES = 3  # of a slip, even if the picture must grow for it
REST_IN_TEXT = "The rest is in the text."
SLIP_WIDTH = (WIDTH - 2 * MARGIN - SLIP_GAP) / 2


def compare_svg(
    comparison: Comparison, *, room: RoomName = "light", label: str | None = None, comma: bool = False,
    in_page: bool = False,
) -> str:  # fmt: skip
    """Return surfaces side by side as an SVG that needs nothing beside it.

    label: where the numbers come from ("simulated"), shown plainly.  in_page: marks are links to their pulls, and
    the page has the fonts.  The same arguments give the same bytes.
    """
    colours = ROOMS[room]
    top, labels = heading("Surface pairs", None, label, colours)
    beside = labels[-1].box.x1 + 16
    labels.append(Label(text=HOLDS_FOR_SHORT, x=beside, y=BASELINE, size=EDGE_WORD, colour=colours.ink))
    drawing, words = _strip(comparison, colours, comma, in_page)
    said, slips, foot = _said(comparison, colours, comma)
    parts = [top, *drawing, slips, *(one.svg() for one in (*labels, *words, *said))]
    description = " ".join(room_sentences(comparison, comma=comma))
    height = max(HEIGHT, round(foot))
    return picture("".join(parts), height, colours, "Surface pairs", description, in_page=in_page)


def _strip(comparison: Comparison, room: Room, comma: bool, in_page: bool) -> tuple[list[str], list[Label]]:
    """Return paper, marks and their words."""
    axes = _axes(comparison)
    grid = grid_for(
        axes.units_per_N, ZERO_Y - CEILING, scale_for(*(level.mean for level in comparison.levels))
    )
    ground = Ground(Box(0, AREA.y0 + 4, WIDTH - 8, AREA.y1))
    parts, words = [paper(axes, grid, room, AREA)], list(_grid_words(axes, grid, room, comma))
    ground.boxes += [word.box for word in words]
    width = (WIDTH - LEFT - 20) / len(comparison.surfaces)
    values: list[tuple[SurfaceLevel, float]] = []
    for number, surface in enumerate(comparison.surfaces):
        middle = LEFT + (number + 0.5) * width
        name = cut(surface.name, width - 12, EDGE_WORD)
        words.append(Label(text=name, x=middle, y=NAME_Y, size=EDGE_WORD, colour=room.ink, anchor="middle"))
        for level in (one for one in comparison.levels if one.surface == surface.name):
            x = middle + (-0.25 if level.quantity == "static" else 0.25) * width
            parts += _column(surface, level, x, min(width / 5, BAND), axes, room, ground, in_page)
            values.append((level, x))
    for level, x in values:
        words += _value_words(level, x, width / 2, axes, room, ground, comma)
    return parts, words


def _axes(comparison: Comparison) -> Axes:
    highest = [
        v for s in comparison.surfaces for p in s.pulls for v in (p.static, p.kinetic) if v is not None
    ]
    tops = [level.mean.limits[1] for level in comparison.levels if level.mean.limits]
    most = 1.6 * max(highest)  # limits from two pulls reach far: they may leave the paper
    top = max(max(highest), min(most, max([t for t in tops if t is not None], default=0.0)))
    return Axes(
        t0_s=0.0, t1_s=1.0, x0=0.0, x1=float(WIDTH), zero_y=ZERO_Y, units_per_N=(ZERO_Y - CEILING) / top
    )


def _grid_words(axes: Axes, grid: Grid, room: Room, comma: bool) -> Iterator[Label]:
    for number in grid_forces(grid, 0.0, (axes.zero_y - AREA.y0 - 24) / axes.units_per_N):
        word = grid_word(grid, number, comma=comma).strip()
        yield Label(text=word, x=16, y=axes.y(number) - 6, size=DESK, colour=room.soft)


def _column(
    surface: Surface, level: SurfaceLevel, x: float, half: float, axes: Axes, room: Room, ground: Ground, in_page: bool
) -> Iterator[str]:  # fmt: skip
    """Yield the mean in its limits, then each pull over it; those set aside are crossed rings."""
    yield from _mean(level.mean, level.quantity, x, half, axes, room)
    pulls = [p for p in surface.pulls if _value(p, level.quantity) is not None]
    pulls = pulls[:: 1 + len(pulls) // MOST_MARKS]
    for number, pull in enumerate(pulls):
        at = x + ((number % 3) - 1) * NUDGE if len(pulls) > 1 else x
        y = axes.y(_value(pull, level.quantity) or 0.0)
        ground.boxes.append(Box(at - POINT, y - POINT, at + POINT, y + POINT))
        mark = _mark(level.quantity, at, y, pull.set_aside is not None, room)
        yield (
            linked(mark, pull.number, level.quantity, _mark_words(pull, level, surface)) if in_page else mark
        )


def _mark_words(pull: SurfacePull, level: SurfaceLevel, surface: Surface) -> str:
    """Return one mark in words, with the scatter of one pull where repeats show it."""
    value, unit = _value(pull, level.quantity) or 0.0, "" if surface.unit == "1" else f" {surface.unit}"
    what = f"Pull {pull.number}, {surface.name}: {level.quantity}"
    if pull.set_aside is not None:
        return f"{what}, left out: {pull.set_aside}"
    if not level.scatter:
        return f"{what} {figures_of(value)}{unit}, scatter not known yet"
    half, decimals = rounded_half_width(coverage_factor(max(level.pulls - 1, 1)) * level.scatter)
    return f"{what} {fixed(value, decimals)}{unit} ± {fixed(float(half), decimals)}"


def _mean(mean: Measured, quantity: Quantity, x: float, half: float, axes: Axes, room: Room) -> Iterator[str]:
    low, high = mean.limits or (None, None)
    if mean.value is None or low is None or high is None:
        return
    top, foot = max(AREA.y0, axes.y(high)), min(ZERO_Y, axes.y(low))
    place = f'x="{x - half:.1f}" y="{top:.1f}" width="{2 * half:.1f}" height="{max(0.0, foot - top):.1f}"'
    yield f'<rect fill="{fill(room, f"{quantity}-band")}" {place}/>'
    colour = room.static if quantity == "static" else room.kinetic
    line = f"M{x - half:.1f},{axes.y(mean.value):.1f}h{2 * half:.1f}"
    yield f'<path stroke="{colour}" stroke-width="{LINE:g}" d="{line}"/>'


def _mark(quantity: Quantity, x: float, y: float, aside: bool, room: Room) -> str:
    place, edge = f'cx="{x:.1f}" cy="{y:.1f}" r="{POINT:g}"', f'stroke="{room.paper}" stroke-width="1.5"'
    if aside:
        across = 2 * POINT
        arms = f"M{x - POINT:.1f},{y - POINT:.1f}l{across:g},{across:g}m0,{-across:g}l{-across:g},{across:g}"
        ring = f'<circle fill="{room.paper}" stroke="{room.aside}" stroke-width="{MARK:g}" {place}/>'
        return f'{ring}<path fill="none" stroke="{room.aside}" stroke-width="2.5" d="{arms}"/>'
    if quantity == "static":
        return f'<circle fill="{room.static}" {edge} {place}/>'
    steps = f"M{x:.1f},{y - POINT - 1:.1f}l10,10l-10,10l-10,-10Z"
    return f'<path fill="{room.kinetic}" {edge} d="{steps}"/>'


def _value_words(
    level: SurfaceLevel, x: float, width: float, axes: Axes, room: Room, ground: Ground, comma: bool
) -> list[Label]:
    """Return the mean's name and value where bare paper is found near it, in the largest letters that fit."""
    if level.pulls == 0:
        return []
    colour = room.static if level.quantity == "static" else room.kinetic
    told = plus_minus(level.mean, comma=comma, short=True) if level.mean.value is not None else "cannot tell"
    pieces = ((f"{level.quantity} {told}",), (level.quantity, told))
    for size in (EDGE_WORD, DESK):
        for lines in pieces:
            block = Block(tuple(Line(text, size, STRONG, colour) for text in lines))
            if block.width > max(width, 2 * BAND):
                continue
            found = _beside(block, level, x, axes, ground)
            if found is not None:
                return block.labels(found.x0, found.y0, room.paper)
    last = Label(
        text=told,
        x=x,
        y=ZERO_Y - 8,
        size=DESK,
        colour=colour,
        weight=STRONG,
        anchor="middle",
        halo=room.paper,
    )
    placed = first_free(ground, [last])
    return [placed] if placed else []


def _beside(block: Block, level: SurfaceLevel, x: float, axes: Axes, ground: Ground) -> Box | None:
    """Return the free place over or under the marks of a column that is nearest to its limits."""
    low, high = level.mean.limits or (None, None)
    left = min(max(x - block.width / 2, LEFT - 8), WIDTH - 12 - block.width)
    above = axes.y(high) - 8 if high is not None else ZERO_Y - 150
    below = axes.y(low) + 8 if low is not None else ZERO_Y - 150
    tops = [above - block.height - 8 * k for k in range(24)] + [below + 8 * k for k in range(24)]
    for top in tops:
        box = block.box(left, top)
        if box.y1 <= ZERO_Y - 2 and ground.free(box):
            ground.boxes.append(box)
            return box
    return None


def _said(comparison: Comparison, room: Room, comma: bool) -> tuple[list[Label], str, float]:
    """Return the sentence, two slips of paper for the rest, and where they end."""
    first, *rest = room_sentences(comparison, comma=comma)
    block = Block(
        tuple(Line(t, ON_LINE, STRONG, room.ink) for t in balanced(first, WIDTH - 80, ON_LINE, STRONG))
    )
    labels = block.labels(MARGIN, SAID_TOP, None)
    top = SAID_TOP + block.height + 12
    inner = SLIP_WIDTH - 2 * PADDING
    space = HEIGHT - 8 - top - 2 * PADDING
    left = _slip(rest[:-1], EDGE_WORD, inner, space, room)
    right = _slip(colleague_sentences(comparison, comma=comma), DESK, inner, space, room)
    height = max(left.height, right.height) + 2 * PADDING
    parts = []
    for x, slip in ((MARGIN, left), (MARGIN + SLIP_WIDTH + SLIP_GAP, right)):
        if not slip.lines:
            continue
        parts.append(
            f'<rect fill="{room.paper}" x="{x:.1f}" y="{top:.1f}" width="{SLIP_WIDTH:.1f}" height="{height:.1f}"/>'
        )
        labels += slip.labels(x + PADDING, top + PADDING, None)
    return labels, "".join(parts), top + height + 8


def _slip(sentences: Sequence[str], size: int, width: float, space: float, room: Room) -> Block:
    """Return as many sentences as the space holds, whole ones, and a word when some are left out."""
    most = max(FEWEST_LINES, int((space / size - ASCENT - DESCENT) / LINE_HEIGHT) + 1)
    whole = [wrapped(said, width, size) for said in sentences]
    lines: list[str] = [line for said in whole for line in said]
    if len(lines) > most:
        lines = []
        for said in whole:
            lines += said if len(lines) + len(said) < most else []
        lines.append(REST_IN_TEXT)
    return Block(tuple(Line(text, size, TEXT, room.ink) for text in lines))


def _value(pull: SurfacePull, quantity: Quantity) -> float | None:
    return pull.static if quantity == "static" else pull.kinetic
