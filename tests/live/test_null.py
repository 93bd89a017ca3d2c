"""The rest reading that is followed while nobody pulls."""

import numpy as np
import pytest

from pullbench.live import Null
from pullbench.live.null import FRESH_S, LEAST_S
from pullbench.model import Chunk, WatchState

QUIET, LOADING = WatchState.QUIET, WatchState.LOADING


def feed(null, time_s, force_N, state, size=10):
    for a in range(0, time_s.size, size):
        null.see(Chunk(time_s=time_s[a : a + size], force_N=force_N[a : a + size]), state)


def noisy(from_s, to_s, level_N, rng, noise_N=0.01, rate_Hz=100.0):
    time_s = np.arange(from_s, to_s, 1 / rate_Hz)
    return time_s, level_N + noise_N * rng.normal(size=time_s.size)


def test_the_limits_of_the_force_at_rest_hold_nought_as_often_as_they_say():
    inside = []
    for seed in range(300):
        null = Null()
        feed(null, *noisy(0.0, 6.0, 0.4, np.random.default_rng(seed)), QUIET)
        low, high = null.force().limits
        inside.append(low <= 0.0 <= high)
    assert 0.90 <= np.mean(inside) <= 0.99  # 95 %, within what 300 trials can tell


def test_the_stated_doubt_is_how_far_rest_readings_scatter():
    readings, us = [], []
    for seed in range(200):
        null = Null()
        feed(null, *noisy(0.0, 5.0, 0.4, np.random.default_rng(seed)), QUIET)
        readings.append(null.now.rest_N)
        us.append(null.now.u_N)
    assert np.std(readings) == pytest.approx(np.mean(us), rel=0.2)


def test_a_pull_does_not_move_it_nor_its_first_moment_that_still_counts_as_quiet():
    null = Null()
    rng = np.random.default_rng(0)
    feed(null, *noisy(0.0, 5.0, 0.4, rng), QUIET)
    before = null.now.rest_N
    ramp_s = np.arange(5.0, 5.0 + FRESH_S - 0.05, 0.01)
    feed(null, ramp_s, 0.4 + 5.0 * (ramp_s - 5.0), QUIET)
    feed(null, *noisy(5.3, 8.0, 3.0, rng), LOADING)
    assert null.now.rest_N == pytest.approx(before, abs=0.003)


def test_a_new_level_of_rest_is_followed_after_half_a_second():
    null = Null()
    rng = np.random.default_rng(0)
    feed(null, *noisy(0.0, 5.0, 0.4, rng), QUIET)
    feed(null, *noisy(5.0, 8.0, 3.0, rng), LOADING)
    feed(null, *noisy(8.0, 8.0 + LEAST_S, 0.5, rng), QUIET)
    assert null.now.rest_N == pytest.approx(0.4, abs=0.01)
    feed(null, *noisy(8.5, 9.5, 0.5, rng), QUIET)
    assert null.now.rest_N == pytest.approx(0.5, abs=0.01)


def test_before_any_rest_the_first_samples_stand_in_and_do_not_claim_to_be_rest():
    null = Null()
    feed(null, *noisy(0.0, 0.3, 2.0, np.random.default_rng(0)), LOADING)
    assert not null.now.settled
    assert null.now.rest_N == pytest.approx(2.0, abs=0.02)


def test_a_coarse_sensor_that_reads_one_number_at_rest_still_has_a_doubt():
    null = Null()
    time_s = np.arange(0.0, 5.0, 0.1)
    feed(null, time_s, np.where(np.arange(time_s.size) < 10, 0.2, 0.1), QUIET)
    assert null.now.step_N == pytest.approx(0.1)
    assert null.now.u_N == pytest.approx(0.1 / np.sqrt(12))  # GUM F.2.2.1
