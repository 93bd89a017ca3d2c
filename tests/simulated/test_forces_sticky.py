"""Soft strings and slow hands: the sled keeps stopping, and often the honest answer is that there is no level."""

from functools import cache

from simulated.figures import STEADY, Figures, fewest_held, figures


@cache
def sticky() -> Figures:
    return figures("sticky", range(14), STEADY)


def test_no_pull_is_missed():
    assert sticky().missed == []


def test_breakaway_is_true_at_the_median_since_it_comes_before_any_sticking():
    assert sticky().breakaway.error(0.5) <= 0.006


def test_kinetic_limits_hold_the_truth_where_a_level_is_told_at_all():
    told = sticky().kinetic
    assert sum(told.held) >= fewest_held(len(told.held))


def test_mostly_a_level_is_not_told():
    assert sticky().kinetic.untold_share >= 0.5
