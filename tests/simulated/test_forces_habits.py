"""Ways of pulling that earn a note: what is told of them must still be true."""

from functools import cache

import pytest

from pullbench.model import Verdict
from simulated.figures import Figures, fewest_held, figures
from simulated.pulls import simulated


@cache
def habit(kind: str) -> Figures:
    return figures(kind, range(7))


@pytest.mark.parametrize("seed", range(7))
def test_a_pull_held_and_let_go_is_one_pull_with_a_true_lower_bound(seed):
    case = simulated("held", seed)
    if case.static_N is not None:
        pytest.skip("this hand went past the limit")
    (pull,) = case.pulls()
    held_N = float(case.run.pull_N.max())
    limit_N = case.bench.law.holding(10.0, case.bench.law.fresh) * case.bench.weight_N
    assert pull.breakaway.force.kind == "lower bound"
    assert pull.breakaway.force.limits[0] <= limit_N
    assert pull.breakaway.force.limits[0] == pytest.approx(held_N, rel=0.1)  # and worth saying
    assert pull.plateau.force.kind == "cannot tell"
    assert pull.verdict is Verdict.PULL_AGAIN


@pytest.mark.parametrize("kind", ["hurried", "jerked"])
def test_a_hand_without_a_slow_ramp_tells_nothing_false(kind):
    told = habit(kind).breakaway
    assert habit(kind).missed == []
    assert sum(told.held) >= fewest_held(len(told.held))
    assert all(told.bounds_true)


def test_a_jerked_start_seldom_tells_a_breakaway():
    assert habit("jerked").breakaway.untold_share >= 0.5


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="a hand that speeds up adds M a, which no force shows; the budget's row is too small",
)
def test_kinetic_limits_of_a_hand_that_speeds_up_hold_the_truth():
    told = habit("drifting").kinetic
    assert sum(told.held) >= fewest_held(len(told.held))


def test_kinetic_limits_of_a_hand_that_stops_and_goes_hold_the_truth():
    told = habit("stop-and-go").kinetic
    assert sum(told.held) >= fewest_held(len(told.held))
