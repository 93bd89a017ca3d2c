"""Noise of a sensor at rest: its size, its correlation, its resolution, and mains hum."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.model import FloatArray

NORMAL_MAD = 1.482602219  # a normal distribution's standard deviation over its median absolute deviation


@dataclass(frozen=True, slots=True)
class Hum:
    """Mains hum: a sine of frequency_Hz with cosine and sine amplitudes in newtons, phase from time 0 s."""

    frequency_Hz: float
    cosine_N: float
    sine_N: float

    @property
    def amplitude_N(self) -> float:
        """Return the amplitude in newtons."""
        return math.hypot(self.cosine_N, self.sine_N)

    def at(self, time_s: FloatArray) -> FloatArray:
        """Return the hum at each time, in newtons."""
        phase = 2 * np.pi * self.frequency_Hz * time_s
        return self.cosine_N * np.cos(phase) + self.sine_N * np.sin(phase)


def robust_sd(values: FloatArray) -> float:
    """Return the standard deviation of the bulk of the values: 1.4826 × median absolute deviation."""
    if values.size < 2:
        return 0.0
    return NORMAL_MAD * float(np.median(np.abs(values - np.median(values))))


def resolution_step(force_N: FloatArray) -> float:
    """Return the sensor's step in newtons: the common spacing of the distinct readings, 0 when none is seen."""
    levels = np.unique(force_N)
    if levels.size < 3 or levels.size > 0.5 * force_N.size + 2:
        return 0.0
    gaps = np.diff(levels)
    scale = float(np.max(np.abs(levels)))
    gaps = gaps[gaps > 1e-9 * scale]
    if gaps.size == 0:
        return 0.0
    step = float(np.min(gaps))
    off_grid = np.abs(gaps / step - np.round(gaps / step))
    return step if float(np.mean(off_grid < 0.05)) > 0.95 else 0.0


FEW = 24  # samples at rest: with fewer, noise alone looks like anything


def correlation_factor(residuals: FloatArray) -> float:
    """Return n / n_effective of a series: (1 + ρ)/(1 − ρ) with lag-one ρ, never under 1 (AR(1), asymptotic)."""
    if residuals.size < 8 or float(np.ptp(residuals)) <= 0:
        return 1.0
    centred = residuals - residuals.mean()
    rho = float(centred[1:] @ centred[:-1] / (centred @ centred))
    return (1 + min(rho, 0.98)) / (1 - min(rho, 0.98)) if rho > 2 / math.sqrt(residuals.size) else 1.0


def averaged_over(*stretches: FloatArray) -> int:
    """Return over how many samples a converter averages, as its noise at rest shows; 1 when it does not.

    stretches: residuals at rest, each shape (n,), before and after the pull.  A mean over N conversions
    leaves noise with autocorrelation 1 − k/N up to lag N and none beyond; a rest that wanders stays
    correlated for longer and is not taken for it.
    """
    centred = [part - part.mean() for part in stretches if part.size > 1]
    n, power = sum(part.size for part in centred), sum(float(part @ part) for part in centred)
    if n < FEW or power <= 0:
        return 1
    furthest = min(17, n // 4)
    rho = [
        sum(float(part[k:] @ part[:-k]) for part in centred if part.size > k) / power
        for k in range(1, furthest)
    ]
    misfit = {
        length: max(abs(rho[k - 1] - max(1 - k / length, 0.0)) for k in range(1, 2 * length + 1))
        for length in range(2, (furthest - 1) // 2 + 1)
    }
    best = min(misfit, key=lambda length: misfit[length])
    doubt = 2 / math.sqrt(n)  # of an autocorrelation, two standard deviations (Bartlett 1946)
    return best if misfit[best] < max(0.25, doubt) and rho[0] > max(0.4, 1.25 * doubt) else 1


def hum_in(time_s: FloatArray, residuals_N: FloatArray) -> Hum | None:
    """Return the 50 or 60 Hz hum that stands out of residuals at rest, or None.

    time_s, residuals_N: shape (n,). Sampling below 100 Hz folds hum to a slower wave with the same formula.
    Stands out: its power exceeds noise with odds of 1 in 20 000 for the frequencies tried.
    """
    n = residuals_N.size
    if n < 24:
        return None
    span_s = float(time_s[-1] - time_s[0])
    rate_Hz = (n - 1) / span_s if span_s > 0 else 0.0
    power = float(residuals_N @ residuals_N)
    if power <= 0:
        return None
    best, best_power = None, 0.0
    for mains_Hz in (50.0, 60.0):
        folded_Hz = abs(mains_Hz - rate_Hz * round(mains_Hz / rate_Hz))
        if folded_Hz < 2.0:  # cannot be told from drift
            continue
        for frequency_Hz in mains_Hz + np.arange(-8, 9) * min(0.25 / max(span_s, 0.5), 0.05):
            phase = 2 * np.pi * frequency_Hz * time_s
            c, s = np.cos(phase), np.sin(phase)
            gram = np.array([[c @ c, c @ s], [c @ s, s @ s]])
            try:
                a, b = np.linalg.solve(gram, np.array([c @ residuals_N, s @ residuals_N]))
            except np.linalg.LinAlgError:
                continue
            explained = float(a * (c @ residuals_N) + b * (s @ residuals_N))
            if explained > best_power:
                best, best_power = Hum(float(frequency_Hz), float(a), float(b)), explained
    left = (power - best_power) / max(n - 3, 1)
    if best is None or best_power < 2 * 13.4 * left:  # chi-square, 2 degrees, 34 frequencies, 1/20 000
        return None
    return best
