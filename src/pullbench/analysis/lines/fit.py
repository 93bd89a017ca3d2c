"""A fitted line with its limits: what all pulls share, Student's t, the band around it, lack of fit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.lines.averaged import averaged, fit
from pullbench.analysis.lines.weighted import Fit, points_of
from pullbench.analysis.student import coverage_factor, f_upper_p
from pullbench.model import BudgetRow, FloatArray, LoadLine, Measured, Series, UncertaintyBudget

__all__ = ["NO_SHARED_DOUBT", "Scales", "averaged", "fit", "line_at", "load_line", "points_of"]


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


def _lack_of_fit(found: Fit) -> float | None:
    """Return the chance of the rungs lying so far off a straight line (F test against the repeats)."""
    loads, n = found.points.rungs_N.size, found.points.force_N.size
    if n <= loads or loads < 3 or found.within <= 0:
        return None
    ratio = (found.line.misfit / (loads - 2)) / (found.within / (n - loads))
    return f_upper_p(ratio, loads - 2, n - loads)
