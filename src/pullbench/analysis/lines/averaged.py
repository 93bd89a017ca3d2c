"""The line when nobody knows how the scatter grows: averaged over the kinds it may be of, by their odds.

Hands scatter by a share of the force, a coarse sensor by the same newtons at every load, and most benches by some of
both.  A few pulls cannot tell which, and choosing the likeliest would put the doubt of the choice nowhere: with
scatter that is the same at every load, limits of the intercept then held three times in four.  So either kind is
fitted, and the lines are averaged by the odds that the pulls give to each kind (J. A. Hoeting et al., "Bayesian
model averaging: a tutorial", Stat. Sci. 14, 382 (1999); S. T. Buckland et al., Biometrics 53, 603 (1997)):

- Odds beforehand are five to one for a share of the force: pulls repeated by hand scatter by 3–5 % of it, and only a
  light sled on a coarse sensor is ruled by the sensor.  That is a choice, which a few pulls hardly change: with less
  for the share, limits of the smallest ladders that do scatter so would hold more than 97 times in a hundred.
- A kind's likelihood, with slope, intercept and size of the scatter integrated out under flat priors, is
  |V|^-1/2 |X' V^-1 X|^-1/2 with V at the fitted scatter, at which the weighted squares of every kind add up to the
  same number, pulls less two (the restricted likelihood of H. D. Patterson and R. Thompson, Biometrika 58, 545 (1971)).
- Static and kinetic friction of the same pulls scatter for the same reasons, so both lines weigh the kind together.
  Half of their scatter is common, as a rule of thumb: then the two say 1.6 times what one of them says (1/(1 + ρ²) of
  the sum of both logarithms, ρ = ½; for ρ = 1 the second says nothing new).
- Variances by the law of total variance: those of the kinds, and how far the kinds' lines lie apart.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np

from pullbench.analysis.lines.weighted import Fit, Points, fit_alike
from pullbench.analysis.lines.york import York
from pullbench.model import FloatArray

KINDS = (0.0, 1.0)  # of the scatter's variance, the share that is the same newtons at every load
BEFOREHAND = (5 / 6, 1 / 6)
NEGLIGIBLE = 0.02  # odds below which a kind is left out
IN_COMMON = 0.5  # correlation of static and kinetic scatter
S = TypeVar("S")


def fit(points: Points) -> Fit:
    """Return the line through the rungs for the likeliest kind of scatter, and the odds of all kinds."""
    fits = _kinds(points)
    return _likeliest(fits, _odds([fits]))


def averaged(points: Mapping[S, Points]) -> dict[S, Fit]:
    """Return the lines averaged over the kinds of scatter; the scatter itself is told as the likeliest kind's.

    points: one or more series of the same pulls, which weigh the kinds together.  Where pulls scatter no more than
    they doubt themselves, or where only two are there, nothing is averaged.
    """
    fits = {series: _kinds(told) for series, told in points.items()}
    odds = _odds([some for some in fits.values() if len(some) > 1])
    return {series: _averaged(some, odds if len(some) > 1 else np.ones(1)) for series, some in fits.items()}


def _averaged(fits: Sequence[Fit], odds: FloatArray) -> Fit:
    likeliest = _likeliest(fits, odds)
    return replace(likeliest, line=_mixed([one.line for one in fits], odds, likeliest.line.misfit))


def _likeliest(fits: Sequence[Fit], odds: FloatArray) -> Fit:
    kinds = zip(KINDS, odds, strict=False)
    return replace(
        fits[int(np.argmax(odds))], kinds=tuple((even, float(odd)) for even, odd in kinds if odd > 0)
    )


def _kinds(points: Points) -> list[Fit]:
    """Return the fits of all kinds; of one alone where there is nothing to weigh."""
    first = fit_alike(points, even=KINDS[0])
    if first.dof < 1 or first.scatter == 0:
        return [first]
    return [first, *(fit_alike(points, even=even) for even in KINDS[1:])]


def _odds(series: Sequence[Sequence[Fit]]) -> FloatArray:
    """Return the odds of all kinds, shape (kinds,), by all series together; none, or one kind alone: 1."""
    if not series or len(series[0]) == 1:
        return np.ones(1)
    logs = np.sum([[_log_likelihood(one) for one in fits] for fits in series], axis=0)
    if len(series) > 1:
        logs = logs / (1 + IN_COMMON**2)
    odds = np.array(BEFOREHAND) * np.exp(logs - logs.max())
    odds = np.where(odds < NEGLIGIBLE * odds.sum(), 0.0, odds)
    told: FloatArray = odds / odds.sum()
    return told


def _mixed(lines: Sequence[York], odds: FloatArray, misfit: float) -> York:
    """Return the mean line with variances and covariance by the law of total variance."""
    slopes = np.array([line.slope for line in lines])
    intercepts = np.array([line.intercept for line in lines])
    slope, intercept = float(odds @ slopes), float(odds @ intercepts)
    inside = odds @ np.array([(line.var_slope, line.var_intercept, line.covariance) for line in lines])
    return York(
        slope=slope,
        intercept=intercept,
        var_slope=float(inside[0] + odds @ (slopes - slope) ** 2),
        var_intercept=float(inside[1] + odds @ (intercepts - intercept) ** 2),
        covariance=float(inside[2] + odds @ ((slopes - slope) * (intercepts - intercept))),
        misfit=misfit,
    )


def _log_likelihood(found: Fit) -> float:
    """Return the log of the restricted likelihood, but for what is the same for all kinds.

    |X' V^-1 X|^-1 is the determinant of the covariance of slope and intercept.
    """
    line = found.line
    spread = line.var_slope * line.var_intercept - line.covariance**2
    return 0.5 * math.log(max(spread, 1e-300)) - float(np.sum(np.log(found.sd_N)))
