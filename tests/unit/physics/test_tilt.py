import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
from pullbench.physics import (
    acceleration_down_m_s2,
    acceleration_up_m_s2,
    coefficient_from_acceleration,
    coefficient_from_tilt,
    slip_tilt_deg,
    steady_friction_N,
)


@given(tilt_deg=st.floats(0.0, 80.0))
def test_the_tilt_of_slipping_and_its_coefficient_belong_together(tilt_deg):
    assert slip_tilt_deg(coefficient_from_tilt(tilt_deg)[0]) == pytest.approx(tilt_deg, abs=1e-9)


@given(tilt_deg=st.floats(1.0, 70.0))
def test_change_per_degree_agrees_with_a_central_difference(tilt_deg):
    rise = coefficient_from_tilt(tilt_deg + 1e-4)[0] - coefficient_from_tilt(tilt_deg - 1e-4)[0]
    assert coefficient_from_tilt(tilt_deg)[1] == pytest.approx(rise / 2e-4, rel=1e-6)


@given(mu=st.floats(0.0, 1.0), tilt_deg=st.floats(0.0, 60.0))
def test_the_kinetic_coefficient_comes_back_from_the_acceleration(mu, tilt_deg):
    acceleration = acceleration_down_m_s2(mu, tilt_deg)
    assert coefficient_from_acceleration(acceleration, tilt_deg) == pytest.approx(mu, abs=1e-12)


@given(mu=st.floats(0.0, 1.0), tilt_deg=st.floats(0.0, 60.0))
def test_gravity_adds_to_friction_on_the_way_up_and_works_against_it_on_the_way_down(mu, tilt_deg):
    weight_part = -steady_friction_N(0.0, 9.80665, tilt_deg=tilt_deg)  # g sin θ for one kilogram
    both = acceleration_down_m_s2(mu, tilt_deg) - acceleration_up_m_s2(mu, tilt_deg)
    assert both == pytest.approx(2 * weight_part, abs=1e-12)


@pytest.mark.parametrize("tilt_deg", [-1.0, 90.0, float("nan")])
def test_an_impossible_tilt_is_refused(tilt_deg):
    with pytest.raises(ConditionsError) as refused:
        coefficient_from_tilt(tilt_deg)
    assert refused.value.code == "tilt-out-of-range"
