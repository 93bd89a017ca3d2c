"""Truncation, effective sample size and robust spread against published rules and independent computation.

The five settling series and the truncation points were made from an integer recurrence and checked once
against two independent implementations of the rule (MSER-5: White 1997; Spratt 1998).
"""

import numpy as np
import pytest
from scipy import signal, stats

from published.recurrence import near_normal, settling
from pullbench.analysis.noise import NORMAL_MAD, correlation_factor, robust_sd
from pullbench.analysis.plateau import BLOCK_S, _settled_from
from pullbench.analysis.shape import Shape

SETTLING = [
    pytest.param(12345, 1000, 0.0, 0.05, 1.47, 0.98, 30.0, 1500.61747166, 105, 1.471675805, id="t1"),
    pytest.param(2024, 1000, 0.7, 0.05, 1.47, 0.98, 40.0, 1510.43020756, 125, 1.473607898, id="t2"),
    pytest.param(777, 2000, 0.9, 0.03, 0.3, 0.1, 80.0, 605.269613404, 140, 0.2984132265, id="t3"),
    pytest.param(31415, 500, 0.5, 0.05, 2.0, 0.0, 1.0, 1003.5236106, 0, 2.007047221, id="t4"),
    pytest.param(99, 600, 0.0, 0.02, 2.352, -0.6, 25.0, 1395.5803047, 95, 2.351136382, id="t5"),
]


def in_blocks_of_five(series: np.ndarray) -> Shape:
    """Return the series as a pull sampled so that a block of the plateau's rule holds five samples."""
    step_s = BLOCK_S / 5 * (1 + 1e-12)  # a hair more, so that sample 5k is in block k in floating point
    return Shape(
        time_s=step_s * np.arange(series.size), pull_N=series, smooth_N=series, step_s=step_s, noise_N=0.0,
        u_smooth_N=0.0, level_N=float(np.median(series)), onset=0, release=series.size - 1, swings=(),
    )  # fmt: skip


@pytest.mark.parametrize(("seed", "n", "phi", "s", "level", "a", "tau", "total", "cut", "mean"), SETTLING)
def test_plateau_starts_where_mser_5_truncates(seed, n, phi, s, level, a, tau, total, cut, mean):
    series = settling(seed, n, phi, s, level, a, tau)
    assert series.sum() == pytest.approx(total, rel=1e-9)  # the series is the published one
    start = _settled_from(in_blocks_of_five(series), 0, n - 1)
    assert start == cut
    assert series[start:].mean() == pytest.approx(mean, rel=1e-7)


@pytest.mark.parametrize("phi", [0.0, 0.3, 0.5, 0.7, 0.9])
def test_correlation_factor_is_that_of_an_ar1_series_within_its_sampling_error(phi):
    n = 20_000
    noise = signal.lfilter([1.0], [1.0, -phi], near_normal(4321, n))
    # Bartlett: the lag-one coefficient has standard error √((1 − φ²)/n); dτ/dφ = 2/(1 − φ)².
    error = 4 * np.sqrt((1 - phi**2) / n) * 2 / (1 - phi) ** 2
    assert correlation_factor(noise) == pytest.approx((1 + phi) / (1 - phi), abs=max(error, 0.06))


@pytest.mark.parametrize(("phi", "exact"), [(0.3, 1.85469388), (0.5, 2.992), (0.7, 5.63555556)])
def test_correlation_factor_over_five_hundred_samples_is_near_the_exact_finite_one(phi, exact):
    """Exact: (1+φ)/(1−φ) − 2φ(1−φⁿ)/(n(1−φ)²); the median of many series is near it."""
    rows = np.split(near_normal(2468, 24_000), 48)
    factors = [correlation_factor(signal.lfilter([1.0], [1.0, -phi], row)) for row in rows]
    scatter = np.sqrt((1 - phi**2) / 500) * 2 / (1 - phi) ** 2
    assert np.median(factors) == pytest.approx(exact, abs=4 * 1.2533 * scatter / np.sqrt(48) + 0.02 * exact)


def test_spread_of_the_bulk_uses_the_normal_consistent_factor():
    assert pytest.approx(1 / stats.norm.ppf(0.75), abs=1e-9) == NORMAL_MAD
    values = near_normal(97, 5000) * 0.3 + 7.0
    assert robust_sd(values) == pytest.approx(stats.median_abs_deviation(values, scale="normal"), rel=1e-9)


def test_spread_of_the_bulk_is_deaf_to_a_tenth_of_knocks():
    values = near_normal(13, 4000)
    knocked = values.copy()
    knocked[::10] += 1000.0
    # A tenth of one-sided outliers moves the median absolute deviation by about 13 % at most.
    assert robust_sd(knocked) == pytest.approx(robust_sd(values), rel=0.2)
