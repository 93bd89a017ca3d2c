import numpy as np
import pytest

from pullbench.analysis.noise import correlation_factor, hum_in, resolution_step, robust_sd


def white(seed, n, sd=1.0):
    return np.random.default_rng(seed).normal(0.0, sd, n)


@pytest.mark.parametrize("step_N", [0.001, 0.01, 1 / 128])
def test_resolution_of_a_coarse_sensor_is_its_step(step_N):
    readings = np.round((2 + white(1, 2000, 4 * step_N)) / step_N) * step_N
    assert resolution_step(readings) == pytest.approx(step_N, rel=1e-6)


def test_readings_that_are_all_different_show_no_step():
    assert resolution_step(white(2, 500)) == 0.0


def test_a_constant_reading_shows_no_step():
    assert resolution_step(np.full(100, 0.25)) == 0.0


def test_white_noise_counts_each_sample():
    factors = [correlation_factor(white(seed, 500)) for seed in range(40)]
    assert np.median(factors) == 1.0
    assert max(factors) < 1.6  # lag-one beyond 2/√n by chance: (1 + ρ)/(1 − ρ) at ρ = 0.2 is 1.5


def test_correlation_factor_is_never_below_one_so_that_noise_never_counts_double():
    zigzag = np.tile([1.0, -1.0], 50)
    assert correlation_factor(zigzag) == 1.0


def test_identical_readings_count_as_uncorrelated():
    assert correlation_factor(np.zeros(50)) == 1.0


@pytest.mark.parametrize("offset_N", [0.0, 0.3, 1.7, 12.34])
def test_rounding_errors_of_identical_readings_are_not_taken_for_a_signal(offset_N):
    readings = np.full(200, 0.1) + offset_N
    assert correlation_factor(readings - readings.mean()) == 1.0


@pytest.mark.parametrize("mains_Hz", [50.0, 60.0])
@pytest.mark.parametrize("rate_Hz", [83.0, 200.0, 1000.0])
def test_hum_is_found_with_its_amplitude_also_when_sampling_folds_it(mains_Hz, rate_Hz):
    time_s = np.arange(0, 3, 1 / rate_Hz)
    hum = 0.05 * np.sin(2 * np.pi * mains_Hz * time_s + 0.7)
    found = hum_in(time_s, hum + white(3, time_s.size, 0.02))
    assert found is not None
    # Amplitude of a sine in white noise: standard error σ √(2/n).
    assert found.amplitude_N == pytest.approx(0.05, abs=5 * 0.02 * np.sqrt(2 / time_s.size))
    left = hum + white(3, time_s.size, 0.02) - found.at(time_s)
    assert left.std() == pytest.approx(0.02, rel=0.15)


def test_white_noise_holds_no_hum():
    time_s = np.arange(0, 3, 0.005)
    found = [hum_in(time_s, white(seed, time_s.size)) for seed in range(200)]
    assert found == [None] * 200  # a false alarm is set to 1 in 20 000


def test_too_few_samples_tell_no_hum():
    assert hum_in(np.arange(20) * 0.004, np.sin(np.arange(20.0))) is None


def test_spread_of_one_sample_is_nought():
    assert robust_sd(np.array([3.0])) == 0.0
