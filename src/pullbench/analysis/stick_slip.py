"""Stick-slip: a sawtooth whose tops come back to the static maximum, so that there is no steady level."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pullbench.analysis.shape import Shape, Swing

RETURNS_TO = 0.7  # of the static excess: a top this high can only be a sled that had stuck again, or a jerk
KEPT_MOVING = (
    0.4  # of its mean momentum left at the slowest: it cannot have stuck (checked on the virtual bench)
)
LEANS = 1.25  # times as long up as down: a hand's own waves take as long up as down
MOST_REGULAR = 0.25  # spread of the tops, of the excess, under which the time mean is the kinetic friction


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """Tops that return to the static maximum while the sled slides.

    highs_N, lows_N: of each slip.  times_s: of each top.  share: of the slide's time that lies in such
    swings.  skew: of the rate of force along the pull (slow rise and quick fall make it negative).  leaning:
    how many times longer the swings rise than they fall, at the median.  slowest: see Level.
    """

    highs_N: tuple[float, ...]
    lows_N: tuple[float, ...]
    times_s: tuple[float, ...]
    share: float
    skew: float
    leaning: float
    slowest: float | None

    @property
    def kept_moving(self) -> bool:
        """Tell whether the impulses since the break say that the sled never came near a stop."""
        return self.slowest is not None and self.slowest > KEPT_MOVING

    @property
    def stuck_again(self) -> bool:
        """Tell whether the sled stuck at least twice more after the break, even if that makes no rhythm yet."""
        if len(self.highs_N) < 2 or self.kept_moving:
            return False
        stopped = self.slowest is not None and self.slowest < 0
        leans = stopped and self.leaning > LEANS and self.share > 0.5
        return leans or (self.skew < -0.4 and self.share > 0.25)

    @property
    def is_stick_slip(self) -> bool:
        """Tell a saw from a wave: it fills much of the slide and rises slower than it falls."""
        if len(self.highs_N) < 3 or self.kept_moving:
            return False
        return self.stuck_again or (self.share > 0.6 and self.skew < -0.1)


def saw_in(
    shape: Shape, *, start_s: float, end_s: float, kinetic_N: float, excess_N: float, slowest: float | None
) -> Saw:
    """Return the swings between two times whose tops come back to near the static maximum."""
    t, smooth = shape.time_s, shape.smooth_N
    inside = [swing for swing in shape.swings if start_s < t[swing.top] < end_s and t[swing.trough] <= end_s]
    tall: list[Swing] = [
        swing
        for swing in inside
        if smooth[swing.top] > kinetic_N + RETURNS_TO * excess_N
        and smooth[swing.top] - smooth[swing.trough] > 0.6 * excess_N
    ]
    tops = [float(t[swing.top]) for swing in tall]
    covered = sum(min(b - a, 3 * _usual_gap(tops)) for a, b in pairwise(tops))
    if tall:
        covered += float(t[tall[0].top]) - start_s if tops[0] - start_s < 2 * _usual_gap(tops) else 0.0
    rate = np.diff(smooth[(t >= start_s) & (t <= end_s)])
    spread = float(rate.std()) if rate.size > 4 else 0.0
    return Saw(
        highs_N=tuple(float(smooth[swing.top]) for swing in tall),
        lows_N=tuple(float(smooth[swing.trough]) for swing in tall),
        times_s=tuple(tops),
        share=min(covered / max(end_s - start_s, 1e-9), 1.0),
        skew=float(np.mean((rate - rate.mean()) ** 3)) / spread**3 if spread > 0 else 0.0,
        leaning=_leaning(shape, tall),
        slowest=slowest,
    )


def _leaning(shape: Shape, tall: list[Swing]) -> float:
    """Return how many times longer the swings rise, from the trough before, than they fall; 0 for none."""
    t = shape.time_s
    ratios = [
        float(t[swing.top] - t[before.trough]) / float(t[swing.trough] - t[swing.top])
        for before, swing in pairwise(shape.swings)
        if swing in tall
    ]
    return float(np.median(ratios)) if ratios else 0.0


def _usual_gap(tops_s: list[float]) -> float:
    return float(np.median(np.diff(tops_s))) if len(tops_s) > 1 else 0.0
