"""Laws of mechanics that any simulated pull must obey, whatever the bench and the hand."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from laws.pulls import benches, names, pulling, seeds
from pullbench.physics import Coulomb, Stribeck
from pullbench.physics.bench import Bench, Hand, simulate

few = settings(max_examples=12, deadline=None)


@few
@given(bench=benches(), name=names, seed=seeds)
def test_impulse_of_the_net_force_equals_the_change_of_momentum(bench, name, seed):
    run = simulate(bench, pulling(bench, name, seed))
    downhill_N = bench.weight_N * math.sin(math.radians(bench.tilt_deg))
    net_N = run.pull_N * math.cos(math.radians(bench.string_deg)) - downhill_N - run.friction_N
    impulse_Ns = np.concatenate([[0], np.cumsum((net_N[1:] + net_N[:-1]) / 2) * run.step_s])
    # Friction jumps at a break and at a stop, between two samples: each costs up to half a step.
    jumps = 2 * len(run.stick_intervals)
    largest_N = 2 * run.pull_N.max() + bench.weight_N
    assert bench.mass_kg * run.velocity_m_s == pytest.approx(
        impulse_Ns, abs=jumps * largest_N * run.step_s / 2 + 1e-9
    )


@few
@given(bench=benches(), name=names, seed=seeds)
def test_work_of_the_hand_becomes_friction_heat_lift_spring_and_motion(bench, name, seed):
    run = simulate(bench, pulling(bench, name, seed), step_s=2e-4)
    along = math.cos(math.radians(bench.string_deg))
    hand_J = np.trapezoid(run.pull_N, run.hand_m)
    heat_J = np.trapezoid(run.friction_N * run.velocity_m_s, run.time_s)
    lift_J = bench.weight_N * math.sin(math.radians(bench.tilt_deg)) * run.position_m[-1]
    stretch_m = run.hand_m - run.position_m * along
    elastic_N = bench.stiffness_N_m * np.maximum(stretch_m, 0)
    spring_J = np.trapezoid(elastic_N, stretch_m)
    damping_J = np.trapezoid(run.pull_N - elastic_N, stretch_m)
    motion_J = bench.mass_kg * run.velocity_m_s[-1] ** 2 / 2
    assert run.pull_N[-1] == 0
    assert motion_J == 0
    turned_over_J = np.trapezoid(run.pull_N, np.abs(np.gradient(run.hand_m))) + hand_J + heat_J
    assert hand_J == pytest.approx(
        heat_J + lift_J + spring_J + damping_J, abs=3e-3 * abs(turned_over_J) + 1e-6
    )


@few
@given(bench=benches(damped=False), speed=st.floats(0.01, 0.1))
def test_elastic_energy_is_the_difference_of_works_while_a_string_is_taut(bench, speed):
    taut_s = 3 * bench.stretch_m / speed
    run = simulate(bench, Hand.at_constant_speed(speed, taut_s), step_s=taut_s / 20_000)
    along = math.cos(math.radians(bench.string_deg))
    taut = int(np.argmax(run.pull_N[1:] == 0)) or run.time_s.size  # until it first goes slack, if ever
    until = slice(0, taut)
    hand_J = np.trapezoid(run.pull_N[until], run.hand_m[until])
    on_sled_J = np.trapezoid((run.pull_N * along * run.velocity_m_s)[until], run.time_s[until])
    stored_J = run.pull_N[until][-1] ** 2 / (2 * bench.stiffness_N_m)
    assert hand_J - on_sled_J == pytest.approx(stored_J, abs=1e-4 * hand_J)


# A swing that all but stops between two grid points, and then goes on.
GRAZING = Bench(mass_kg=0.25, stiffness_N_m=2392.0, law=Coulomb(0.23897416445642922, 0.141614319677884))


@few
@given(bench=benches(), name=names, seed=seeds)
@example(bench=GRAZING, name="jerked", seed=183205)
def test_a_sled_pulled_forward_never_moves_backward(bench, name, seed):
    run = simulate(bench, pulling(bench, name, seed))
    assert run.velocity_m_s.min() >= 0
    assert np.all(np.diff(run.position_m) >= 0)


@few
@given(bench=benches(), name=names, seed=seeds)
def test_friction_at_rest_never_exceeds_the_static_limit(bench, name, seed):
    run = simulate(bench, pulling(bench, name, seed))
    lift, press = math.sin(math.radians(bench.string_deg)), math.cos(math.radians(bench.tilt_deg))
    normal_N = bench.weight_N * press - run.pull_N * lift
    rested_s = bench.contact_s + run.time_s[-1]
    limit_N = bench.law.holding(rested_s, 0.0) * normal_N
    at_rest = ~run.sliding
    assert np.all(np.abs(run.friction_N[at_rest]) <= limit_N[at_rest] * (1 + 1e-9))
    assert np.all(run.velocity_m_s[at_rest] == 0)


@few
@given(bench=benches(), name=names, seed=seeds)
def test_breakaway_happens_exactly_at_the_static_limit(bench, name, seed):
    run = simulate(bench, pulling(bench, name, seed))
    if run.breakaway_time_s is None:
        assert not run.sliding.any()
        return
    mu_s = bench.law.holding(bench.contact_s + run.breakaway_time_s, 0.0)
    pull_N = run.breakaway_force_N
    along_N = pull_N * math.cos(math.radians(bench.string_deg)) - bench.weight_N * math.sin(
        math.radians(bench.tilt_deg)
    )
    normal_N = bench.weight_N * math.cos(math.radians(bench.tilt_deg)) - pull_N * math.sin(
        math.radians(bench.string_deg)
    )
    assert along_N == pytest.approx(mu_s * normal_N, rel=1e-9)


@few
@given(bench=benches(), name=names, seed=seeds, factor=st.floats(0.1, 20.0))
def test_more_mass_and_stiffness_alike_scale_every_force_and_no_motion(bench, name, seed, factor):
    movement = pulling(bench, name, seed)
    scaled = Bench(
        mass_kg=bench.mass_kg * factor,
        stiffness_N_m=bench.stiffness_N_m * factor,
        damping_N_s_m=bench.damping_N_s_m * factor,
        law=bench.law,
        string_deg=bench.string_deg,
        tilt_deg=bench.tilt_deg,
        contact_s=bench.contact_s,
    )
    one, other = simulate(bench, movement), simulate(scaled, movement)
    # A swing on the brink of stopping may fall either way in the last digit; compare up to there.
    same = min(len(one.stick_intervals), len(other.stick_intervals)) < 3
    until = slice(None) if same else one.time_s < one.stick_intervals[1][0]
    if one.breakaway_time_s is None:
        assert other.breakaway_time_s is None
    else:
        assert other.breakaway_time_s == pytest.approx(one.breakaway_time_s, rel=1e-9)
        assert other.breakaway_force_N == pytest.approx(one.breakaway_force_N * factor, rel=1e-9)
    assert other.pull_N[until] == pytest.approx(
        one.pull_N[until] * factor, rel=1e-6, abs=1e-6 * factor * bench.weight_N
    )


@few
@given(mass=st.floats(0.2, 3.0), stiffness=st.floats(100.0, 2000.0), factor=st.floats(0.2, 5.0))
def test_all_lengths_and_gravity_alike_scale_every_force(mass, stiffness, factor):
    law = Coulomb(0.4, 0.3)
    one = Bench(mass_kg=mass, stiffness_N_m=stiffness, law=law, g_m_s2=9.8)
    other = Bench(mass_kg=mass, stiffness_N_m=stiffness, law=law, g_m_s2=9.8 * factor)
    speed = one.stretch_m / 0.5
    slow = simulate(one, Hand.at_constant_speed(speed, 1.0))
    fast = simulate(other, Hand.at_constant_speed(speed * factor, 1.0))
    assert fast.breakaway_time_s == pytest.approx(slow.breakaway_time_s, rel=1e-9)
    first_slip = slow.time_s < slow.stick_intervals[1][0] if len(slow.stick_intervals) > 1 else slice(None)
    assert fast.pull_N[first_slip] == pytest.approx(slow.pull_N[first_slip] * factor, rel=1e-7)


@few
@given(bench=benches(tilted=False), steps=st.integers(1, 3000))
def test_starting_later_changes_nothing_but_the_clock(bench, steps):
    delay_s = steps * 5e-4
    knots = [(0.2, 0.0), (0.3, 0.02), (1.5, 0.05), (1.6, 0.0), (1.8, 0.0)]
    now = Hand.through([(0.0, 0.0), *knots])
    later = Hand.through([(0.0, 0.0), *((t + delay_s, v) for t, v in knots)])
    # A contact that ages would notice the longer wait: let it have stood for ages already.
    stood = Bench(
        mass_kg=bench.mass_kg,
        stiffness_N_m=bench.stiffness_N_m,
        damping_N_s_m=bench.damping_N_s_m,
        law=Coulomb(0.4, 0.3),
    )
    one, other = simulate(stood, now), simulate(stood, later)
    if one.breakaway_time_s is None:
        assert other.breakaway_time_s is None
    else:
        assert other.breakaway_time_s - delay_s == pytest.approx(one.breakaway_time_s, abs=1e-9)
    kept = one.pull_N.size
    assert other.pull_N[steps : steps + kept] == pytest.approx(one.pull_N, abs=1e-6 * stood.weight_N)


@few
@given(mu=st.floats(0.05, 0.5), steeper=st.floats(1.0, 20.0))
def test_sliding_down_a_tilt_backward_mirrors_sliding_down_it_forward(mu, steeper):
    tilt_deg = math.degrees(math.atan(mu)) + steeper
    loose = Hand.through([(0.0, 0.0), (1.0, 0.0)], start_m=-100.0)
    uphill, downhill = (
        simulate(
            Bench(
                mass_kg=1.0, stiffness_N_m=500.0, law=Stribeck(mu, 0.8 * mu, 0.05), tilt_deg=sign * tilt_deg
            ),
            loose,
        )
        for sign in (1, -1)
    )
    assert uphill.position_m[-1] < 0
    assert uphill.position_m == pytest.approx(-downhill.position_m, abs=1e-15)
    assert uphill.velocity_m_s == pytest.approx(-downhill.velocity_m_s, abs=1e-15)
    assert uphill.friction_N == pytest.approx(-downhill.friction_N, abs=1e-12)


def test_a_sled_let_go_on_a_steep_board_gains_speed_as_newton_says():
    loose = Hand.through([(0.0, 0.0), (0.5, 0.0)], start_m=-100.0)
    bench = Bench(mass_kg=0.7, stiffness_N_m=500.0, law=Coulomb(0.3, 0.2), tilt_deg=30.0, g_m_s2=9.8)
    run = simulate(bench, loose)
    acceleration = 9.8 * (math.sin(math.radians(30)) - 0.2 * math.cos(math.radians(30)))
    assert run.velocity_m_s[-1] == pytest.approx(-acceleration * 0.5, rel=1e-10)
    assert run.position_m[-1] == pytest.approx(-acceleration * 0.5**2 / 2, rel=1e-10)


def test_halving_the_step_cuts_the_error_sixteenfold():
    """Fourth order, measured against the closed form of the first slip (ω = 10 /s)."""
    static, kinetic, mass, stiffness, V = 1.47, 1.1025, 0.3, 30.0, 0.05
    law = Coulomb(static / (mass * 9.8), kinetic / (mass * 9.8))
    bench = Bench(mass_kg=mass, stiffness_N_m=stiffness, law=law, g_m_s2=9.8)
    errors = []
    for step_s in (5e-3, 2.5e-3, 1.25e-3):
        run = simulate(bench, Hand.at_constant_speed(V, 1.36), step_s=step_s)
        phase = 10.0 * (run.time_s - run.breakaway_time_s)
        inside = (phase > 0) & (phase < 10.0 * 0.39)
        exact_N = kinetic + (static - kinetic) * np.cos(phase) + stiffness * V / 10.0 * np.sin(phase)
        errors.append(np.max(np.abs(run.pull_N - exact_N)[inside]))
    assert errors[0] < 1e-6
    for coarse, fine in pairwise(errors):
        assert math.log2(coarse / fine) == pytest.approx(4.0, abs=0.3)


@pytest.mark.parametrize("damping", [0.0, 4.0])
@pytest.mark.parametrize(("string_deg", "tilt_deg"), [(0.0, 0.0), (20.0, 5.0), (-10.0, -3.0)])
def test_a_slip_agrees_with_an_adaptive_integration_of_newtons_law(damping, string_deg, tilt_deg):
    law = Stribeck(0.4, 0.3, 0.05, viscous_s_m=0.2)
    bench = Bench(
        mass_kg=1.2,
        stiffness_N_m=400.0,
        law=law,
        damping_N_s_m=damping,
        string_deg=string_deg,
        tilt_deg=tilt_deg,
    )
    V = 0.02
    run = simulate(bench, Hand.at_constant_speed(V, 1.2))
    alpha, theta = math.radians(string_deg), math.radians(tilt_deg)

    def newton(t, y):
        x, v = y
        pull = 400.0 * (V * t - x * math.cos(alpha)) + damping * (V - v * math.cos(alpha))
        normal = bench.weight_N * math.cos(theta) - pull * math.sin(alpha)
        mu = 0.3 + 0.1 * math.exp(-((v / 0.05) ** 2)) + 0.2 * v
        along = pull * math.cos(alpha) - bench.weight_N * math.sin(theta)
        return [v, (along - mu * normal) / 1.2]

    begin, end = run.stick_intervals[0][1], run.stick_intervals[1][0]
    inside = (run.time_s > begin) & (run.time_s < end)
    path = solve_ivp(
        newton, (begin, end), [0.0, 0.0], t_eval=run.time_s[inside], rtol=1e-11, atol=1e-13, method="DOP853"
    )
    assert run.position_m[inside] == pytest.approx(path.y[0], abs=1e-8)
    assert run.velocity_m_s[inside] == pytest.approx(path.y[1], abs=1e-6)
    assert newton(end, [np.interp(end, run.time_s, run.position_m), 0.0])[1] < 0  # it had to stop
