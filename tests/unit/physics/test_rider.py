"""A rider that only static friction holds, and a sled that is pulled too high."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from pullbench.errors import BenchError
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import Bench, Hand, Rider, Shape, hand, simulate, tipping_pull_N

USUAL = {"mass_kg": 1.5, "stiffness_N_m": 800.0, "law": Coulomb(0.4, 0.3), "g_m_s2": 9.8}


def bench(**changes):
    return Bench(**{**USUAL, **changes})


def rider(mu_s, mu_k=None, mass_kg=0.5):
    return Rider(mass_kg=mass_kg, mu_s=mu_s, mu_k=mu_s if mu_k is None else mu_k)


@pytest.mark.parametrize(("mu_s", "mu_k"), [(0.4, 0.3), (0.5, 0.2), (0.3, 0.28)])
@pytest.mark.parametrize("mass_kg", [1.0, 2.5])
def test_a_rider_slips_just_when_the_break_asks_for_more_than_its_grip(mu_s, mu_k, mass_kg):
    """The sled starts with a = (Fs - Fk)/M = (μs - μk) g; the rider holds up to μ g (Newton, Amontons)."""
    jolt = mu_s - mu_k
    for grip, slips in ((0.98 * jolt, True), (1.05 * jolt, False)):
        on = bench(law=Coulomb(mu_s, mu_k), mass_kg=mass_kg, rider=rider(grip))
        crawl = Hand.at_constant_speed(
            on.stretch_m / 4, 4.8
        )  # so slow that the hand adds nothing to the jolt
        run = simulate(on, crawl)
        assert run.breakaway_time_s == pytest.approx(4.0)
        assert bool(run.truths[0].rider_slips) is slips


def test_a_rider_that_holds_changes_nothing():
    movement = hand("smooth", np.random.default_rng(2), stretch_m=bench().stretch_m)
    without, carried = (simulate(bench(rider=r), movement) for r in (None, rider(0.5)))
    assert carried.pull_N == pytest.approx(without.pull_N, abs=1e-9)
    assert np.array(carried.stick_intervals) == pytest.approx(np.array(without.stick_intervals), abs=1e-9)
    assert carried.truths[0].rider_slips == ()


def test_a_slipping_rider_agrees_with_an_adaptive_integration_of_newtons_law():
    on = bench(rider=rider(0.05, 0.04), damping_N_s_m=4.0)
    run = simulate(on, Hand.at_constant_speed(0.02, 0.6), step_s=2e-4)
    begin, end = run.truths[0].rider_slips[0]
    assert begin == run.breakaway_time_s

    def newton(t, y):
        x, v, _ = y
        pull = 800.0 * (0.02 * t - x) + 4.0 * (0.02 - v)
        push = 0.04 * 0.5 * 9.8  # kinetic friction on the rider, forward while it lags
        return [v, (pull - 0.3 * 1.5 * 9.8 - push) / 1.0, push / 0.5]

    def caught_up(t, y):
        return y[2] - y[1]

    caught_up.terminal, caught_up.direction = True, 1
    path = solve_ivp(
        newton, (begin, 0.6), [0, 0, 0], events=caught_up, dense_output=True, rtol=1e-11, atol=1e-13
    )
    assert end == pytest.approx(path.t_events[0][0], abs=1e-8)
    inside = (run.time_s > begin) & (run.time_s < end)
    assert np.count_nonzero(inside) > 50
    exact = path.sol(run.time_s[inside])
    assert run.position_m[inside] == pytest.approx(exact[0], abs=1e-9)
    assert run.velocity_m_s[inside] == pytest.approx(exact[1], abs=1e-7)


def test_friction_under_a_rider_that_slides_on_a_resting_sled_holds_the_rider_back():
    """While the sled rests, floor friction balances the pull and the rider's push: momentum is kept."""
    on = bench(rider=rider(0.02, 0.02, mass_kg=1.0), damping_N_s_m=5.0)
    run = simulate(on, Hand.through([(0, 0), (0.2, 0), (0.3, 0.05), (1.5, 0.05), (1.6, 0.0), (3.0, 0.0)]))
    resting = ~run.sliding & (run.time_s > run.breakaway_time_s)
    still_rides = np.zeros(run.time_s.size, dtype=bool)
    for begin, end in run.truths[0].rider_slips:
        still_rides |= (run.time_s > begin) & (run.time_s < end)
    both = resting & still_rides
    assert both.any()
    off_N = run.friction_N[both] - run.pull_N[both]
    assert np.abs(off_N) == pytest.approx(0.02 * 1.0 * 9.8, rel=1e-9)


def test_the_kinetic_level_is_the_same_with_a_slipping_rider():
    """It still presses on the sled: only the mass that swings changes."""
    run = simulate(bench(rider=rider(0.03)), Hand.at_constant_speed(0.02, 3.0))
    assert run.truths[0].rider_slips
    assert run.kinetic_N == pytest.approx(0.3 * 1.5 * 9.8, rel=1e-12)


@pytest.mark.parametrize("law", [Stribeck(0.4, 0.3, 0.05), Ageing(0.4, 0.3, per_decade=0.02)])
def test_a_rider_goes_with_the_laws_without_memory(law):
    run = simulate(bench(law=law, rider=rider(0.03)), Hand.at_constant_speed(0.02, 1.5))
    assert run.truths[0].rider_slips
    assert np.all(np.isfinite(run.friction_N))


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"rider": rider(0.3, mass_kg=1.5)}, "rider-too-heavy"),
        ({"rider": rider(0.1), "tilt_deg": 10.0}, "rider-cannot-stand"),
        (
            {"rider": rider(0.3), "law": RateState(0.3, 0.02, 0.01, Dc_m=1e-5, V0_m_s=1e-3)},
            "rider-with-memory",
        ),
    ],
)
def test_an_impossible_rider_is_refused(changes, code):
    with pytest.raises(BenchError) as refused:
        bench(**changes)
    assert refused.value.code == code


@pytest.mark.parametrize("sizes", [(0.2, 0.3), (math.nan, 0.1), (-0.1, -0.2)])
def test_impossible_grip_of_a_rider_is_refused(sizes):
    with pytest.raises(BenchError) as refused:
        rider(*sizes)
    assert refused.value.code == "rider-impossible"


@pytest.mark.parametrize("mu", [0.25, 0.5, 0.8])
def test_a_level_sled_tips_from_the_height_that_is_half_its_length_over_mu(mu):
    """Moments about the front edge: μ W h = W l, so h/l = 1/μ."""
    on = {"law": Coulomb(mu, mu), "damping_N_s_m": 5.0}
    pull = Hand.through([(0, 0), (2, 2e-3), (12, 2e-3)])
    front_m = 0.06
    low = Shape(string_m=0.97 * front_m / mu, front_m=front_m)
    assert simulate(bench(shape=low, **on), pull).breakaway_time_s is not None
    with pytest.raises(BenchError) as refused:
        simulate(bench(shape=Shape(string_m=1.03 * front_m / mu, front_m=front_m), **on), pull)
    assert refused.value.code == "sled-tips"
    at = tipping_pull_N(10.0, Shape(string_m=front_m / mu, front_m=front_m))
    assert at == pytest.approx(mu * 10.0, rel=1e-12)


def test_tipping_depends_on_string_tilt_and_speeding_up_as_moments_say():
    shape = Shape(string_m=0.1, front_m=0.05, centre_m=0.04)
    assert tipping_pull_N(10.0, shape) == pytest.approx(5.0)
    assert tipping_pull_N(10.0, shape, string_deg=60.0) == pytest.approx(10.0)
    uphill = 10.0 * (0.05 * math.cos(math.radians(20)) + 0.04 * math.sin(math.radians(20))) / 0.1
    assert tipping_pull_N(10.0, shape, tilt_deg=20.0) == pytest.approx(uphill)
    assert tipping_pull_N(10.0, shape, inertia_N=2.0) == pytest.approx(5.0 + 2.0 * 0.04 / 0.1)
    assert tipping_pull_N(10.0, Shape(string_m=0.0, front_m=0.05)) == math.inf


@pytest.mark.parametrize("sizes", [{"front_m": 0.0}, {"front_m": 0.1, "string_m": -0.1}])
def test_an_impossible_shape_is_refused(sizes):
    with pytest.raises(BenchError) as refused:
        Shape(**{"string_m": 0.1, **sizes})
    assert refused.value.code == "bench-impossible"
