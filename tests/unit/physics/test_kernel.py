"""The compiled loop of the bench: the same results, many times as fast, and never in the way."""

import builtins

import numpy as np
import pytest
from hypothesis import example, given, settings

from laws.pulls import benches, names, pulling, seeds
from pullbench.errors import BenchError
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import INTERPRETED, Bench, Hand, compiled, fastest, hand, kernel, simulate
from pullbench.physics.bench.instants import asked_singly

pytest.importorskip("numba", reason="the extra `fast` is not installed")

LAWS = [
    Coulomb(0.35, 0.27),
    Stribeck(0.35, 0.27, 0.02, viscous_s_m=0.1),
    Ageing(0.35, 0.27, per_decade=0.02),
    RateState(0.3, a=0.02, b=0.005, Dc_m=2e-5, V0_m_s=1e-3, creep_m_s=1e-4),
    RateState(0.3, a=0.02, b=0.005, Dc_m=2e-5, V0_m_s=1e-3, creep_m_s=1e-4, law="slip"),
]


@pytest.mark.parametrize("law", LAWS, ids=lambda law: f"{type(law).__name__}-{getattr(law, 'law', '')}")
@pytest.mark.parametrize("name", ["smooth", "stop-and-go", "motor"])
def test_compiled_and_interpreted_pulls_agree_to_1e_9(law, name):
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=law, patchiness=0.02)
    one, other = (
        simulate(
            bench,
            hand(name, np.random.default_rng(3), stretch_m=bench.stretch_m),
            rng=np.random.default_rng(4),
            kernel=loop,
        )
        for loop in (INTERPRETED, compiled())
    )
    assert other.pull_N == pytest.approx(one.pull_N, abs=1e-9 * bench.weight_N)
    assert other.position_m == pytest.approx(one.position_m, abs=1e-9)
    assert other.breakaway_time_s == pytest.approx(one.breakaway_time_s, abs=1e-9)
    assert other.kinetic_N == pytest.approx(one.kinetic_N, rel=1e-9)
    assert np.array(other.stick_intervals) == pytest.approx(np.array(one.stick_intervals), abs=1e-9)


def _run_or_error(bench, movement, loop):
    try:
        return simulate(bench, movement, kernel=loop)
    except BenchError as refused:
        return refused.code


@settings(max_examples=10, deadline=None)
@given(bench=benches(), name=names, seed=seeds)
@example(  # a jerk that lifts the sled off its board
    bench=Bench(
        mass_kg=0.25, stiffness_N_m=1718.0, law=Coulomb(0.5, 0.5), damping_N_s_m=2.0, string_deg=25.0, tilt_deg=21.0
    ),
    name="jerked",
    seed=420,
)  # fmt: skip
def test_on_any_bench_the_first_swing_is_the_same(bench, name, seed):
    one, other = (
        _run_or_error(bench, pulling(bench, name, seed), loop) for loop in (INTERPRETED, compiled())
    )
    if "sled-lifts-off" in (one, other):  # what cannot be pulled is refused by both
        assert one == other
        return
    assert other.breakaway_time_s == one.breakaway_time_s
    # A swing on the brink of stopping may fall either way in the last digit; compare up to there.
    until = slice(None) if len(one.stick_intervals) < 2 else one.time_s < one.stick_intervals[1][0]
    assert other.pull_N[until] == pytest.approx(one.pull_N[until], abs=1e-9 * bench.weight_N)


def test_without_numba_the_bench_falls_back_to_the_interpreted_loop(monkeypatch):
    real_import = builtins.__import__

    def without_numba(name, *rest, **more):
        if name.split(".")[0] == "numba":
            raise ImportError(name)
        return real_import(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without_numba)
    kernel.compiled.cache_clear()
    try:
        assert compiled() is None
        assert fastest() is INTERPRETED
        bench = Bench(mass_kg=1.0, stiffness_N_m=800.0, law=Coulomb(0.35, 0.27))
        assert simulate(bench, Hand.at_constant_speed(0.02, 0.5), kernel=fastest()).pull_N.max() > 0
    finally:
        kernel.compiled.cache_clear()


def test_the_compiled_loop_is_the_fastest_one_where_there_is_numba():
    assert fastest().name == "compiled"


def test_a_grid_of_times_gives_the_hand_the_same_motion_as_one_by_one():
    movement = hand("shaky", np.random.default_rng(5), stretch_m=0.006)
    time_s = np.arange(9_999) * 3e-4
    for one, other in zip(movement.motion(time_s), movement.motion_on_grid(3e-4, 9_999), strict=True):
        assert other == pytest.approx(one, abs=1e-14)


@pytest.mark.parametrize("name", ["smooth", "hesitant", "motor"])
def test_a_hand_asked_singly_gives_the_motion_it_gives_in_rows(name):
    movement = hand(name, np.random.default_rng(5), stretch_m=0.006)
    at = asked_singly(movement)
    inside_s = np.random.default_rng(6).uniform(-0.5, movement.duration_s + 0.5, 200)
    time_s = np.concatenate([inside_s, movement.knot_s])  # before, after, between and on the knots
    one_by_one = np.array([at(moment_s) for moment_s in time_s.tolist()])
    for one, other in zip(movement.motion(time_s), one_by_one.T, strict=True):
        assert other == pytest.approx(one, abs=1e-14)


@pytest.mark.parametrize("seed", range(6))
def test_an_ageing_contact_breaks_where_a_shaky_pull_first_exceeds_its_growing_limit(seed):
    law = Ageing(0.3, 0.25, per_decade=0.03)
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, law=law)
    movement = hand(
        "shaky", np.random.default_rng(seed), stretch_m=1.2 * bench.stretch_m, load_s=6.0, tremor=0.02
    )
    run = simulate(bench, movement)
    # The definition itself on a grid of its own: first moment at which pull > (mu_s + c log10(1 + t)) W.
    time_s = np.arange(0, run.breakaway_time_s + 0.01, 1e-5)
    limits_N = (0.3 + 0.03 * np.log10(1 + time_s)) * bench.weight_N
    over = 1500.0 * movement.position_m(time_s) > limits_N
    assert run.breakaway_time_s == pytest.approx(time_s[np.argmax(over)], abs=1.1e-5)
