"""The compiled loop of the bench: the same results, many times as fast, and never in the way."""

import builtins
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings

from laws.pulls import benches, names, pulling, seeds
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import INTERPRETED, Bench, Hand, compiled, fastest, hand, kernel, simulate
from pullbench.physics.bench.rig import law_numbers, sled_numbers

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


@settings(max_examples=10, deadline=None)
@given(bench=benches(), name=names, seed=seeds)
def test_on_any_bench_the_first_swing_is_the_same(bench, name, seed):
    one, other = (
        simulate(bench, pulling(bench, name, seed), kernel=loop) for loop in (INTERPRETED, compiled())
    )
    assert other.breakaway_time_s == one.breakaway_time_s
    # A swing on the brink of stopping may fall either way in the last digit; compare up to there.
    until = slice(None) if len(one.stick_intervals) < 2 else one.time_s < one.stick_intervals[1][0]
    assert other.pull_N[until] == pytest.approx(one.pull_N[until], abs=1e-9 * bench.weight_N)


def _loop_s(loop, steps):
    """Return the least time of one slide of so many steps, the histories made anew each time."""
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=LAWS[0])
    given = [
        loop.row(a)
        for a in (*Hand.at_constant_speed(0.05, 99.0).motion_on_grid(2.5e-4, 2 * steps + 1), np.ones(1))
    ]
    best_s = float("inf")
    for _ in range(5):
        rows = [loop.row(np.zeros(steps + 1)) for _ in range(3)]
        begin = perf_counter()
        numbers = sled_numbers(bench), law_numbers(bench.law)
        assert loop.slide(0, steps, -0.003, 0.05, 0.0, 5e-4, 1.0, *given, 1.0, *numbers, *rows) == steps
        best_s = min(best_s, perf_counter() - begin)
    return best_s


def test_the_compiled_loop_is_far_faster():
    _loop_s(compiled(), 100)
    # 55-60 on a quiet machine (benchmarks/kernel.py): a busy one must not fail the suite.
    assert _loop_s(INTERPRETED, 5_000) / _loop_s(compiled(), 5_000) > 15


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
