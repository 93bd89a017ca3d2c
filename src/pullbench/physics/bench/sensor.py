"""A force sensor: what it makes of the true pull, with every fault that a classroom sensor has."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray, Trace
from pullbench.physics.bench.run import Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensor:
    """A sensor on the string; the defaults are a perfect one.

    rate_Hz: samples per second.  sign: +1, or -1 when pulling reads negative.  gain_error: relative.
    lowpass_s: time constant of a first-order filter.  averaging_s: each sample is the mean of the last
    averaging_s (a converter that settles over several conversions; its noise is averaged with it).
    hum_N, hum_Hz: amplitude and frequency of mains pick-up.  offset_N: reading at rest; drift_N_s: its
    steady creep; wander_N: the standard deviation it has gathered after a minute of random walk.
    noise_N: standard deviation of a sample, white but for the averaging.  resolution_N: one count.
    range_N: readings end at ± this.  dropped: fraction of samples lost.  jitter_s: standard deviation of
    the time stamps (samples are even).
    """

    rate_Hz: float
    sign: int = 1
    gain_error: float = 0.0
    lowpass_s: float = 0.0
    averaging_s: float = 0.0
    hum_N: float = 0.0
    hum_Hz: float = 50.0
    offset_N: float = 0.0
    drift_N_s: float = 0.0
    wander_N: float = 0.0
    noise_N: float = 0.0
    resolution_N: float = 0.0
    range_N: float = math.inf
    dropped: float = 0.0
    jitter_s: float = 0.0

    def __post_init__(self) -> None:
        if self.sign not in (1, -1):
            raise _impossible("sign", self.sign, "1 or -1")
        for name in ("rate_Hz", "range_N"):
            if not getattr(self, name) > 0:
                raise _impossible(name, getattr(self, name), "above 0")
        if not 0 <= self.dropped < 1:
            raise _impossible("dropped", self.dropped, "from 0 to below 1")
        signed = ("sign", "rate_Hz", "range_N", "dropped", "gain_error", "offset_N", "drift_N_s")
        for name in (field.name for field in fields(self) if field.name not in signed):
            if not 0 <= getattr(self, name) < math.inf:
                raise _impossible(name, getattr(self, name), "finite and 0 or more")
        for name in ("rate_Hz", "gain_error", "offset_N", "drift_N_s"):
            if not math.isfinite(getattr(self, name)):
                raise _impossible(name, getattr(self, name), "finite")


# A bridge converter built for weighing, on a 50 N cell: settling over four conversions, noise several
# times the data-sheet figure as met in practice, a count too fine to matter.
CONVERTER_10 = Sensor(rate_Hz=10.0, averaging_s=0.4, noise_N=0.003, resolution_N=0.001, range_N=50.0)
"""A load cell on a 24-bit converter at 10 samples per second."""

CONVERTER_80 = Sensor(rate_Hz=80.0, averaging_s=0.05, noise_N=0.005, resolution_N=0.001, range_N=50.0)
"""A load cell on a 24-bit converter at 80 samples per second."""


def record(run: Run, sensor: Sensor, rng: np.random.Generator) -> Trace:
    """Return the recording that this sensor makes of a run.

    The signal path is: sign and gain, hum, low-pass, averaging, sampling, offset with drift and wander,
    noise (averaged alike), one count, end of range, lost samples, jittered stamps.  Raises BenchError when
    fewer than two samples would be left.
    """
    count = math.floor(float(run.time_s[-1]) * sensor.rate_Hz * (1 + 1e-12)) + 1
    taken_s = np.arange(count) / sensor.rate_Hz
    readings_N = _rounded(_sampled(run, sensor, taken_s, rng) + _rest(taken_s, sensor, rng), sensor)
    stamps_s = _stamped(taken_s, sensor, rng)
    kept = rng.random(count) >= sensor.dropped if sensor.dropped else np.ones(count, dtype=np.bool_)
    if np.count_nonzero(kept) < 2:
        raise BenchError(
            "too-few-samples",
            f"Only {np.count_nonzero(kept)} samples are left of a run of {run.time_s[-1]:g} s.",
            "A recording needs two.",
            "Sample faster, or pull longer.",
        )
    return Trace(time_s=stamps_s[kept], force_N=readings_N[kept])


def _sampled(run: Run, sensor: Sensor, taken_s: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Return the filtered pull at the moments of sampling."""
    signal_N = sensor.sign * (1 + sensor.gain_error) * run.pull_N
    if sensor.hum_N:
        phase = rng.uniform(0, 2 * math.pi)
        signal_N = signal_N + sensor.hum_N * np.sin(2 * math.pi * sensor.hum_Hz * run.time_s + phase)
    if sensor.lowpass_s:
        signal_N = low_passed(signal_N, run.step_s, sensor.lowpass_s)
    if sensor.averaging_s:
        return averaged(run.time_s, signal_N, taken_s, sensor.averaging_s)
    return np.interp(taken_s, run.time_s, signal_N)


def low_passed(signal_N: FloatArray, step_s: float, time_constant_s: float) -> FloatArray:
    """Return the signal behind a first-order low-pass: τ y' + y = signal, starting settled.

    Exact for a signal that is straight between samples.
    """
    ratio = step_s / time_constant_s
    fade = math.exp(-ratio)
    # Response to the straight piece from s0 to s1, solved in closed form.
    late = 1 - (1 - fade) / ratio
    early = 1 - fade - late
    values = signal_N.tolist()
    out = [values[0]]
    for before, now in pairwise(values):
        out.append(fade * out[-1] + early * before + late * now)
    return np.array(out)


def averaged(time_s: FloatArray, signal_N: FloatArray, at_s: FloatArray, window_s: float) -> FloatArray:
    """Return the mean of the signal over the window_s before each moment (the first value before 0)."""
    steps = 0.5 * (signal_N[1:] + signal_N[:-1]) * np.diff(time_s)
    area = np.concatenate([[0.0], np.cumsum(steps)])
    before_s = at_s - window_s
    at_start = np.interp(before_s, time_s, area) + np.minimum(before_s, 0.0) * signal_N[0]
    return np.asarray((np.interp(at_s, time_s, area) - at_start) / window_s)


def _rest(taken_s: FloatArray, sensor: Sensor, rng: np.random.Generator) -> FloatArray:
    """Return the reading that the sensor shows without any pull."""
    rest_N = sensor.offset_N + sensor.drift_N_s * taken_s
    if sensor.wander_N:
        per_sample_N = sensor.wander_N / math.sqrt(60.0 * sensor.rate_Hz)
        rest_N = rest_N + np.cumsum(rng.normal(0.0, per_sample_N, taken_s.size))
    if sensor.noise_N:
        rest_N = rest_N + _noise(taken_s.size, sensor, rng)
    return np.asarray(rest_N)


def _noise(count: int, sensor: Sensor, rng: np.random.Generator) -> FloatArray:
    """Return noise of the sensor's standard deviation, alike in neighbours as far as the averaging reaches."""
    conversions = max(round(sensor.averaging_s * sensor.rate_Hz), 1)
    single_N = rng.normal(0.0, sensor.noise_N * math.sqrt(conversions), count + conversions - 1)
    return np.convolve(single_N, np.full(conversions, 1 / conversions), mode="valid")


def _rounded(readings_N: FloatArray, sensor: Sensor) -> FloatArray:
    """Return the readings in whole counts, ending at the range."""
    if sensor.resolution_N:
        readings_N = np.round(readings_N / sensor.resolution_N) * sensor.resolution_N
    return np.clip(readings_N, -sensor.range_N, sensor.range_N)


def _stamped(taken_s: FloatArray, sensor: Sensor, rng: np.random.Generator) -> FloatArray:
    """Return the time stamps: each moved by at most 0.45 of a step, so that they keep rising."""
    if not sensor.jitter_s:
        return taken_s
    most_s = 0.45 / sensor.rate_Hz
    late_s = np.clip(rng.normal(0.0, sensor.jitter_s, taken_s.size), -most_s, most_s)
    late_s[0] = abs(late_s[0])  # a recording does not begin before its own zero
    return np.asarray(taken_s + late_s)


def _impossible(name: str, value: float, allowed: str) -> BenchError:
    return BenchError(
        "sensor-impossible",
        f"{name} of the sensor is {value:g}.",
        f"It must be {allowed}.",
        "Check the value and its unit.",
    )
