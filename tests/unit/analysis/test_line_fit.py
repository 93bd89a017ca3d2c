"""One load line: scatter found with the line, shared loads, shared scales, bands."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.analysis import Scales, ladder, line_at
from pullbench.analysis.lines.fit import fit, points_of
from pullbench.errors import ConditionsError
from pullbench.model import LoadedPull

LOADS_N = (5.0, 10.0, 15.0, 20.0, 25.0)


def pulls(forces, loads=LOADS_N, **more):
    return [LoadedPull(normal_N=n, kinetic_N=f, **more) for n, f in zip(loads, forces, strict=True)]


def scattered(seed, repeats=3, mu=0.3, scatter=0.04):
    rng = np.random.default_rng(seed)
    normal = np.repeat(LOADS_N, repeats)
    return pulls(mu * normal * (1 + scatter * rng.standard_normal(normal.size)), normal)


def test_the_weighted_squares_add_up_to_pulls_less_two():
    found = fit(points_of(scattered(1), "kinetic"))
    points = found.points
    residual = points.force_N - found.line.intercept - found.line.slope * points.normal_N
    drawn = found.line.intercept + found.line.slope * points.normal_N
    assert np.sum((residual / (found.scatter * drawn)) ** 2) == pytest.approx(13, rel=1e-6)


def test_the_scatter_is_found():
    found = [
        fit(points_of(scattered(seed, repeats=40, scatter=0.05), "kinetic")).scatter for seed in range(5)
    ]
    assert np.mean(found) == pytest.approx(0.05, rel=0.05)


@settings(max_examples=40, deadline=None)
@given(times=st.floats(0.05, 5), seed=st.integers(0, 1000))
def test_a_force_scale_multiplies_the_line_and_changes_nothing_else(times, seed):
    plain = ladder(scattered(seed), sure=True)
    scaled = ladder(
        pulls([times * p.kinetic_N for p in plain.pulls], [p.normal_N for p in plain.pulls]), sure=True
    )
    a, b = plain.kinetic, scaled.kinetic
    assert b.slope.value == pytest.approx(times * a.slope.value, rel=1e-7)
    assert b.slope.limits == pytest.approx([times * limit for limit in a.slope.limits], rel=1e-6)
    assert b.intercept.limits == pytest.approx(
        [times * limit for limit in a.intercept.limits], rel=1e-5, abs=1e-9
    )
    assert b.scatter == pytest.approx(a.scatter, rel=1e-6)
    assert [one.name for one in plain.diagnoses] == [one.name for one in scaled.diagnoses]


def test_the_order_of_pulls_does_not_change_the_line():
    some = scattered(3)
    assert ladder(some[::-1]).kinetic.slope.limits == pytest.approx(
        ladder(some).kinetic.slope.limits, rel=1e-9
    )


def test_repeats_do_not_average_away_the_error_of_a_load():
    """Forces without scatter, loads doubted by 2 %: a hundred repeats know the slope no better than one."""
    doubted = {"u_kinetic_N": 1e-4}
    once = [LoadedPull(normal_N=n, kinetic_N=0.3 * n, u_normal_N=0.02 * n, **doubted) for n in LOADS_N]
    one, many = ladder(once).kinetic, ladder(once * 100).kinetic
    assert many.slope.standard_uncertainty == pytest.approx(one.slope.standard_uncertainty, rel=1e-3)


def test_a_slope_of_two_pulls_cannot_be_told():
    line = ladder(pulls([1.5, 3.0], (5, 10))).kinetic
    assert line.slope.kind == "cannot tell"
    assert line.lack_of_fit_p is None


def test_without_repeats_lack_of_fit_cannot_be_known():
    assert ladder(pulls([1.5, 3.1, 4.4, 6.1, 7.5])).kinetic.lack_of_fit_p is None


def test_a_bent_ladder_with_repeats_lacks_fit_and_a_straight_one_does_not():
    rng = np.random.default_rng(5)
    normal = np.repeat(LOADS_N, 4)
    noise = 1 + 0.02 * rng.standard_normal(20)
    assert ladder(pulls(0.3 * normal * noise, normal)).kinetic.lack_of_fit_p > 0.05
    bent = 0.3 * normal * noise * (1 + 0.3 * ((normal - 15) / 10) ** 2)
    assert ladder(pulls(bent, normal)).kinetic.lack_of_fit_p < 0.001


def test_masses_that_verified_the_sensor_leave_the_coefficient_free_of_their_error():
    some = scattered(7)
    plain = ladder(some).kinetic
    gain = ladder(some, scales=Scales(u_force=0.03)).kinetic
    same = ladder(some, scales=Scales(u_force=0.03, u_load=0.03, correlation=1.0)).kinetic
    u, b = plain.slope.standard_uncertainty, plain.slope.value
    assert gain.slope.standard_uncertainty == pytest.approx(math.hypot(u, 0.03 * b))
    assert same.slope.standard_uncertainty == pytest.approx(u)


def test_the_band_of_one_more_pull_is_wider_than_the_lines_and_narrowest_inside():
    line = ladder(scattered(8)).kinetic
    normal = np.array([0.0, 12.0, 40.0])
    force, half = line_at(line, normal)
    _, wider = line_at(line, normal, next_pull=True)
    assert force == pytest.approx(line.intercept.value + line.slope.value * normal)
    assert half[0] == pytest.approx((line.intercept.limits[1] - line.intercept.limits[0]) / 2)
    assert half[1] < half[2]
    assert np.all(wider >= half)
    assert wider[1] > 2 * half[1]


def test_one_more_pull_lies_in_its_band_as_often_as_it_says():
    rng = np.random.default_rng(9)
    held = []
    for seed in range(600):
        line = ladder(scattered(seed, repeats=2)).kinetic
        normal = rng.uniform(5, 25)
        force, half = line_at(line, np.array([normal]), next_pull=True)
        held.append(abs(0.3 * normal * (1 + 0.04 * rng.standard_normal()) - force[0]) <= half[0])
    assert 0.93 <= np.mean(held) <= 0.97


def test_a_pull_set_aside_is_left_out_and_the_line_with_it_is_kept_beside():
    some = scattered(10)
    jerked = LoadedPull(normal_N=15.0, kinetic_N=9.0, set_aside="jerked")
    told = ladder([*some, jerked])
    assert told.kinetic.slope.value == ladder(some).kinetic.slope.value
    (with_it,) = told.with_aside
    assert with_it.pulls == 16
    assert with_it.scatter > 2 * told.kinetic.scatter


def test_a_pull_that_tells_no_static_force_counts_for_the_kinetic_line_only():
    some = [LoadedPull(normal_N=n, kinetic_N=0.3 * n, static_N=None if n == 5 else 0.4 * n) for n in LOADS_N]
    told = ladder(some)
    assert (told.kinetic.pulls, told.static.pulls) == (5, 4)


REFUSED = [
    pytest.param(pulls([1.5], (5,)), "one-load-only", id="one pull"),
    pytest.param(pulls([1.5, 1.6, 1.4], (5, 5, 5)), "loads-equal", id="equal loads"),
    pytest.param([], "one-load-only", id="no pull"),
    pytest.param(pulls([1.5] * 1001, [5.0] * 1001), "ladder-too-long", id="a recording"),
    pytest.param(pulls([20, 40, 60], (5, 10, 15)), "coefficient-doubtful", id="coefficient of 4"),
    pytest.param(pulls([0.02, 0.04, 0.06], (5, 10, 15)), "coefficient-doubtful", id="coefficient of 0.004"),
    pytest.param([LoadedPull(normal_N=n) for n in LOADS_N], "ladder-not-told", id="no force"),
]


@pytest.mark.parametrize(("some", "code"), REFUSED)
def test_a_ladder_that_is_none_is_refused_with_one_sentence(some, code):
    with pytest.raises(ConditionsError) as told:
        ladder(some)
    assert told.value.code == code


def test_an_odd_coefficient_is_taken_when_it_is_meant():
    assert ladder(pulls([20, 40.5, 60, 80], (5, 10, 15, 20)), sure=True).kinetic.slope.value == pytest.approx(
        4, rel=0.02
    )


def test_scatter_that_is_alike_at_every_load_is_told_from_a_share_of_the_force():
    rng = np.random.default_rng(12)
    normal = np.repeat(LOADS_N, 8)
    alike = ladder(pulls(0.3 * normal + 0.1 * rng.standard_normal(40), normal)).kinetic
    share = ladder(scattered(12, repeats=8)).kinetic
    assert alike.scatter_N == pytest.approx(0.1, rel=0.3)
    assert alike.scatter < 0.02
    assert (share.scatter_N, share.scatter) == (0.0, pytest.approx(0.04, rel=0.3))
