import numpy as np
import pytest

from pullbench.detect.rest import Rest, line_through, scatter, steadiness


def noise(n, seed=3):
    return np.random.default_rng(seed).normal(size=n)


def test_the_scatter_of_normal_noise_is_its_standard_deviation():
    assert scatter((2.5 * noise(4000)).tolist()) == pytest.approx(2.5, rel=0.1)


def test_a_knock_does_not_widen_the_scatter():
    values = noise(200)
    knocked = values.copy()
    knocked[50:54] = 1000.0
    assert scatter(knocked.tolist()) == pytest.approx(scatter(values.tolist()), rel=0.1)


def test_a_reading_that_flickers_between_two_counts_has_scatter():
    values = np.zeros(100)
    values[::5] = 1.0  # its median absolute deviation is nought
    assert scatter(values.tolist()) > 0.3


def test_a_line_follows_a_steady_drift_exactly():
    times_s = (np.arange(80) * 0.05).tolist()
    level_N, slope_N_s, reference_s = line_through(times_s, [3.0 - 0.2 * t for t in times_s])
    assert slope_N_s == pytest.approx(-0.2)
    assert level_N + slope_N_s * (10.0 - reference_s) == pytest.approx(1.0)


def test_a_rest_knows_where_a_drifting_reading_will_be():
    times_s = np.arange(120) * 0.05
    levels_N = 5.0 + 0.3 * times_s + 0.01 * noise(120)
    rest = Rest(0, times_s[:8].tolist(), levels_N[:8].tolist(), 0.01)
    for time_s, level_N in zip(times_s[8:], levels_N[8:], strict=True):
        rest.add(time_s, level_N)
    assert rest.at(6.0) == pytest.approx(5.0 + 0.3 * 6.0, abs=0.02)
    assert rest.noise_N(0.0) == pytest.approx(0.01, rel=0.35)


def test_a_short_rest_takes_its_noise_from_the_rest_before():
    rest = Rest(0, [0.0, 0.1, 0.2, 0.3], [0.0, 0.0, 0.0, 0.0], 0.5)
    assert 0.3 <= rest.noise_N(0.0) <= 1.0


def test_noise_is_never_less_than_the_floor():
    rest = Rest(0, [0.05 * k for k in range(40)], [1.0] * 40, 0.0)
    assert rest.noise_N(0.02) == 0.02


def test_steadiness_tells_level_and_change_apart_from_scatter():
    times_s = (np.arange(60) * 0.05).tolist()
    level_N, change_N, stray_N = steadiness(times_s, [2.0 + 0.1 * t for t in times_s])
    assert level_N == pytest.approx(2.0 + 0.1 * 1.475, abs=0.01)
    assert change_N == pytest.approx(0.3, abs=0.02)
    assert stray_N < 0.01
