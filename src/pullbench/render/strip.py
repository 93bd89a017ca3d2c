"""One pull on its strip: the whole line, its phases, its two results, and flags under it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.model import Pull
from pullbench.render.flags import Flag, drawn_flags, hung
from pullbench.render.ink import Axes, Drawn, drawn_pull, path, points, runs, take_ground
from pullbench.render.labels import Box, Ground, Label
from pullbench.render.lettering import clean
from pullbench.render.marks import (
    Said,
    bound,
    drawn_static,
    kinetic_label,
    kinetic_spot,
    level_ends,
    level_line,
    saw_lines,
    static_label,
    static_spot,
    take_marks,
)
from pullbench.render.paper import STRIP, grid_for, grid_labels, hole_step_s, holes, paper, strip_axes
from pullbench.render.phases import phase_words, texture_of
from pullbench.render.tokens import LINE, Room
from pullbench.render.wording import pull_scale, stick_slip_words

REST_SHOWN = 0.14  # of the pull's length, on each side
LEAST_SHOWN = 0.05  # of the pull's length: a mark at the very edge could not be seen
HEADROOMS = (32.0, 60.0, 96.0, 132.0)  # tried in turn until all is said in large letters
BEST = 7


@dataclass(frozen=True, slots=True)
class Strip:
    """A laid-out strip: its drawing, its words, its axes, and the trace it shows."""

    parts: tuple[str, ...]
    labels: tuple[Label, ...]
    flag_boxes: tuple[Box, ...]
    axes: Axes
    drawn: Drawn
    unsaid: tuple[str, ...] = ()  # reasons for which there was no place


def lay_strip(pull: Pull, room: Room, *, comma: bool = False) -> Strip:
    """Return the strip of one pull, laid out so that both results stand beside where they were measured."""
    best = None
    for headroom in HEADROOMS:
        strip, worth = _try(pull, room, headroom, comma, anywhere=headroom == HEADROOMS[-1])
        if best is None or worth > best[0]:
            best = (worth, strip)
        if worth == BEST:
            break
    assert best is not None
    return best[1]


def shown_s(pull: Pull, drawn: Drawn) -> tuple[float, float]:
    """Return the stretch of time on the strip: the pull with some of the rest on both sides."""
    start, end = pull.window.start_s, pull.window.end_s
    marks = [t for t in (pull.breakaway.time_s, pull.plateau.start_s, pull.plateau.end_s) if t is not None]
    start, end = min([start, *marks]), max([end, *marks])
    length = max(end - start, 1e-6)
    first, last = (float(drawn.time_s[0]), float(drawn.time_s[-1])) if drawn.time_s.size else (start, end)
    t0 = max(first, start - REST_SHOWN * length)
    t1 = min(last, end + REST_SHOWN * length)
    return min(t0, start), max(t1, end, min(t0, start) + 1e-6)


def _try(pull: Pull, room: Room, headroom: float, comma: bool, *, anywhere: bool) -> tuple[Strip, int]:
    """Return the strip with this headroom, and its worth: both results written, all in large, all said."""
    drawn = drawn_pull(pull)
    t0, t1 = shown_s(pull, drawn)
    axes = strip_axes(drawn, t0, t1, top_N=_top_N(pull, drawn.between(t0, t1)), headroom=headroom)
    pieces = runs(drawn.between(t0, t1), axes)
    ground = Ground(STRIP)
    take_ground(ground, pieces)
    textures = [texture_of(phase, pull, axes, ground, room) for phase in pull.phases]
    static, kinetic = static_spot(pull, axes, ground), kinetic_spot(pull, axes)
    take_marks(ground, pull, axes, static, kinetic)
    said_static = static_label(pull, static, ground, room, comma=comma, anywhere=anywhere)
    grid = grid_for(axes.units_per_N, axes.zero_y - STRIP.y0, pull_scale(pull))
    numbers = grid_labels(axes, grid, room, ground, comma=comma)
    words = phase_words(pull, axes, ground, room)
    said_kinetic = kinetic_label(pull, kinetic, ground, room, comma=comma)
    flags = _flags(pull, axes)
    boxes = hung(flags)
    cloths, flag_words = drawn_flags(flags, boxes, room)
    parts = [paper(axes, grid, room), holes(axes, hole_step_s(axes), room), *textures]
    if kinetic:
        parts += [level_line(pull, kinetic, axes, room), saw_lines(pull, kinetic, axes, room)]
    parts += [path(pieces, room), points(pieces, room, LINE)]
    parts += [level_ends(kinetic, room)] if kinetic else []
    parts += [said_static.leader, said_kinetic.leader]
    parts += [drawn_static(pull, static, axes, room)] if static else []
    labels = (*said_static.labels, *said_kinetic.labels, *words, *numbers, *flag_words)
    unsaid = _unsaid(pull, said_static, said_kinetic, comma)
    said = (said_static, said_kinetic)
    reasons = not any(not sentence.startswith("Stick-slip") for sentence in unsaid)
    worth = 4 * all(one.labels for one in said) + 2 * all(one.large for one in said) + reasons
    return Strip((*parts, cloths), labels, tuple(boxes), axes, drawn, unsaid), worth


def _unsaid(pull: Pull, said_static: Said, said_kinetic: Said, comma: bool) -> tuple[str, ...]:
    """Return as sentences the reasons and the stick-slip that found no place on the strip."""
    results = (("Static", pull.breakaway.force, said_static), ("Kinetic", pull.plateau.force, said_kinetic))
    reasons = []
    for name, force, said in results:
        reason = clean(force.reason or "").rstrip(".")
        if reason and reason not in " ".join(label.text for label in said.labels):
            reasons.append(f"{name}: {reason}.")
    saw = stick_slip_words(pull, comma=comma)
    if saw and saw not in " ".join(label.text for label in said_kinetic.labels):
        reasons.append(f"Stick-slip: {saw}.")
    return tuple(reasons)


def _flags(pull: Pull, axes: Axes) -> list[Flag]:
    marks = [
        (pull.breakaway.time_s, "breakaway", True),
        (pull.plateau.start_s, "slides from", False),
        (pull.plateau.end_s, "slides to", True),
    ]
    return [Flag(word, axes.x(time), left) for time, word, left in marks if time is not None]


def _top_N(pull: Pull, seen: Drawn) -> float:
    """Return the highest force the strip has to show: the line's, or a result drawn above it."""
    highest = float(np.max(seen.force_N)) if seen.force_N.size else 0.0
    results = [bound(pull.breakaway.force), bound(pull.plateau.force)]
    return max([highest, *(number for number in results if number is not None)])
