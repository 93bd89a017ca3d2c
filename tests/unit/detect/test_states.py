import numpy as np
import pytest

from pullbench.detect import Watch
from pullbench.detect.states import NEXT, Cue, next_state
from pullbench.model import Chunk, WatchState
from unit.detect.shapes import PULL, corners, drawn, rest


def test_every_state_of_the_watch_can_be_entered_and_left():
    assert {state for state, _ in NEXT} == set(NEXT.values()) == set(WatchState)


def test_every_cue_means_something_somewhere():
    assert {cue for _, cue in NEXT} == set(Cue)


def test_a_string_that_falls_slack_is_a_let_go_in_every_state_of_a_pull():
    pulling = set(WatchState) - {WatchState.QUIET, WatchState.LET_GO}
    assert {next_state(state, Cue.SLACK) for state in pulling} == {WatchState.LET_GO}


def test_a_cue_without_a_meaning_leaves_the_state():
    assert next_state(WatchState.QUIET, Cue.DROP) is WatchState.QUIET


def states_of(time_s, force_N):
    watch, seen = Watch(), []
    for t, f in zip(time_s, force_N, strict=True):
        watch.advance(Chunk(time_s=[t], force_N=[f]))
        if not seen or seen[-1] is not watch.state:
            seen.append(watch.state)
    return seen


def test_the_room_sees_the_states_of_a_pull_in_order():
    time_s, force_N = drawn(corners(rest(2.0), PULL, rest(2.0)), noise_N=0.002)
    seen, S = states_of(time_s, force_N), WatchState
    assert seen == [S.QUIET, S.LOADING, S.BREAKAWAY, S.SETTLING, S.SLIDING, S.LET_GO, S.QUIET]


def swinging(teeth_N, *, damping_s, rhythm_Hz=4.0, rate_Hz=200.0):
    """Return a pull to 3 N that breaks and then swings about 2.3 N for 4 s; damping_s: inf for stick-slip."""
    time_s = np.arange(0, 12.0, 1 / rate_Hz)
    force_N = np.interp(time_s, [2.0, 4.0, 4.05, 8.0, 8.1], [0.0, 3.0, 2.3, 2.3, 0.0])
    after_s = time_s - 4.05
    tooth = 1 - 2 * np.abs((after_s * rhythm_Hz) % 1.0 - 0.5) * 2  # even swings: the state knows no shape
    swing = teeth_N * tooth * np.exp(-after_s / damping_s)
    noise = 0.003 * np.random.default_rng(3).standard_normal(time_s.size)
    return time_s, force_N + noise + np.where((after_s > 0) & (time_s < 8.0), swing, 0.0)


@pytest.mark.parametrize("rhythm_Hz", [2.5, 4.0, 6.0])
def test_what_rings_after_the_break_and_dies_is_settling_not_stick_slip(rhythm_Hz):
    seen = states_of(*swinging(0.9, damping_s=0.45, rhythm_Hz=rhythm_Hz))
    assert WatchState.STICK_SLIP not in seen
    assert seen.index(WatchState.SETTLING) < seen.index(WatchState.SLIDING)


@pytest.mark.parametrize("rhythm_Hz", [2.5, 3.2, 4.0])  # beats of 50 ms show no quicker ones
def test_a_swing_that_does_not_die_is_stick_slip(rhythm_Hz):
    assert WatchState.STICK_SLIP in states_of(*swinging(0.5, damping_s=np.inf, rhythm_Hz=rhythm_Hz))
