"""The kinetic level: the mean pull over the settled stretch, from settled to settled.

By the impulse theorem the mean pull over a stretch is the friction plus M·Δv/T: swings and jerks cancel,
whatever happens between. A window that rises from nought and returns to it (here a cosine bell on the
first and last third) averages what is left better than a flat one, because its slope, not its edge, meets
the momentum at the ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pullbench.analysis.breakaway import Break
from pullbench.analysis.shape import Shape
from pullbench.model import FloatArray

BLOCK_S = 0.11  # about one tremor period: a block mean is free of the hand's ripple
SHORTEST_S = 0.35
SWAY_MET = 1.6  # share of the sway within the stretch that its ends may not cancel (virtual bench)
SPEED_HELD = 0.2  # a steady hand holds its speed within a fifth along the slide (judgement)
STEADY_S = 0.8  # a slide shorter than that is not cut further
LEVEL_STEP = 0.08  # of the level: so sharp and lasting a step is a hand that stopped, not a slide
HAIR = 1e-6  # of a step: a sample on the edge of a block falls on the same side on any clock


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """The mean pull over a settled stretch, and what it is worth.

    start_s, end_s: the stretch.  mean_N: weighted mean.  u_scatter_N: from the samples, counted as
    correlated.  u_momentum_N: from momentum at the ends and a hand that may speed up.  slope_N_s: trend
    along the stretch.  samples: how many it holds.  slowest: momentum where the sled was slowest, of its
    mean along the stretch, by the impulses since the break: near 1 for an even slide, nought or less where
    it must have stopped; None when its break was not seen.
    """

    start_s: float
    end_s: float
    mean_N: float
    u_scatter_N: float
    u_momentum_N: float
    slope_N_s: float
    samples: int
    slowest: float | None


def bell(time_s: FloatArray, start_s: float, end_s: float) -> FloatArray:
    """Return weights that rise as a cosine over the first third, stay, and fall over the last third."""
    along = np.clip((time_s - start_s) / (end_s - start_s), 0.0, 1.0)
    edge = np.minimum(np.minimum(along, 1 - along) * 3.0, 1.0)
    return 0.5 - 0.5 * np.cos(np.pi * edge)


def slide_end(shape: Shape, start: int, *, release: int | None = None) -> int:
    """Return the last sample before the hand stops: working back from let go to where the level holds.

    A sled that stops leaves the force hanging anywhere between nought and the static maximum, so the tail
    is compared with the middle of the slide and dropped, block by block, while it stands apart.
    """
    t, pull = shape.time_s, shape.pull_N
    end = shape.release if release is None else release
    block_s = max(BLOCK_S, 3 * shape.step_s, min(0.25, (t[end] - t[start]) / 12))
    edges = t[end] - block_s * np.arange(int((t[end] - t[start]) / block_s + HAIR) + 1)
    if edges.size < 6:
        return end
    at = np.searchsorted(t, edges - HAIR * shape.step_s)
    means = np.array([float(pull[b : a + 1].mean()) if a > b else math.nan for a, b in pairwise(at)])
    means = means[~np.isnan(means)]
    body = means[len(means) // 4 : max(3 * len(means) // 4 + 1, len(means) // 4 + 3)]
    middle = float(np.median(body))
    spread = max(1.4826 * float(np.median(np.abs(body - middle))), shape.noise_N / 3, 0.004 * abs(middle))
    limit = len(means) // 2
    last_odd = -1
    for i in range(limit):
        if abs(means[i] - middle) > 4.5 * spread:
            last_odd = i
        elif i - last_odd > 3:
            break
    dropped = last_odd + 1
    return int(np.searchsorted(t, t[end] - block_s * (dropped + 0.5) - HAIR * shape.step_s))


def level_after(shape: Shape, found: Break | None, *, start: int, end: int) -> Level | None:
    """Return the level of the slide between two samples, or None when it is too short to tell.

    The start is moved forward past the settling, to where the mean is best known (the marginal standard
    error rule: White 1997; Spratt 1998), never past the middle of the slide.
    """
    t = shape.time_s
    if found is not None:
        start = max(start, int(np.searchsorted(t, t[found.top] + found.fall_s - HAIR * shape.step_s)))
    end_s = float(t[min(end, t.size - 1)])
    if end_s - float(t[min(start, t.size - 1)]) < max(SHORTEST_S, 4 * shape.step_s):
        return None
    start = _settled_from(shape, start, end)
    return _level(shape, found, start, end)


def level_between(shape: Shape, found: Break | None, start: int, end: int) -> Level | None:
    """Return the level between two samples just as they are given, or None when they are too few."""
    if end - start < 4:
        return None
    return _level(shape, found, start, end)


def before_step(shape: Shape, start: int, end: int) -> int:
    """Return the end of the slide, or the sample before the first sharp step of its level.

    A hand that stops leaves the force at another level at once and for long; a slide that goes on sways.
    """
    t, pull = shape.time_s, shape.pull_N
    block_s = max(BLOCK_S, 2 * shape.step_s)
    beat = ((t[start : end + 1] - t[start]) / block_s + HAIR).astype(int)
    count = np.bincount(beat)
    means = np.bincount(beat, pull[start : end + 1])[count > 0] / count[count > 0]
    soonest = max(5, int(STEADY_S / block_s))
    for j in range(soonest, means.size - 4):
        before, after = means[j - 4 : j], means[j + 1 : j + 5]
        step = abs(float(np.median(after) - np.median(before)))
        flat = max(float(np.ptp(before)), float(np.ptp(after))) < 0.5 * step
        if flat and step > LEVEL_STEP * abs(float(np.median(before))):
            return int(np.searchsorted(t, t[start] + (j - 1 - HAIR) * block_s))
    return end


def _settled_from(shape: Shape, start: int, end: int) -> int:
    """Return the start that makes the squared standard error of the block means after it smallest (MSER)."""
    t, pull = shape.time_s, shape.pull_N
    length_s = float(t[end] - t[start])
    block_s = max(2 * shape.step_s, min(BLOCK_S, length_s / 16))
    beat = ((t[start : end + 1] - t[start]) / block_s + HAIR).astype(int)
    count = np.bincount(beat)
    means = np.bincount(beat, pull[start : end + 1])[count > 0] / count[count > 0]
    k = means.size
    if k < 6:
        return start
    best, chosen = math.inf, 0
    for cut in range(k // 2):
        tail = means[cut:]
        error = float(np.sum((tail - tail.mean()) ** 2)) / tail.size**2
        if error < best:
            best, chosen = error, cut
    return int(np.searchsorted(t, t[start] + (chosen - HAIR) * block_s))


def _level(shape: Shape, found: Break | None, start: int, end: int) -> Level:
    t, pull = shape.time_s[start : end + 1], shape.pull_N[start : end + 1]
    start_s, end_s = float(t[0]), float(t[-1])
    length_s = end_s - start_s
    spacing = np.gradient(t)
    weight = bell(t, start_s, end_s) * spacing
    weight /= weight.sum()
    mean = float(weight @ pull)
    left = pull - mean
    momentum = np.concatenate([[0.0], np.cumsum((left[1:] + left[:-1]) / 2 * np.diff(t))])
    straight = np.polyfit(t - start_s, momentum, 1)
    swings = momentum - np.polyval(straight, t - start_s)
    sway = float(np.std(swings))
    centre = float(weight @ t)
    slope = float(np.polyfit(t - centre, pull, 1)[0])
    noise = shape.noise_N * math.sqrt(float(weight @ weight))
    gained = _gained(shape, found, start, mean)
    u_momentum = math.hypot(SWAY_MET * sway, SPEED_HELD * gained) / length_s
    return Level(
        start_s=start_s, end_s=end_s, mean_N=mean, u_scatter_N=noise, u_momentum_N=u_momentum,
        slope_N_s=slope, samples=int(t.size),
        slowest=None if found is None else _slowest(gained + float(momentum.mean()), swings),
    )  # fmt: skip


def _slowest(mean_Ns: float, swings_Ns: FloatArray) -> float:
    """Return the lowest momentum, but for the lowest 2 % of samples, as a share of the mean one."""
    return 1 - float(np.quantile(-swings_Ns, 0.98)) / mean_Ns if mean_Ns > 0 else -math.inf


def _gained(shape: Shape, found: Break | None, start: int, mean_N: float) -> float:
    """Return the impulse above friction from the break to the settled stretch: the sled's momentum there."""
    if found is None:
        return 0.0
    first = int(np.searchsorted(shape.time_s, found.time_s))
    t, left = shape.time_s[first : start + 1], shape.pull_N[first : start + 1] - mean_N
    return float(np.trapezoid(left, t)) if t.size > 1 else 0.0
