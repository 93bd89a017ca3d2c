"""The bench check on rests made to order."""

import numpy as np
import pytest

from pullbench.analysis import analyse, bench_check
from pullbench.detect import windows
from pullbench.errors import RecordingError
from pullbench.model import Chunk, Trace
from pullbench.physics import Coulomb
from pullbench.physics.bench import Bench, Sensor, hand, in_a_row, record, simulate


def resting(
    seconds=3.0, rate_Hz=200.0, *, noise_N=0.004, step_N=0.0, drift_N_s=0.0, hum_N=0.0, seed=0, level_N=0.3
):
    time_s = np.arange(int(seconds * rate_Hz)) / rate_Hz
    force_N = level_N + noise_N * np.random.default_rng(seed).normal(size=time_s.size) + drift_N_s * time_s
    force_N += hum_N * np.sin(2 * np.pi * 50.0 * time_s)
    return Trace(time_s=time_s, force_N=np.round(force_N / step_N) * step_N if step_N else force_N)


def test_rate_noise_drift_and_rest_are_those_that_were_put_in():
    check = bench_check(resting(10.0, drift_N_s=0.01))
    assert check.rate_Hz == pytest.approx(200.0)
    assert check.noise_N == pytest.approx(0.004, rel=0.1)
    assert abs(check.drift_N_s - 0.01) < 3 * check.u_drift_N_s
    low, high = check.rest.limits
    assert low <= 0.3 + 0.01 * 5.0 <= high  # the mean of a drifting rest


def test_hum_is_found_and_kept_out_of_the_noise():
    check = bench_check(resting(rate_Hz=1000.0, hum_N=0.02))
    assert check.hum.frequency_Hz == pytest.approx(50.0, abs=0.1)
    assert check.hum.amplitude_N == pytest.approx(0.02, rel=0.1)
    assert check.noise_N == pytest.approx(0.004, rel=0.1)


def test_a_coarse_sensor_is_as_good_as_its_steps():
    check = bench_check(resting(noise_N=0.03, step_N=0.1, level_N=0.35))
    assert check.step_N == pytest.approx(0.1)
    assert check.good_above_N >= 40 * 0.1 / np.sqrt(12)  # 2 u / 5 %, GUM F.2.2.1


@pytest.mark.parametrize("noise_N", [0.003, 0.03])
def test_pulls_at_the_promised_force_get_about_five_per_cent_from_the_sensor(noise_N):
    """The promise against pulls made to be just that hard: kinetic limits of 5 % or narrower, static within twice."""
    sensor = Sensor(rate_Hz=200.0, noise_N=noise_N)
    promised_N = bench_check(resting(noise_N=noise_N)).good_above_N
    rng = np.random.default_rng(2)
    bench = Bench(
        mass_kg=promised_N / 0.4 / 9.80665,
        stiffness_N_m=400.0 * promised_N,
        law=Coulomb(0.5, 0.4),
        damping_N_s_m=4.0 * promised_N,
    )
    halves = []
    for _ in range(3):
        trace = record(
            in_a_row([simulate(bench, hand("smooth", rng, stretch_m=bench.stretch_m), rng=rng)]), sensor, rng
        )
        for window in windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)]):
            force = analyse(window).plateau.force
            halves.append((force.limits[1] - force.limits[0]) / 2 / force.value)
    assert len(halves) == 3
    assert np.median(halves) < 0.05


def test_a_pull_during_the_check_is_noticed():
    trace = resting()
    force_N = trace.force_N + np.interp(trace.time_s, [1.0, 1.5, 2.0, 2.2], [0.0, 2.0, 2.0, 0.0])
    assert bench_check(Trace(time_s=trace.time_s, force_N=force_N)).moved
    assert not bench_check(trace).moved


def test_a_reading_that_never_changes_is_noticed():
    assert bench_check(resting(noise_N=0.0)).stuck


def test_too_few_samples_are_refused():
    with pytest.raises(RecordingError, match="samples came"):
        bench_check(resting(0.05))
