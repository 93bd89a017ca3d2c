"""The virtual bench: what `simulate` promises beyond the laws of mechanics."""

import math

import numpy as np
import pytest

from pullbench.errors import BenchError, ConditionsError
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck, pull_needed_N
from pullbench.physics.bench import HAND_NAMES, Bench, Hand, hand, in_a_row, simulate

USUAL = {"mass_kg": 1.35, "stiffness_N_m": 800.0, "law": Coulomb(0.35, 0.27), "damping_N_s_m": 5.0}


def bench(**changes):
    return Bench(**{**USUAL, **changes})


def pull(name="smooth", seed=1, on=None, **sizes):
    on = on or bench()
    return simulate(on, hand(name, np.random.default_rng(seed), stretch_m=on.stretch_m, **sizes))


@pytest.mark.parametrize("name", [name for name in HAND_NAMES if name != "held"])
def test_every_hand_but_the_held_one_moves_the_sled_and_lets_go(name):
    truth = pull(name).truths[0]
    assert truth.slid
    assert truth.hand == name
    assert truth.breakaway_force_N == pytest.approx(0.35 * bench().weight_N, rel=1e-9)
    assert truth.kinetic_N == pytest.approx(0.27 * bench().weight_N, rel=1e-12)
    assert truth.start_s < truth.breakaway_time_s < truth.end_s


@pytest.mark.parametrize("name", HAND_NAMES)
@pytest.mark.parametrize("seed", range(3))
def test_every_pull_begins_and_ends_with_a_loose_string_and_rest(name, seed):
    run = pull(name, seed)
    truth = run.truths[0]
    rest = (run.time_s < truth.start_s) | (run.time_s > truth.end_s)
    assert np.all(run.pull_N[rest] == 0)
    assert truth.start_s > 1.0
    assert run.time_s[-1] - truth.end_s > 1.0
    assert not run.sliding[-1]


@pytest.mark.parametrize("seed", range(5))
def test_a_held_hand_never_moves_the_sled(seed):
    run = pull("held", seed)
    assert run.breakaway_time_s is run.breakaway_force_N is run.kinetic_N is None
    assert 0.6 * bench().breakaway_pull_N < run.pull_N.max() < bench().breakaway_pull_N
    assert run.stick_intervals == ((0.0, run.time_s[-1]),)
    assert np.all(run.position_m == 0)


def test_a_hurried_pull_peaks_higher_than_a_smooth_one_and_breaks_at_the_same_force():
    smooth, jerked = pull("smooth"), pull("jerked")
    assert jerked.breakaway_force_N == pytest.approx(smooth.breakaway_force_N, rel=1e-9)
    assert jerked.pull_N.max() > 1.3 * smooth.pull_N.max()


def test_the_same_arguments_give_the_same_digits():
    one, other = (pull("shaky", 9) for _ in range(2))
    assert one.pull_N.tobytes() == other.pull_N.tobytes()
    assert one.truths == other.truths


def test_a_sled_at_rest_only_follows_the_hand():
    run = pull("hesitant")
    before = run.time_s < run.breakaway_time_s
    stretch_m = np.maximum(run.hand_m[before], 0)
    elastic_N = 800.0 * stretch_m
    speed = np.gradient(run.hand_m, run.time_s)[before]
    damped_N = np.where(stretch_m > 0, 5.0 * speed, 0)
    # Where the string has just become taut, the speed by differences is off by half a step.
    settled = stretch_m > 1e-4
    assert run.pull_N[before][settled] == pytest.approx((elastic_N + damped_N)[settled], abs=0.01)


def test_stick_intervals_tell_where_the_sled_rests():
    run = pull("motor")
    assert len(run.stick_intervals) >= 2
    resting = np.zeros(run.time_s.size, dtype=bool)
    for begin, end in run.stick_intervals:
        resting |= (run.time_s >= begin - 1e-9) & (run.time_s <= end + 1e-9)
    assert np.all(run.velocity_m_s[resting] == pytest.approx(0, abs=1e-6))
    assert np.all(run.velocity_m_s[~resting] > 0)


def test_kinetic_level_of_a_tilted_sled_is_the_pull_that_keeps_it_sliding():
    angles = {"string_deg": 10.0, "tilt_deg": 3.0}
    on = bench(**angles)
    run = pull(on=on)
    assert run.kinetic_N == pull_needed_N(0.27, on.weight_N, **angles)
    assert run.breakaway_force_N == pytest.approx(pull_needed_N(0.35, on.weight_N, **angles), rel=1e-9)


def test_without_a_drop_the_pull_never_leaves_the_level_when_pulled_slowly():
    on = bench(law=Coulomb(0.3, 0.3))
    level_N = 0.3 * on.weight_N
    run = simulate(on, Hand.through([(0, 0), (1, 2e-3), (6, 2e-3)], start_m=0.0))
    late = run.time_s > run.breakaway_time_s
    assert run.pull_N[late] == pytest.approx(level_N, rel=0.03)


def test_longer_waiting_raises_the_breakaway_of_an_ageing_pair():
    law = Ageing(0.35, 0.27, per_decade=0.03)
    short, long = (pull(on=bench(law=law, contact_s=wait)) for wait in (1.0, 1000.0))
    gain = (long.breakaway_force_N - short.breakaway_force_N) / bench().weight_N
    rested = (short.breakaway_time_s + 1.0, long.breakaway_time_s + 1000.0)
    assert gain == pytest.approx(0.03 * math.log10((1 + rested[1]) / (1 + rested[0])), rel=1e-9)


def test_a_pair_that_weakens_with_speed_reports_its_mean_friction_while_sliding():
    law = Stribeck(0.35, 0.27, 0.01)
    run = pull(on=bench(law=law))
    assert 0.27 * bench().weight_N < run.kinetic_N < 0.35 * bench().weight_N
    assert run.kinetic_N == pytest.approx(np.mean(run.friction_N[run.sliding]), rel=1e-3)


@pytest.mark.parametrize("evolution", ["ageing", "slip"])
def test_steady_sliding_of_a_rate_and_state_pair_costs_its_steady_coefficient(evolution):
    law = RateState(0.3, a=0.02, b=0.005, Dc_m=2e-5, V0_m_s=1e-3, law=evolution, creep_m_s=1e-4)
    on = bench(law=law, damping_N_s_m=20.0)
    run = simulate(on, Hand.at_constant_speed(0.02, 8.0))
    late = run.time_s > 6.0
    assert run.velocity_m_s[late] == pytest.approx(0.02, rel=1e-6)
    assert run.pull_N[late] == pytest.approx(law.steady(0.02) * on.weight_N, rel=1e-6)


def test_a_rate_and_state_pair_remembers_a_hold():
    law = RateState(0.3, a=0.005, b=0.02, Dc_m=1e-5, V0_m_s=1e-3, creep_m_s=1e-4)
    short, long = (pull(on=bench(law=law, contact_s=wait)) for wait in (1.0, 100.0))
    gain = (long.breakaway_force_N - short.breakaway_force_N) / bench().weight_N
    states = [law.fresh + r.breakaway_time_s + w for r, w in ((short, 1.0), (long, 100.0))]
    assert gain == pytest.approx(0.02 * math.log(states[1] / states[0]), rel=1e-6)


def test_a_creep_speed_too_low_for_the_step_is_refused():
    law = RateState(0.3, a=0.02, b=0.005, Dc_m=2e-5, V0_m_s=1e-3)
    with pytest.raises(BenchError) as refused:
        pull(on=bench(law=law))
    assert refused.value.code == "creep-too-slow"


def test_a_patchy_surface_scatters_the_level_and_needs_its_own_randomness():
    on = bench(patchiness=0.05)
    movement = hand("smooth", np.random.default_rng(1), stretch_m=on.stretch_m)
    one, same, other = (simulate(on, movement, rng=np.random.default_rng(seed)) for seed in (1, 1, 2))
    assert one.friction_N.tobytes() == same.friction_N.tobytes()
    assert one.kinetic_N != other.kinetic_N
    assert one.kinetic_N == pytest.approx(0.27 * on.weight_N, rel=0.05)
    relative = one.friction_N[one.sliding] / (0.27 * on.weight_N)
    assert 0.02 < np.std(relative) < 0.08
    with pytest.raises(BenchError) as refused:
        simulate(on, movement)
    assert refused.value.code == "rng-missing"


def test_a_finer_step_changes_the_truth_by_almost_nothing():
    movement = hand("smooth", np.random.default_rng(4), stretch_m=bench().stretch_m)
    coarse, fine = (simulate(bench(), movement, step_s=step_s) for step_s in (1e-3, 1e-4))
    assert coarse.breakaway_time_s == pytest.approx(fine.breakaway_time_s, abs=1e-9)
    assert coarse.pull_N[:: coarse.pull_N.size - 1] == pytest.approx(fine.pull_N[:: fine.pull_N.size - 1])
    shared = np.interp(coarse.time_s, fine.time_s, fine.pull_N)
    assert coarse.pull_N == pytest.approx(shared, abs=2e-3 * bench().weight_N)


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"stiffness_N_m": 0.0}, "bench-impossible"),
        ({"damping_N_s_m": -1.0}, "bench-impossible"),
        ({"contact_s": math.nan}, "bench-impossible"),
        ({"patchiness": 0.5}, "bench-impossible"),
        ({"mass_kg": 0.0}, "mass-not-positive"),
        ({"string_deg": 90.0}, "string-angle-out-of-range"),
    ],
)
def test_an_impossible_bench_is_refused(changes, code):
    with pytest.raises((BenchError, ConditionsError)) as refused:
        bench(**changes)
    assert refused.value.code == code


@pytest.mark.parametrize("times", [{"duration_s": 0.0}, {"step_s": 0.0}, {"duration_s": math.inf}])
def test_an_impossible_duration_is_refused(times):
    with pytest.raises(BenchError) as refused:
        simulate(bench(), Hand.at_constant_speed(0.01, 1.0), **times)
    assert refused.value.code == "duration-impossible"


def test_a_pull_that_lifts_the_sled_off_is_refused():
    on = bench(string_deg=80.0, law=Coulomb(2.0, 0.1))
    with pytest.raises(BenchError) as refused:
        simulate(on, Hand.through([(0, 0), (0.05, 3.0), (0.5, 3.0)]))
    assert refused.value.code == "sled-lifts-off"


def test_pulls_in_a_row_keep_their_truth_at_later_times():
    one, two = pull("smooth", 1), pull("held", 2)
    row = in_a_row([one, two, one])
    assert len(row.truths) == 3
    assert [truth.slid for truth in row.truths] == [True, False, True]
    first, _, third = row.truths
    delay_s = (one.time_s.size + two.time_s.size) * one.step_s
    assert third.breakaway_time_s - first.breakaway_time_s == pytest.approx(delay_s)
    at_break = np.interp(third.breakaway_time_s, row.time_s, row.pull_N)
    assert at_break == pytest.approx(third.breakaway_force_N, rel=1e-3)
    assert np.all(np.diff(row.position_m) >= 0)
    assert np.allclose(np.diff(row.time_s), one.step_s)


def test_pulls_that_do_not_end_at_rest_cannot_stand_in_a_row():
    moving = simulate(bench(), Hand.at_constant_speed(0.01, 2.0))
    with pytest.raises(BenchError) as refused:
        in_a_row([pull(), moving])
    assert refused.value.code == "run-not-at-rest"
    with pytest.raises(BenchError, match="At least one is needed"):
        in_a_row([])
    with pytest.raises(BenchError) as refused:
        in_a_row([pull(), simulate(bench(), Hand.through([(0, 0), (1, 0)]), step_s=1e-3)])
    assert refused.value.code == "steps-differ"


def test_a_run_cannot_be_overwritten():
    run = pull("held")
    with pytest.raises(ValueError, match="read-only"):
        run.pull_N[0] = 1.0
