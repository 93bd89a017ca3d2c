"""A straight line with errors in both coordinates, unequal and correlated.

D. York, N. M. Evensen, M. L. Martínez and J. De Basabe Delgado, "Unified equations for the slope, intercept,
and standard errors of the best straight line", Am. J. Phys. 72, 367 (2004), equations 13a to 13e.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.model import FloatArray

ITERATIONS, TOLERANCE = 200, 1e-14


@dataclass(frozen=True, slots=True)
class York:
    """slope, intercept, their variances and covariance; misfit: the minimised weighted sum of squares."""

    slope: float
    intercept: float
    var_slope: float
    var_intercept: float
    covariance: float
    misfit: float


def york(x: FloatArray, y: FloatArray, u_x: FloatArray, u_y: FloatArray, r: FloatArray | float = 0.0) -> York:
    """Return the best straight line through points with known standard uncertainties.

    x, y, u_x, u_y: shape (n,), n >= 2, not all x equal, u_y above 0.  r: correlation of the two errors of
    one point, shape (n,) or one for all.  Variances are as stated by u_x and u_y, not scaled by the misfit,
    and use the adjusted points.
    """
    w_y = 1 / u_y**2
    slope = _weighted_slope(x, y, w_y)
    for _ in range(ITERATIONS):
        spread = u_y**2 + (slope * u_x) ** 2 - 2 * slope * r * u_x * u_y
        weight = 1 / spread
        total = weight.sum()
        mean_x, mean_y = float(weight @ x / total), float(weight @ y / total)
        u, v = x - mean_x, y - mean_y
        beta = weight * (u * u_y**2 + slope * v * u_x**2 - (slope * u + v) * r * u_x * u_y)
        found = float((weight * beta) @ v / ((weight * beta) @ u))
        step, slope = found - slope, found
        if not abs(step) > TOLERANCE * abs(slope):
            break
    intercept = mean_y - slope * mean_x
    adjusted = mean_x + beta
    mean_adjusted = float(weight @ adjusted / total)
    var_slope = 1 / float(weight @ (adjusted - mean_adjusted) ** 2)
    return York(
        slope=slope,
        intercept=intercept,
        var_slope=var_slope,
        var_intercept=1 / float(total) + mean_adjusted**2 * var_slope,
        covariance=-mean_adjusted * var_slope,
        misfit=float(weight @ (y - intercept - slope * x) ** 2),
    )


def _weighted_slope(x: FloatArray, y: FloatArray, weight: FloatArray) -> float:
    away = x - np.average(x, weights=weight)
    return float((weight * away) @ (y - np.average(y, weights=weight)) / (weight @ away**2))
