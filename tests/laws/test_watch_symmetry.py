"""The watch knows no newtons: what it finds turns, scales and shifts with the recording."""

from hypothesis import given, settings
from hypothesis import strategies as st

from laws.test_watch_chunking import recordings
from pullbench.detect import windows
from pullbench.model import Chunk


def found(time_s, force_N):
    return [
        (w.start_s, w.end_s, w.direction, w.cut_start, w.cut_end)
        for w in windows([Chunk(time_s=time_s, force_N=force_N)])
    ]


@settings(max_examples=40, deadline=None)
@given(recording=recordings(), exponent=st.integers(-20, 20))
def test_scaling_the_force_changes_no_window(recording, exponent):
    time_s, force_N = recording
    # A power of two, so that not even rounding differs.
    assert found(time_s, force_N * 2.0**exponent) == found(time_s, force_N)


@settings(max_examples=40, deadline=None)
@given(recording=recordings())
def test_turning_the_sensor_round_turns_the_direction_only(recording):
    time_s, force_N = recording
    turned = [(a, b, -direction, *cuts) for a, b, direction, *cuts in found(time_s, -force_N)]
    assert turned == found(time_s, force_N)


@settings(max_examples=40, deadline=None)
@given(recording=recordings(rates_Hz=(8.0, 64.0, 512.0)), later=st.integers(1, 100))
def test_a_recording_that_starts_later_gives_the_same_windows_later(recording, later):
    time_s, force_N = recording
    # Binary rates and delays, so that the stamps stay exact.
    delayed = [
        (a - 64.0 * later, b - 64.0 * later, *rest) for a, b, *rest in found(time_s + 64.0 * later, force_N)
    ]
    assert delayed == found(time_s, force_N)
