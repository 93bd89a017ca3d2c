"""Error rates and coverage on draws with known truth; the wider tables are `python -m benchmarks.comparisons`.

Each tolerance is three binomial standard errors of its number of draws beside the figure promised.
"""

import pytest

from simulated.comparisons import (
    from_pulls_coverage,
    holm_error,
    next_result_coverage,
    pooled_coverage,
    tost_error,
    welch_coverage,
    welch_error,
)

DRAWS = 2000
OF_FIVE = 3 * (0.05 * 0.95 / DRAWS) ** 0.5  # 1.5 %


@pytest.mark.parametrize(("n", "m", "wider"), [(3, 3, 1.0), (5, 5, 2.0), (4, 8, 2.0), (10, 10, 1.0)])
def test_equal_surfaces_are_called_different_once_in_twenty_at_most(n, m, wider):
    assert welch_error(n, m, wider, DRAWS, seed=1) < 0.05 + OF_FIVE


@pytest.mark.parametrize(("n", "m", "wider"), [(3, 3, 1.0), (5, 5, 2.0), (10, 10, 1.0)])
def test_a_difference_as_large_as_the_margin_is_called_the_same_once_in_twenty_at_most(n, m, wider):
    assert tost_error(n, m, wider, DRAWS, seed=2) < 0.05 + OF_FIVE


def test_errors_are_not_bought_by_caution_once_there_are_ten_pulls():
    assert welch_error(10, 10, 1.0, DRAWS, seed=3) > 0.05 - OF_FIVE
    assert tost_error(10, 10, 1.0, DRAWS, seed=4) > 0.05 - OF_FIVE


def test_limits_of_a_difference_hold_the_truth_in_93_to_97_of_a_hundred():
    assert 0.93 < welch_coverage(6, 6, 1.5, DRAWS, seed=5) < 0.97


def test_many_equal_surfaces_are_called_different_once_in_twenty_at_most():
    assert holm_error(4, 5, DRAWS // 2, seed=6) < 0.05


@pytest.mark.parametrize("groups", [3, 6, 12, 30])
@pytest.mark.parametrize("tau_in_u", [0.0, 1.0, 3.0])
def test_pooled_limits_hold_the_mean_in_93_to_97_of_a_hundred(groups, tau_in_u):
    assert 0.93 < pooled_coverage(groups, tau_in_u, DRAWS, seed=7) < 0.97


@pytest.mark.parametrize("groups", [4, 10])
def test_the_next_result_lies_in_its_limits(groups):
    assert next_result_coverage(groups, 1.0, 400, seed=8) > 0.93


def test_groups_of_pulls_hold_the_mean_and_the_next_pull():
    mean, following = from_pulls_coverage(6, 4, 1.0, 400, seed=9)
    assert mean > 0.95 - 3 * (0.05 * 0.95 / 400) ** 0.5
    assert following > 0.95 - 3 * (0.05 * 0.95 / 400) ** 0.5
