"""What a few seconds of rest say about a sensor: rate, resolution, noise, drift, hum, and what it is good for."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.noise import Hum, correlation_factor, hum_in, resolution_step, robust_sd
from pullbench.analysis.student import coverage_factor
from pullbench.errors import RecordingError
from pullbench.model import BudgetRow, FloatArray, Measured, Trace, UncertaintyBudget

PROMISED = 0.05
"""Half-width of the limits, as a share of the pull, that "good for pulls above" promises."""
READ_OVER_S = 0.05  # of signal about a break says how high it was (a fall of a usual sled and string)
REST_OVER_S = 2.5  # of rest on each side of a pull
COVERAGE = 2.0
FEWEST = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchCheck:
    """A sensor at rest.

    seconds, samples: what was looked at.  rate_Hz: samples a second.  longest_gap_s: between two samples.
    step_N: resolution, 0 when finer than the noise shows.  noise_N: standard deviation of one sample, drift
    and hum taken off.  drift_N_s, u_drift_N_s: slope.  low_N, high_N: readings seen.  rest: the mean reading.
    good_above_N: pulls above it get limits of ± 5 % or narrower as far as the sensor is concerned.
    moved: the reading changed so much that nothing was at rest.  stuck: it never changed at all, so that nothing
    can be said of it.
    """

    seconds: float
    samples: int
    rate_Hz: float
    longest_gap_s: float
    step_N: float
    noise_N: float
    drift_N_s: float
    u_drift_N_s: float
    low_N: float
    high_N: float
    hum: Hum | None
    rest: Measured
    good_above_N: float
    moved: bool
    stuck: bool


def bench_check(trace: Trace) -> BenchCheck:
    """Return what a stretch of rest says.

    good_above_N = 2 u / 5 %, where u combines the noise that is left over READ_OVER_S of signal, the noise
    and wandering of a rest of REST_OVER_S, and the resolution step / √12 (GUM F.2.2.1): what the sensor puts
    into the budget of a pull. The hand and the sled add their own.  Raises RecordingError for too few samples.
    """
    time_s, force_N = trace.time_s, trace.force_N
    if time_s.size < FEWEST:
        raise RecordingError(
            "check-too-short", f"Only {time_s.size} samples came.", f"A bench check needs {FEWEST} or more.",
            "Check the cable and that the sensor is sending, then check again.",
        )  # fmt: skip
    gaps = np.diff(time_s)
    rate_Hz = (time_s.size - 1) / float(time_s[-1] - time_s[0])
    levels = np.unique(force_N)
    step_N = float(levels[1] - levels[0]) if levels.size == 2 else resolution_step(force_N)
    middle = time_s - time_s.mean()
    slope, level = (float(x) for x in np.polyfit(middle, force_N, 1))
    left = force_N - level - slope * middle
    hum = hum_in(time_s, left)
    if hum is not None:
        left = left - hum.at(time_s)
    noise_N = max(robust_sd(left), step_N / math.sqrt(12))
    factor = correlation_factor(left) if float(np.std(left)) > 0.3 * step_N else 1.0
    spread_s = float(np.std(time_s))
    u_drift = noise_N * math.sqrt(factor / time_s.size) / spread_s
    wander_N = _wander(time_s, left, noise_N, factor)
    rest = _rest(level, noise_N * math.sqrt(factor / time_s.size), step_N, wander_N)
    return BenchCheck(
        seconds=float(time_s[-1] - time_s[0]), samples=int(time_s.size), rate_Hz=rate_Hz,
        longest_gap_s=float(gaps.max()), step_N=step_N, noise_N=noise_N, drift_N_s=slope, u_drift_N_s=u_drift,
        low_N=float(force_N.min()), high_N=float(force_N.max()), hum=hum, rest=rest,
        good_above_N=COVERAGE * _u_of_a_pull(noise_N, step_N, wander_N, rate_Hz, factor) / PROMISED,
        moved=_moved(left, step_N), stuck=levels.size == 1,
    )  # fmt: skip


def _u_of_a_pull(noise_N: float, step_N: float, wander_N: float, rate_Hz: float, factor: float) -> float:
    """Return the standard uncertainty that the sensor alone puts into one force of a pull."""
    read = noise_N * math.sqrt(factor / max(rate_Hz * READ_OVER_S, 1.0))
    rest = noise_N * math.sqrt(factor / max(rate_Hz * REST_OVER_S, 1.0))
    return math.sqrt(read**2 + rest**2 + wander_N**2 + step_N**2 / 12)


def _rest(level_N: float, u_noise_N: float, step_N: float, wander_N: float) -> Measured:
    rows = (
        BudgetRow("noise", u_noise_N),
        BudgetRow("wandering", wander_N),
        BudgetRow("resolution", step_N / math.sqrt(12)),
    )
    budget = UncertaintyBudget(tuple(row for row in rows if row.u > 0))
    u, k = budget.combined, coverage_factor(budget.effective_dof)
    return Measured(
        kind="value", value=level_N, standard_uncertainty=u, limits=(level_N - k * u, level_N + k * u),
        unit="N", budget=budget,
    )  # fmt: skip


def _wander(time_s: FloatArray, left_N: FloatArray, noise_N: float, factor: float) -> float:
    """Return the scatter of quarter-second means beyond what noise explains."""
    beat = np.floor((time_s - time_s[0]) / 0.25 + 1e-6).astype(int)
    count = np.bincount(beat)
    means = np.bincount(beat, left_N)[count > 0] / count[count > 0]
    if means.size < 4:
        return 0.0
    expected = noise_N**2 * factor * float(np.mean(1 / count[count > 0]))
    return math.sqrt(max(float(np.var(means)) - expected, 0.0))


def _moved(force_N: FloatArray, step_N: float) -> bool:
    """Tell a pull from rest: an eighth of the time stands apart by far more than neighbouring samples differ.

    Ten times, because a converter that averages makes neighbours alike.
    """
    apart_N = max(robust_sd(np.diff(force_N)), step_N)
    means = [float(part.mean()) for part in np.array_split(force_N, 8)]
    return max(means) - min(means) > 10 * apart_N
