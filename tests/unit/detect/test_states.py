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


def test_the_room_sees_the_states_of_a_pull_in_order():
    time_s, force_N = drawn(corners(rest(2.0), PULL, rest(2.0)), noise_N=0.002)
    watch, seen = Watch(), []
    for t, f in zip(time_s, force_N, strict=True):
        watch.advance(Chunk(time_s=[t], force_N=[f]))
        if not seen or seen[-1] is not watch.state:
            seen.append(watch.state)
    S = WatchState
    assert seen == [S.QUIET, S.LOADING, S.BREAKAWAY, S.SETTLING, S.SLIDING, S.LET_GO, S.QUIET]
