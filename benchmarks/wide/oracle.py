"""How well one could read a pull who was told the moments and nothing else.

Told: when the string first and last carried force, when the contact gave way, and when the sled slid.
Not told: any force, the noise, the sensor's faults, the law of friction, the sled.  Ours is told none of
the moments.  So the ratio of the two errors is the price of having to find them.

- Rest: a straight line through the samples before the string tightened and after it went slack.
- Breakaway: the loading ramp, fitted up to the moment by straight lines and parabolas over stretches that
  grow until their answers no longer agree with all shorter ones (intersection of confidence intervals,
  Goldenshluger and Nemirovski 1997): as much averaging as the shape of the ramp allows, whatever the shape.
- Kinetic: the mean of the pull with weights that taper to nought at both ends of the slide (sin²); where it
  stuck again, the mean over the slips, each from rest to rest (impulse theorem: the momentum gained is none),
  if any of them holds samples enough.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy import stats

from pullbench.model import Trace

SHARES = (0.01, 0.02, 0.03, 0.05, 0.08, 0.12, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
"""Stretches of the ramp that are tried, as shares of it; shortest first."""

FEWEST = 4  # samples in a fitted stretch
FEWEST_IN_SLIP = 8  # samples in a slip whose mean is taken: its two edges are known to a sample each


@dataclass(frozen=True, slots=True)
class Moments:
    """What the oracle is told, in seconds: taut from and to, the break, and the spans in which it slid."""

    taut_s: tuple[float, float]
    break_s: float
    slips_s: tuple[tuple[float, float], ...]


def told_moments(trace: Trace, moments: Moments) -> tuple[float | None, float | None]:
    """Return breakaway and kinetic level (N), each None where no samples speak for it."""
    told = _above_rest(trace, moments.taut_s)
    if told is None:
        return None, None
    t, (force_N, noise_N) = trace.time_s, told
    return _breakaway_N(t, force_N, noise_N, moments), _kinetic_N(t, force_N, moments)


def _above_rest(trace: Trace, taut_s: tuple[float, float]):
    """Return the pull above a line through the rests, positive forward, and the rests' scatter; None without them."""
    t, force_N = trace.time_s, trace.force_N
    before, after = t < taut_s[0], t > taut_s[1]
    resting = before | after
    if np.count_nonzero(resting) < FEWEST:
        return None
    degree = 1 if np.count_nonzero(before) > 1 and np.count_nonzero(after) > 1 else 0
    line = np.polynomial.Polynomial.fit(t[resting], force_N[resting], degree)
    pull_N = force_N - line(t)
    scatter_N = float(np.std(pull_N[resting], ddof=degree + 1))
    return (pull_N if pull_N[~resting].sum() >= 0 else -pull_N), scatter_N


def _breakaway_N(t, force_N, noise_N: float, moments: Moments) -> float | None:
    ramp_s = moments.break_s - moments.taut_s[0]
    chosen = []
    for degree in (1, 2):
        guesses = []
        for share in SHARES:
            used = (t > moments.break_s - share * ramp_s) & (t <= moments.break_s)
            if np.count_nonzero(used) >= max(FEWEST, degree + 2):
                guesses.append(_at_the_end(t[used] - moments.break_s, force_N[used], noise_N, degree))
        chosen += _longest_in_agreement(guesses)
    if chosen:
        return min(chosen)[1]
    last = np.flatnonzero(t <= moments.break_s)
    return float(force_N[last[-1]]) if last.size and t[last[-1]] > moments.taut_s[0] else None


def _longest_in_agreement(guesses: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the last (half-width, value) up to which all intervals overlap, in a list; none of none."""
    low, high, chosen = -math.inf, math.inf, guesses[:1]
    for doubt, value in guesses:
        low, high = max(low, value - doubt), min(high, value + doubt)
        if low > high:
            break
        chosen = [(doubt, value)]
    return chosen


def _at_the_end(since_s, force_N, noise_N: float, degree: int) -> tuple[float, float]:
    """Return the 68 % half-width of a fitted polynomial at since_s = 0, and its value there."""
    powers = np.vander(since_s / -since_s[0], degree + 1, increasing=True)
    fitted, _, _, _ = np.linalg.lstsq(powers, force_N, rcond=None)
    dof = force_N.size - degree - 1
    missed_N2 = float(np.sum((force_N - powers @ fitted) ** 2)) / dof
    spread = float(np.linalg.pinv(powers.T @ powers)[0, 0])
    factor = float(stats.t.ppf(0.84, dof))
    return factor * math.sqrt(max(missed_N2, noise_N**2) * spread), float(fitted[0])


def _kinetic_N(t, force_N, moments: Moments) -> float | None:
    slips_s = moments.slips_s
    counts = [np.count_nonzero((t >= start_s) & (t <= end_s)) for start_s, end_s in slips_s]
    if len(slips_s) > 1 and max(counts) >= FEWEST_IN_SLIP:
        long = [slip for slip, count in zip(slips_s, counts, strict=True) if count >= FEWEST_IN_SLIP]
        return float(
            force_N[np.any([(t >= start_s) & (t <= end_s) for start_s, end_s in long], axis=0)].mean()
        )
    phase = (t - slips_s[0][0]) / (slips_s[-1][1] - slips_s[0][0])
    weight = np.where((phase > 0) & (phase < 1), np.sin(np.pi * phase) ** 2, 0.0)
    return float(weight @ force_N / weight.sum()) if weight.any() else None
