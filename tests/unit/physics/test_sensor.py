import math

import numpy as np
import pytest

from pullbench.errors import BenchError
from pullbench.physics import Coulomb
from pullbench.physics.bench import CONVERTER_10, CONVERTER_80, Bench, Hand, Sensor, hand, record, simulate
from pullbench.physics.bench.sensor import averaged, low_passed

BENCH = Bench(mass_kg=1.0, stiffness_N_m=500.0, law=Coulomb(0.5, 0.3), damping_N_s_m=3.0)
PULL = simulate(BENCH, hand("smooth", np.random.default_rng(1), stretch_m=BENCH.stretch_m))
SILENCE = simulate(BENCH, Hand.through([(0.0, 0.0), (60.0, 0.0)], start_m=-0.01), step_s=1e-3)


def rng(seed=0):
    return np.random.default_rng(seed)


def test_a_perfect_sensor_reads_the_true_pull():
    trace = record(PULL, Sensor(rate_Hz=1000), rng())
    assert trace.force_N == pytest.approx(np.interp(trace.time_s, PULL.time_s, PULL.pull_N), abs=1e-12)
    assert np.diff(trace.time_s) == pytest.approx(1e-3)
    assert trace.time_s[-1] == pytest.approx(PULL.time_s[-1], abs=1e-3)


def test_a_sensor_that_reads_backward_mirrors_every_sample():
    forward, backward = (record(PULL, Sensor(rate_Hz=100, sign=sign), rng()) for sign in (1, -1))
    assert np.array_equal(forward.force_N, -backward.force_N)


def test_gain_and_offset_stretch_and_shift():
    true_N = record(PULL, Sensor(rate_Hz=100), rng()).force_N
    wrong_N = record(PULL, Sensor(rate_Hz=100, gain_error=0.02, offset_N=-0.3), rng()).force_N
    assert wrong_N == pytest.approx(1.02 * true_N - 0.3, abs=1e-12)


def test_readings_come_in_whole_counts_and_end_at_the_range():
    trace = record(PULL, Sensor(rate_Hz=100, resolution_N=0.05, range_N=3.0), rng())
    counts = trace.force_N / 0.05
    assert counts == pytest.approx(np.round(counts), abs=1e-9)
    assert trace.force_N.max() == 3.0 < PULL.pull_N.max()


def test_white_noise_has_the_stated_size_and_no_memory():
    noise_N = record(SILENCE, Sensor(rate_Hz=1000, noise_N=0.02), rng()).force_N
    assert np.std(noise_N) == pytest.approx(0.02, rel=0.02)  # 60 000 samples: 0.3 % standard error
    assert abs(np.corrcoef(noise_N[1:], noise_N[:-1])[0, 1]) < 0.02


def test_hum_sits_at_its_frequency_with_its_amplitude():
    hum_N = record(SILENCE, Sensor(rate_Hz=1000, hum_N=0.1, hum_Hz=60.0), rng()).force_N
    spectrum = np.abs(np.fft.rfft(hum_N[:60_000])) * 2 / 60_000
    assert np.argmax(spectrum) / 60.0 == pytest.approx(60.0)
    assert spectrum.max() == pytest.approx(0.1, rel=0.01)


def test_the_rest_reading_drifts_steadily_and_wanders_slowly():
    drift_N = record(SILENCE, Sensor(rate_Hz=10, drift_N_s=0.001, offset_N=0.2), rng()).force_N
    assert drift_N[[0, -1]] == pytest.approx([0.2, 0.26])
    ends_N = [
        record(SILENCE, Sensor(rate_Hz=10, wander_N=0.05), rng(seed)).force_N[-1] for seed in range(300)
    ]
    assert np.std(ends_N) == pytest.approx(0.05, rel=0.15)


def test_a_low_pass_answers_a_step_exponentially_and_a_ramp_late_by_its_time_constant():
    time_s = np.arange(0, 2, 1e-3)
    step = low_passed((time_s >= 0.5).astype(float), 1e-3, 0.1)
    assert np.interp(0.5 + 0.1, time_s, step) == pytest.approx(1 - math.exp(-1), abs=3e-3)
    ramp = low_passed(3.0 * time_s, 1e-3, 0.1)
    assert ramp == pytest.approx(3.0 * (time_s - 0.1 * (1 - np.exp(-time_s / 0.1))), abs=1e-10)


def test_averaging_is_late_by_half_its_window_on_a_ramp():
    time_s = np.arange(0, 2, 1e-3)
    mean = averaged(time_s, 3.0 * time_s, np.array([0.0, 1.0, 1.5]), 0.4)
    assert mean == pytest.approx([0.0, 3.0 * 0.8, 3.0 * 1.3], abs=1e-10)


def test_averaging_takes_hum_out_over_whole_periods():
    hum = record(SILENCE, Sensor(rate_Hz=10, averaging_s=0.4, hum_N=0.1), rng()).force_N
    assert np.max(np.abs(hum[10:])) < 1e-3


def test_a_slow_converter_lowers_the_static_peak_and_a_quick_one_hardly():
    """A peak is lost by about the slope of the ramp times half the averaging."""
    slow, quick = (
        max(record(PULL, sensor, rng(seed)).force_N.max() for seed in range(3))
        for sensor in (CONVERTER_10, CONVERTER_80)
    )
    assert slow < 0.97 * PULL.breakaway_force_N
    assert quick > 0.985 * PULL.breakaway_force_N


def test_presets_sample_at_their_names():
    for sensor, rate in ((CONVERTER_10, 10), (CONVERTER_80, 80)):
        trace = record(SILENCE, sensor, rng())
        assert np.median(np.diff(trace.time_s)) == pytest.approx(1 / rate)
        assert 0.001 < np.std(trace.force_N) < 0.01


def test_dropped_samples_leave_gaps_in_even_time():
    trace = record(SILENCE, Sensor(rate_Hz=100, dropped=0.2), rng())
    assert trace.time_s.size == pytest.approx(0.8 * 6001, rel=0.03)
    places = trace.time_s * 100
    assert places == pytest.approx(np.round(places), abs=1e-6)


def test_jittered_stamps_still_rise_while_the_samples_stay_even():
    even, shaken = (record(PULL, Sensor(rate_Hz=100, jitter_s=jitter), rng()) for jitter in (0.0, 0.02))
    assert np.array_equal(even.force_N, shaken.force_N)
    assert np.all(np.diff(shaken.time_s) > 0)
    assert np.std(shaken.time_s - even.time_s) > 1e-3
    assert shaken.time_s[0] >= 0


def test_the_same_seed_gives_the_same_trace():
    one, other = (record(PULL, CONVERTER_80, rng(5)) for _ in range(2))
    assert one.force_N.tobytes() == other.force_N.tobytes()


@pytest.mark.parametrize(
    "wrong",
    [
        {"rate_Hz": 0.0},
        {"rate_Hz": math.inf},
        {"sign": 0},
        {"noise_N": -0.1},
        {"resolution_N": math.nan},
        {"dropped": 1.0},
        {"range_N": 0.0},
        {"offset_N": math.nan},
    ],
)
def test_impossible_sensors_are_refused(wrong):
    with pytest.raises(BenchError, match=next(iter(wrong))) as refused:
        Sensor(**{"rate_Hz": 100.0, **wrong})
    assert refused.value.code == "sensor-impossible"


def test_a_recording_of_one_sample_is_refused():
    with pytest.raises(BenchError) as refused:
        record(PULL, Sensor(rate_Hz=0.01), rng())
    assert refused.value.code == "too-few-samples"
