import math

import pytest
from scipy.integrate import solve_ivp

from pullbench.errors import ConditionsError
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench.rig import law_numbers
from pullbench.physics.bench.step import next_state, sliding_coefficient

ROCK = {"mu0": 0.6, "a": 0.01, "b": 0.015, "Dc_m": 1e-5, "V0_m_s": 1e-6}


def test_coulomb_friction_ignores_speed_and_waiting():
    law = Coulomb(0.4, 0.3)
    assert {law.sliding(v) for v in (0.0, 0.01, 5.0)} == {law.constant} == {0.3}
    assert {law.holding(t) for t in (0.0, 10.0)} == {0.4}


def test_stribeck_friction_falls_from_static_to_kinetic():
    law = Stribeck(0.4, 0.3, 0.02)
    assert law.sliding(0.0) == law.holding(0.0) == pytest.approx(0.4)
    assert law.sliding(0.02) == pytest.approx(0.3 + 0.1 / math.e)
    assert law.sliding(1.0) == pytest.approx(0.3)


def test_viscous_part_grows_with_speed():
    dry, wet = Stribeck(0.4, 0.3, 0.02), Stribeck(0.4, 0.3, 0.02, viscous_s_m=0.5)
    assert wet.sliding(0.2) - dry.sliding(0.2) == pytest.approx(0.1)


def test_an_ageing_contact_gains_the_same_for_every_tenfold_wait():
    law = Ageing(0.4, 0.3, per_decade=0.02, onset_s=0.1)
    assert law.holding(0.0) == 0.4
    assert law.holding(1e4) - law.holding(1e3) == pytest.approx(0.02, rel=1e-3)
    assert law.sliding(0.1) == law.constant == 0.3


@pytest.mark.parametrize("law", ["ageing", "slip"])
@pytest.mark.parametrize("start_s", [0.01, 100.0])
def test_state_after_a_while_solves_its_own_equation_of_evolution(law, start_s):
    friction, speed = RateState(**ROCK, law=law), 5e-6
    path = solve_ivp(
        lambda _, y: [friction.state_rate(speed, y[0])],
        (0, 3),
        [start_s],
        rtol=1e-10,
        atol=1e-12,
        method="LSODA",
    )
    assert friction.state_after(start_s, speed, 3.0) == pytest.approx(path.y[0][-1], rel=1e-7)


@pytest.mark.parametrize(
    "law",
    [
        Coulomb(0.4, 0.3),
        Stribeck(0.4, 0.3, 0.02, 0.1),
        Ageing(0.4, 0.3, 0.01),
        RateState(**ROCK),
        RateState(**ROCK, law="slip"),
    ],
)
def test_the_inner_step_uses_the_same_law(law):
    for speed in (0.0, 1e-7, 0.003, 0.4):
        for state in (0.5, 20.0):
            same = sliding_coefficient(speed, state, law_numbers(law))
            assert same == pytest.approx(law.sliding(speed, state), rel=1e-13)


@pytest.mark.parametrize("law", ["ageing", "slip"])
def test_the_inner_step_ages_the_contact_the_same_way(law):
    friction = RateState(**ROCK, law=law)
    for speed in (1e-7, 1e-4):
        same = next_state(3.0, speed, 0.02, law_numbers(friction))
        assert same == pytest.approx(friction.state_after(3.0, speed, 0.02), rel=1e-12)


def test_a_contact_at_rest_obeys_the_slip_law_without_motion():
    assert RateState(**ROCK, law="slip").state_rate(0.0, 5.0) == 0.0
    assert RateState(**ROCK).state_rate(0.0, 5.0) == 1.0


@pytest.mark.parametrize(
    "make",
    [
        lambda: Coulomb(0.3, 0.4),
        lambda: Coulomb(0.3, -0.1),
        lambda: Coulomb(math.nan, 0.1),
        lambda: Stribeck(0.4, 0.3, 0.0),
        lambda: Stribeck(0.4, 0.3, 0.02, -1.0),
        lambda: Ageing(0.4, 0.3, -0.01),
        lambda: Ageing(0.4, 0.3, 0.01, onset_s=0.0),
        lambda: RateState(**{**ROCK, "Dc_m": 0.0}),
        lambda: RateState(**{**ROCK, "a": -0.01}),
    ],
)
def test_impossible_laws_are_refused(make):
    with pytest.raises(ConditionsError) as refused:
        make()
    assert refused.value.code in {"coefficients-impossible", "friction-law-impossible"}
    assert refused.value.what.endswith(".")
