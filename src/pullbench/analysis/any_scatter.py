"""How often Welch's test errs when one surface scatters more than the other, exactly, and p values that never do.

Welch's degrees of freedom are themselves estimated, and from two or three pulls badly so: with 2 against 6 equal
surfaces are called different up to 11 times in a hundred instead of 5, with 3 against 6 up to 6.8 times.  How often
depends on the numbers of pulls and on one unknown, the first mean's share of the variance of the difference

    s = v1 / (v1 + v2),   v1 = σ1²/n1,  v2 = σ2²/n2,

and for normal scatter it can be computed (B. L. Welch, Biometrika 34, 28 (1947), sets out from the same split).  With
χ1², χ2² on f1 = n1 − 1 and f2 = n2 − 1 degrees of freedom their sum W = χ1² + χ2² and the share B = χ1² / W are
independent, W being chi-square on f = f1 + f2 and B beta-distributed (f1/2, f2/2).  The difference
is d ~ N(0, v1 + v2), so

    t = d / √(v1 χ1²/f1 + v2 χ2²/f2) = T_f · √(1 / (f · (s B/f1 + (1 − s) (1 − B)/f2)))

where T_f is Student's t on f degrees of freedom, independent of B; Welch's degrees of freedom are a function of B and s
alone.  So for given s the chance of a p of Welch's as small as p is the mean over B of P(|T_f| > c(B) √(…)), with c the
quantile of t at those degrees of freedom.  The largest of these over all s is a p value that holds
whatever the scatters are.  With five pulls each Welch's 5 is 5.3 in a hundred at most; there it is left as published.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from pullbench.analysis.student import coverage_factor, two_sided_p
from pullbench.model import FloatArray

NODES = 64  # in B: the integrand is smooth in the angle φ with B = sin² φ
SHARES = 49  # of s tried: evenly in the logarithm of s / (1 − s), from one part in 3000 to all but that, and both ends
WIDEST_LOG = 8.0
DEGREE = (
    16  # of the polynomial that stands for the quantile between the smallest and largest degrees of freedom
)
NOMINAL, STRINGENT = 0.05, 1.1  # J. V. Bradley, Br. J. Math. Stat. Psychol. 31, 144 (1978): within a tenth
MOST_STEPS, SETTLED = 30, 1e-9
SURE = 1e-9  # a p below it is beyond doubt anyhow
MOST_TERMS = 400  # degrees of freedom up to which the finite sums are taken


def any_scatter_p(p: float, first: int, second: int) -> float:
    """Return how often at most Welch's p is as small as this when the means are equal, whatever both scatters are.

    p: two-sided, of Welch's test.  first, second: pulls of each, 2 or more.
    """
    if p >= 1 or p < SURE:
        return p
    f1, f2 = first - 1, second - 1
    share, one = _grid()
    size = np.sqrt(share * one / f1 + (1 - share) * (1 - one) / f2)
    part = share * one / f1 / size**2
    c = _quantiles(p, f1, f2, 1 / (part**2 / f1 + (1 - part) ** 2 / f2))
    often = _two_sided(c * size * math.sqrt(f1 + f2), f1 + f2) @ _weights(f1, f2)
    return min(1.0, max(p, float(often.max())))


@lru_cache(maxsize=512)
def any_scatter_level(alpha: float, first: int, second: int) -> float:
    """Return the p of Welch's test below which equal means fall with a chance of alpha at most, whatever the scatters.

    Secant on the logarithms, on which the one is nearly a straight line of the other.
    """
    before, at = math.log(alpha), math.log(alpha / 1.5)
    off_before = math.log(any_scatter_p(alpha, first, second) / alpha)
    for _ in range(MOST_STEPS):
        off = math.log(any_scatter_p(math.exp(at), first, second) / alpha)
        if abs(off) < SETTLED or off == off_before:
            break
        before, at, off_before = at, at - off * (at - before) / (off - off_before), off
    return min(alpha, math.exp(at))


@lru_cache(maxsize=512)
def errs_little(first: int, second: int) -> bool:
    """Return whether Welch's own p does, erring at 5 % no more than Bradley's stringent 5.5 %."""
    return any_scatter_p(NOMINAL, first, second) <= STRINGENT * NOMINAL


@lru_cache(maxsize=1)
def _grid() -> tuple[FloatArray, FloatArray]:
    """Return the shares s, shape (SHARES + 2, 1), and the values of B, shape (1, NODES)."""
    logs = np.linspace(-WIDEST_LOG, WIDEST_LOG, SHARES)
    shares = np.concatenate([[0.0], 1 / (1 + np.exp(-logs)), [1.0]])
    return shares[:, None], np.sin(_angles()[0])[None, :] ** 2


@lru_cache(maxsize=64)
def _weights(f1: int, f2: int) -> FloatArray:
    """Return the weight of each value of B, shape (NODES,): its beta density in φ is sin^(f1−1) cos^(f2−1)."""
    angles, weights = _angles()
    logs = (f1 - 1) * np.log(np.sin(angles)) + (f2 - 1) * np.log(np.cos(angles))
    density = weights * np.exp(logs - logs.max())
    shares: FloatArray = density / density.sum()
    return shares


@lru_cache(maxsize=1)
def _angles() -> tuple[FloatArray, FloatArray]:
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    return (nodes + 1) * math.pi / 4, weights


def _quantiles(p: float, f1: int, f2: int, dof: FloatArray) -> FloatArray:
    """Return the two-sided quantiles of t for many degrees of freedom, through a few of them.

    Their logarithm is smooth in 1/dof, so a polynomial through Chebyshev's points does.
    """
    low, high = 1 / (f1 + f2), 1 / min(f1, f2)
    if high - low < 1e-12:
        return np.full(dof.shape, coverage_factor(1 / high, 1 - p))
    through = np.polynomial.chebyshev.Chebyshev.interpolate(
        lambda inverse: np.log([coverage_factor(1 / one, 1 - p) for one in inverse]),
        DEGREE,
        domain=[low, high],
    )
    quantiles: FloatArray = np.exp(through(np.clip(1 / dof, low, high)))
    return quantiles


def _two_sided(t: FloatArray, dof: int) -> FloatArray:
    """Return P(|T| > t) for whole degrees of freedom and many t: the finite sums of Abramowitz and Stegun 26.7.3–4."""
    if dof > MOST_TERMS:
        one_by_one: FloatArray = np.vectorize(two_sided_p)(t, dof)
        return one_by_one
    angle = np.arctan(t / math.sqrt(dof))
    cosine2, sine = np.cos(angle) ** 2, np.sin(angle)
    term = np.cos(angle) if dof % 2 else np.ones_like(angle)
    total = np.zeros_like(angle)
    for k in range(1 if dof % 2 else 0, dof - 1, 2):
        total += term
        term = term * cosine2 * (k + 1) / (k + 2)
    inside = 2 / math.pi * (angle + sine * total) if dof % 2 else sine * total
    outside: FloatArray = np.maximum(1 - inside, 0.0)
    return outside
