"""A hand on the virtual bench, moved by somebody."""

import numpy as np
import pytest

from pullbench.live import Rehearsal
from pullbench.live.rehearsal import FARTHEST_M, rehearsed


def moved(seed=1, speed_m_s=0.02, seconds=4.0, rate_Hz=50.0):
    rehearsal = Rehearsal(seed)
    for k in range(int(seconds * rate_Hz)):
        rehearsal.move(k / rate_Hz, speed_m_s * max(k / rate_Hz - 0.5, 0.0))
    return rehearsal


@pytest.mark.parametrize("seed", range(4))
def test_a_slow_steady_hand_is_read_close_to_the_truth(seed):
    read = rehearsed(seed, moved(seed).let_go())
    card, truth = read.sheet.card, read.truth
    assert card.label == "simulated"
    # The usual bench's converter averages 0.05 s: at 20 N/s what it shows is low by half of that, 0.5 N.
    assert card.breakaway.value == pytest.approx(truth.breakaway_force_N, abs=0.5 + 0.06)
    assert card.kinetic.value == pytest.approx(
        truth.kinetic_N, rel=0.02
    )  # the usual bench's board is patchy by 2 %


def test_what_is_seen_live_follows_the_hand():
    rehearsal = moved()
    seen = rehearsal.seen()
    assert seen.sliding
    assert not seen.slack
    assert 0 < seen.sled_m < 0.02 * 3.5
    assert seen.force.plus_minus is not None


def test_the_same_movement_on_the_same_bench_gives_the_same_digits():
    knots = moved().let_go()
    assert rehearsed(1, knots).sheet.card == rehearsed(1, knots).sheet.card


@pytest.mark.parametrize("place", [(0.1, 1e9), (-5.0, 0.0), (0.0, 0.1), (1e6, 0.1)])
def test_what_no_hand_can_do_is_left_out(place):
    rehearsal = moved()
    rehearsal.move(*place)
    times = [time_s for time_s, _ in rehearsal.let_go()]
    assert np.all(np.diff(times) > 0)
    assert rehearsal.seen().sled_m < FARTHEST_M


def test_a_hand_that_never_pulls_is_no_pull():
    rehearsal = Rehearsal(1)
    for k in range(100):
        rehearsal.move(k / 50, 0.0)
    assert rehearsed(1, rehearsal.let_go()).sheet is None
