import numpy as np
import pytest

from pullbench.physics.bench import demo_day
from pullbench.physics.bench.demo import SLED_KG, SOLES, TIN_KG

DAY = demo_day(7)


def test_the_day_holds_a_dozen_pulls_in_six_recordings():
    assert len(DAY) == 6
    assert sum(len(truth.pulls) for _, _, truth in DAY) == 12
    assert max(len(truth.pulls) for _, _, truth in DAY) > 2


def test_every_recording_says_that_it_is_invented():
    for name, _, truth in DAY:
        assert "(invented)" in name
        assert "harbour play" in name
        assert truth.sole in name
        assert truth.invented


def test_one_pull_was_jerked_and_one_was_held_and_never_slid():
    hands = [pull.hand for _, _, truth in DAY for pull in truth.pulls]
    assert hands.count("jerked") == hands.count("held") == 1
    never = [pull.hand for _, _, truth in DAY for pull in truth.pulls if not pull.slid]
    assert never == ["held"]


def test_every_sole_appears_with_the_sled_and_whole_tins():
    assert {truth.sole for *_, truth in DAY} == set(SOLES)
    for *_, truth in DAY:
        assert truth.mass_kg == pytest.approx(SLED_KG + truth.tins * TIN_KG)


def test_true_forces_stay_near_the_coefficients_of_the_sole():
    """Pulls scatter by 3 %, cut at 10 %, and places on the floor by 2 %."""
    for *_, truth in DAY:
        weight_N = truth.mass_kg * 9.80665
        for pull in (pull for pull in truth.pulls if pull.slid):
            assert pull.breakaway_force_N == pytest.approx(truth.mu_s * weight_N, rel=0.17)
            assert pull.kinetic_N == pytest.approx(truth.mu_k * weight_N, rel=0.17)


def test_every_pull_rests_before_and_after_within_its_recording():
    for _, trace, truth in DAY:
        edges = [0.0, *(t for pull in truth.pulls for t in (pull.start_s, pull.end_s)), trace.time_s[-1]]
        assert all(rest > 1.0 for rest in np.diff(edges)[::2])


def test_the_same_seed_gives_the_same_day():
    again = demo_day(7)
    assert all(np.array_equal(a.trace.force_N, b.trace.force_N) for a, b in zip(DAY, again, strict=True))
    assert not np.array_equal(DAY[0].trace.force_N, demo_day(8)[0].trace.force_N)
