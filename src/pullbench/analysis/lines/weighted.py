"""One load line: loads weighed as rungs, the scatter between pulls found with the line and put into its limits.

Pulls at one load carry the same tins, so they share the load's error: their weighted mean is one rung, and the
line is drawn through the rungs (York).  A pull strays from its rung by its own doubt and by a share of the
force that differs from pull to pull; that share is where the weighted squares add up to their expectation,
pulls less two (the estimate of Paule and Mandel, J. Res. NBS 87, 377 (1982), taken over to a line).  Limits
then take Student's t with the same degrees of freedom, because the scatter is known no better than that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from pullbench.analysis.lines.falling import falls_to
from pullbench.analysis.lines.york import York, york
from pullbench.model import FloatArray, LoadedPull, Series

USUAL_SCATTER = 0.04  # between pulls, of the force: what repeats usually show
LEAST_FORCE = 0.05  # of the largest: below it a share of the force says nothing of the scatter
LEAST_DOUBT = 1e-7  # of the largest force: readings without any scatter keep a finite weight
SAME_LOAD = 1e-6  # of the largest load
ROUNDS, SETTLED = 60, 1e-11


@dataclass(frozen=True, slots=True, eq=False)
class Points:
    """One series as arrays, shape (n,): normal force, force, own doubt, and which rung each pull stands on.

    rungs_N, u_rungs_N: shape (loads,).
    """

    normal_N: FloatArray
    force_N: FloatArray
    own_N: FloatArray
    rung: npt.NDArray[np.intp]
    rungs_N: FloatArray
    u_rungs_N: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """A fitted series: the line and the scatter between pulls.

    scatter: as a share of the force.  scatter_N: the same newtons for every pull.  sd_N: each pull's standard
    deviation, shape (n,).  within: weighted squares of the pulls about their rungs.  kinds: how much of the
    scatter's variance may be the same newtons at every load, each with its odds (they add up to 1).
    """

    points: Points
    line: York
    scatter: float
    scatter_N: float
    sd_N: FloatArray
    within: float
    kinds: tuple[tuple[float, float], ...]

    @property
    def dof(self) -> int:
        """Return pulls less two."""
        return self.points.force_N.size - 2


def points_of(pulls: Sequence[LoadedPull], series: Series) -> Points | None:
    """Return the pulls that tell this force and are not set aside, or None when they stand on fewer than two loads."""
    told = [pull for pull in pulls if pull.force_N(series) is not None and pull.set_aside is None]
    if not told:
        return None
    normal = np.array([pull.normal_N for pull in told])
    force = np.array([pull.force_N(series) for pull in told], dtype=np.float64)
    own = np.array([pull.u_force_N(series) for pull in told])
    rung, rungs = rungs_of(normal)
    if rungs.size < 2:
        return None
    doubt = np.array([pull.u_normal_N for pull in told])
    least = LEAST_DOUBT * float(np.max(np.abs(force)))
    return Points(
        normal_N=rungs[rung],
        force_N=force,
        own_N=np.maximum(own, least or 1.0),
        rung=rung,
        rungs_N=rungs,
        u_rungs_N=np.array([float(doubt[rung == k].max()) for k in range(rungs.size)]),
    )


def rungs_of(normal_N: FloatArray) -> tuple[npt.NDArray[np.intp], FloatArray]:
    """Return for each pull its rung, and the rungs' normal forces, rising; equal loads are one rung."""
    order = np.argsort(normal_N, kind="stable")
    near = SAME_LOAD * float(normal_N.max())
    steps = np.diff(normal_N[order], prepend=normal_N[order[0]]) > near
    rung = np.empty(normal_N.size, dtype=np.intp)
    rung[order] = np.cumsum(steps)
    rungs = np.array([float(normal_N[rung == k].mean()) for k in range(int(rung.max()) + 1)])
    return rung, rungs


def fit_alike(points: Points, *, even: float) -> Fit:
    """Return the line through the rungs together with the scatter between pulls, for one kind of scatter.

    even: how much of the scatter's variance is the same at every load; the rest is a share of the force.  Weights
    follow the fitted force, not the read one: a pull that happens to be low must not weigh more.
    """
    square = USUAL_SCATTER**2
    pulled = np.maximum(points.normal_N, LEAST_FORCE * points.normal_N.max())
    size_N = sizes_N(pulled * float(np.mean(points.force_N / pulled)), even)
    line, within = _line(points, np.hypot(points.own_N, USUAL_SCATTER * size_N))
    for _ in range(ROUNDS):
        size_N = sizes_N(line.intercept + line.slope * points.normal_N, even)
        found = _scatter_square(points, line, size_N, square)
        before = (line.slope, line.intercept)
        line, within = _line(points, np.sqrt(points.own_N**2 + found * size_N**2))
        settled = (
            abs(line.slope - before[0]) < SETTLED * abs(line.slope) and abs(found - square) < SETTLED * square
        )
        square = found
        if settled:
            break
    middle_N = float(np.mean(np.abs(points.force_N)))
    return Fit(
        points, line, math.sqrt((1 - even) * square), math.sqrt(even * square) * middle_N,
        np.sqrt(points.own_N**2 + square * size_N**2), within, ((even, 1.0),),
    )  # fmt: skip


def sizes_N(drawn_N: FloatArray, even: float) -> FloatArray:
    """Return what the scatter is a share of, for each pull: the fitted force, or in part the middle of them."""
    size = np.maximum(np.abs(drawn_N), LEAST_FORCE * np.max(np.abs(drawn_N)))
    sizes: FloatArray = np.sqrt((1 - even) * size**2 + even * size.mean() ** 2)
    return sizes


def _line(points: Points, sd_N: FloatArray) -> tuple[York, float]:
    """Return the line through the rungs, and the weighted squares of the pulls about their rungs."""
    weight = 1 / sd_N**2
    count = points.rungs_N.size
    total = np.bincount(points.rung, weight, count)
    mean = np.bincount(points.rung, weight * points.force_N, count) / total
    within = float(weight @ (points.force_N - mean[points.rung]) ** 2)
    return york(points.rungs_N, mean, points.u_rungs_N, 1 / np.sqrt(total)), within


def _scatter_square(points: Points, line: York, size_N: FloatArray, start: float) -> float:
    """Return the square of the scatter at which the weighted squares add up to pulls less two; 0 if never."""
    dof = points.force_N.size - 2
    if dof < 1:
        return USUAL_SCATTER**2
    count = points.rungs_N.size
    from_load = (line.slope * points.u_rungs_N) ** 2
    off_line = points.force_N - line.intercept - line.slope * points.normal_N

    def squares(square: float) -> float:
        weight = 1 / (points.own_N**2 + square * size_N**2)
        total = np.bincount(points.rung, weight, count)
        mean = np.bincount(points.rung, weight * off_line, count) / total
        within = float(weight @ (off_line - mean[points.rung]) ** 2)
        return within + float(np.sum(mean**2 / (1 / total + from_load)))

    if squares(0.0) <= dof:
        return 0.0
    low, high = 0.0, max(start, 1e-12)
    while squares(high) > dof:
        low, high = high, 4 * high
    return falls_to(squares, float(dof), low, high)
