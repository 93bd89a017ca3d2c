"""Closed forms and balances of a sled on a string, for any size of it."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from pullbench.physics import Coulomb, stick_slip_cycle
from pullbench.physics.bench import Bench, Hand, simulate

few = settings(max_examples=10, deadline=None)
sizes = {
    "mass_kg": st.floats(0.2, 3.0),
    "stiffness_N_m": st.floats(50.0, 1500.0),
    "mu_k": st.floats(0.1, 0.5),
    "ratio": st.floats(1.1, 1.8),
}


@few
@given(**sizes, pace=st.floats(0.05, 0.5))
def test_a_coulomb_slider_keeps_the_closed_form_times_of_stick_and_slip(
    mass_kg, stiffness_N_m, mu_k, ratio, pace
):
    """Slip 2(π - atan(Dω/(kV)))/ω, stick 2D/(kV), drop 2D: M a = k(Vt - x) - Fk, solved."""
    bench = Bench(mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, law=Coulomb(ratio * mu_k, mu_k), g_m_s2=9.8)
    drop_N = (ratio - 1) * mu_k * bench.weight_N
    speed = pace * drop_N * bench.omega_rad_s / stiffness_N_m
    slip_s = (
        2 * (math.pi - math.atan(drop_N * bench.omega_rad_s / (stiffness_N_m * speed))) / bench.omega_rad_s
    )
    stick_s = 2 * drop_N / (stiffness_N_m * speed)
    first_s = ratio * mu_k * bench.weight_N / (stiffness_N_m * speed)
    run = simulate(bench, Hand.at_constant_speed(speed, first_s + 2.5 * (slip_s + stick_s)))
    (_, broke), (stuck, again), *_ = run.stick_intervals
    assert broke == pytest.approx(first_s, rel=1e-9)
    assert stuck - broke == pytest.approx(slip_s, rel=1e-6)
    assert again - stuck == pytest.approx(stick_s, rel=1e-6)
    cycle = stick_slip_cycle(
        mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, static_N=ratio * mu_k * bench.weight_N,
        kinetic_N=mu_k * bench.weight_N, speed_m_s=speed,
    )  # fmt: skip
    assert cycle.slip_s == pytest.approx(slip_s, rel=1e-9)


@few
@given(**sizes, damping=st.floats(0.0, 8.0), pace=st.floats(0.1, 1.0))
def test_work_of_the_hand_is_heat_motion_and_stored_energy_to_a_millionth(
    mass_kg, stiffness_N_m, mu_k, ratio, damping, pace
):
    bench = Bench(
        mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, law=Coulomb(ratio * mu_k, mu_k), damping_N_s_m=damping
    )
    # A softer start than a jump of speed, so that the damper's force has no corner at the beginning.
    top = pace * bench.stretch_m * bench.omega_rad_s / 4
    long_s = 3 * bench.stretch_m / top + 6 / bench.omega_rad_s
    movement = Hand.through([(0, 0), (long_s / 4, top), (long_s, top)])
    run = simulate(bench, movement, step_s=min(long_s / 40_000, 1e-3))
    hand_m_s = movement.speed_m_s(run.time_s)
    hand_J = np.trapezoid(run.pull_N * hand_m_s, run.time_s)
    heat_J = np.trapezoid(run.friction_N * run.velocity_m_s, run.time_s)
    stretch_m = run.hand_m - run.position_m
    taut = stretch_m > 0
    assume(np.all(taut[1:]))  # slack strings: covered, to a coarser limit, by the test of whole pulls
    damped_J = np.trapezoid(damping * (hand_m_s - run.velocity_m_s) ** 2, run.time_s)
    stored_J = stiffness_N_m * stretch_m[-1] ** 2 / 2
    motion_J = mass_kg * run.velocity_m_s[-1] ** 2 / 2
    assert run.breakaway_time_s is not None
    assert heat_J + damped_J + stored_J + motion_J == pytest.approx(hand_J, rel=1e-6)


@few
@given(mass_kg=st.floats(0.2, 3.0), stiffness_N_m=st.floats(50.0, 1500.0))
def test_a_sliding_sled_swings_at_the_root_of_stiffness_over_mass(mass_kg, stiffness_N_m):
    """Small swings about steady sliding: the friction is constant, so only spring and mass are left."""
    bench = Bench(mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, law=Coulomb(0.3, 0.3), g_m_s2=9.8)
    omega = bench.omega_rad_s
    # The start sets it swinging by its own speed, too little to slacken the string; a hand that is then sped
    # up gently keeps it from stopping.
    slow = 0.3 * 0.3 * bench.weight_N / math.sqrt(stiffness_N_m * mass_kg)
    quick = 4 * slow
    start_s = 0.3 * bench.weight_N / stiffness_N_m / slow
    knots = [(0, slow), (start_s, slow), (start_s + 20 / omega, quick), (start_s + 90 / omega, quick)]
    run = simulate(bench, Hand.through(knots), step_s=min(1e-3, 0.005 / omega))
    assert len(run.stick_intervals) == 1
    late = run.time_s > start_s + 21 / omega
    swing = run.pull_N[late] - 0.3 * bench.weight_N
    time_s = run.time_s[late]
    up = np.flatnonzero((swing[:-1] < 0) & (swing[1:] >= 0))
    crossings = time_s[up] - swing[up] * (time_s[up + 1] - time_s[up]) / (swing[up + 1] - swing[up])
    assert crossings.size > 5
    period_s = (crossings[-1] - crossings[0]) / (crossings.size - 1)
    assert 2 * math.pi / period_s == pytest.approx(omega, rel=1e-4)


@pytest.mark.parametrize(("damping", "string_deg", "tilt_deg"), [(0.0, 0.0, 0.0), (3.0, 15.0, 4.0)])
def test_stick_and_slip_agree_with_an_adaptive_integrator_that_finds_events(damping, string_deg, tilt_deg):
    bench = Bench(
        mass_kg=0.8, stiffness_N_m=300.0, law=Coulomb(0.45, 0.3), damping_N_s_m=damping,
        string_deg=string_deg, tilt_deg=tilt_deg,
    )  # fmt: skip
    speed, end_s = 0.02, 2.0
    run = simulate(bench, Hand.at_constant_speed(speed, end_s))
    along, lift = math.cos(math.radians(string_deg)), math.sin(math.radians(string_deg))
    press = bench.weight_N * math.cos(math.radians(tilt_deg))
    downhill = bench.weight_N * math.sin(math.radians(tilt_deg))

    def pull(t, x, v):
        return 300.0 * (speed * t - x * along) + damping * (speed - v * along)

    def slip(t, y):
        force = pull(t, *y)
        return [y[1], (force * along - downhill - 0.3 * (press - force * lift)) / 0.8]

    def stopped(t, y):
        return y[1]

    def broken(t, y):
        force = pull(t, y[0], 0.0)
        return force * along - downhill - 0.45 * (press - force * lift)

    stopped.terminal = broken.terminal = True
    stopped.direction, broken.direction = -1, 1
    t, y, moments = 0.0, [0.0, 0.0], []
    while t < end_s:
        rest = solve_ivp(lambda t, y: [0.0, 0.0], (t, end_s), y, events=broken, rtol=1e-11, atol=1e-13)
        if not rest.t_events[0].size:
            break
        t = rest.t_events[0][0]
        moments.append(t)
        path = solve_ivp(
            slip, (t, end_s), [y[0], 1e-15], events=stopped, rtol=1e-11, atol=1e-13, method="DOP853"
        )
        if not path.t_events[0].size:
            break
        t, y = path.t_events[0][0], [path.y_events[0][0][0], 0.0]
        moments.append(t)
    found = [moment for span in run.stick_intervals for moment in span][1:-1]
    assert len(moments) > 4
    assert found[: len(moments)] == pytest.approx(moments[: len(found)], abs=1e-7)
