"""The Tilt check: slides, holds, accelerations, and against the pull. Angles are invented unless a source is named."""

import math

import pytest

from pullbench.analysis import tilt_check
from pullbench.analysis.repeats import Repeats, within
from pullbench.analysis.tilted import agreement
from pullbench.errors import ConditionsError
from pullbench.model import BudgetRow
from pullbench.physics import acceleration_down_m_s2


def from_pull(value, u, dof=4):
    return within(value, (BudgetRow("scatter", u, dof),), "1")


def test_coefficient_is_the_tangent_and_the_gauge_carries_by_its_slope():
    """GUM 5.1.2 with μ = tan θ: at 16.7° a gauge of 0.5° gives u(μ) = 0.00951211971 (derived)."""
    told = tilt_check([16.7, 16.7000001, 16.6999999], u_angle_deg=0.5).static
    assert told.value == pytest.approx(0.300014378, rel=1e-7)
    assert told.standard_uncertainty == pytest.approx(0.00951211971, rel=1e-6)


def test_repeats_alone_give_students_limits():
    told = tilt_check([17.2, 16.8, 17.5], u_angle_deg=0.0).static
    by_hand = Repeats.of([math.tan(math.radians(a)) for a in (17.2, 16.8, 17.5)])
    assert told.limits[1] - told.value == pytest.approx(
        4.3027 * by_hand.u, rel=1e-4
    )  # t, 2 degrees of freedom


def test_a_hold_below_each_slide_puts_the_slip_between_them():
    plain = tilt_check([17.0, 17.5, 16.5]).static
    stepped = tilt_check([17.0, 17.5, 16.5], [16.0, 16.5, 15.5]).static
    assert stepped.value == pytest.approx(math.tan(math.radians(16.5)), abs=1e-4)
    assert plain.value == pytest.approx(math.tan(math.radians(17.0)), abs=1e-4)


def test_holds_alone_are_a_lower_bound():
    told = tilt_check([], [16.0, 16.5]).static
    assert told.kind == "lower bound"
    assert told.limits[0] < math.tan(math.radians(16.5))
    assert told.limits[1] is None


def test_one_slide_has_no_limits():
    told = tilt_check([17.0]).static
    assert told.kind == "cannot tell"
    assert "one slide only" in told.reason


def test_held_steeper_than_it_slid_is_said():
    assert [f.name for f in tilt_check([17.0, 16.5], [18.0]).findings] == ["held steeper than it slid"]
    assert not tilt_check([17.0, 16.5], [16.7]).findings


def test_kinetic_coefficient_comes_back_from_the_law_of_sliding():
    runs = [acceleration_down_m_s2(mu, 22.0) for mu in (0.29, 0.30, 0.31)]
    told = tilt_check([21.0, 21.5], accelerations_m_s2=runs, accelerated_at_deg=22.0, u_angle_deg=0.1).kinetic
    assert told.value == pytest.approx(0.30)
    slope = (math.tan(math.radians(22.01)) - runs[1] / 9.80665 / math.cos(math.radians(22.01))) - 0.30
    gauge = next(row.u for row in told.budget.rows if row.source == "the angle gauge")
    assert gauge == pytest.approx(slope * 0.1 / 0.01, rel=1e-3)  # the derivative, by a difference


@pytest.mark.parametrize(
    ("pulled", "same"),
    [(from_pull(0.391, 0.004), True), (from_pull(0.30, 0.004), False), (from_pull(0.41, 0.04), None)],
)
def test_two_roads_agree_disagree_or_cannot_tell(pulled, same):
    check = tilt_check([21.2, 21.8, 21.5, 21.0, 21.3], pull={"static": pulled}, u_angle_deg=0.1)
    assert check.agreements[0].same is same


def test_agreement_without_limits_cannot_be_told():
    one = tilt_check([21.0], pull={"static": from_pull(0.38, 0.01)}).agreements[0]
    assert one.same is None
    assert "one slide only" in one.difference.reason


def test_agreement_is_judged_against_a_tenth_of_the_pull_when_no_margin_was_chosen():
    assert agreement("static", from_pull(0.4, 0.001), from_pull(0.39, 0.001)).margin == pytest.approx(0.039)


@pytest.mark.parametrize(
    ("arguments", "options", "code"),
    [
        (([],), {}, "no-angle"),
        (([95.0],), {}, "tilt-out-of-range"),
        (([math.nan],), {}, "tilt-out-of-range"),
        (([17.0], [-3.0]), {}, "tilt-out-of-range"),
        (([85.0, 84.0],), {}, "coefficient-doubtful"),
        (([17.0, 16.0],), {"margin": -1.0}, "width-impossible"),
        (([17.0, 16.0],), {"u_angle_deg": -1.0}, "width-impossible"),
        (([17.0, 16.0],), {"accelerations_m_s2": [9.0, 9.0]}, "acceleration-too-large"),
        (([17.0, 16.0],), {"accelerations_m_s2": [math.nan]}, "acceleration-not-finite"),
        (([], [16.0]), {"accelerations_m_s2": [0.5, 0.6]}, "angle-missing"),
    ],
)
def test_bad_input_gives_one_clear_error(arguments, options, code):
    with pytest.raises(ConditionsError) as mistake:
        tilt_check(*arguments, **options)
    assert mistake.value.code == code
