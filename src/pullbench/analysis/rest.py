"""The rest reading: a straight line between the rest before a pull and the rest after it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from pullbench.analysis.noise import (
    Hum,
    averaged_over,
    correlation_factor,
    hum_in,
    resolution_step,
    robust_sd,
)
from pullbench.model import FloatArray, PullWindow

Mask = npt.NDArray[np.bool_]

LET_GO_SETTLES_S = 0.15  # a string that falls slack swings the sensor for a moment
OUTLIER = 5.0  # robust standard deviations; beyond it a rest sample is a knock, not rest


@dataclass(frozen=True, slots=True, kw_only=True)
class RestLine:
    """The sensor's reading with nobody pulling: level_N at reference_s, and its slope.

    u_level_N, u_slope_N_s: standard uncertainties, uncorrelated at reference_s.  u_wander_N: how far rest
    strays from a straight line.  noise_N: white noise of one sample.  step_N: resolution (0 when finer
    than can be seen).  sides: where the rest came from.
    averaging_s: over which the converter averages.  before_N, after_N: each side's own level.
    """

    level_N: float
    slope_N_s: float
    reference_s: float
    u_level_N: float
    u_slope_N_s: float
    u_wander_N: float
    noise_N: float
    step_N: float
    hum: Hum | None
    sides: str
    seen_s: float
    averaging_s: float
    before_N: tuple[float, float, int] | None
    after_N: tuple[float, float, int] | None

    def at(self, time_s: FloatArray) -> FloatArray:
        """Return the rest reading at each time, in newtons, hum included."""
        line = self.level_N + self.slope_N_s * (time_s - self.reference_s)
        return line if self.hum is None else line + self.hum.at(time_s)

    def lever_s(self, time_s: float) -> float:
        """Return how far in time the drift is carried: with one side, never beyond twice what was seen of it."""
        lever = abs(time_s - self.reference_s)
        return lever if self.sides == "both" else min(lever, 2 * self.seen_s)

    def u_at(self, time_s: float) -> float:
        """Return the standard uncertainty of the rest reading at one time, in newtons."""
        lever = self.lever_s(time_s)
        return math.sqrt(self.u_level_N**2 + (self.u_slope_N_s * lever) ** 2 + self.u_wander_N**2)


def rest_line(window: PullWindow) -> RestLine:
    """Fit the rest line of one pull window; see RestLine.

    With rest on both sides the line joins them, so a steady drift cancels; with one side it is level and
    its uncertainty grows with that side's own slope; with none it is the window's lowest quiet level and
    nothing may be concluded from it (sides "none").
    """
    time_s, force_N = window.trace.time_s, window.trace.force_N
    step_N = resolution_step(force_N)
    lead_s = min(0.1, 0.1 * max(window.start_s - float(time_s[0]), 0.0))
    before = _clean(force_N, time_s < window.start_s - lead_s)
    after = _clean(
        force_N,
        time_s > window.end_s + min(LET_GO_SETTLES_S, 0.25 * max(float(time_s[-1]) - window.end_s, 0)),
    )
    before, after = _only_true_rest(force_N, before, after, window)
    sides = {(True, True): "both", (True, False): "before", (False, True): "after", (False, False): "none"}[
        (bool(before.any()), bool(after.any()))
    ]
    if sides == "none":
        return _no_rest(window, step_N)
    at_rest = before | after
    t, f = time_s[at_rest], force_N[at_rest]
    reference_s = float(t.mean())
    slope = _slope(t, f, before[at_rest], after[at_rest]) if sides == "both" else 0.0
    level = float(f.mean())
    left = f - level - slope * (t - reference_s)
    hum = hum_in(t, left)
    if hum is not None:
        left = left - hum.at(t)
        level += float(left.mean())
        left = left - left.mean()
    noise_N = max(
        robust_sd(left), step_N / math.sqrt(12), 1e-12 * (abs(level) + float(np.ptp(force_N))), 1e-15
    )
    factor = correlation_factor(left) if float(np.std(left)) > 0.3 * step_N else 1.0  # rounding is no memory
    n_eff = max(t.size / factor, 1.0)
    spread_s = float(np.std(t))
    u_level = max(noise_N / math.sqrt(n_eff), step_N / math.sqrt(12) if step_N > 3 * robust_sd(left) else 0.0)
    u_slope = noise_N / math.sqrt(n_eff) / spread_s if sides == "both" else _own_drift(t, f, noise_N, n_eff)
    return RestLine(
        level_N=level,
        slope_N_s=slope,
        reference_s=reference_s,
        u_level_N=u_level,
        u_slope_N_s=u_slope,
        u_wander_N=_wander(t, left, noise_N, factor),
        noise_N=noise_N,
        step_N=step_N,
        hum=hum,
        sides=sides,
        seen_s=float(t[-1] - t[0]),
        averaging_s=_averaging_s(time_s, left[: int(before.sum())], left[int(before.sum()) :], step_N),
        before_N=_side(force_N[before], noise_N, factor),
        after_N=_side(force_N[after], noise_N, factor),
    )


def _clean(force_N: FloatArray, chosen: Mask) -> Mask:
    """Return the chosen samples less knocks."""
    kept = chosen.copy()
    if kept.sum() > 8:
        f = force_N[kept]
        middle, spread = float(np.median(f)), robust_sd(f)
        kept[kept] = np.abs(f - middle) <= OUTLIER * max(spread, 1e-12 * abs(middle)) + 1e-300
        if (
            kept.sum() < 0.7 * chosen.sum()
        ):  # not knocks but a changing level: keep all, and let wander say so
            return chosen
    return kept


def _only_true_rest(force_N: FloatArray, before: Mask, after: Mask, window: PullWindow) -> tuple[Mask, Mask]:
    """Drop a side where the string was already tight: it differs from the other and lives (tremor)."""
    if before.any() and after.any() and min(before.sum(), after.sum()) >= 4:
        b, a = force_N[before], force_N[after]
        gap = window.direction * (float(np.median(b)) - float(np.median(a)))
        height = float(np.max(window.direction * force_N)) - window.direction * float(np.median(a))
        if gap > 0.08 * height and float(np.std(b)) > 3 * float(np.std(a)):
            before = np.zeros_like(before)
        elif -gap > 0.08 * height and float(np.std(a)) > 3 * float(np.std(b)):
            after = np.zeros_like(after)
    return before, after


def _slope(t: FloatArray, f: FloatArray, before: Mask, after: Mask) -> float:
    rise = float(f[after].mean() - f[before].mean())
    return rise / float(t[after].mean() - t[before].mean())


def _own_drift(t: FloatArray, f: FloatArray, noise_N: float, n_eff: float) -> float:
    """Return how fast one side's rest may be drifting: its own slope and that slope's doubt."""
    if t.size < 4:
        return 0.0
    spread_s = float(np.std(t))
    slope = float(np.polyfit(t - t.mean(), f, 1)[0])
    return math.hypot(slope, noise_N / math.sqrt(n_eff) / spread_s)


def _wander(t: FloatArray, left: FloatArray, noise_N: float, factor: float) -> float:
    """Return the scatter of quarter-second means beyond what noise explains."""
    beat = np.floor((t - t[0]) / 0.25 + 1e-6).astype(int)
    count = np.bincount(beat)
    means = np.bincount(beat, left)[count > 0] / count[count > 0]
    if means.size < 4:
        return 0.0
    expected = noise_N**2 * factor * float(np.mean(1 / count[count > 0]))
    return math.sqrt(max(float(np.var(means)) - expected, 0.0)) / math.sqrt(2)


def _averaging_s(time_s: FloatArray, before: FloatArray, after: FloatArray, step_N: float) -> float:
    """Return the time over which the converter averages, from the rest on both sides; 0 for none."""
    if float(np.std(np.concatenate((before, after)))) < step_N:
        return 0.0  # rounding hides it
    length = averaged_over(before, after)
    return length * float(np.median(np.diff(time_s))) if length > 1 else 0.0


def _side(force_N: FloatArray, noise_N: float, factor: float) -> tuple[float, float, int] | None:
    if force_N.size == 0:
        return None
    return float(force_N.mean()), noise_N * math.sqrt(factor / force_N.size), int(force_N.size)


def _no_rest(window: PullWindow, step_N: float) -> RestLine:
    """Return the rest that was seen earlier in the recording, else a line at nought with sides "none"."""
    force_N = window.trace.force_N
    noise_N = max(robust_sd(np.diff(force_N)) / math.sqrt(2), step_N / math.sqrt(12), 1e-12)
    earlier = window.earlier_rest_N
    return RestLine(
        level_N=0.0 if earlier is None else earlier,
        slope_N_s=0.0,
        reference_s=window.start_s,
        u_level_N=math.nan if earlier is None else window.u_earlier_rest_N,
        u_slope_N_s=0.0,
        u_wander_N=0.0,
        noise_N=noise_N,
        step_N=step_N,
        hum=None,
        sides="none" if earlier is None else "earlier",
        seen_s=0.0,
        averaging_s=0.0,
        before_N=None,
        after_N=None,
    )
