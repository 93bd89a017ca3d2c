"""Welch's test when surfaces scatter unlike: the exact error rate, and p values that hold whatever the scatters."""

import numpy as np
import pytest
from scipy import integrate, stats

from pullbench.analysis.any_scatter import SHARES, WIDEST_LOG, any_scatter_level, any_scatter_p, errs_little
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.student import two_sided_p
from pullbench.analysis.welch import welch


def size_by_quadrature(alpha, n, m, share):
    """The same integral by another way: adaptive, in B itself, with scipy's distributions."""
    f1, f2 = n - 1, m - 1
    f = f1 + f2

    def integrand(b):
        first, second = share * b / f1, (1 - share) * (1 - b) / f2
        part = first / (first + second)
        c = stats.t.isf(alpha / 2, 1 / (part**2 / f1 + (1 - part) ** 2 / f2))
        return stats.beta.pdf(b, f1 / 2, f2 / 2) * 2 * stats.t.sf(c * np.sqrt(f * (first + second)), f)

    return integrate.quad(integrand, 0, 1, limit=200)[0]


@pytest.mark.parametrize(("n", "m", "alpha"), [(3, 6, 0.05), (4, 4, 0.001), (5, 9, 0.2)])
def test_the_worst_case_agrees_with_an_independent_quadrature(n, m, alpha):
    shares = 1 / (1 + np.exp(-np.linspace(-WIDEST_LOG, WIDEST_LOG, SHARES)))
    worst = max(size_by_quadrature(alpha, n, m, share) for share in shares)
    assert any_scatter_p(alpha, n, m) == pytest.approx(max(alpha, worst), rel=1e-6)


def test_published_error_of_three_against_six_pulls_is_seen_in_plain_draws():
    rng = np.random.default_rng(31)
    first, second = rng.normal(0, 2, (20_000, 3)), rng.normal(0, 1, (20_000, 6))
    p = stats.ttest_ind(first, second, axis=1, equal_var=False).pvalue
    often = np.mean(p < 0.05)
    assert often > 0.06
    assert often < any_scatter_p(0.05, 3, 6) + 3 * np.sqrt(0.06 / 20_000)
    assert np.mean(p < any_scatter_level(0.05, 3, 6)) < 0.05


@pytest.mark.parametrize(("n", "m"), [(2, 2), (2, 6), (3, 3), (3, 6), (4, 8)])
@pytest.mark.parametrize("alpha", [0.1, 0.05, 0.01])
def test_the_level_is_where_the_p_is_what_was_asked(n, m, alpha):
    assert any_scatter_p(any_scatter_level(alpha, n, m), n, m) == pytest.approx(alpha, rel=1e-6)
    assert any_scatter_level(alpha, n, m) == pytest.approx(any_scatter_level(alpha, m, n), rel=1e-6)


@pytest.mark.parametrize("p", [1.0, 0.7, 0.05, 1e-4, 1e-20, 0.0])
def test_it_is_never_less_than_welchs_own(p):
    assert p <= any_scatter_p(p, 2, 5) <= 1


def test_with_five_pulls_each_welch_stays_as_published_and_with_three_it_does_not():
    assert errs_little(5, 5)
    assert errs_little(10, 10)
    assert not errs_little(3, 3)
    assert not errs_little(2, 30)
    few = welch(Repeats.of([1.0, 1.1, 1.2]), Repeats.of([1.3, 1.5, 1.4]))
    assert few.p > two_sided_p(few.t, few.dof)
    many = welch(Repeats.of([1.0, 1.1, 1.2, 1.1, 1.0]), Repeats.of([1.3, 1.5, 1.4, 1.3, 1.4]))
    assert many.p == two_sided_p(many.t, many.dof)


@pytest.mark.parametrize("shift", [0.2, 0.35, 0.5])
def test_limits_and_p_say_the_same_of_few_pulls(shift):
    """Nought lies outside the 95 % limits exactly when p is below 0.05."""
    test = welch(Repeats.of([1.0, 1.1, 1.2]), Repeats.of([1.0 + shift, 1.14 + shift, 1.2 + shift]))
    quantile = stats.t.ppf((1 + test.coverage()) / 2, test.dof)
    assert (abs(test.t) > quantile) == (test.p < 0.05)


def test_a_one_sided_p_is_half_of_the_two_sided_one():
    test = welch(Repeats.of([1.0, 1.1, 1.2]), Repeats.of([1.3, 1.5, 1.4]))
    assert test.p_above(0.0) == pytest.approx(test.p / 2)
    assert test.p_below(0.0) > 0.5
