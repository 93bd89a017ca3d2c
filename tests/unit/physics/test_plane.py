import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
from pullbench.physics import (
    acceleration_pulled_m_s2,
    coefficient_from_pull,
    holding_pull_N,
    least_pull,
    normal_force_N,
    pull_needed_N,
    steady_friction_N,
    weight_N,
)

mus = st.floats(0.02, 1.2)
weights = st.floats(0.5, 100.0)
strings = st.floats(-20.0, 40.0)
tilts = st.floats(-15.0, 30.0)


@given(mu=mus, weight=weights, string_deg=strings, tilt_deg=tilts)
def test_the_coefficient_comes_back_from_the_pull_it_needs(mu, weight, string_deg, tilt_deg):
    angles = {"string_deg": string_deg, "tilt_deg": tilt_deg}
    pull_N = pull_needed_N(mu, weight, **angles)
    assert coefficient_from_pull(pull_N, weight, **angles).value == pytest.approx(mu, rel=1e-9, abs=1e-12)


@given(mu=mus, weight=weights, string_deg=strings, tilt_deg=tilts)
def test_the_pull_needed_balances_friction_along_the_board(mu, weight, string_deg, tilt_deg):
    angles = {"string_deg": string_deg, "tilt_deg": tilt_deg}
    pull_N = pull_needed_N(mu, weight, **angles)
    normal_N = normal_force_N(weight, pull_N, **angles)
    assert steady_friction_N(pull_N, weight, **angles) == pytest.approx(mu * normal_N, abs=1e-9 * weight)


@given(mu=st.floats(0.02, 0.7), weight=weights, string_deg=strings, tilt_deg=tilts)
def test_the_holding_pull_balances_friction_that_points_uphill(mu, weight, string_deg, tilt_deg):
    angles = {"string_deg": string_deg, "tilt_deg": tilt_deg}
    pull_N = holding_pull_N(mu, weight, **angles)
    normal_N = normal_force_N(weight, pull_N, **angles)
    assert steady_friction_N(pull_N, weight, **angles) == pytest.approx(-mu * normal_N, abs=1e-9 * weight)


@given(mu=mus, weight=weights, string_deg=strings, tilt_deg=tilts)
def test_sensitivities_agree_with_central_differences(mu, weight, string_deg, tilt_deg):
    pull_N = pull_needed_N(mu, weight, string_deg=string_deg, tilt_deg=tilt_deg)
    given_ = np.array([pull_N, weight, string_deg, tilt_deg])
    found = coefficient_from_pull(pull_N, weight, string_deg=string_deg, tilt_deg=tilt_deg)
    slopes = (found.per_pull, found.per_weight, found.per_string, found.per_tilt)
    for place, slope in enumerate(slopes):
        nudge = np.zeros(4)
        nudge[place] = 1e-4 * max(1.0, abs(given_[place])) * (1e-1 if place < 2 else 1)
        (F1, W1, a1, t1), (F0, W0, a0, t0) = given_ + nudge, given_ - nudge
        rise = (
            coefficient_from_pull(F1, W1, string_deg=a1, tilt_deg=t1).value
            - coefficient_from_pull(F0, W0, string_deg=a0, tilt_deg=t0).value
        )
        assert slope == pytest.approx(rise / (2 * nudge[place]), rel=1e-5, abs=1e-7)


@given(mu=mus, tilt_deg=tilts, other_deg=strings)
def test_no_other_string_angle_needs_less_than_the_least_pull(mu, tilt_deg, other_deg):
    string_deg, pull_N = least_pull(mu, 10.0, tilt_deg=tilt_deg)
    assert pull_N == pytest.approx(
        pull_needed_N(mu, 10.0, string_deg=string_deg, tilt_deg=tilt_deg), abs=1e-9
    )
    other_N = pull_needed_N(mu, 10.0, string_deg=other_deg, tilt_deg=tilt_deg)
    assert other_N >= pull_N - 1e-9 or pull_N < 0  # downhill by itself there is nothing to be least


def test_no_net_force_means_no_acceleration():
    pull_N = pull_needed_N(0.3, weight_N(2.0), string_deg=12, tilt_deg=4)
    assert acceleration_pulled_m_s2(pull_N, 2.0, 0.3, string_deg=12, tilt_deg=4) == pytest.approx(
        0, abs=1e-12
    )


@pytest.mark.parametrize("angle_deg", [90, -90, 120, math.nan])
@pytest.mark.parametrize(
    ("which", "code"), [("string_deg", "string-angle-out-of-range"), ("tilt_deg", "tilt-out-of-range")]
)
def test_a_right_angle_or_more_is_refused_by_name(which, code, angle_deg):
    for calculate in (normal_force_N, coefficient_from_pull):
        with pytest.raises(ConditionsError) as refused:
            calculate(10.0, 1.0, **{which: angle_deg})
        assert refused.value.code == code


@pytest.mark.parametrize("mass_kg", [0, -0.35, math.nan, math.inf])
def test_a_mass_that_is_not_above_zero_is_refused(mass_kg):
    with pytest.raises(ConditionsError, match="kg") as refused:
        weight_N(mass_kg)
    assert refused.value.code == "mass-not-positive"


def test_a_pull_that_lifts_the_sled_is_refused():
    with pytest.raises(ConditionsError) as refused:
        coefficient_from_pull(30.0, 10.0, string_deg=45)
    assert refused.value.code == "normal-force-not-positive"


def test_pushing_down_too_steeply_jams_the_sled():
    with pytest.raises(ConditionsError) as refused:
        pull_needed_N(1.0, 10.0, string_deg=-46)
    assert refused.value.code == "no-pull-is-enough"
    assert "-45.0°" in refused.value.allowed


def test_a_string_that_would_lift_before_it_holds_is_refused():
    with pytest.raises(ConditionsError) as refused:
        holding_pull_N(1.0, 10.0, string_deg=46, tilt_deg=60)
    assert refused.value.code == "string-too-steep"


@pytest.mark.parametrize(
    ("call", "code"),
    [
        (lambda: weight_N(1.0, 0.0), "gravity-not-positive"),
        (lambda: normal_force_N(-1.0), "weight-not-positive"),
        (lambda: steady_friction_N(math.inf, 1.0), "pull-not-finite"),
        (lambda: pull_needed_N(-0.1, 1.0), "coefficient-negative"),
    ],
)
def test_other_impossible_conditions_have_their_own_code(call, code):
    with pytest.raises(ConditionsError) as refused:
        call()
    assert refused.value.code == code
