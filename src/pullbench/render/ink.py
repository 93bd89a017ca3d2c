"""The inked line: a recording drawn small, whatever its rate, without losing an extreme."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pullbench.model import FloatArray, Pull, Trace
from pullbench.render.labels import Ground
from pullbench.render.tokens import LINE, Room

SPARSE = 12.0  # samples this far apart in the picture are shown as points of ink as well


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """Time and force to picture units: t0_s at x0, t1_s at x1, 0 N at zero_y, force upward."""

    t0_s: float
    t1_s: float
    x0: float
    x1: float
    zero_y: float
    units_per_N: float

    def x(self, time_s: float) -> float:
        """Return where a time lies."""
        return self.x0 + (time_s - self.t0_s) / (self.t1_s - self.t0_s) * (self.x1 - self.x0)

    def y(self, force_N: float) -> float:
        """Return where a force lies."""
        return self.zero_y - force_N * self.units_per_N


@dataclass(frozen=True, slots=True)
class Drawn:
    """Times (s) and forces (N, rest line taken off, along the pull), shape (n,); where the line is cut."""

    time_s: FloatArray
    force_N: FloatArray
    gaps_s: tuple[tuple[float, float], ...] = ()

    def between(self, start_s: float, end_s: float) -> Drawn:
        """Return the samples from start to end, with one more on each side so that the line runs through."""
        first = max(0, int(np.searchsorted(self.time_s, start_s)) - 1)
        last = int(np.searchsorted(self.time_s, end_s, side="right")) + 1
        return Drawn(self.time_s[first:last], self.force_N[first:last], self.gaps_s)


@dataclass(frozen=True, slots=True)
class Run:
    """An unbroken piece of line in picture units: x rising, shape (n,)."""

    x: FloatArray
    y: FloatArray


def drawn_trace(trace: Trace, rest_N: float, direction: int) -> Drawn:
    """Return a recording as it is drawn: rest reading off, the pull upward."""
    gaps = tuple((flaw.start_s, flaw.end_s) for flaw in trace.flaws if flaw.kind == "gap")
    return Drawn(trace.time_s, direction * (trace.force_N - rest_N), gaps)


def drawn_pull(pull: Pull) -> Drawn:
    """Return the trace of one pull as it is drawn."""
    rest_N = pull.rest_reading.value or 0.0
    return drawn_trace(pull.window.trace, rest_N, pull.window.direction)


def runs(drawn: Drawn, axes: Axes) -> list[Run]:
    """Return the line in pieces, cut at gaps; in each picture column only first, extremes and last."""
    cuts = sorted({int(np.searchsorted(drawn.time_s, (start + end) / 2)) for start, end in drawn.gaps_s})
    edges = [0, *(c for c in cuts if 0 < c < drawn.time_s.size), drawn.time_s.size]
    scale = (axes.x1 - axes.x0) / (axes.t1_s - axes.t0_s)
    pieces = []
    for first, last in pairwise(edges):
        x = axes.x0 + (drawn.time_s[first:last] - axes.t0_s) * scale
        y = axes.zero_y - drawn.force_N[first:last] * axes.units_per_N
        if x.size:
            pieces.append(_thinned(_within(x, y, axes)))
    return [piece for piece in pieces if piece.x.size]


def path(pieces: list[Run], room: Room, width: float = LINE) -> str:
    """Return the line as one path element; a lone sample is a dot of ink."""
    steps = []
    for piece in pieces:
        points = [f"{x:.1f},{y:.1f}" for x, y in zip(piece.x, piece.y, strict=True)]
        steps.append("M" + " ".join(points if len(points) > 1 else points * 2))
    pen = f'stroke="{room.ink}" stroke-width="{width:g}" stroke-linejoin="round" stroke-linecap="round"'
    return f'<path fill="none" {pen} d="{"".join(steps)}"/>'


def points(pieces: list[Run], room: Room, radius: float) -> str:
    """Return a point of ink on each sample where samples are sparse, so nobody takes the line for data."""
    return "".join(
        f'<circle fill="{room.ink}" cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}"/>'
        for piece in pieces
        if piece.x.size > 1 and (piece.x[-1] - piece.x[0]) / (piece.x.size - 1) >= SPARSE
        for x, y in zip(piece.x, piece.y, strict=True)
    )


def take_ground(ground: Ground, pieces: list[Run], width: float = LINE) -> None:
    """Mark the columns of the line as taken, half its own thickness included."""
    for piece in pieces:
        first, last = math.ceil(piece.x[0]), math.floor(piece.x[-1])
        edges = np.arange(max(first, 0), min(last, ground.top.size) + 1, dtype=np.float64)
        x = np.concatenate([piece.x, edges, edges])
        y = np.concatenate([piece.y, *(2 * [np.interp(edges, piece.x, piece.y)])])
        shift = np.concatenate([np.zeros(piece.x.size + edges.size), np.ones(edges.size)])
        column = np.clip(np.floor(x - shift), 0, ground.top.size - 1).astype(np.intp)
        np.fmin.at(ground.top, column, y - width / 2)
        np.fmax.at(ground.bottom, column, y + width / 2)


def _within(x: FloatArray, y: FloatArray, axes: Axes) -> Run:
    """Return the line inside x0..x1, ending exactly there where it runs through."""
    inside = (x >= axes.x0) & (x <= axes.x1)
    ends = np.array([edge for edge in (axes.x0, axes.x1) if x[0] < edge < x[-1]])
    together = np.concatenate([x[inside], ends])
    order = np.argsort(together, kind="stable")
    return Run(together[order], np.concatenate([y[inside], np.interp(ends, x, y)])[order])


def _thinned(run: Run) -> Run:
    """Return a run with at most four points per column of one unit: first, lowest, highest, last."""
    column = np.floor(run.x)
    starts = np.flatnonzero(np.diff(column, prepend=-math.inf))
    if run.x.size <= 4 * starts.size:
        return run
    ends = np.append(starts[1:], run.x.size)
    kept = {int(i) for i in (*starts, *(ends - 1))}
    for first, last in zip(starts, ends, strict=True):
        kept |= {int(first + np.argmin(run.y[first:last])), int(first + np.argmax(run.y[first:last]))}
    chosen = np.array(sorted(kept))
    return Run(run.x[chosen], run.y[chosen])
