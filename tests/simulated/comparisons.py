"""Thousands of cheap draws with known truth: error rates of the tests, coverage of pooled limits.

Shared by the tests and by `python -m benchmarks.comparisons`. Values are normal about an invented 0.3.
"""

from dataclasses import replace

import numpy as np

from pullbench.analysis.equivalence import two_one_sided
from pullbench.analysis.pooled import Batch, paule_mandel, pool, pool_batches, pooled_mean
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.student import coverage_factor, two_sided_p
from pullbench.analysis.welch import welch
from pullbench.model import PoolGroup

MU, SCATTER = 0.30, 0.012  # 4 % from pull to pull


def pair(rng, n, m, *, shift=0.0, wider=1.0):
    """Two surfaces: n and m pulls, the second shifted and with its scatter multiplied."""
    first = Repeats.of(rng.normal(MU, SCATTER, n))
    return first, Repeats.of(rng.normal(MU + shift, wider * SCATTER, m))


def level(test, alpha=0.05):
    """Return the p of Welch's own test at which ours is alpha: sooner found once than ours for every draw."""
    return 1 - test.coverage(1 - alpha)


def welch_error(n, m, wider, draws, seed):
    """Return how often equal surfaces are called different."""
    rng = np.random.default_rng(seed)
    tests = [welch(*pair(rng, n, m, wider=wider)) for _ in range(draws)]
    return np.mean([two_sided_p(test.t, test.dof) < level(test) for test in tests])


def published_error(n, m, wider, draws, seed):
    """Return how often equal surfaces are called different by Welch's test as published, and by Student's."""
    rng = np.random.default_rng(seed)
    pairs = [pair(rng, n, m, wider=wider) for _ in range(draws)]
    tests = [welch(*one) for one in pairs]
    own = np.mean([two_sided_p(test.t, test.dof) < 0.05 for test in tests])
    return own, np.mean([_student_p(*one) < 0.05 for one in pairs])


def _student_p(a, b):
    dof = a.n + b.n - 2
    variance = ((a.n - 1) * a.variance + (b.n - 1) * b.variance) / dof
    return two_sided_p((b.mean - a.mean) / np.sqrt(variance * (1 / a.n + 1 / b.n)), dof)


def tost_error(n, m, wider, draws, seed, *, margin_in_u=6.0):
    """Return how often surfaces that differ by exactly the margin are called the same within it.

    The margin is so many standard uncertainties of the difference: then only one of both tests is in play.
    """
    rng = np.random.default_rng(seed)
    margin = margin_in_u * SCATTER * np.sqrt(1 / n + wider**2 / m)
    told = []
    for _ in range(draws):
        test = welch(*pair(rng, n, m, shift=margin, wider=wider))
        plain = replace(test, pulls=None)
        told.append(max(two_one_sided(plain, margin)) < level(test, 0.10) / 2)
    return np.mean(told)


def holm_error(surfaces, n, draws, seed):
    """Return how often any pair of several equal surfaces is called different."""
    rng = np.random.default_rng(seed)
    wrong = 0
    for _ in range(draws):
        drawn = [Repeats.of(rng.normal(MU, SCATTER, n)) for _ in range(surfaces)]
        tests = [welch(a, b) for i, a in enumerate(drawn) for b in drawn[i + 1 :]]
        # Holm calls any pair different when the smallest p is below 0.05 / pairs.
        least = min(two_sided_p(test.t, test.dof) for test in tests)
        wrong += least < level(tests[0], 0.05 / len(tests))
    return wrong / draws


def welch_coverage(n, m, wider, draws, seed):
    """Return how often the limits of the difference hold the truth (by p, which needs no quantile)."""
    rng = np.random.default_rng(seed)
    held = 0
    for _ in range(draws):
        test = welch(*pair(rng, n, m, shift=0.03, wider=wider))
        held += two_sided_p((test.difference - 0.03) / test.u, test.dof) > level(test)
    return held / draws


def ratio_coverage(n, m, wider, draws, seed):
    """Return how often the limits of the ratio hold the truth."""
    from pullbench.analysis.compare import ratio

    rng = np.random.default_rng(seed)
    held = 0
    for _ in range(draws):
        both = pair(rng, n, m, shift=0.1 * MU, wider=wider)
        low, high = ratio(*both, coverage=welch(*both).coverage()).limits
        held += low <= 1.1 <= high
    return held / draws


def pooled_coverage(groups, tau_in_u, draws, seed, *, uneven=3.0):
    """Return how often Hartung–Knapp limits hold the mean; u differs by a factor `uneven` among groups."""
    rng = np.random.default_rng(seed)
    k = coverage_factor(groups - 1)
    held = 0
    for _ in range(draws):
        u = 0.005 * np.exp(rng.uniform(0, np.log(uneven), groups))
        values = rng.normal(MU, np.sqrt(u**2 + (tau_in_u * 0.0087) ** 2))
        mean, u_mean = pooled_mean(values, u, paule_mandel(values, u))
        held += abs(mean - MU) <= k * u_mean
    return held / draws


def next_result_coverage(groups, tau_in_u, draws, seed):
    """Return how often the next result of the same kind lies in its prediction limits."""
    rng = np.random.default_rng(seed)
    held = 0
    for _ in range(draws):
        u = np.full(groups, 0.008)
        values = rng.normal(MU, np.hypot(0.008, tau_in_u * 0.008), groups + 1)
        made = [
            PoolGroup(name=str(i), value=v, u=s) for i, (v, s) in enumerate(zip(values[:-1], u, strict=True))
        ]
        low, high = pool(made, quantity="static").next_result.limits
        held += low <= values[-1] <= high
    return held / draws


def from_pulls_coverage(groups, pulls, tau_in_scatter, draws, seed):
    """Return how often limits from groups of pulls hold the mean, and how often the next pull its own."""
    rng = np.random.default_rng(seed)
    mean_held = next_held = 0
    for _ in range(draws):
        centres = rng.normal(MU, tau_in_scatter * SCATTER, groups + 1)
        made = [
            Batch(name=str(i), values=tuple(rng.normal(c, SCATTER, pulls)), own_u=(0.0,) * pulls)
            for i, c in enumerate(centres[:-1])
        ]
        told = pool_batches(made, quantity="static")
        mean_held += told.mean.limits[0] <= MU <= told.mean.limits[1]
        next_held += (
            told.next_result.limits[0] <= rng.normal(centres[-1], SCATTER) <= told.next_result.limits[1]
        )
    return mean_held / draws, next_held / draws
