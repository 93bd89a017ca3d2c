import numpy as np
import pytest

from pullbench.detect.beats import BEAT_S, BeatMaker, Resolution, beat_of


def beats_of(time_s, force_N):
    maker = BeatMaker()
    return [*maker.feed(np.asarray(time_s), np.asarray(force_N)), *maker.finish()]


def test_a_beat_holds_all_samples_of_its_span_of_the_grid():
    time_s = 7.0 + np.arange(1000) / 1000.0
    beats = beats_of(time_s, np.arange(1000.0))
    assert len(beats) == round(1.0 / BEAT_S)
    assert np.concatenate([beat.time_s for beat in beats]) == pytest.approx(time_s)
    assert {beat.time_s.size for beat in beats} == {50}


def test_below_twenty_samples_a_second_a_beat_is_one_sample():
    beats = beats_of(np.arange(40) / 8.0, np.arange(40.0))
    assert [beat.level_N for beat in beats] == list(range(40))


def test_a_gap_leaves_no_empty_beats():
    beats = beats_of([0.0, 0.01, 9.0, 9.01], [1.0, 1.0, 2.0, 2.0])
    assert [(beat.start_s, beat.level_N) for beat in beats] == [(0.0, 1.0), (9.0, 2.0)]


@pytest.mark.parametrize("n", [1, 2, 3, 10, 11])
def test_the_level_of_a_beat_is_the_median_of_its_samples(n):
    force_N = np.random.default_rng(n).normal(size=n)
    beat = beat_of(np.arange(n) * 1e-3, force_N)
    assert beat.level_N == pytest.approx(np.median(force_N))
    assert (beat.low_N, beat.high_N) == (force_N.min(), force_N.max())


def test_the_count_of_a_sensor_is_found_once_two_readings_differ():
    resolution = Resolution()
    for beat in beats_of(np.arange(20) / 20.0, np.full(20, 0.37)):
        resolution.see(beat)
    assert resolution.count_N == 0.0
    for beat in beats_of(1.0 + np.arange(3) / 20.0, [0.37, 0.38, 0.41]):
        resolution.see(beat)
    assert resolution.count_N == pytest.approx(0.01)
    assert resolution.floor_N == pytest.approx(0.01 / np.sqrt(12))


def test_rounding_in_the_last_digits_is_not_a_count():
    resolution = Resolution()
    for beat in beats_of(np.arange(4) / 20.0, [0.3, 0.1 + 0.2, 0.3, 0.1 + 0.2]):
        resolution.see(beat)
    assert resolution.count_N == 0.0
