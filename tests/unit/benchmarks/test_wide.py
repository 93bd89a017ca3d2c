"""The measure of the reader is itself measured: oracle, truth, counts and draws of benchmarks/wide."""

import math
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[3]))  # benchmarks stand beside the tests

from benchmarks.wide.cells import STANDS, Force, counted
from benchmarks.wide.draw import EVEN, LOG, drawn
from benchmarks.wide.measure import Outcome, Reading, band
from benchmarks.wide.oracle import Moments, told_moments
from benchmarks.wide.truth import kinetic_N, static_moment_s, static_N

from pullbench.model import Measured, Trace
from pullbench.physics import Coulomb, RateState
from pullbench.physics.bench import Bench, Hand, simulate


def invented(rng=None, noise_N=0.0):
    """Return a recording of rest, a ramp to 3 N at 2 s, a slide at 2 N to 6 s, rest; offset and drift on top."""
    t = np.arange(0.0, 8.0, 0.004)
    pull_N = np.select([t < 1, t <= 2, t <= 6], [0.0 * t, 3 * (t - 1), 2.0 + 0 * t], 0.0)
    noise = 0 if rng is None else rng.normal(0, noise_N, t.size)
    told = Moments(taut_s=(1.0, 6.0), break_s=2.0, slips_s=((2.0, 6.0),))
    return t, pull_N, noise, told


@pytest.mark.parametrize("sign", [1, -1])
def test_the_oracle_reads_a_clean_pull_exactly_through_offset_drift_and_sign(sign):
    t, pull_N, _, told = invented()
    trace = Trace(time_s=t, force_N=sign * pull_N + 0.7 - 0.05 * t)
    # The weights of the slide are nearly nought at the one sample that is still at 3 N.
    assert told_moments(trace, told) == (pytest.approx(3.0, abs=1e-9), pytest.approx(2.0, abs=1e-4))


def test_the_oracle_averages_noise_along_a_straight_ramp():
    errors_N = []
    for seed in range(40):
        t, pull_N, noise, told = invented(np.random.default_rng(seed), 0.1)
        errors_N.append(told_moments(Trace(time_s=t, force_N=pull_N + noise), told)[0] - 3.0)
    # The end of a line through 250 samples is known to 2 sigma / sqrt(250) = 0.013 N; one sample to 0.1 N.
    assert np.median(np.abs(errors_N)) < 0.1 / 3


def test_the_oracle_does_not_carry_a_line_past_a_kink_of_the_ramp():
    t, pull_N, _, told = invented()
    held_N = np.where(
        (t >= 1) & (t <= 1.9), np.minimum(pull_N, 1.0), pull_N
    )  # held at 1 N, then a quick rise to 3
    held_N = np.where((t > 1.9) & (t <= 2), 1 + 20 * (t - 1.9), held_N)
    assert told_moments(Trace(time_s=t, force_N=held_N), told)[0] == pytest.approx(3.0, abs=0.02)


def test_where_it_sticks_again_the_oracle_takes_the_slips_alone():
    t, pull_N, _, _ = invented()
    stuck_N = np.where((t > 3) & (t < 4), 1.2, pull_N)
    told = Moments(taut_s=(1.0, 6.0), break_s=2.0, slips_s=((2.001, 3.0), (4.0, 6.0)))
    assert told_moments(Trace(time_s=t, force_N=stuck_N), told)[1] == pytest.approx(2.0, abs=1e-9)


def test_the_oracle_says_nothing_without_a_rest():
    t, pull_N, _, _ = invented()
    told = Moments(taut_s=(-1.0, 9.0), break_s=2.0, slips_s=((2.0, 6.0),))
    assert told_moments(Trace(time_s=t, force_N=pull_N), told) == (None, None)


@pytest.mark.parametrize(("string_deg", "tilt_deg"), [(0.0, 0.0), (20.0, 0.0), (0.0, 10.0), (25.0, 5.0)])
def test_the_truth_is_the_pull_that_balances_friction_on_a_tilt_and_under_an_angle(string_deg, tilt_deg):
    bench = Bench(
        mass_kg=1.2, stiffness_N_m=900.0, damping_N_s_m=20.0, law=Coulomb(0.4, 0.3), string_deg=string_deg,
        tilt_deg=tilt_deg,
    )  # fmt: skip
    run = simulate(bench, Hand.at_constant_speed(0.03, 2.0))
    alpha, theta, weight_N = math.radians(string_deg), math.radians(tilt_deg), bench.weight_N
    for mu, told_N in ((0.4, static_N(bench, run)), (0.3, kinetic_N(bench, run))):
        # P cos α = μ (W cos θ - P sin α) + W sin θ, solved for P.
        pull_N = (
            weight_N * (mu * math.cos(theta) + math.sin(theta)) / (math.cos(alpha) + mu * math.sin(alpha))
        )
        assert told_N == pytest.approx(pull_N, rel=1e-9)


def test_a_rate_and_state_contact_bore_its_most_at_or_after_first_motion():
    law = RateState(mu0=0.3, a=0.005, b=0.01, Dc_m=1e-5, V0_m_s=0.05, creep_m_s=2e-4)
    bench = Bench(mass_kg=1.0, stiffness_N_m=900.0, damping_N_s_m=10.0, law=law)
    run = simulate(bench, Hand.at_constant_speed(0.01, 2.0))
    moment_s = static_moment_s(bench, run)
    assert run.breakaway_time_s <= moment_s + run.step_s < run.breakaway_time_s + 0.3
    assert static_N(bench, run) >= run.breakaway_force_N - 1e-3


@pytest.mark.parametrize("count", [10, 60])
def test_the_interval_of_a_full_coverage_is_the_one_of_clopper_and_pearson(count):
    force = Force()
    for _ in range(count):
        force.add(Reading(_value(2.0, 0.1), 2.0, 2.0))
    # All of n held: the lower limit p solves p**n = 0.025.
    assert force.coverage_limits == (pytest.approx(0.025 ** (1 / count)), 1.0)


def test_the_ratio_compares_medians_on_the_pulls_that_both_told():
    force = Force()
    for ours_N, oracle_N in ((2.2, 2.1), (2.4, 1.9), (2.0, None)):
        force.add(Reading(_value(ours_N, 1.0), oracle_N, 2.0))
    assert force.ratio == pytest.approx(0.15 / 0.05)
    assert len(force.told.errors) == 3


def test_a_breakaway_told_of_a_sled_that_never_moved_is_invented():
    silent = Measured.cannot_tell("it never moved", unit="N")
    told = Outcome(
        0, {"pulls": STANDS}, 2, Reading(_value(2.0, 1.0), None, None), Reading(silent, None, None)
    )
    missed = Outcome(1, {"pulls": STANDS}, 0, Reading(None, 1.0, 1.0), Reading(None, 1.0, 1.0))
    cells = counted([told, missed])
    whole = cells["all", "all"]
    assert (whole.pulls, whole.missed, whole.invented) == (2, 1, 2)
    assert set(cells) == {("all", "all"), ("pulls", STANDS)}


@pytest.mark.parametrize(
    ("value", "name"), [(3, "below 5 Hz"), (5, "5–9 Hz"), (8.9, "5–9 Hz"), (9, "9 Hz and more")]
)
def test_a_band_holds_its_lower_edge(value, name):
    assert band(value, (5.0, 9.0), "{:g}", " Hz") == name


def test_a_seed_gives_the_same_pull_again():
    one, other = drawn(7), drawn(7)
    assert np.array_equal(one.trace.force_N, other.trace.force_N)
    assert (one.static_N, one.kinetic_N, one.hand, one.law) == (
        other.static_N,
        other.kinetic_N,
        other.hand,
        other.law,
    )


def test_the_ranges_hold_those_of_the_tests_and_more():
    tests = {  # tests/simulated/pulls.py
        "mass_kg": (0.15, 2.5), "mu_k": (0.12, 0.6), "mu_s / mu_k": (1.05, 1.6), "stiffness_N_m": (60, 4000),
        "damping, of critical": (0.02, 0.25), "v_stribeck_m_s": (0.001, 0.02), "Dc_m": (3e-6, 3e-5),
        "a, of mu_k": (0.01, 0.02), "b - a, of mu_k": (0.005, 0.02), "ageing per decade, of mu_k": (0.01, 0.05),
        "load_s": (0.5, 4.0), "rest_s": (0.8, 3.0), "rest_after_s": (0.8, 3.0), "slack_m": (0.001, 0.01),
        "speed_m_s": (0.03, 0.2), "slide_s": (1.5, 5.0), "pause_s": (0.15, 0.6), "rate_Hz": (10, 1000),
        "wander, of the stretch": (0.001, 0.015), "noise, of the kinetic level": (0.0005, 0.04),
        "hum, of the kinetic level": (0.01, 0.04), "offset, of the kinetic level": (-0.3, 0.3),
        "drift per second, of the kinetic level": (-0.003, 0.003),
    }  # fmt: skip
    wide = {**LOG, **EVEN}
    for name, (least, most) in tests.items():
        assert wide[name][0] < least < most < wide[name][1], name


def _value(force_N, doubt_N):
    return Measured(
        kind="value",
        value=force_N,
        standard_uncertainty=doubt_N / 2,
        limits=(force_N - doubt_N, force_N + doubt_N),
        unit="N",
    )
