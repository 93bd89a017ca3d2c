"""One load line: loads weighed as rungs, the scatter between pulls found with the line and put into its limits.

Pulls at one load carry the same tins, so they share the load's error: their weighted mean is one rung, and the
line is drawn through the rungs (York).  A pull strays from its rung by its own doubt and by a share of the
force that differs from pull to pull; that share is where the weighted squares add up to their expectation,
pulls less two (the estimate of Paule and Mandel, J. Res. NBS 87, 377 (1982), taken over to a line).  Limits
then take Student's t with the same degrees of freedom, because the scatter is known no better than that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from pullbench.analysis.lines.york import York, york
from pullbench.analysis.student import coverage_factor, f_upper_p
from pullbench.model import BudgetRow, FloatArray, LoadedPull, LoadLine, Measured, Series, UncertaintyBudget

USUAL_SCATTER = 0.04  # between pulls, of the force: what repeats usually show
LEAST_FORCE = 0.05  # of the largest: below it a share of the force says nothing of the scatter
LEAST_DOUBT = 1e-7  # of the largest force: readings without any scatter keep a finite weight
SAME_LOAD = 1e-6  # of the largest load
ROUNDS, SETTLED = 60, 1e-11
EVEN = (0.1, 0.4, 1.0)  # shares of the variance that is the same at every load, tried beside none
FEWEST_FOR_EVEN, CLEARLY = 8, 2.0  # pulls; twice the log likelihood that it must gain


@dataclass(frozen=True, slots=True, kw_only=True)
class Scales:
    """Doubt that all pulls share, relative: of the force scale and of the load scale, and their correlation.

    A sensor verified with the same masses shares their error (correlation 1): the coefficient is then free
    of it.
    """

    u_force: float = 0.0
    u_load: float = 0.0
    correlation: float = 0.0


NO_SHARED_DOUBT = Scales()


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

    scatter: as a share of the force.  scatter_N: the same newtons for every pull.  even: how much of the variance is
    that, at a pull of middle size.  sd_N: each pull's standard deviation, shape (n,).  within: weighted squares
    of the pulls about their rungs.
    """

    points: Points
    line: York
    scatter: float
    scatter_N: float
    even: float
    sd_N: FloatArray
    within: float

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


def fit(points: Points) -> Fit:
    """Return the line through the rungs together with the scatter between pulls.

    The scatter is taken as a share of the force; where the pulls speak clearly for scatter that is partly or wholly
    the same at every load (a light sled on a coarse sensor), as that.
    """
    share = _fit(points, even=0.0)
    if points.force_N.size < FEWEST_FOR_EVEN or share.scatter == 0:
        return share
    others = (_fit(points, even=even) for even in EVEN)
    best = min(others, key=_log_widths)
    return best if _log_widths(share) - _log_widths(best) > CLEARLY else share


def _log_widths(found: Fit) -> float:
    """Return minus twice the log likelihood of a fit, but for what is the same for all.

    Their weighted squares all add up to pulls less two, so only the widths are left.
    """
    return 2 * float(np.sum(np.log(found.sd_N)))


def _fit(points: Points, *, even: float) -> Fit:
    """Return the line for one kind of scatter.

    Weights follow the fitted force, not the read one: a pull that happens to be low must not weigh more.
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
        points, line, math.sqrt((1 - even) * square), math.sqrt(even * square) * middle_N, even,
        np.sqrt(points.own_N**2 + square * size_N**2), within,
    )  # fmt: skip


def sizes_N(drawn_N: FloatArray, even: float) -> FloatArray:
    """Return what the scatter is a share of, for each pull: the fitted force, or in part the middle of them."""
    size = np.maximum(np.abs(drawn_N), LEAST_FORCE * np.max(np.abs(drawn_N)))
    sizes: FloatArray = np.sqrt((1 - even) * size**2 + even * size.mean() ** 2)
    return sizes


def load_line(found: Fit, series: Series, scales: Scales = NO_SHARED_DOUBT) -> LoadLine:
    """Return the fitted line with 95 % limits (Student's t, pulls less two degrees of freedom)."""
    line, points, dof = found.line, found.points, found.dof
    loads, n = points.rungs_N.size, points.force_N.size
    shared = math.sqrt(
        max(
            0.0,
            scales.u_force**2 + scales.u_load**2 - 2 * scales.correlation * scales.u_force * scales.u_load,
        )
    )
    slope = _limited(line.slope, line.var_slope, abs(line.slope) * shared, dof, "1")
    intercept = _limited(line.intercept, line.var_intercept, abs(line.intercept) * scales.u_force, dof, "N")
    return LoadLine(
        series=series, slope=slope, intercept=intercept,
        covariance_N=line.covariance + line.slope * line.intercept * scales.u_force**2,
        scatter=found.scatter, scatter_N=found.scatter_N,
        u_own_N=float(np.sqrt(np.mean(points.own_N**2))), dof=dof, pulls=n, loads=loads,
        lowest_N=float(points.rungs_N[0]), highest_N=float(points.rungs_N[-1]),
        lack_of_fit_p=_lack_of_fit(found),
    )  # fmt: skip


def line_at(
    line: LoadLine, normal_N: FloatArray, *, next_pull: bool = False
) -> tuple[FloatArray, FloatArray]:
    """Return the line's force at some normal forces and half the width of its 95 % band, both shape (n,), N.

    next_pull: the band that holds one more pull (prediction) instead of the line.  Raises ValueError for a
    line that has no limits.
    """
    slope, intercept = line.slope, line.intercept
    if slope.value is None or intercept.value is None:
        raise ValueError("a line without limits has no band")
    force = intercept.value + slope.value * normal_N
    u_slope, u_intercept = slope.standard_uncertainty or 0.0, intercept.standard_uncertainty or 0.0
    square = u_intercept**2 + 2 * line.covariance_N * normal_N + (u_slope * normal_N) ** 2
    if next_pull:
        square = square + (line.scatter * force) ** 2 + line.scatter_N**2 + line.u_own_N**2
    return force, coverage_factor(line.dof) * np.sqrt(np.maximum(square, 0.0))


def _limited(value: float, variance: float, shared: float, dof: int, unit: str) -> Measured:
    if dof < 1:
        return Measured.cannot_tell(
            "two pulls always lie on a line: nothing is left to judge it by", unit=unit
        )
    budget = UncertaintyBudget(
        tuple(
            row for row in (
                BudgetRow("scatter between pulls and their own doubt", math.sqrt(variance), dof),
                BudgetRow("scales shared by all pulls", shared),
            ) if row.u > 0
        )
    )  # fmt: skip
    u = budget.combined
    half = coverage_factor(budget.effective_dof) * u
    return Measured(
        kind="value", value=value, standard_uncertainty=u, limits=(value - half, value + half), unit=unit,
        budget=budget,
    )  # fmt: skip


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
    return _falls_to(squares, float(dof), low, high)


def _falls_to(falling: Callable[[float], float], target: float, low: float, high: float) -> float:
    """Return where a falling, hollow function meets the target: its inverse is nearly straight (secant)."""
    for _ in range(100):
        at_low, at_high = 1 / falling(low), 1 / falling(high)
        between = low + (high - low) * (1 / target - at_low) / (at_high - at_low)
        if not low < between < high:
            between = (low + high) / 2
        value = falling(between)
        if abs(value / target - 1) < 1e-13 or high - low < 1e-14 * high:
            return between
        low, high = (between, high) if value > target else (low, between)
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > target else (low, middle)
    return (low + high) / 2


def _lack_of_fit(found: Fit) -> float | None:
    """Return the chance of the rungs lying so far off a straight line (F test against the repeats)."""
    loads, n = found.points.rungs_N.size, found.points.force_N.size
    if n <= loads or loads < 3 or found.within <= 0:
        return None
    ratio = (found.line.misfit / (loads - 2)) / (found.within / (n - loads))
    return f_upper_p(ratio, loads - 2, n - loads)
