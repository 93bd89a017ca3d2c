"""Noise of 4 % of the level on every sample, and mains hum of 1-4 % on top."""

from functools import cache

from simulated.figures import STEADY, Figures, fewest_held, figures


@cache
def noisy() -> Figures:
    return figures("noisy", range(30), STEADY)


def test_no_pull_is_missed():
    assert noisy().missed == []


def test_breakaway_is_true_to_its_figures():
    assert noisy().breakaway.error(0.5) <= 0.016  # promised: 1.5 %
    assert noisy().breakaway.error(0.95) <= 0.05


def test_kinetic_is_true_to_its_figures():
    assert noisy().kinetic.error(0.5) <= 0.005
    assert noisy().kinetic.error(0.95) <= 0.03


def test_limits_hold_the_truth_and_are_within_six_per_cent():
    for told in (noisy().breakaway, noisy().kinetic):
        assert sum(told.held) >= fewest_held(len(told.held))
        assert told.width <= 0.065  # promised: 6 %


def test_lower_bounds_are_true():
    assert all(noisy().breakaway.bounds_true)


def test_few_cannot_be_told():
    assert noisy().breakaway.untold_share <= 0.05
    assert noisy().kinetic.untold_share <= 0.10  # promised: 5 %
