"""Exact Coulomb stick-slip: closed forms, and the simulator against them.

The numbers are solutions of M x'' = k (V t - x) - Fk with a static limit Fs, cross-checked by an
adaptive integration (nine digits).
"""

import math

import numpy as np
import pytest

from pullbench.physics import Coulomb, overshoot_N, stick_slip_cycle
from pullbench.physics.bench import Bench, Hand, simulate

CASES = [
    # (mass, stiffness, static, kinetic, speed),
    # (drop, re-stick force, stick time, slip time, peak, trough, slip distance, top speed, first break)
    pytest.param(
        (0.5, 200.0, 2.45, 1.47, 0.01),
        (1.96, 0.49, 0.98, 0.167248518, 2.45508883, 0.484911172, 0.0114724852, 0.108508883, 1.225),
        id="half a kilogram, soft",
    ),
    pytest.param(
        (0.2, 50.0, 0.98, 0.686, 0.02),
        (0.588, 0.392, 0.588, 0.225494186, 0.986725789, 0.385274211, 0.0162698837, 0.115097844, 0.98),
        id="light, very soft",
    ),
    pytest.param(
        (1.0, 1000.0, 4.9, 2.94, 0.005),
        (3.92, 0.98, 0.784, 0.104436899, 4.90636721, 0.973632791, 0.00444218449, 0.067181991, 0.98),
        id="one kilogram",
    ),
    pytest.param(
        (0.3, 30.0, 1.47, 1.1025, 0.05),
        (0.735, 0.735, 0.49, 0.391664027, 1.49943356, 0.705566441, 0.0440832013, 0.182311186, 0.98),
        id="slow swing",
    ),
    pytest.param(
        (2.0, 5000.0, 9.8, 5.88, 0.03),
        (7.84, 1.96, 0.0522666667, 0.0889608641, 10.8162334, 0.943766618, 0.00423682592, 0.0793623338,
         0.0653333333),
        id="stiff and quick",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("given", "expected"), CASES)
def test_closed_form_gives_the_derived_cycle(given, expected):
    mass, stiffness, static, kinetic, speed = given
    drop, restick, stick_s, slip_s, peak, trough, slip_m, top_speed, _ = expected
    cycle = stick_slip_cycle(
        static_N=static, kinetic_N=kinetic, mass_kg=mass, stiffness_N_m=stiffness, speed_m_s=speed
    )
    near = {"rel": 2e-9}
    assert static - cycle.restick_N == pytest.approx(drop, **near)
    assert cycle.restick_N == pytest.approx(restick, **near)
    assert cycle.stick_s == pytest.approx(stick_s, **near)
    assert cycle.slip_s == pytest.approx(slip_s, rel=1e-8)
    assert cycle.period_s == pytest.approx(stick_s + slip_s, rel=1e-8)
    assert cycle.highest_N == pytest.approx(peak, **near)
    assert cycle.lowest_N == pytest.approx(trough, **near)
    assert cycle.mean_N == kinetic
    assert cycle.slip_m == pytest.approx(slip_m, rel=1e-8)
    assert cycle.top_speed_m_s == pytest.approx(top_speed, rel=1e-8)


def _simulated(given, first_s, period_s):
    mass, stiffness, static, kinetic, speed = given
    weight = mass * 9.8
    bench = Bench(
        mass_kg=mass,
        stiffness_N_m=stiffness,
        law=Coulomb(static / weight, kinetic / weight),
        g_m_s2=9.8,
    )
    hand = Hand.at_constant_speed(speed, first_s + 3.5 * period_s)
    return simulate(bench, hand, step_s=min(5e-4, period_s / 4000))


@pytest.mark.parametrize(("given", "expected"), CASES)
def test_simulated_cycle_agrees_with_the_exact_one(given, expected):
    _, restick, stick_s, slip_s, peak, trough, slip_m, top_speed, first_s = expected
    run = _simulated(given, first_s, stick_s + slip_s)
    (_, broke), (stuck, broke_again) = run.stick_intervals[:2]

    assert broke == run.breakaway_time_s == pytest.approx(first_s, rel=1e-9)
    assert run.breakaway_force_N == pytest.approx(given[2], rel=1e-12)
    assert run.kinetic_N == pytest.approx(given[3], rel=1e-12)
    assert stuck - broke == pytest.approx(slip_s, rel=1e-8)
    assert broke_again - stuck == pytest.approx(stick_s, rel=1e-8)

    assert np.interp(stuck, run.time_s, run.pull_N) == pytest.approx(restick, rel=1e-4)
    assert run.pull_N.max() == pytest.approx(peak, rel=1e-5)  # the top lies between two samples
    assert run.pull_N[run.time_s > broke].min() == pytest.approx(trough, rel=1e-4)
    assert run.velocity_m_s.max() == pytest.approx(top_speed, rel=1e-5)
    moved_m = np.interp((stuck + broke_again) / 2, run.time_s, run.position_m)
    assert moved_m == pytest.approx(slip_m, rel=1e-8)


@pytest.mark.parametrize(("given", "expected"), CASES)
def test_simulated_pull_averages_to_the_kinetic_friction_over_whole_cycles(given, expected):
    _, _, stick_s, slip_s, *_, first_s = expected
    run = _simulated(given, first_s, stick_s + slip_s)
    breaks = [end for _, end in run.stick_intervals[:4]]
    for begin, end in ((breaks[0], breaks[1]), (breaks[0], breaks[3])):
        grid = np.linspace(begin, end, 20_001)
        mean_N = np.trapezoid(np.interp(grid, run.time_s, run.pull_N), grid) / (end - begin)
        assert mean_N == pytest.approx(given[3], rel=2e-5)


@pytest.mark.parametrize(
    ("speed_m_s", "excess_N"), [(0.01, 0.00508882848), (0.1, 0.42014285), (0.3, 2.17601014)]
)
def test_highest_reading_exceeds_the_static_limit_by_the_derived_overshoot(speed_m_s, excess_N):
    """√(D² + M k V²) - D for 0.5 kg, 200 N/m and a drop of 0.98 N."""
    overshoot = overshoot_N(drop_N=0.98, mass_kg=0.5, stiffness_N_m=200.0, speed_m_s=speed_m_s)
    assert overshoot == pytest.approx(excess_N, rel=1e-8)


@pytest.mark.parametrize("speed_m_s", [0.01, 0.1, 0.3])
def test_simulated_overshoot_comes_after_the_break_and_has_the_derived_size(speed_m_s):
    bench = Bench(mass_kg=0.5, stiffness_N_m=200.0, law=Coulomb(2.45 / 4.9, 1.47 / 4.9), g_m_s2=9.8)
    run = simulate(bench, Hand.at_constant_speed(speed_m_s, 2.0), step_s=1e-4)
    first_swing = run.time_s < run.breakaway_time_s + math.pi / bench.omega_rad_s
    highest = int(np.argmax(np.where(first_swing, run.pull_N, 0)))
    expected_N = overshoot_N(drop_N=0.98, mass_kg=0.5, stiffness_N_m=200.0, speed_m_s=speed_m_s)
    assert run.pull_N[highest] - 2.45 == pytest.approx(expected_N, rel=1e-3)
    late_s = math.atan(200.0 * speed_m_s / bench.omega_rad_s / 0.98) / bench.omega_rad_s
    assert run.time_s[highest] - run.breakaway_time_s == pytest.approx(late_s, abs=2e-4)
