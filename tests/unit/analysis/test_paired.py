"""Static against kinetic within pulls, and the log lines of static friction. Numbers are invented."""

import numpy as np
import pytest
from scipy import stats

from pullbench.analysis.paired import growth, growths_of, static_against_kinetic
from pullbench.model import Surface, SurfacePull


def pulls(static, kinetic, rested=None, loading=None):
    return tuple(
        SurfacePull(
            label=str(i), static=s, kinetic=k, rested_s=None if rested is None else rested[i],
            loading_s=None if loading is None else loading[i],
        )
        for i, (s, k) in enumerate(zip(static, kinetic, strict=True))
    )  # fmt: skip


def test_a_scatter_that_both_share_does_not_widen_their_difference():
    """Pulls whose level wanders by 10 % while static stays 0.08 above kinetic."""
    level, peak = np.array([0.28, 0.31, 0.34, 0.30]), np.array([0.079, 0.081, 0.080, 0.080])
    told = static_against_kinetic(Surface(name="birch", pulls=pulls(level + peak, level)))
    assert told.difference.value == pytest.approx(0.08)
    assert told.difference.standard_uncertainty < 0.001


def test_paired_t_agrees_with_an_independent_library():
    static, kinetic = [0.41, 0.42, 0.39, 0.44], [0.31, 0.35, 0.30, 0.33]
    told = static_against_kinetic(Surface(name="birch", pulls=pulls(static, kinetic)))
    assert told.p == pytest.approx(stats.ttest_rel(static, kinetic).pvalue, rel=1e-9)


def test_differences_that_are_all_alike_but_for_rounding_are_not_exact():
    told = static_against_kinetic(Surface(name="birch", pulls=pulls([0.4, 0.41, 0.7], [0.3, 0.31, 0.6])))
    assert told.difference.kind == "cannot tell"
    assert "no scatter" in told.difference.reason


def test_one_pull_cannot_tell_static_from_kinetic():
    told = static_against_kinetic(Surface(name="birch", pulls=pulls([0.4], [0.3])))
    assert told.difference.kind == "cannot tell"
    assert "no repeats" in told.difference.reason


def test_a_planted_growth_with_waiting_is_found():
    """0.02 of μ a decade, the order of magnitude of paper and polymers, over waits of 2 s to 200 s."""
    rng = np.random.default_rng(3)
    waits = np.array([2, 5, 20, 60, 200, 2, 10, 100.0])
    told = growth(
        "rest time", list(waits), list(0.35 + 0.02 * np.log10(waits) + 0.002 * rng.normal(size=8)), "1"
    )
    low, high = told.slope.limits
    assert told.shown
    assert low < 0.02 < high
    line = stats.linregress(np.log10(waits), 0.35 + 0.02 * np.log10(waits))
    assert line.slope == pytest.approx(0.02)


def test_slope_and_its_doubt_agree_with_an_independent_library():
    waits, static = [2.0, 5.0, 20.0, 60.0, 200.0], [0.352, 0.361, 0.37, 0.389, 0.391]
    told = growth("rest time", waits, static, "1")
    line = stats.linregress(np.log10(waits), static)
    assert told.slope.value == pytest.approx(line.slope, rel=1e-9)
    assert told.slope.standard_uncertainty == pytest.approx(line.stderr, rel=1e-9)


@pytest.mark.parametrize(
    ("waits", "reason"), [([2.0, 30.0, 100.0], "only 3"), ([5.0, 5.5, 6.0, 5.2], "nearly the same time")]
)
def test_growth_is_not_told_from_too_few_pulls_or_like_times(waits, reason):
    told = growth("rest time", waits, [0.3 + 0.01 * i for i in range(len(waits))], "1")
    assert reason in told.slope.reason
    assert not told.shown


def test_two_times_that_went_together_are_not_told_apart():
    times = [2.0, 5.0, 20.0, 60.0, 200.0]
    static = [0.352, 0.361, 0.37, 0.389, 0.391]
    made = pulls(static, [0.3] * 5, rested=times, loading=[t / 10 for t in times])
    told = growths_of(Surface(name="felt", pulls=made))
    assert [one.slope.kind for one in told] == ["cannot tell"] * 2
    assert "either" in told[0].slope.reason
