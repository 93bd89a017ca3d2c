"""The Load ladder: loads as rungs, both lines with their coefficients along them, the law in words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pullbench.analysis import coverage_factor
from pullbench.model import Ladder, LoadedPull, LoadLine, Series
from pullbench.render.heading import heading
from pullbench.render.labels import Block, Box, Ground, Label, Line
from pullbench.render.lettering import balanced, cut
from pullbench.render.line_plane import (
    CEILING,
    FLOOR,
    LEFT,
    SHEET,
    Plane,
    along,
    drawn_line,
    force_labels,
    plane_of,
    rungs,
    sheet,
)
from pullbench.render.line_words import (
    diagnosis_sentence,
    fix_sentence,
    in_kilograms,
    law_sentence,
    load_words,
    statistics_sentence,
)
from pullbench.render.pull_link import linked
from pullbench.render.rounding import figures_of, fixed, plus_minus, rounded_half_width
from pullbench.render.sheet import picture
from pullbench.render.textures import fill
from pullbench.render.tokens import (
    DESK,
    EDGE_WORD,
    HEIGHT,
    ON_LINE,
    ROOMS,
    STRONG,
    TEXT,
    WIDTH,
    Room,
    RoomName,
)

POINT, DIAMOND, BAR = 6.5, 11.0, 3.0
NUDGE, NUDGED_OVER = 15.0, 60.0  # repeats at one load stand so far apart, over so much at most
NOTHING_WRONG = "Nothing in these pulls speaks against one straight line through nought."
SAID_TOP, SAID_WIDTH, SLIPS_TOP = 514.0, 1200.0, 612.0
SAID_SIZES = ((ON_LINE, 2), (EDGE_WORD, 3), (DESK, 4))


def line_svg(
    ladder: Ladder, *, title: str = "", room: RoomName = "light", label: str | None = None,
    sled_kg: float = 0.0, comma: bool = False, in_page: bool = False,
) -> str:  # fmt: skip
    """Return the Load ladder as an SVG that needs nothing beside it.

    title: the surface or the table.  label: where the numbers come from when that is not a sensor in this
    room.  sled_kg: known part of a hidden load.  in_page: points are links to their pulls, and the page has the
    fonts.  The same arguments give the same bytes.
    """
    colours = ROOMS[room]
    plane = plane_of(ladder, highest_N=_highest_N(ladder))
    marks, taken = _points(ladder, plane, colours, in_page, comma)
    top, labels = heading(_name(title), None, label, colours)
    loads = sorted({pull.normal_N for pull in ladder.pulls})
    rung_lines, rung_words = rungs(plane, loads, ladder.g_m_s2, colours, comma=comma)
    lines = [
        drawn_line(line, plane, _colour(line.series, colours), fill(colours, f"{line.series}-band"))
        for line in ladder.lines
    ]
    aside, aside_words = _set_aside(ladder, plane, colours, in_page)
    edge, edge_words = _edge(ladder, plane, taken, colours, comma)
    hidden, hidden_words = _hidden(ladder, plane, colours, sled_kg, comma)
    labels += [
        *force_labels(plane, colours, comma=comma),
        *rung_words,
        *aside_words,
        *edge_words,
        *hidden_words,
    ]
    boxes = [*taken, *(word.box for word in [*aside_words, *edge_words, *hidden_words])]
    words = _along_lines(ladder, plane, boxes, colours, comma)
    foot, foot_words = _foot(ladder, colours, comma)
    parts = [top, sheet(plane, colours), rung_lines, *lines, hidden, marks, aside, edge, words, foot]
    drawing = "".join([*parts, *(word.svg() for word in [*labels, *foot_words])])
    told = " ".join(
        [law_sentence(ladder, comma=comma), *_wrong(ladder, comma), statistics_sentence(ladder, comma=comma)]
    )
    return picture(drawing, HEIGHT, colours, _name(title), told, in_page=in_page)


def _name(title: str) -> str:
    return f"Load ladder, {title}" if title else "Load ladder"


def _highest_N(ladder: Ladder) -> float:
    most_N = max(pull.normal_N for pull in ladder.pulls)
    forces = [pull.force_N(line.series) or 0.0 for line in ladder.lines for pull in ladder.pulls]
    ends = [(line.intercept.value or 0.0) + (line.slope.value or 0.0) * most_N for line in ladder.lines]
    return max([*forces, *ends, 1e-9])


def _colour(series: Series, room: Room) -> str:
    return room.static if series == "static" else room.kinetic


def _points(ladder: Ladder, plane: Plane, room: Room, in_page: bool, comma: bool) -> tuple[str, list[Box]]:
    """Return the marks of all pulls that count, each with one pull's plus or minus, and the room they take."""
    parts: list[str] = []
    boxes: dict[tuple[Series, float], Box] = {}  # the repeats at one load are one
    nudged = _nudges(ladder.pulls)
    for line in ladder.lines:
        for pull, aside in zip(ladder.pulls, nudged, strict=True):
            force = pull.force_N(line.series)
            if force is None or pull.set_aside is not None:
                continue
            x, y = plane.x(pull.normal_N) + aside, plane.y(force)
            half_N = _half_N(pull, line)
            half = half_N * plane.units_per_N
            across = 2 * pull.u_normal_N * plane.units_per_load_N
            mark = _mark(line.series, x, y, half, across, room)
            if in_page:
                told = _said(pull, line.series, force, half_N, ladder.g_m_s2, comma)
                mark = linked(mark, pull.number, line.series, told)
            parts.append(mark)
            tall, wide = max(half, POINT), max(across, POINT)
            box = Box(x - wide, y - tall, x + wide, y + tall)
            rung = (line.series, pull.normal_N)
            boxes[rung] = _around(boxes.get(rung, box), box)
    return "".join(parts), list(boxes.values())


def _said(pull: LoadedPull, series: Series, force_N: float, half_N: float, g_m_s2: float, comma: bool) -> str:
    """Return one point in words; two pulls alone show no scatter, so that there is no plus or minus yet."""
    load = load_words(pull.normal_N, g_m_s2, comma=comma)
    if half_N <= 0:
        return f"Pull {pull.number}: {series} {figures_of(force_N, comma=comma)} N at {load}, scatter not known yet"
    half, decimals = rounded_half_width(half_N)
    force = fixed(force_N, decimals, comma=comma)
    return f"Pull {pull.number}: {series} {force} N ± {fixed(float(half), decimals, comma=comma)} at {load}"


def _around(a: Box, b: Box) -> Box:
    return Box(min(a.x0, b.x0), min(a.y0, b.y0), max(a.x1, b.x1), max(a.y1, b.y1))


def _half_N(pull: LoadedPull, line: LoadLine) -> float:
    """Return one pull's plus or minus: its own doubt and the scatter between pulls."""
    if line.dof < 1:
        return 0.0
    force = pull.force_N(line.series) or 0.0
    return coverage_factor(line.dof) * math.hypot(
        pull.u_force_N(line.series), line.scatter * force, line.scatter_N
    )


def _nudges(pulls: Sequence[LoadedPull]) -> list[float]:
    """Return how far each pull is moved aside so that repeats can be seen."""
    places: dict[float, int] = {}
    counts: dict[float, int] = {}
    for pull in pulls:
        counts[pull.normal_N] = counts.get(pull.normal_N, 0) + 1
    moves = []
    for pull in pulls:
        place, count = places.get(pull.normal_N, 0), counts[pull.normal_N]
        places[pull.normal_N] = place + 1
        moves.append((place - (count - 1) / 2) * min(NUDGE, NUDGED_OVER / count))
    return moves


def _mark(series: Series, x: float, y: float, half: float, across: float, room: Room) -> str:
    colour = _colour(series, room)
    top, foot = max(y - half, SHEET.y0 + 4), min(y + half, FLOOR)
    bars = f"M{x:.1f},{top:.1f}V{foot:.1f}" if half > POINT else ""
    bars += f"M{x - across:.1f},{y:.1f}H{x + across:.1f}" if across > POINT else ""
    pen = f'<path fill="none" stroke="{colour}" stroke-width="{BAR:g}" d="{bars}"/>' if bars else ""
    if series == "static":
        return f'{pen}<circle fill="{colour}" cx="{x:.1f}" cy="{y:.1f}" r="{POINT:g}"/>'
    return (
        f'{pen}<rect fill="{colour}" x="{x - DIAMOND / 2:.1f}" y="{y - DIAMOND / 2:.1f}" width="{DIAMOND:g}" '
        f'height="{DIAMOND:g}" transform="rotate(45 {x:.1f} {y:.1f})"/>'
    )


def _set_aside(ladder: Ladder, plane: Plane, room: Room, in_page: bool) -> tuple[str, list[Label]]:
    """Return crossed rings for pulls set aside, the reason beside the first of each."""
    parts, labels = [], []
    ground = Ground(SHEET)
    for pull in ladder.pulls:
        force = pull.static_N if pull.static_N is not None else pull.kinetic_N
        if pull.set_aside is None or force is None:
            continue
        x, y = plane.x(pull.normal_N), plane.y(force)
        ring = (
            f'<g stroke="{room.aside}" stroke-width="3" fill="none"><circle cx="{x:.1f}" cy="{y:.1f}" r="8"/>'
            f'<path d="M{x - 14:.1f},{y - 14:.1f}l28,28m0,-28l-28,28"/></g>'
        )
        told = f"Pull {pull.number}, left out: {pull.set_aside}"
        parts.append(linked(ring, pull.number, "left out", told) if in_page else ring)
        text = cut(f"{pull.name} set aside: {pull.set_aside}".strip(), 420, EDGE_WORD)
        word = Label(
            text=text, x=x - 24, y=y + 8, size=EDGE_WORD, colour=room.aside, anchor="end", halo=room.paper
        )
        if word.box.x0 < LEFT + 8:
            word = Label(text=text, x=x + 24, y=y + 8, size=EDGE_WORD, colour=room.aside, halo=room.paper)
        if ground.free(word.box):
            ground.boxes.append(word.box)
            labels.append(word)
    return "".join(parts), labels


def _edge(
    ladder: Ladder, plane: Plane, taken: Sequence[Box], room: Room, comma: bool
) -> tuple[str, list[Label]]:
    """Return where the line meets the edge, written and tied to it, when that is what the diagnosis is about."""
    shown = {"sled mass left out", "rest reading offset"}
    if not any(one.name in shown for one in ladder.diagnoses):
        return "", []
    line = ladder.lines[0]
    if line.intercept.value is None or line.intercept.value <= 0:
        return "", []  # below nought the line ends on the floor, and the sentence says where it would meet
    force = plus_minus(line.intercept, comma=comma, short=True)
    block = Block((
        Line("meets the edge", EDGE_WORD, TEXT, room.ink), Line(f"at {force}", EDGE_WORD, TEXT, room.ink)
    ))  # fmt: skip
    y = plane.y(line.intercept.value)
    ground = Ground(Box(LEFT + 8, CEILING, WIDTH, FLOOR), boxes=list(taken))
    slope, intercept = line.slope.value or 0.0, line.intercept.value

    def cost(box: Box) -> float:
        line_y = plane.y(intercept + slope * (box.x1 - LEFT) / plane.units_per_load_N)
        crossing = 500.0 if box.y1 + 8 > line_y else 0.0
        return box.distance(LEFT + 16, y - 60) + crossing

    box = ground.nearest(block, Box(LEFT + 12, CEILING + 8, LEFT + 420, FLOOR - 20), cost)
    if box is None:
        return "", []
    tie = f"M{LEFT + 4:g},{y:.1f}L{box.x0 + 10:.1f},{box.y1 + 6:.1f}"
    pen = f'<path fill="none" stroke="{room.ink}" stroke-width="{BAR:g}" d="{tie}"/>'
    return pen, block.labels(box.x0, box.y0, room.paper)


def _hidden(ladder: Ladder, plane: Plane, room: Room, sled_kg: float, comma: bool) -> tuple[str, list[Label]]:
    """Return where a hidden load stands, with its limits as a bar on the floor."""
    if ladder.mystery is None:
        return "", []
    told = [
        m for m in (ladder.mystery.kinetic, ladder.mystery.static) if m is not None and m.value is not None
    ]
    if not told or told[0].limits is None or not 0 < (told[0].value or 0.0) < 1.05 * plane.most_N:
        return "", []
    low, high = told[0].limits
    x0, x1 = (min(max(plane.x(n), LEFT), float(WIDTH)) for n in (low or 0.0, high or plane.most_N))
    x = plane.x(told[0].value or 0.0)
    pen = (
        f'<path stroke="{room.ink}" stroke-width="3" stroke-dasharray="10 8" d="M{x:.1f},{CEILING + 34:g}V{FLOOR:g}"/>'
        f'<path stroke="{room.ink}" stroke-width="8" d="M{x0:.1f},{FLOOR:g}H{x1:.1f}"/>'
    )
    text = f"hidden load {plus_minus(in_kilograms(told[0], ladder.g_m_s2, sled_kg), comma=comma, short=True)}"
    word = Label(
        text=text, x=x, y=CEILING + 26, size=EDGE_WORD, colour=room.ink, anchor="middle", halo=room.paper
    )
    shift = max(0.0, LEFT + 8 - word.box.x0) - max(0.0, word.box.x1 - WIDTH + 8)
    return pen, [
        Label(
            text=text,
            x=x + shift,
            y=word.y,
            size=EDGE_WORD,
            colour=room.ink,
            anchor="middle",
            halo=room.paper,
        )
    ]


def _along_lines(ladder: Ladder, plane: Plane, taken: Sequence[Box], room: Room, comma: bool) -> str:
    drawn = [line for line in ladder.lines if line.slope.value is not None]
    return "".join(
        along(
            f"{line.series} {plus_minus(line.slope, comma=comma)}", line, plane, taken, drawn,
            below=line.series == "kinetic", colour=_colour(line.series, room), halo=room.paper,
        )
        for line in drawn
    )  # fmt: skip


def _wrong(ladder: Ladder, comma: bool) -> list[str]:
    """Return what is wrong and its fix, and the names of what else was seen."""
    if not ladder.diagnoses:
        return [NOTHING_WRONG]
    first, *more = ladder.diagnoses
    names = [one.name for one in more if one.name not in first.rivals]
    also = [f"Also: {', '.join(names)}."] if names else []
    return [diagnosis_sentence(first, ladder, comma=comma), *also, fix_sentence(first)]


def _foot(ladder: Ladder, room: Room, comma: bool) -> tuple[str, list[Label]]:
    """Return the diagnosis under the paper, and the two slips: for the room, and for a colleague."""
    said = " ".join(_wrong(ladder, comma))
    labels = _fitted(said, 40.0, SAID_TOP, SAID_WIDTH, SAID_SIZES, STRONG, room)
    slips = "".join(
        f'<path fill="{room.paper}" d="M{left},{SLIPS_TOP:g}H{right}V{HEIGHT}H{left}Z"/>'
        for left, right in ((40, 620), (640, WIDTH))
    )
    law = law_sentence(ladder, comma=comma)
    labels += _fitted(law, 56.0, SLIPS_TOP + 6, 556.0, ((EDGE_WORD, 3), (DESK, 3)), TEXT, room)
    labels += _fitted(
        statistics_sentence(ladder, comma=comma), 656.0, SLIPS_TOP + 6, 608.0, ((DESK, 3),), TEXT, room
    )
    return slips, labels


def _fitted(
    text: str, x: float, y: float, width: float, sizes: Sequence[tuple[int, int]], weight: int, room: Room
) -> list[Label]:
    """Return text in the largest size that takes few enough lines; the smallest is cut to them."""
    for size, most in sizes:
        lines = balanced(text, width, size, weight)
        if len(lines) <= most:
            break
    else:
        lines = [*lines[: most - 1], cut(" ".join(lines[most - 1 :]), width, size, weight)]
    return Block(tuple(Line(line, size, weight, room.ink) for line in lines)).labels(x, y, None)
