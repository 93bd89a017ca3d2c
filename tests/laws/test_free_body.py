"""Laws that every moment of a free-body view obeys: balance, Newton's second law, impulse, symmetry, scaling."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.analysis import Conditions, analyse
from pullbench.detect import windows
from pullbench.model import Chunk, Trace
from pullbench.physics import Coulomb
from pullbench.physics.bench import Bench, hand, simulate
from pullbench.teach.free_body import moments
from pullbench.teach.free_body_scene import scene_of
from unit.render.fake_pulls import pull

few = settings(max_examples=25, deadline=None)
G = 9.80665

angles = st.tuples(st.floats(-10, 35), st.floats(-15, 15))
weights = st.floats(8.0, 60.0)


def vector_sum_N(body, *, without=("net",)):
    """Return the sum of a body's arrows along and off the board, by plain trigonometry."""
    pairs = [
        (
            one.length_N * math.cos(math.radians(one.direction_deg)),
            one.length_N * math.sin(math.radians(one.direction_deg)),
        )
        for one in body.forces
        if one.kind not in without
    ]
    return sum(x for x, _ in pairs), sum(y for _, y in pairs)


def viewed(weight_N, string_deg, tilt_deg, **more):
    conditions = Conditions(weight_N=weight_N, string_deg=string_deg, tilt_deg=tilt_deg)
    return moments(pull(), conditions=conditions, **more)


@few
@given(weight_N=weights, geometry=angles, share=st.floats(0, 1))
def test_arrows_sum_to_nought_at_rest_and_to_mass_times_acceleration_while_sliding(weight_N, geometry, share):
    body = viewed(weight_N, *geometry)
    index = round(share * (body.time_s.size - 1))
    motion = body.stages[int(body.stage[index])].motion
    along, off = vector_sum_N(scene_of(body, index).bodies[0])
    assert off == pytest.approx(0, abs=1e-9 * weight_N)  # it never leaves the board
    if motion == "at rest":
        assert along == pytest.approx(0, abs=1e-9 * weight_N)
    elif motion == "slides":
        assert along == pytest.approx(weight_N / G * body.acceleration_m_s2[index], abs=1e-9 * weight_N)


@few
@given(weight_N=weights, geometry=angles)
def test_the_board_never_pulls_and_static_friction_reaches_its_limit_only_at_breakaway(weight_N, geometry):
    body = viewed(weight_N, *geometry)
    assert (body.normal_N > 0).all()
    loading = np.array([body.stages[int(k)].name == "loading" for k in body.stage])
    at_break = np.argmin(np.abs(body.time_s - body.breakaway_s))
    half_N = body.limit_half_N[at_break] + body.friction_half_N[at_break]
    # The limit was read by a fit up to the break; the samples before it carry tremor of 1 % of the static maximum.
    assert (body.friction_N[loading] <= body.limit_N[loading] + half_N + 0.03 * 3.12).all()


@few
@given(weight_N=weights, geometry=angles)
def test_a_sensor_turned_round_changes_no_force(weight_N, geometry):
    conditions = Conditions(weight_N=weight_N, string_deg=geometry[0], tilt_deg=geometry[1])
    one, other = moments(pull(), conditions=conditions), moments(pull(direction=-1), conditions=conditions)
    for name in ("pull_N", "friction_N", "normal_N", "net_N", "acceleration_m_s2"):
        np.testing.assert_allclose(getattr(other, name), getattr(one, name), atol=1e-9, equal_nan=True)


@few
@given(factor=st.floats(0.01, 100), weight_N=weights, geometry=angles)
def test_forces_scale_together_and_accelerations_stay(factor, weight_N, geometry):
    small = viewed(weight_N, *geometry)
    conditions = Conditions(weight_N=factor * weight_N, string_deg=geometry[0], tilt_deg=geometry[1])
    grown = pull(static_N=3.12 * factor, kinetic_N=2.24 * factor, rest_N=0.13 * factor)
    large = moments(grown, conditions=conditions)
    for name in ("pull_N", "friction_N", "limit_N", "normal_N", "net_N"):
        np.testing.assert_allclose(
            getattr(large, name) / factor, getattr(small, name), rtol=1e-7, atol=1e-7, equal_nan=True
        )
    np.testing.assert_allclose(
        large.acceleration_m_s2, small.acceleration_m_s2, rtol=1e-7, atol=1e-7, equal_nan=True
    )


@few
@given(rider=st.floats(0.1, 0.9), weight_N=weights, tilt_deg=st.floats(-10, 10), share=st.floats(0, 1))
def test_a_rider_obeys_newtons_second_law_with_the_sleds_own_acceleration(rider, weight_N, tilt_deg, share):
    rider_kg = rider * weight_N / G
    body = viewed(weight_N, 0.0, tilt_deg, rider_kg=rider_kg)
    known = np.flatnonzero(np.isfinite(body.acceleration_m_s2))
    index = int(known[round(share * (known.size - 1))])
    along, off = vector_sum_N(scene_of(body, index).bodies[1])
    assert off == pytest.approx(0, abs=1e-9 * weight_N)
    # A friction within its own plus or minus is not drawn.
    assert along == pytest.approx(
        rider_kg * body.acceleration_m_s2[index], abs=body.rider_half_N[index] + 1e-9
    )


def test_while_it_speeds_up_the_friction_on_the_rider_points_forward_and_on_the_sled_backward():
    body = viewed(9.81, 0.0, 0.0, rider_kg=0.4)
    speeding = np.flatnonzero(body.net_N > 3 * body.net_half_N)
    sled, rider = scene_of(body, int(speeding[0])).bodies
    assert [one.direction_deg for one in rider.forces if one.kind == "static"] == [0]
    assert [one.direction_deg for one in sled.forces if one.kind == "kinetic"] == [180]


@pytest.mark.parametrize("seed", range(4))
def test_inferred_friction_and_acceleration_are_those_of_a_simulated_sled(seed):
    rng = np.random.default_rng(seed)
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=Coulomb(0.40, 0.30))
    run = simulate(bench, hand("smooth", rng, stretch_m=bench.stretch_m))
    every = max(1, round(0.004 / run.step_s))
    time_s, noise_N = run.time_s[::every], 0.002 * rng.standard_normal(run.time_s[::every].size)
    found = [analyse(w) for w in windows([Chunk(time_s=time_s, force_N=run.pull_N[::every] + noise_N)])]
    body = moments(found[0], conditions=Conditions(weight_N=bench.weight_N))
    true_N, moving = (
        np.interp(body.time_s, run.time_s, run.friction_N),
        np.interp(body.time_s, run.time_s, run.sliding),
    )
    rests = np.array([body.stages[int(k)].motion == "at rest" for k in body.stage])
    slides = np.array([body.stages[int(k)].motion == "slides" for k in body.stage])
    # At a break the view may be some samples early or late; elsewhere it must agree with the truth.
    far = np.abs(body.time_s - body.breakaway_s) > 0.02
    assert (
        np.mean(np.abs(body.friction_N - true_N)[rests & far] < 3 * 0.002 + body.friction_half_N[rests & far])
        > 0.97
    )
    settled = slides & far & (moving == 1)
    assert settled.sum() > 100
    assert np.abs(body.friction_N - true_N)[settled].max() <= body.friction_half_N[settled].max() + 1e-6
    a_true = np.interp(body.time_s, run.time_s, np.gradient(run.velocity_m_s, run.time_s))
    off = np.abs(body.acceleration_m_s2 - a_true)[settled]
    assert np.median(off) < body.acceleration_half_m_s2[settled].max()
    # Impulse theorem over the settled stretch: the net force, summed, is the change of momentum.
    level = np.array([body.stages[int(k)].name == "sliding" for k in body.stage])
    t = body.time_s[level]
    impulse_Ns = np.trapezoid(body.net_N[level], t)
    v = np.interp(t[[0, -1]], run.time_s, run.velocity_m_s)
    assert impulse_Ns == pytest.approx(
        1.35 * (v[1] - v[0]), abs=body.net_half_N[level].max() * (t[-1] - t[0])
    )


def test_a_trace_shifted_in_time_gives_the_same_forces_then():
    plain = pull()
    later = dataclasses.replace(
        plain,
        window=dataclasses.replace(
            plain.window,
            trace=Trace(time_s=plain.window.trace.time_s + 100, force_N=plain.window.trace.force_N),
            start_s=plain.window.start_s + 100, end_s=plain.window.end_s + 100,
        ),
        breakaway=dataclasses.replace(plain.breakaway, time_s=plain.breakaway.time_s + 100),
        phases=tuple(dataclasses.replace(p, start_s=p.start_s + 100, end_s=p.end_s + 100) for p in plain.phases),
    )  # fmt: skip
    one, other = moments(plain), moments(later)
    np.testing.assert_allclose(one.friction_N, other.friction_N, equal_nan=True)
    assert other.breakaway_s == pytest.approx(one.breakaway_s + 100)
