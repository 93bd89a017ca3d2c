"""Plain pulls: the promised figures, on a batch small enough for every day.

The full table (400 of each kind) is printed by `python -m benchmarks.accuracy`.
"""

from functools import cache

import pytest

from simulated.figures import STEADY, WEAKENING, Figures, fewest_held, figures

SEEDS = range(40)


@cache
def steady() -> Figures:
    return figures("plain", SEEDS, STEADY)


@cache
def weakening() -> Figures:
    return figures("plain", range(28), WEAKENING)


def test_no_pull_is_missed():
    assert steady().missed == []


def test_no_pull_is_invented():
    assert steady().invented == []


def test_breakaway_is_true_to_half_a_per_cent_at_the_median_and_three_at_worst_but_one_in_twenty():
    told = steady().breakaway
    assert told.error(0.5) <= 0.005
    assert told.error(0.95) <= 0.03


def test_kinetic_is_true_to_a_third_of_a_per_cent_at_the_median_and_two_at_worst_but_one_in_twenty():
    told = steady().kinetic
    assert told.error(0.5) <= 0.003
    assert told.error(0.95) <= 0.02


def test_limits_hold_the_truth_as_often_as_they_say():
    for told in (steady().breakaway, steady().kinetic):
        assert sum(told.held) >= fewest_held(len(told.held))


def test_lower_bounds_are_true():
    assert all(steady().breakaway.bounds_true)


def test_kinetic_limits_are_within_two_per_cent():
    assert steady().kinetic.width <= 0.02


def test_breakaway_limits_are_within_two_and_a_half_per_cent():
    assert steady().breakaway.width <= 0.025  # promised: 2 %


def test_one_in_twenty_at_most_cannot_be_told_of_the_breakaway():
    assert steady().breakaway.untold_share <= 0.05


def test_one_in_eight_at_most_cannot_be_told_of_the_kinetic_level():
    assert steady().kinetic.untold_share <= 0.125  # promised: 5 %


def test_good_pulls_are_not_sent_back():
    assert len(steady().again) <= 0.07 * steady().pulls  # promised: 5 %


def test_kinetic_of_speed_weakening_friction_is_as_good():
    told = weakening().kinetic
    assert told.error(0.5) <= 0.003
    assert told.error(0.95) <= 0.02
    assert sum(told.held) >= fewest_held(len(told.held))


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="friction that falls with speed lets the pull climb past the static maximum: +1.3 % at the median",
)
def test_breakaway_limits_of_speed_weakening_friction_hold_the_truth():
    told = weakening().breakaway
    assert sum(told.held) >= fewest_held(len(told.held))


@pytest.mark.xfail(
    strict=True, raises=AssertionError, reason="the same: 1.2 % at the median where 0.5 % is promised"
)
def test_breakaway_of_speed_weakening_friction_is_true_to_half_a_per_cent():
    assert weakening().breakaway.error(0.5) <= 0.005
