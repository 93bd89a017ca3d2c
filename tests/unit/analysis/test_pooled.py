"""Pooling: groups, days, repeats, what is set aside, and what comes next. Numbers are invented."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.analysis import Batch, pool, pool_batches
from pullbench.analysis.pooled import paule_mandel
from pullbench.errors import ConditionsError
from pullbench.model import PoolGroup


def groups(values, us):
    return [PoolGroup(name=str(i), value=v, u=u) for i, (v, u) in enumerate(zip(values, us, strict=True))]


def batch(name, values, own_u=0.0, **rest):
    return Batch(name=name, values=tuple(values), own_u=(own_u,) * len(values), **rest)


def test_results_of_one_doubt_give_students_limits_of_their_mean():
    """With equal u the pool is a plain mean: the scatter is all that counts, whatever u is."""
    values = [0.30, 0.34, 0.27, 0.33]
    told = pool(groups(values, [0.004] * 4), quantity="static")
    assert told.mean.value == pytest.approx(np.mean(values))
    assert told.mean.standard_uncertainty == pytest.approx(np.std(values, ddof=1) / 2)


def test_results_without_u_are_a_plain_mean():
    told = pool(groups([0.30, 0.34, 0.27], [0.0] * 3), quantity="static")
    assert told.mean.standard_uncertainty == pytest.approx(np.std([0.30, 0.34, 0.27], ddof=1) / math.sqrt(3))
    assert told.q is None


def test_results_rounded_to_one_step_are_not_exact():
    told = pool(groups([0.30, 0.30, 0.30], [0.01] * 3), quantity="static")
    assert told.mean.standard_uncertainty == pytest.approx(0.01 / math.sqrt(3))


@given(
    values=st.lists(st.floats(0.1, 0.9), min_size=3, max_size=12),
    scale=st.floats(0.5, 20), seed=st.integers(0, 9999),
)  # fmt: skip
def test_between_group_variance_solves_its_equation_and_scales(values, scale, seed):
    y, u = np.array(values), np.random.default_rng(seed).uniform(0.002, 0.05, len(values))
    tau2 = paule_mandel(y, u)
    w = 1 / (u**2 + tau2)
    q = w @ (y - w @ y / w.sum()) ** 2
    assert q == pytest.approx(len(values) - 1, rel=1e-6) or (tau2 == 0 and q <= len(values) - 1)
    assert paule_mandel(scale * y, scale * u) == pytest.approx(scale**2 * tau2, rel=1e-6, abs=1e-12)


def test_a_single_recording_is_pooled_pull_by_pull():
    told = pool_batches([batch("day 1", (0.30, 0.31, 0.29), 0.004)], quantity="static")
    assert [group.pulls for group in told.groups] == [1, 1, 1]
    assert told.next_is == "pull"


def test_limits_of_the_next_pull_are_wider_than_those_of_the_mean():
    told = pool_batches(
        [batch("a", (0.30, 0.31, 0.29)), batch("b", (0.31, 0.33)), batch("c", (0.3, 0.32))], quantity="static"
    )
    width = [one.limits[1] - one.limits[0] for one in (told.mean, told.next_result)]
    assert width[1] > width[0]


def test_set_aside_pulls_are_counted_and_the_pool_with_them_is_there():
    told = pool_batches(
        [batch("a", (0.30, 0.31), aside=((0.60, 0.0),), untold=2), batch("b", (0.31, 0.33))],
        quantity="static",
    )
    assert told.aside == ("a",)
    assert told.untold == 2
    assert told.with_aside.groups[0].value == pytest.approx(1.21 / 3)
    assert told.groups[0].value == pytest.approx(0.305)


def test_one_result_has_no_limits():
    told = pool_batches([batch("a", (0.30,), 0.01)], quantity="static")
    assert told.mean.kind == "cannot tell"
    assert "one result only" in told.mean.reason


def test_no_result_at_all_is_said():
    assert pool_batches([batch("a", (), untold=3)], quantity="static").mean.kind == "cannot tell"


@pytest.mark.parametrize(
    ("batches", "code"),
    [
        ([batch("a", (0.3,)), batch("a", (0.4,))], "names-equal"),
        ([batch("a", (0.3,)), batch("b", (math.nan,))], "value-not-positive"),
        ([batch("a", (0.3,)), batch("b", (30.0,))], "coefficient-doubtful"),
        ([batch("a", (0.3,), 0.01), batch("b", (0.31,))], "u-missing"),
        ([batch("a", (0.3,), -0.01), batch("b", (0.31,), 0.01)], "result-impossible"),
        ([batch("a", (0.3,), math.nan), batch("b", (0.31,), 0.01)], "result-impossible"),
    ],
)
def test_bad_input_gives_one_clear_error(batches, code):
    with pytest.raises(ConditionsError) as mistake:
        pool_batches(batches, quantity="static")
    assert mistake.value.code == code
