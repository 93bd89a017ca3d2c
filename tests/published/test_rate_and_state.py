"""Rate-and-state friction: steady state, velocity steps, holds, and a spring that is sped up.

Laws of Dieterich (1979, J. Geophys. Res. 84, 2161) and Ruina (1983, J. Geophys. Res. 88, 10359);
the numbers are their consequences, derived in closed form or by an adaptive integration.
"""

import math

import pytest
from scipy.integrate import solve_ivp

from pullbench.physics import RateState


@pytest.mark.parametrize("law", ["ageing", "slip"])
@pytest.mark.parametrize(
    ("mu0", "a", "b", "V0", "V", "steady", "per_decade"),
    [
        (0.6, 0.01, 0.015, 1e-6, 1e-5, 0.588487075, -0.0115129255),
        (0.6, 0.01, 0.015, 1e-6, 1e-4, 0.576974149, -0.0115129255),
        (0.6, 0.015, 0.01, 1e-6, 1e-5, 0.611512925, 0.0115129255),
        (0.35, 0.012, 0.02, 1e-5, 1e-3, 0.313158639, -0.0184206807),
    ],
)
def test_steady_friction_depends_on_the_logarithm_of_speed(law, mu0, a, b, V0, V, steady, per_decade):
    friction = RateState(mu0, a, b, Dc_m=1e-5, V0_m_s=V0, law=law)
    assert friction.steady(V) == pytest.approx(steady, rel=2e-9)
    assert friction.sliding(V, 1e-5 / V) == pytest.approx(steady, rel=2e-9)
    assert friction.steady(10 * V) - friction.steady(V) == pytest.approx(per_decade, rel=1e-7)


@pytest.mark.parametrize(
    ("law", "a", "b", "ratio", "after"),
    [
        ("ageing", 0.01, 0.015, 10.0,
         (0.623025851, 0.619695951, 0.616468672, 0.610404327, 0.600436282, 0.589370184)),
        ("ageing", 0.01, 0.015, 0.1,
         (0.576974149, 0.593407227, 0.599672098, 0.605481306, 0.609564682, 0.611421686)),
        ("ageing", 0.008, 0.02, 100.0,
         (0.636841361, 0.631898086, 0.626970687, 0.617182099, 0.598080012, 0.554959151)),
        ("slip", 0.01, 0.015, 10.0,
         (0.623025851, 0.615385901, 0.609435901, 0.60119318, 0.59316139, 0.588719795)),
        ("slip", 0.01, 0.015, 0.1,
         (0.576974149, 0.584614099, 0.590564099, 0.59880682, 0.60683861, 0.611280205)),
        ("slip", 0.008, 0.02, 100.0,
         (0.636841361, 0.616468161, 0.600601496, 0.578620906, 0.557202798, 0.545358546)),
    ],
)  # fmt: skip
def test_velocity_step_relaxes_over_the_slip_distance(law, a, b, ratio, after):
    Dc, V1 = 1e-5, 1e-6
    friction = RateState(0.6, a, b, Dc_m=Dc, V0_m_s=V1, law=law)
    for slip_in_Dc, expected in zip((0, 0.25, 0.5, 1, 2, 5), after, strict=True):
        state = friction.state_after(Dc / V1, ratio * V1, slip_in_Dc * Dc / (ratio * V1))
        assert friction.sliding(ratio * V1, state) == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize(
    ("hold_s", "gain"), [(1, 0.0103972077), (10, 0.0359684291), (100, 0.0692268078), (1000, 0.103631322)]
)
def test_a_true_hold_strengthens_the_contact_only_under_the_ageing_law(hold_s, gain):
    for law, expected in (("ageing", gain), ("slip", 0.0)):
        friction = RateState(0.6, 0.01, 0.015, Dc_m=1e-5, V0_m_s=1e-5, law=law)
        before, state = friction.sliding(1e-5, friction.fresh), friction.after_rest(hold_s, friction.fresh)
        assert friction.sliding(1e-5, state) - before == pytest.approx(expected, rel=1e-8)


def test_long_holds_gain_the_same_for_every_decade():
    friction = RateState(0.6, 0.01, 0.015, Dc_m=1e-5, V0_m_s=1e-5)
    gain = friction.holding(1e7, friction.fresh) - friction.holding(1e6, friction.fresh)
    assert gain == pytest.approx(0.0345387764, rel=1e-6)  # b ln 10


@pytest.mark.parametrize(
    ("law", "peak", "peak_at_Dc", "after"),
    [
        ("ageing", 0.6172478, 0.5201, (0.6172407, 0.6149212, 0.6048619, 0.5874013, 0.5884802)),
        ("slip", 0.615552, 0.3779, (0.6151246, 0.6088512, 0.5913909, 0.5885456, 0.5884864)),
    ],
)
def test_a_spring_sped_up_tenfold_gives_the_derived_transient(law, peak, peak_at_Dc, after):
    """Quasi-static spring of five times the critical stiffness: dμ/dt = (k/σ)(V2 - V), k Dc/σ = 0.025."""
    Dc, V1, V2 = 1.0, 1.0, 10.0
    friction = RateState(0.6, 0.01, 0.015, Dc_m=Dc, V0_m_s=V1, law=law)

    def rates(_, y):
        mu, state, _ = y
        V = friction.speed_at(mu, state)
        return [0.025 * (V2 - V), friction.state_rate(V, state), V]

    def crest(_, y):
        return V2 - friction.speed_at(y[0], y[1])

    crest.direction = -1
    marks = [lambda _, y, at=at: y[2] - at for at in (0.5, 1, 2, 5, 10)]
    path = solve_ivp(
        rates, (0, 3), [0.6, Dc / V1, 0.0], events=[crest, *marks], method="LSODA", rtol=1e-10, atol=1e-12
    )
    assert path.y_events[0][0][0] == pytest.approx(peak, abs=2e-6)
    assert path.y_events[0][0][2] == pytest.approx(peak_at_Dc, abs=1e-2)
    for found, expected in zip(path.y_events[1:], after, strict=True):
        assert found[0][0] == pytest.approx(expected, abs=2e-6)
    assert friction.steady(V2) == pytest.approx(0.588487075, abs=2e-9)


def test_speed_at_undoes_sliding():
    friction = RateState(0.6, 0.01, 0.015, Dc_m=1e-5, V0_m_s=1e-6)
    for speed in (1e-8, 1e-6, 3e-3):
        assert friction.speed_at(friction.sliding(speed, 4.0), 4.0) == pytest.approx(speed, rel=1e-10)
    assert math.isclose(friction.state_rate(2e-6, 1e-5 / 2e-6), 0.0, abs_tol=1e-12)
