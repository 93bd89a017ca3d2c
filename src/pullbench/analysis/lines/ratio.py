"""Ratios and inverse predictions with limits that stay honest: Fieller's, unbounded where they are.

E. C. Fieller, "Some problems in interval estimation", J. Roy. Stat. Soc. B 16, 175 (1954).
"""

from __future__ import annotations

import math

from pullbench.analysis.student import coverage_factor
from pullbench.model import Measured

UNBOUNDED = "the slope could be nought, so nothing bounds it"


def ratio_limits(
    above: float, below: float, var_above: float, var_below: float, covariance: float, dof: float, *,
    unit: str, over: float = 1.0, shift: float = 0.0,
) -> Measured:  # fmt: skip
    """Return (above / below + shift) / over with 95 % limits by Fieller's theorem (Student's t).

    above, below: two estimates with their variances and covariance, in the same unit apart from `unit`.
    The limits are the values q for which above - q · below is not told from nought.  Where they reach to
    infinity the answer is "cannot tell", with the reason.
    """
    t = coverage_factor(dof)
    square, middle, rest = (
        below**2 - t**2 * var_below,
        above * below - t**2 * covariance,
        above**2 - t**2 * var_above,
    )
    if square <= 0:
        return Measured.cannot_tell(UNBOUNDED, unit=unit)
    root = math.sqrt(max(middle**2 - square * rest, 0.0))
    value = above / below
    u = math.sqrt(max(var_above - 2 * value * covariance + value**2 * var_below, 0.0)) / abs(below)
    low, high = (middle - root) / square, (middle + root) / square
    return Measured(
        kind="value", value=(value + shift) / over, standard_uncertainty=u / over,
        limits=((low + shift) / over, (high + shift) / over), unit=unit,
    )  # fmt: skip
