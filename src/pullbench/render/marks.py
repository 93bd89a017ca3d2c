"""The two results on the strip: a round rust point and a blue level, with their values on the line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.model import Measured, Pull
from pullbench.render.ink import Axes
from pullbench.render.labels import AIR, Block, Box, Ground, Label, Line
from pullbench.render.lettering import advance, balanced
from pullbench.render.paper import STRIP
from pullbench.render.rounding import plus_minus
from pullbench.render.textures import fill
from pullbench.render.tokens import EDGE_WORD, MARK, ON_LINE, STRONG, TEXT, Room
from pullbench.render.wording import kinetic_words, static_words, stick_slip_words

POINT, DIAMOND = 9.0, 10.0
BAND_SEEN = 7.0  # a plus or minus thinner than this is not drawn on the strip, only in the close-up
BESIDE = 44.0  # how far below its point the static maximum may be written
LEADER = 60.0  # words farther than this from their point are tied to it
WHISKER = 34.0  # half the length of the band beside the point
FLAG_TIP_Y = 338.0
FLOOR_ROW = 52.0  # paper kept for the phase words where possible
REASON_WIDTH = 560.0


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a result sits on the strip: a point, or a level from x0 to x1."""

    x0: float
    x1: float
    y: float


@dataclass(frozen=True, slots=True)
class Said:
    """A result in words on the strip, and the line that ties it to its mark if it stands apart."""

    labels: tuple[Label, ...] = ()
    leader: str = ""

    @property
    def large(self) -> bool:
        """Return whether the room can read it from the back row."""
        return bool(self.labels) and self.labels[0].size == ON_LINE


def static_spot(pull: Pull, axes: Axes, ground: Ground) -> Spot | None:
    """Return where the static maximum sits: at its value or bound, else on the line at its moment."""
    moment, force = pull.breakaway.time_s, pull.breakaway.force
    if moment is None or not axes.t0_s <= moment <= axes.t1_s:
        return None
    x = axes.x(moment)
    number = bound(force)
    if number is not None:
        return Spot(x, x, max(STRIP.y0 + 12, axes.y(number)))
    near = slice(max(0, int(x) - 3), int(x) + 4)
    seen = ground.top[near][np.isfinite(ground.top[near])]
    return Spot(x, x, float(seen.min()) if seen.size else axes.zero_y)


def kinetic_spot(pull: Pull, axes: Axes) -> Spot | None:
    """Return where the kinetic level lies, if it has a number and a stretch."""
    plateau, number = pull.plateau, bound(pull.plateau.force)
    if number is None or plateau.start_s is None or plateau.end_s is None:
        return None
    return Spot(axes.x(plateau.start_s), axes.x(plateau.end_s), axes.y(number))


def bound(measured: Measured) -> float | None:
    """Return the number a result is drawn at: its value, or the limit that bounds it."""
    low, high = measured.limits or (None, None)
    if measured.kind == "lower bound" and low is not None:
        return low
    if measured.kind == "upper bound" and high is not None:
        return high
    return measured.value


def drawn_static(pull: Pull, spot: Spot, axes: Axes, room: Room) -> str:
    """Return the filled point of a value, or the open ring of a bound or of what cannot be told."""
    line = f'<path fill="none" stroke="{room.static}" stroke-width="{MARK:g}" stroke-dasharray="2 8"'
    parts = [f'{line} d="M{spot.x0:.1f},{spot.y + POINT:.1f}V{FLAG_TIP_Y:g}"/>']
    parts.append(_band(pull.breakaway.force, spot, axes, fill(room, "static-band"), WHISKER))
    parts.append(ring_or_point(pull.breakaway.force, spot.x0, spot.y, POINT, room))
    return "".join(parts)


def ring_or_point(force: Measured, x: float, y: float, radius: float, room: Room) -> str:
    """Return the mark of the static maximum."""
    place = f'cx="{x:.1f}" cy="{y:.1f}"'
    if force.kind == "value":
        return f'<circle fill="{room.static}" {place} r="{radius:g}"/>'
    ring = f'fill="{room.paper}" stroke="{room.static}" stroke-width="{MARK:g}"'
    return f'<circle {ring} {place} r="{radius:g}"/>'


def level_line(pull: Pull, spot: Spot, axes: Axes, room: Room) -> str:
    """Return the level dashes under the ink, with the band of its plus or minus where that can be seen."""
    band = _band(pull.plateau.force, spot, axes, fill(room, "kinetic-band"), 0.0)
    dashes = f'stroke="{room.kinetic}" stroke-width="{MARK:g}" stroke-dasharray="24 10"'
    return f'{band}<path fill="none" {dashes} d="M{spot.x0:.1f},{spot.y:.1f}H{spot.x1:.1f}"/>'


def saw_lines(pull: Pull, spot: Spot, axes: Axes, room: Room) -> str:
    """Return short level marks at the typical high and low of a stick-slip."""
    saw = pull.stick_slip
    numbers = [] if saw is None else [saw.high.value, saw.low.value]
    dashes = f'fill="none" stroke="{room.kinetic}" stroke-width="2.5" stroke-dasharray="8 8"'
    return "".join(
        f'<path {dashes} d="M{spot.x0:.1f},{axes.y(number):.1f}H{spot.x1:.1f}"/>'
        for number in numbers
        if number is not None
    )


def level_ends(spot: Spot, room: Room) -> str:
    """Return a diamond and a dotted line down to its flag at each end of the level."""
    parts = []
    for x in (spot.x0, spot.x1):
        dots = f'stroke="{room.kinetic}" stroke-width="{MARK:g}" stroke-dasharray="2 8"'
        parts.append(f'<path fill="none" {dots} d="M{x:.1f},{spot.y + DIAMOND:.1f}V{FLAG_TIP_Y:g}"/>')
        turn = f"l{DIAMOND:g},{DIAMOND:g} {-DIAMOND:g},{DIAMOND:g} {-DIAMOND:g},{-DIAMOND:g}z"
        edge = f'stroke="{room.paper}" stroke-width="2"'
        parts.append(f'<path fill="{room.kinetic}" {edge} d="M{x:.1f},{spot.y - DIAMOND:.1f}{turn}"/>')
    return "".join(parts)


def take_marks(ground: Ground, pull: Pull, axes: Axes, static: Spot | None, kinetic: Spot | None) -> None:
    """Mark the places of points, bands, diamonds and dotted lines as taken."""
    low, high = pull.breakaway.force.limits or (None, None)
    if static and low is not None and high is not None and axes.y(low) - axes.y(high) >= BAND_SEEN:
        top, foot = axes.y(high), axes.y(low)
        ground.boxes.append(Box(static.x0 - WHISKER, top, static.x0 + WHISKER, foot))
    ends = [(static.x0, static.y, POINT + 2)] if static else []
    ends += [(x, kinetic.y, DIAMOND + 1) for x in (kinetic.x0, kinetic.x1)] if kinetic else []
    for x, y, radius in ends:
        ground.boxes.append(Box(x - radius, y - radius, x + radius, y + radius))
        ground.boxes.append(Box(x - MARK / 2, y, x + MARK / 2, FLAG_TIP_Y))


def static_label(
    pull: Pull, spot: Spot | None, ground: Ground, room: Room, *, comma: bool, anywhere: bool
) -> Said:
    """Return the static maximum in words beside or above its point, or anywhere; empty without a place."""
    force, words = pull.breakaway.force, static_words(pull, comma=comma)
    blocks = _variants(words, force, pull.static_coefficient, room.static, comma)
    near = spot or _highest(ground)
    floor = STRIP.y1 if anywhere else near.y + BESIDE
    return _set_near(blocks, near, ground, room, room.static if spot else None, floor, below=False)


def kinetic_label(pull: Pull, spot: Spot | None, ground: Ground, room: Room, *, comma: bool) -> Said:
    """Return the kinetic level in words at its level; empty only if no place is free."""
    force, words = pull.plateau.force, kinetic_words(pull, comma=comma)
    blocks = _variants(words, force, pull.kinetic_coefficient, room.kinetic, comma)
    saw = stick_slip_words(pull, comma=comma)
    if saw:
        more = tuple(Line(t, EDGE_WORD, TEXT, room.kinetic) for t in balanced(saw, REASON_WIDTH, EDGE_WORD))
        blocks = [Block((*block.lines, *more)) for block in blocks] + blocks
    near = spot or Spot(STRIP.x1 * 0.55, STRIP.x1 * 0.9, (STRIP.y0 + STRIP.y1) / 2)
    return _set_near(blocks, near, ground, room, room.kinetic if spot else None, STRIP.y1, below=True)


def _variants(
    words: str, force: Measured, coefficient: Measured | None, colour: str, comma: bool
) -> list[Block]:
    """Return the same result said in fewer and fewer lines: with its reason, in the end without."""
    large, small = Line(words, ON_LINE, STRONG, colour), Line(words, EDGE_WORD, STRONG, colour)
    blocks = []
    if coefficient and coefficient.value is not None:
        text = f"coefficient {plus_minus(coefficient, comma=comma)} in this pull"
        blocks.append(Block((large, Line(text, EDGE_WORD, TEXT, colour))))
    if force.reason and force.kind != "value":
        whole = f"{words}, {force.reason.rstrip('.')}"
        if advance(whole, ON_LINE, STRONG) < REASON_WIDTH * 1.6:
            blocks.append(Block((Line(whole, ON_LINE, STRONG, colour),)))
        for width in (REASON_WIDTH, REASON_WIDTH * 0.65):
            reason = balanced(force.reason, width, EDGE_WORD)
            more = tuple(Line(text, EDGE_WORD, TEXT, colour) for text in reason)
            blocks += [Block((large, *more))] if len(reason) <= 3 else []
    return [*blocks, Block((large,)), Block((small,))]


def _set_near(
    blocks: list[Block],
    spot: Spot,
    ground: Ground,
    room: Room,
    leader: str | None,
    floor: float,
    *,
    below: bool,
) -> Said:
    within = Box(STRIP.x0 + 36, STRIP.y0 + 5, STRIP.x1 - 14, min(floor, STRIP.y1 - 40))
    for block in blocks:
        box = ground.nearest(block, within, lambda box: _cost(box, spot, below))
        if box is not None:
            ground.boxes.append(box)
            tie = _leader(box, spot, leader) if leader else ""
            return Said(tuple(block.labels(box.x0, box.y0, room.paper)), tie)
    return Said()


def _leader(box: Box, spot: Spot, colour: str) -> str:
    """Return a thin line from words to what they belong to, where they could not stand beside it."""
    x = min(max((box.x0 + box.x1) / 2, spot.x0), spot.x1)
    near_x, near_y = min(max(x, box.x0), box.x1), min(max(spot.y, box.y0), box.y1)
    beside_level = spot.x0 < spot.x1 and near_x == x
    if beside_level or box.distance(x, spot.y) < (LEADER if spot.x0 == spot.x1 else POINT):
        return ""
    steps = f"M{near_x:.1f},{near_y:.1f}L{x:.1f},{spot.y:.1f}"
    return f'<path fill="none" stroke="{colour}" stroke-width="2" d="{steps}"/>'


def _cost(box: Box, spot: Spot, preferred_below: bool) -> float:
    """Return how ill a box suits a result: far from it, on the wrong side, or on the words' own row."""
    beside = min(max((box.x0 + box.x1) / 2, spot.x0), spot.x1)
    away = box.distance(beside, spot.y)
    to_the_left = 12.0 if box.x1 < spot.x0 else 0.0
    low = max(0.0, box.y1 - (STRIP.y1 - 38 - FLOOR_ROW)) * 3
    above = 70.0 if preferred_below and box.y1 < spot.y else 0.0
    hung = 55.0 - (box.y0 - spot.y) if preferred_below and box.y1 > spot.y else 0.0  # clear of the texture
    spread = 0.04 * abs(box.x0 - spot.x0 - 26) if preferred_below else 0.0
    return away + to_the_left + low + above + 1.5 * max(0.0, hung) + spread


def _highest(ground: Ground) -> Spot:
    column = int(np.nanargmin(ground.top)) if np.isfinite(ground.top).any() else 0
    return Spot(float(column), float(column), float(np.nan_to_num(ground.top[column], nan=STRIP.y1)) - AIR)


def _band(force: Measured, spot: Spot, axes: Axes, paint: str, beyond: float) -> str:
    low, high = force.limits or (None, None)
    if low is None or high is None:
        return ""
    top, foot = max(STRIP.y0, axes.y(high)), min(axes.zero_y, axes.y(low))
    if foot - top < BAND_SEEN:
        return ""
    x0, x1 = max(0.0, spot.x0 - beyond), min(STRIP.x1, spot.x1 + beyond)
    size = f'width="{x1 - x0:.1f}" height="{foot - top:.1f}"'
    return f'<rect fill="{paint}" x="{x0:.1f}" y="{top:.1f}" {size}/>'
