import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
from pullbench.physics import overshoot_N, stick_slip_cycle

USUAL = {"static_N": 2.0, "kinetic_N": 1.5, "mass_kg": 0.5, "stiffness_N_m": 200.0, "speed_m_s": 0.01}


@given(
    drop=st.floats(0.01, 1.0), mass=st.floats(0.1, 5), stiffness=st.floats(10, 5000), speed=st.floats(1e-4, 1)
)
def test_a_cycle_carries_the_sled_as_far_as_the_hand(drop, mass, stiffness, speed):
    cycle = stick_slip_cycle(
        static_N=2.0 + drop, kinetic_N=2.0, mass_kg=mass, stiffness_N_m=stiffness, speed_m_s=speed
    )
    assert cycle.slip_m == pytest.approx(speed * cycle.period_s, rel=1e-9)


@given(drop=st.floats(0.01, 1.0), speed=st.floats(1e-4, 1))
def test_the_overshoot_is_the_highest_pull_above_the_limit(drop, speed):
    cycle = stick_slip_cycle(
        static_N=2.0 + drop, kinetic_N=2.0, mass_kg=0.5, stiffness_N_m=200.0, speed_m_s=speed
    )
    excess = overshoot_N(drop_N=drop, mass_kg=0.5, stiffness_N_m=200.0, speed_m_s=speed)
    assert cycle.highest_N - (2.0 + drop) == pytest.approx(excess, rel=1e-6, abs=1e-14)


def test_a_crawl_slips_for_half_a_swing_and_peaks_at_the_limit():
    cycle = stick_slip_cycle(**{**USUAL, "speed_m_s": 1e-9})
    assert cycle.slip_s == pytest.approx(math.pi * math.sqrt(0.5 / 200), rel=1e-6)
    assert cycle.highest_N == pytest.approx(2.0, rel=1e-12)
    assert cycle.lowest_N == pytest.approx(cycle.restick_N, rel=1e-12)


def test_a_crawls_overshoot_keeps_its_digits():
    """For small speeds √(D² + MkV²) - D is M k V² / 2 D."""
    excess = overshoot_N(drop_N=1.0, mass_kg=0.5, stiffness_N_m=200.0, speed_m_s=1e-9)
    assert excess == pytest.approx(0.5 * 200 * 1e-18 / 2, rel=1e-12)


@pytest.mark.parametrize("wrong", ["mass_kg", "stiffness_N_m", "speed_m_s"])
@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_numbers_that_are_not_above_zero_are_refused(wrong, value):
    with pytest.raises(ConditionsError, match=wrong) as refused:
        stick_slip_cycle(**{**USUAL, wrong: value})
    assert refused.value.code == "not-positive"


@pytest.mark.parametrize("kinetic_N", [2.0, 2.5, -0.1, math.nan])
def test_friction_without_a_drop_has_no_cycle(kinetic_N):
    with pytest.raises(ConditionsError) as refused:
        stick_slip_cycle(**{**USUAL, "kinetic_N": kinetic_N})
    assert refused.value.code == "static-not-above-kinetic"
