"""Results on one ruler: a row each with its name, its limits as a hatched band, its value a point on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from pullbench.model import Measured
from pullbench.render.heading import heading
from pullbench.render.labels import Block, Label, Line
from pullbench.render.lettering import balanced, cut
from pullbench.render.paper import grid_for, grid_forces, grid_word
from pullbench.render.rounding import Scale, plus_minus
from pullbench.render.sheet import picture
from pullbench.render.textures import fill
from pullbench.render.tokens import (
    DESK,
    EDGE_WORD,
    LINE,
    MARK,
    ROOMS,
    RULE,
    STRONG,
    TEXT,
    WIDTH,
    Room,
    RoomName,
)

TOP, FOOT_ROOM, NAME_X, POINT, TRIAL = 66.0, 48.0, 24.0, 9.0, 5.0
SAID_X, GAP = 40.0, 12.0
Kind = Literal["static", "kinetic", "all"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RulerRow:
    """One row.  trials: single readings drawn as small marks; holds: those at which it stayed, open.

    text: words in place of the result's own, where its doubt is not known.
    """

    name: str
    kind: Kind
    told: Measured
    trials: tuple[float, ...] = ()
    holds: tuple[float, ...] = ()
    text: str | None = None


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where the ruler lies on the paper, in picture units.  most: the number at its right end."""

    most: float
    width: float = WIDTH
    left: float = 330.0
    right: float = 930.0
    row: float = 52.0
    stacked: bool = False  # a row's words stand over its band, not on either side of it

    def x(self, value: float) -> float:
        return self.left + min(max(value / self.most, 0.0), 1.0) * (self.right - self.left)


def ruler_svg(
    rows: Sequence[RulerRow], said: Sequence[str], *, title: str, room: RoomName, label: str | None, comma: bool,
    in_page: bool = False, narrow: bool = False,
) -> str:  # fmt: skip
    """Return rows on one ruler and the sentences under them, as an SVG that grows with its rows.

    narrow: for a phone, half as wide, the words of a row over its band.  The same arguments give the same bytes.
    """
    colours, most = ROOMS[room], _most(rows)
    frame = _Frame(most, 600.0, NAME_X, 560.0, 92.0, stacked=True) if narrow else _Frame(most)
    top, labels = heading(title, None, label, colours)
    floor = TOP + frame.row * len(rows) + 10
    parts = [top, _paper(frame, floor, rows, colours, labels, comma)]
    for place, row in enumerate(rows):
        middle = TOP + frame.row * (place + 0.5) + 5
        parts.append(_row(row, middle, frame, colours, labels, comma))
    y = floor + FOOT_ROOM + GAP
    for sentence in said:
        lines = balanced(sentence, frame.width - 2 * SAID_X, EDGE_WORD, TEXT)
        block = Block(tuple(Line(line, EDGE_WORD, TEXT, colours.ink) for line in lines))
        labels += block.labels(SAID_X, y, None)
        y += block.height + GAP
    drawing = "".join([*parts, *(word.svg() for word in labels)])
    return picture(
        drawing, math.ceil(y + GAP), colours, title, " ".join(said), in_page=in_page, width=round(frame.width)
    )


def _most(rows: Sequence[RulerRow]) -> float:
    """Return the right end: the largest value or limit, but limits of few readings may leave the paper."""
    points = [v for row in rows for v in (row.told.value, *row.trials, *row.holds) if v is not None]
    highest = max(points, default=1.0) or 1.0
    ends = [high for row in rows for high in (row.told.limits or ())[1:] if high is not None]
    return 1.1 * max(highest, min(1.6 * highest, max(ends, default=0.0)))


def _paper(
    frame: _Frame, floor: float, rows: Sequence[RulerRow], room: Room, labels: list[Label], comma: bool
) -> str:
    unit = next((row.told.unit for row in rows if row.told.unit != "1"), "")
    grid = grid_for((frame.right - frame.left) / frame.most, frame.right - frame.left, Scale(unit, 1.0))
    parts = [
        f'<rect fill="{room.paper}" x="0" y="{TOP:g}" width="{frame.width:g}" height="{floor + FOOT_ROOM - TOP:.1f}"/>'
    ]
    for number in (0.0, *grid_forces(grid, grid.step_N, frame.most)):
        x = frame.x(number)
        word = "0" if number == 0 else grid_word(grid, number, comma=comma).strip()
        parts.append(f'<path stroke="{room.grid_strong}" stroke-width="2" d="M{x:.1f},{TOP:g}V{floor:.1f}"/>')
        labels.append(Label(text=word, x=x, y=floor + 30, size=DESK, colour=room.soft, anchor="middle"))
    return (
        "".join(parts)
        + f'<path stroke="{room.edge}" stroke-width="{RULE:g}" d="M0,{floor:.1f}H{frame.width:g}"/>'
    )


def _row(row: RulerRow, y: float, frame: _Frame, room: Room, labels: list[Label], comma: bool) -> str:
    colour = {"static": room.static, "kinetic": room.kinetic}.get(row.kind, room.ink)
    y = _words(row, y, frame, labels, colour, comma)
    parts = [_band(row, y, frame, room, colour)]
    parts += [_trial(value, y + 16, frame, colour, colour) for value in row.trials]
    parts += [_trial(value, y + 16, frame, room.paper, colour) for value in row.holds]
    return "".join(parts)


def _words(row: RulerRow, y: float, frame: _Frame, labels: list[Label], colour: str, comma: bool) -> float:
    """Write a row's name and result, and return the height of its band's middle."""
    said = row.text or plus_minus(row.told, comma=comma, short=True)
    if frame.stacked:
        text = cut(f"{row.name}  {said}", frame.width - 2 * NAME_X, EDGE_WORD, STRONG)
        labels.append(Label(text=text, x=NAME_X, y=y - 16, size=EDGE_WORD, weight=STRONG, colour=colour))
        return y + 14
    value_x = frame.right + 16
    name = cut(row.name, frame.left - NAME_X - 16, DESK, STRONG)
    labels.append(Label(text=name, x=NAME_X, y=y + 8, size=DESK, weight=STRONG, colour=colour))
    text = cut(said, frame.width - value_x - 12, DESK, STRONG)
    labels.append(Label(text=text, x=value_x, y=y + 8, size=DESK, weight=STRONG, colour=colour))
    return y


def _trial(value: float, y: float, frame: _Frame, inside: str, colour: str) -> str:
    rim = f'stroke="{colour}" stroke-width="2"'
    return f'<circle fill="{inside}" {rim} cx="{frame.x(value):.1f}" cy="{y:.1f}" r="{TRIAL:g}"/>'


def _band(row: RulerRow, y: float, frame: _Frame, room: Room, colour: str) -> str:
    """Return the limits, open to the right for a lower bound, and the value on them."""
    told = row.told
    if told.value is None:
        return ""
    low, high = told.limits or (None, None)
    x0, x1 = frame.x(low or 0.0), frame.x(frame.most if high is None else high)
    paint = room.grid if row.kind == "all" else fill(room, f"{row.kind}-band")
    rim = f'stroke="{colour}" stroke-width="2"'
    band = f'<rect fill="{paint}" {rim} x="{x0:.1f}" y="{y - 16:.1f}" width="{x1 - x0:.1f}" height="32"/>'
    if told.limits is None:
        band = ""
    x = frame.x(told.value)
    line = f'<path stroke="{colour}" stroke-width="{LINE:g}" d="M{x:.1f},{y - 18:.1f}v36"/>'
    if row.kind == "static":
        return f'{band}{line}<circle fill="{colour}" cx="{x:.1f}" cy="{y:.1f}" r="{POINT:g}"/>'
    edge = f'stroke="{room.paper}" stroke-width="{MARK / 2:g}"'
    return f'{band}{line}<path fill="{colour}" {edge} d="M{x:.1f},{y - 10:.1f}l10,10l-10,10l-10,-10Z"/>'
