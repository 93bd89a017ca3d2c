"""Student's t, F and chi-square, for few repeats. The core carries no statistics library for four tails."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache


def two_sided_p(t: float, dof: float) -> float:
    """Return P(|T| > |t|) for Student's t with dof > 0 degrees of freedom, fractional or infinite."""
    if t == 0:
        return 1.0
    if dof > 1e7:
        return math.erfc(abs(t) / math.sqrt(2))
    return _beta_share(dof / (dof + t * t), dof / 2, 0.5)


def upper_p(t: float, dof: float) -> float:
    """Return P(T > t): the one-sided tail, for a claim of one direction."""
    half = two_sided_p(t, dof) / 2
    return half if t >= 0 else 1 - half


def f_upper_p(f: float, dof_above: float, dof_below: float) -> float:
    """Return P(F > f) for Fisher's F with dof_above and dof_below degrees of freedom (A&S 26.6.2)."""
    if f <= 0:
        return 1.0
    return _beta_share(dof_below / (dof_below + dof_above * f), dof_below / 2, dof_above / 2)


def chi_square_upper_p(x: float, dof: int) -> float:
    """Return P(chi² > x) for dof = 1, 2, 3 …: the finite sums of Abramowitz and Stegun 26.4.4 and 26.4.5."""
    if x <= 0:
        return 1.0
    half = x / 2
    tail = math.erfc(math.sqrt(half)) if dof % 2 else math.exp(-half)
    for k in range(1 if dof % 2 else 2, dof, 2):
        tail += math.exp(k / 2 * math.log(half) - half - math.lgamma(k / 2 + 1))
    return tail


def _beta_share(x: float, a: float, b: float) -> float:
    """Return the regularised incomplete beta I_x(a, b): Lentz's fraction, Abramowitz and Stegun 26.5.8."""
    if x <= 0 or x >= 1:  # beyond what a double can tell from the end
        return 0.0 if x <= 0 else 1.0
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
    return _bisect(lambda t: two_sided_p(t, dof) - (1 - coverage))


def _bisect(falling: Callable[[float], float]) -> float:
    low, high = 1e-9, 1e6
    while high > low * (1 + 4e-16):
        middle = math.sqrt(low * high)
        if not low < middle < high:
            break
        low, high = (middle, high) if falling(middle) > 0 else (low, middle)
    return math.sqrt(low * high)
