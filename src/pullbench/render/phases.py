"""Phases on the strip: a texture hung under the line, and the word where its stretch has room for it."""

from __future__ import annotations

import numpy as np

from pullbench.model import FloatArray, Phase, Pull
from pullbench.render.ink import Axes
from pullbench.render.labels import Block, Box, Ground, Label, Line
from pullbench.render.paper import STRIP
from pullbench.render.textures import fill
from pullbench.render.tokens import EDGE_WORD, ON_LINE, STRONG, Room

DEPTH = {"loading": 104.0, "settling": 56.0, "sliding": 46.0, "stick-slip": 56.0}
WORDS = {"rest": "rest", "loading": "loading", "transition": "settling", "release": "let go"}
STEP = 3  # columns between the points of a texture's outline


def word_of(phase: Phase, pull: Pull) -> str:
    """Return the room's word for a phase."""
    if phase.name == "kinetic":
        return "stick-slip" if pull.stick_slip else "sliding"
    return WORDS[phase.name]


def texture_of(phase: Phase, pull: Pull, axes: Axes, ground: Ground, room: Room) -> str:
    """Return the texture that hangs under the line along a phase; rest and let go stay bare."""
    word = word_of(phase, pull)
    first, last = max(0.0, axes.x(phase.start_s)), min(axes.x1, axes.x(phase.end_s))
    if word not in DEPTH or last - first < 2:
        return ""
    middle = (ground.top + ground.bottom) / 2
    columns = np.flatnonzero(np.isfinite(middle))
    columns = columns[(columns >= first - 1) & (columns <= last)]
    if columns.size < 2:
        return ""
    x = np.unique(np.clip(np.append(columns[::STEP], columns[-1]) + 0.5, first, last))
    y = np.interp(x, columns + 0.5, middle[columns])
    foot = y + DEPTH[word]
    if word == "sliding":
        foot = np.full(y.size, _level_y(pull, axes, y) + DEPTH[word])
    y = np.minimum(y, axes.zero_y)
    return _hung(x, y, np.clip(foot, y, axes.zero_y), fill(room, word))


def phase_words(pull: Pull, axes: Axes, ground: Ground, room: Room) -> list[Label]:
    """Return the words that fit their stretch, near the paper's foot; each marks its place as taken."""
    labels: list[Label] = []
    for phase in sorted(pull.phases, key=lambda phase: phase.start_s - phase.end_s):
        first, last = max(8.0, axes.x(phase.start_s) + 4), min(axes.x1 - 8, axes.x(phase.end_s) - 4)
        for size in (ON_LINE, EDGE_WORD):
            block = Block((Line(word_of(phase, pull), size, STRONG, room.ink),))
            box = _place(block, first, last, axes, ground)
            if box:
                ground.boxes.append(box)
                labels += block.labels(box.x0, box.y0, room.paper)
                break
    return labels


def _place(block: Block, first: float, last: float, axes: Axes, ground: Ground) -> Box | None:
    foot = axes.zero_y - 9  # letters that reach below their line stay off the ink
    centre = (first + last) / 2
    within = Box(first, max(STRIP.y0 + 4, foot - 110), last, foot)

    def cost(box: Box) -> float:
        return abs((box.x0 + box.x1) / 2 - centre) + 3 * (foot - box.y1)

    return ground.nearest(block, within, cost)


def _level_y(pull: Pull, axes: Axes, y: FloatArray) -> float:
    level = pull.plateau.force.value
    return float(np.median(y)) if level is None else axes.y(level)


def _hung(x: FloatArray, top: FloatArray, foot: FloatArray, paint: str) -> str:
    outline = [*zip(x, top, strict=True), *zip(x[::-1], foot[::-1], strict=True)]
    steps = " ".join(f"{a:.1f},{b:.1f}" for a, b in outline)
    return f'<path fill="{paint}" d="M{steps}Z"/>'
