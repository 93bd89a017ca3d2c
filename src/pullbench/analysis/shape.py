"""The coarse shape of a pull: its level, where it starts and lets go, its tops and troughs."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.rest import RestLine
from pullbench.model import FloatArray, PullWindow

SMOOTH_AT_MOST_S = 0.012  # a tenth of a tremor period: crests of a hand at 9 Hz keep 96 % of their height


@dataclass(frozen=True, slots=True)
class Swing:
    """One top of the smoothed pull and the trough after it, as sample numbers."""

    top: int
    trough: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A pull with its rest line taken off, positive in the direction of the pull.

    time_s, pull_N, smooth_N: shape (n,).  step_s: usual sample interval.  noise_N, u_smooth_N: of one
    sample, raw and smoothed.  level_N: provisional level after the break.  onset, release: first and last
    sample above half that level.  swings: tops and troughs from onset to release that stand out of noise.
    """

    time_s: FloatArray
    pull_N: FloatArray
    smooth_N: FloatArray
    step_s: float
    noise_N: float
    u_smooth_N: float
    level_N: float
    onset: int
    release: int
    swings: tuple[Swing, ...]


def shape_of(window: PullWindow, rest: RestLine) -> Shape:
    """Return the coarse shape of one window; see Shape."""
    time_s = window.trace.time_s
    pull_N = window.direction * (window.trace.force_N - rest.at(time_s))
    inside = (time_s >= window.start_s) & (time_s <= window.end_s)
    step_s = float(np.median(np.diff(time_s))) if time_s.size > 1 else 1.0
    rough = float(np.median(pull_N[inside])) if inside.any() else float(np.max(pull_N))
    sigma = _smoothing_samples(rest.noise_N, abs(rough), step_s)
    smooth_N = smoothed(pull_N, sigma)
    u_smooth_N = rest.noise_N / math.sqrt(max(1.0, 2 * math.sqrt(math.pi) * sigma))
    first, last = int(np.argmax(inside)), int(inside.size - 1 - np.argmax(inside[::-1]))
    high = float(np.quantile(smooth_N[first : last + 1], 0.9))
    above = np.flatnonzero(smooth_N[first : last + 1] > 0.5 * high) + first
    onset, release = (int(above[0]), int(above[-1])) if above.size else (first, last)
    late = smooth_N[onset + 2 * (release - onset) // 5 : release + 1]
    level_N = float(np.median(late)) if late.size else high
    threshold = max(5 * u_smooth_N, 0.01 * level_N)
    swings = _swings(smooth_N, first, release, threshold)
    return Shape(
        time_s=time_s, pull_N=pull_N, smooth_N=smooth_N, step_s=step_s, noise_N=rest.noise_N,
        u_smooth_N=u_smooth_N, level_N=level_N, onset=onset, release=release, swings=swings,
    )  # fmt: skip


def _smoothing_samples(noise_N: float, level_N: float, step_s: float) -> float:
    """Return the Gaussian width, in samples, that brings noise to a hundredth of the level, within reason."""
    if level_N <= 0:
        return 0.0
    needed = (noise_N / (0.01 * level_N)) ** 2 / 3.5
    return min(max(needed, 0.002 / step_s), SMOOTH_AT_MOST_S / step_s)


def smoothed(values: FloatArray, sigma: float) -> FloatArray:
    """Return values under a Gaussian of sigma samples; under a third of a sample they stay as they are."""
    if sigma < 0.33 or values.size < 3:
        return values
    reach = math.ceil(3.5 * sigma)
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    padded = np.pad(values, reach, mode="edge")
    return np.convolve(padded, weights / weights.sum(), mode="valid")


def _swings(values: FloatArray, first: int, last: int, threshold: float) -> tuple[Swing, ...]:
    """Return tops and troughs that alternate by at least threshold, from sample first to last."""
    found, top, trough, rising = [], first, first, True
    series = values[first : last + 1].tolist()
    for i, value in enumerate(series, start=first):
        if rising:
            if value > values[top]:
                top = i
            elif value < values[top] - threshold:
                rising, trough = False, i
        elif value < values[trough]:
            trough = i
        elif value > values[trough] + threshold:
            found.append(Swing(top, trough))
            rising, top = True, i
    if not rising:
        found.append(Swing(top, trough))
    return tuple(found)
