"""Student's t, for limits from few repeats. The core carries no statistics library for one quantile."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache


def _two_sided_tail(t: float, dof: float) -> float:
    """Return P(|T| > t): the regularised incomplete beta I_x(dof/2, 1/2) at x = dof/(dof + t²).

    Lentz's continued fraction, as in Abramowitz and Stegun 26.5.8.
    """
    x, a, b = dof / (dof + t * t), dof / 2, 0.5
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    if x > (a + 1) / (a + b + 2):
        return 1 - front * _fraction(1 - x, b, a) / b
    return front * _fraction(x, a, b) / a


def _fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1 / (1 - (a + b) * x / (a + 1))
    total = d
    for m in range(1, 300):
        for step in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            d, c = 1 / (1 + step * d), 1 + step / c
            total *= c * d
        if abs(c * d - 1) < 1e-14:
            break
    return total


@lru_cache(maxsize=512)
def coverage_factor(dof: float, coverage: float = 0.95) -> float:
    """Return k such that |T| <= k with the given coverage, for Student's t with dof > 0 degrees of freedom.

    dof may be fractional or infinite (then the normal distribution).  Source: JCGM 100:2008, table G.2.
    """
    if dof > 1e7:
        return _bisect(lambda t: math.erfc(t / math.sqrt(2)) - (1 - coverage))
    return _bisect(lambda t: _two_sided_tail(t, dof) - (1 - coverage))


def _bisect(falling: Callable[[float], float]) -> float:
    low, high = 1e-9, 1e6
    for _ in range(200):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if falling(middle) > 0 else (low, middle)
    return math.sqrt(low * high)
