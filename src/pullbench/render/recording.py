"""A whole recording as one strip with its pulls numbered, then one Pull sheet per pull under it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from pullbench.model import Pull, Trace
from pullbench.render.heading import heading
from pullbench.render.ink import Axes, Drawn, Run, drawn_pull, drawn_trace, path, runs, take_ground
from pullbench.render.labels import Block, Box, Ground, Label, Line
from pullbench.render.lettering import cut
from pullbench.render.marks import bound, ring_or_point
from pullbench.render.paper import (
    STRIP,
    grid_for,
    grid_labels,
    hole_step_s,
    hole_words,
    holes,
    paper,
    strip_axes,
)
from pullbench.render.rounding import Scale, plus_minus, scale_for
from pullbench.render.sheet import describe, picture, pull_sheet_svg, sheet
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

HEADROOM = 96.0
LIST_TOP, ROW, GAP = 410.0, 44.0, 24
COLUMNS = (40.0, 110.0, 560.0, 980.0)
THIN = 3.0


def recording_svg(
    pulls: Sequence[Pull],
    *,
    title: str,
    recording: Trace | None = None,
    room: RoomName = "light",
    label: str | None = None,
    comma: bool = False,
) -> str:
    """Return a recording's pulls as one picture: the whole strip with each pull's numbers, then the sheets.

    recording: all samples; without it the strip shows the pulls' own windows and bare paper between them.
    A recording of one pull is that pull's sheet alone. No pull and no recording gives an empty strip.
    """
    if len(pulls) == 1:
        return pull_sheet_svg(pulls[0], title=title, room=room, label=label, comma=comma)
    colours = ROOMS[room]
    drawing, height = _overview(pulls, title, recording, colours, label, comma)
    parts = [drawing]
    table = f'<rect fill="{colours.table}" width="{WIDTH}" height="{HEIGHT + 8}"/>'
    for number, pull in enumerate(pulls, 1):
        name = f"Pull {number}"
        parts.append(
            f'<g transform="translate(0 {height})">{table}{sheet(pull, name, colours, label, comma)}</g>'
        )
        height += HEIGHT
    told = " ".join(f"Pull {n}: {describe(pull, comma)}" for n, pull in enumerate(pulls, 1))
    return picture("".join(parts), height, colours, title, told or "No pull in this recording.")


def _overview(
    pulls: Sequence[Pull], title: str, recording: Trace | None, room: Room, label: str | None, comma: bool
) -> tuple[str, int]:
    traces = _traces(pulls, recording)
    axes = _axes(traces)
    grid = grid_for(axes.units_per_N, axes.zero_y - STRIP.y0, _scale(pulls))
    ground = Ground(STRIP)
    pieces: list[Run] = [piece for drawn in traces for piece in runs(drawn, axes)]
    take_ground(ground, pieces, THIN)
    top, labels = heading(title, None, label, room)
    marks = [_mark(pull, axes, ground, room) for pull in pulls]
    for number, pull in enumerate(pulls, 1):
        labels += _numbers(number, pull, axes, ground, room, comma)
    labels += grid_labels(axes, grid, room, ground, comma=comma)
    note = hole_words(hole_step_s(axes), comma=comma)
    labels.append(Label(text=note, x=WIDTH - 16, y=384, size=DESK, colour=room.soft, anchor="end"))
    rows = _list(pulls, room, comma)
    height = math.ceil(LIST_TOP + ROW * max(1, len(pulls)) + GAP)
    strip = [paper(axes, grid, room), holes(axes, hole_step_s(axes), room), path(pieces, room, THIN), *marks]
    return "".join([top, *strip, *(word.svg() for word in [*labels, *rows])]), height


def _traces(pulls: Sequence[Pull], recording: Trace | None) -> list[Drawn]:
    """Return the recording as one line or, without it, the pulls' windows, none shown twice."""
    if recording is not None and recording.time_s.size:
        rests = [pull.rest_reading.value for pull in pulls if pull.rest_reading.value is not None]
        turned = sum(pull.window.direction for pull in pulls) < 0
        return [drawn_trace(recording, float(np.median(rests)) if rests else 0.0, -1 if turned else 1)]
    drawn, shown_until_s = [], -math.inf
    for pull in sorted(pulls, key=lambda pull: pull.window.start_s):
        one = drawn_pull(pull)
        fresh = one.time_s > shown_until_s
        if fresh.any():
            drawn.append(Drawn(one.time_s[fresh], one.force_N[fresh], one.gaps_s))
            shown_until_s = float(one.time_s[-1])
    return drawn


def _axes(traces: Sequence[Drawn]) -> Axes:
    time_s = np.concatenate([drawn.time_s for drawn in traces]) if traces else np.array([0.0, 1.0])
    force_N = np.concatenate([drawn.force_N for drawn in traces]) if traces else np.array([0.0, 1.0])
    t0, t1 = float(time_s[0]), float(time_s[-1])
    whole = Drawn(time_s, force_N)
    return strip_axes(whole, t0, max(t1, t0 + 1e-6), top_N=float(force_N.max()), headroom=HEADROOM)


def _mark(pull: Pull, axes: Axes, ground: Ground, room: Room) -> str:
    moment, number = pull.breakaway.time_s, bound(pull.breakaway.force)
    if moment is None or number is None:
        return ""
    x, y = axes.x(moment), max(STRIP.y0 + 10, axes.y(number))
    ground.boxes.append(Box(x - 8, y - 8, x + 8, y + 8))
    return ring_or_point(pull.breakaway.force, x, y, 7.0, room)


def _numbers(number: int, pull: Pull, axes: Axes, ground: Ground, room: Room, comma: bool) -> list[Label]:
    """Return a pull's number over it, with both results under the number where they find room."""
    scale = scale_for(pull.breakaway.force, pull.plateau.force)
    first, last = axes.x(pull.window.start_s), axes.x(pull.window.end_s)
    static = plus_minus(pull.breakaway.force, comma=comma, short=True, scale=scale)
    kinetic = plus_minus(pull.plateau.force, comma=comma, short=True, scale=scale)
    head = Line(str(number), ON_LINE, STRONG, room.ink)
    results = (Line(static, DESK, STRONG, room.static), Line(kinetic, DESK, STRONG, room.kinetic))
    for block in (
        Block((head, *results)),
        Block((head,)),
        Block((Line(str(number), DESK, STRONG, room.ink),)),
    ):
        middle = (first + last - block.width) / 2
        within = Box(
            max(8, middle - 20), STRIP.y0 + 4, min(WIDTH - 8, middle + block.width + 28), axes.zero_y - 4
        )
        box = ground.nearest(block, within, lambda box, aim=middle: box.y0 + abs(box.x0 - aim))  # type: ignore[misc]
        if box is not None:
            ground.boxes.append(box)
            return block.labels(box.x0, box.y0, room.paper)
    return []


def _list(pulls: Sequence[Pull], room: Room, comma: bool) -> list[Label]:
    """Return one line per pull under the strip: number, both results, verdict."""
    if not pulls:
        text = "No pull in this recording."
        return [Label(text=text, x=COLUMNS[0], y=LIST_TOP + 30, size=ON_LINE, weight=STRONG, colour=room.ink)]
    labels = []
    for k, pull in enumerate(pulls):
        scale = scale_for(pull.breakaway.force, pull.plateau.force)
        static = plus_minus(pull.breakaway.force, comma=comma, short=True, scale=scale)
        kinetic = plus_minus(pull.plateau.force, comma=comma, short=True, scale=scale)
        cells = (
            (f"{k + 1}", STRONG, room.ink),
            (f"static {static}", STRONG, room.static),
            (f"kinetic {kinetic}", STRONG, room.kinetic),
            (str(pull.verdict), TEXT, room.ink),
        )
        ends = (*COLUMNS[1:], WIDTH - 24.0)
        for (text, weight, colour), x, end in zip(cells, COLUMNS, ends, strict=True):
            word = cut(text, end - x - 16, EDGE_WORD, weight)
            y = LIST_TOP + ROW * k + 30
            labels.append(Label(text=word, x=x, y=y, size=EDGE_WORD, weight=weight, colour=colour))
    return labels


def _scale(pulls: Sequence[Pull]) -> Scale:
    return scale_for(*(force for pull in pulls for force in (pull.breakaway.force, pull.plateau.force)))
