"""Ten to twenty-five samples a second: the top falls between samples, so a value or an honest lower bound."""

from functools import cache

from simulated.figures import STEADY, Figures, fewest_held, figures


@cache
def sparse() -> Figures:
    return figures("sparse", range(60), STEADY)


def test_no_pull_is_missed():
    assert sparse().missed == []


def test_every_breakaway_is_a_value_or_a_lower_bound():
    assert sparse().breakaway.untold_share <= 0.05


def test_most_are_lower_bounds_because_no_sample_caught_the_top():
    told = sparse().breakaway
    assert len(told.bounds_true) > len(told.errors)


def test_lower_bounds_are_true():
    bounds = sparse().breakaway.bounds_true
    assert sum(bounds) >= fewest_held(len(bounds), 0.97)


def test_kinetic_needs_no_fast_sensor():
    told = sparse().kinetic
    assert told.error(0.5) <= 0.003
    assert told.error(0.95) <= 0.02
    assert sum(told.held) >= fewest_held(len(told.held))
