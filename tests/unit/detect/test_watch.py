from itertools import pairwise

import numpy as np
import pytest

from pullbench.detect import Watch, windows
from pullbench.model import Chunk, Flaw
from unit.detect.shapes import PULL, caught, corners, drawn, rest, spans

BEATS_S = 0.15  # edges are told to about a beat of 0.05 s


def assert_pulls(found, expected):
    assert len(found) == len(expected), spans(found)
    for window, (start_s, end_s, direction) in zip(found, expected, strict=True):
        assert window.start_s == pytest.approx(start_s, abs=BEATS_S)
        assert window.end_s == pytest.approx(end_s, abs=BEATS_S)
        assert window.direction == direction


def test_no_samples_give_no_windows():
    assert list(windows([])) == []
    assert Watch().finish() == ()


@pytest.mark.parametrize("n", [1, 2, 3, 7])
def test_a_handful_of_samples_gives_no_windows(n):
    assert caught(np.arange(n) / 10.0, np.arange(n) * 1.0) == []


@pytest.mark.parametrize("rate_Hz", [20.0, 80.0, 1000.0, 10_000.0])
def test_a_pull_is_caught_between_the_moments_it_leaves_and_regains_the_rest_line(rate_Hz):
    found = caught(*drawn(corners(rest(2.0), PULL, rest(4.0)), rate_Hz=rate_Hz, noise_N=0.003))
    assert_pulls(found, [(2.0, 5.35, 1)])
    assert not found[0].cut_start
    assert not found[0].cut_end


def test_a_window_holds_pure_rest_before_and_after_its_pull():
    time_s, force_N = drawn(corners(rest(6.0), PULL, rest(5.0)), noise_N=0.003)
    (window,) = caught(time_s, force_N)
    trace = window.trace
    before, after = trace.time_s < window.start_s, trace.time_s > window.end_s
    assert trace.time_s[0] == pytest.approx(window.start_s - 4.0, abs=0.06)
    assert trace.time_s[-1] == pytest.approx(window.end_s + 2.5, abs=0.06)
    assert np.abs(trace.force_N[before | after]).max() < 5 * 0.003
    inside = (time_s >= trace.time_s[0]) & (time_s <= trace.time_s[-1])
    assert np.array_equal(trace.force_N, force_N[inside])


def test_a_window_is_handed_over_as_soon_as_its_rest_after_is_there():
    time_s, force_N = drawn(corners(rest(2.0), PULL, rest(30.0)), noise_N=0.003)
    watch = Watch()
    for t, f in zip(time_s, force_N, strict=True):
        if watch.advance(Chunk(time_s=[t], force_N=[f])):
            break
    assert 5.35 + 2.5 <= t < 5.35 + 4.0


def test_pulls_back_to_back_are_separate_windows():
    points = corners(rest(1.0), *[piece for _ in range(4) for piece in (PULL, rest(0.6))])
    found = caught(*drawn(points, noise_N=0.003))
    assert len(found) == 4
    for one, other in pairwise(found):
        assert one.trace.time_s[-1] <= other.start_s
        assert other.trace.time_s[0] >= one.end_s


def test_a_string_slack_for_a_moment_does_not_split_a_pull():
    slack = [(0.0, 0.0), (0.2, 0.0), (0.25, 0.75), (1.0, 0.75), (1.1, 0.0)]
    found = caught(*drawn(corners(rest(2.0), PULL, slack, rest(3.0)), noise_N=0.003))
    assert_pulls(found, [(2.0, 6.45, 1)])


def test_a_string_held_taut_before_the_pull_belongs_to_it():
    taut = [(0.0, 0.0), (0.1, 0.06), (2.5, 0.06)]
    load = [(0.0, 0.06), (1.2, 1.0), (1.25, 0.75), (3.2, 0.75), (3.35, 0.0)]
    found = caught(*drawn(corners(rest(2.0), taut, load, rest(3.0)), noise_N=0.003))
    assert_pulls(found, [(2.0, 7.85, 1)])


@pytest.mark.parametrize("held_s", [1.0, 5.0, 20.0])
def test_a_force_held_and_let_go_without_sliding_is_a_pull(held_s):
    held = [(0.0, 0.0), (1.5, 0.7), (1.5 + held_s, 0.7), (1.7 + held_s, 0.0)]
    found = caught(*drawn(corners(rest(2.0), held, rest(3.0)), noise_N=0.003))
    assert_pulls(found, [(2.0, 3.7 + held_s, 1)])


def test_strokes_of_both_signs_without_a_rest_are_windows_of_their_own():
    stroke = [(0.0, 0.0), (0.2, 1.2), (0.3, 1.0), (1.5, 1.0), (1.6, 0.0)]
    back = [(t, -f) for t, f in stroke]
    found = caught(*drawn(corners(rest(2.0), stroke, back, stroke, back, rest(3.0)), noise_N=0.003))
    assert [window.direction for window in found] == [1, -1, 1, -1]
    assert [(window.cut_start, window.cut_end) for window in found] == [
        (False, True),
        (True, True),
        (True, True),
        (True, False),
    ]


def test_a_recording_that_ends_in_a_pull_gives_a_window_cut_at_its_end():
    time_s, force_N = drawn(corners(rest(2.0), PULL[:4]), noise_N=0.003)
    (window,) = caught(time_s, force_N)
    assert (window.cut_start, window.cut_end) == (False, True)
    assert window.trace.time_s[-1] == window.end_s == time_s[-1]


def test_a_recording_that_begins_in_a_pull_gives_a_window_cut_at_its_start():
    # A sled that sticks and slips moves about as no rest does.
    teeth = [(0.25 * k, 1.0 if k % 2 else 0.6) for k in range(12)]
    time_s, force_N = drawn(corners(teeth, [(0.1, 0.0)], rest(4.0), PULL, rest(3.0)), noise_N=0.003)
    first, second = caught(time_s, force_N)
    assert (first.cut_start, first.cut_end, first.direction) == (True, False, 1)
    assert first.start_s == first.trace.time_s[0] == 0.0
    assert first.end_s == pytest.approx(2.85, abs=BEATS_S)
    assert second.start_s == pytest.approx(6.85, abs=BEATS_S)


def test_a_rest_far_from_nought_that_drifts_is_still_a_rest():
    time_s, force_N = drawn(corners(rest(5.0), PULL, rest(5.0), PULL, rest(5.0)), noise_N=0.003)
    found = caught(time_s, force_N - 73.0 + 0.01 * time_s)
    assert_pulls(found, [(5.0, 8.35, 1), (13.35, 16.7, 1)])


def test_spikes_and_knocks_neither_make_nor_break_a_pull():
    time_s, force_N = drawn(corners(rest(5.0), PULL, rest(5.0)), rate_Hz=500.0, noise_N=0.003)
    for at_s in (1.0, 6.5, 7.0, 9.3):
        force_N[np.searchsorted(time_s, at_s)] += 50.0
    since_s = np.maximum(time_s - 3.0, 0.0)
    force_N += (since_s > 0) * 4.0 * np.cos(2 * np.pi * 35.0 * since_s) * np.exp(-since_s / 0.03)
    assert_pulls(caught(time_s, force_N), [(5.0, 8.35, 1)])


def test_a_rest_that_reads_exactly_constant_is_no_trouble():
    time_s, force_N = drawn(corners(rest(3.0), PULL, rest(3.0)), noise_N=0.0005)
    assert_pulls(caught(time_s, np.round(force_N / 0.05) * 0.05), [(3.0, 6.35, 1)])


def test_four_samples_a_second_are_enough_for_a_slow_pull():
    slow = [(4 * t, f) for t, f in PULL]
    found = caught(*drawn(corners(rest(5.0), slow, rest(5.0)), rate_Hz=4.0, noise_N=0.003))
    assert len(found) == 1
    assert found[0].start_s == pytest.approx(5.0, abs=0.5)
    assert found[0].end_s == pytest.approx(5.0 + 4 * 3.35, abs=0.5)


def test_a_rest_that_moves_to_a_new_level_for_good_is_no_pull():
    time_s, force_N = drawn([(0.0, 0.0), (5.0, 0.0), (5.1, 1.0), (30.0, 1.0)], noise_N=0.003)
    assert caught(time_s, force_N) == []


def test_a_window_carries_the_flaws_that_touch_it_and_no_others():
    time_s, force_N = drawn(corners(rest(20.0), PULL, rest(5.0)), noise_N=0.003)
    flaws = tuple(
        Flaw(kind="gap", start_s=at_s, end_s=at_s + 0.1, count=1, sentence="") for at_s in (1.0, 21.0)
    )
    (window,) = caught(time_s, force_N, flaws=flaws)
    assert window.trace.flaws == flaws[1:]


def test_an_hour_of_rest_is_not_kept():
    watch = Watch()
    noise = np.random.default_rng(1)
    for minute in range(10):
        time_s = 60.0 * minute + np.arange(60_000) / 1000.0
        watch.advance(Chunk(time_s=time_s, force_N=noise.normal(size=time_s.size)))
    assert (
        watch.samples_kept < 70_000
    )  # a minute at most: the recording may yet turn out to have begun in a pull
