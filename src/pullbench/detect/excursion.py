"""An excursion: the force has left a rest; is it a pull?

All thresholds are multiples of the rest's own noise (of a beat) or shares of the excursion's own
height, so that newtons and millinewtons, noisy and quiet sensors are treated alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.detect.caught import Caught
from pullbench.detect.rest import RESTLESS_S
from pullbench.model import FloatArray

AWAY_NOISES = 6.0
"""A smoothed beat this far off has left the rest: once in ages by chance."""
NEAR_SHARE = 0.13
"""Back at rest means within this share of the height: rest may have shifted or drifted meanwhile."""
SHIFTED_SHARE = 0.35
"""A quiet level below this share of the height is a rest that has shifted, not a string held taut."""
NEAR_NOISES = 3.0
REST_S = 0.35
"""Rest lasts at least this long; less is a string that falls slack in the middle of a slide."""
REST_BEATS = 3
OTHER_SIDE_S = 0.4
"""A force on the other side for so long was pulled there; a shorter one rings."""

HEIGHT_NOISES = 8.0
CUT_HEIGHT_NOISES = 12.0
"""A pull without its end has less to show for itself, and must stand out more."""
_HEIGHT_FLOORS = 12.0  # three and a half counts
_HEIGHT_SPANS = 4.0  # of the wandering of the rest before
_LASTS_S = 0.3
_LASTS_SAMPLES = 4
_HIGH_SHARE, _HIGH_S, _HIGH_BEATS = 0.3, 0.2, 3  # a knock rings about rest: it does not stay high
_SIDE_SHARE = 0.15
_EDGE_SHARE, _EDGE_NOISES, _EDGE_RESTLESS = 0.2, 8.0, 7.0
_EDGE_S, _EDGE_PART, _EDGE_BEATS = 0.5, 1 / 20, 2
"""Somewhere a pull changes quickly: by this share within half a second, or a twentieth of its length.
A smooth bump never does: half a sine wave changes by π/20 = 16 % in a twentieth of its length."""


@dataclass(slots=True)
class Excursion:
    """What has happened since a rest was left.

    start: index of the first beat away.  rest_N: level left.  own_noise_N: of one beat of that rest;
    floor_N: the least noise that may be claimed, as known by now.  span_N, restless_N: how far that
    rest wandered in all, and within a quarter of a second.
    side: +1 or -1.  height_N: farthest smoothed beat on that side.  near_since, other_since: index
    and time from which the force is back near rest, or beyond it; None when it is not.  earlier: what may
    have been a pull to the other side just before, if it was more than drift beside this one.
    """

    start: int
    rest_N: float
    own_noise_N: float
    span_N: float
    restless_N: float
    side: int
    cut_start: bool = False
    height_N: float = 0.0
    near_since: tuple[int, float] | None = None
    other_since: tuple[int, float] | None = None
    floor_N: float = 0.0
    earlier: Caught | None = None

    @property
    def noise_N(self) -> float:
        """Return the noise of one beat at rest."""
        return max(self.own_noise_N, self.floor_N)

    @property
    def band_N(self) -> float:
        """Return how close to the rest counts as back."""
        return max(NEAR_NOISES * self.noise_N, NEAR_SHARE * self.height_N)

    def follow(self, index: int, time_s: float, level_N: float) -> None:
        """Take the next smoothed beat."""
        off_N = self.side * (level_N - self.rest_N)
        self.height_N = max(self.height_N, off_N)
        beyond = off_N < -max(AWAY_NOISES * self.noise_N, NEAR_SHARE * self.height_N)
        near = abs(off_N) <= self.band_N
        self.near_since = (self.near_since or (index, time_s)) if near else None
        self.other_since = (self.other_since or (index, time_s)) if beyond else None

    def turned(self, start: int, *, cut_start: bool) -> Excursion:
        """Return the excursion to the other side that follows without a rest between."""
        return Excursion(
            start,
            self.rest_N,
            self.own_noise_N,
            self.span_N,
            self.restless_N,
            -self.side,
            cut_start or self.cut_start,
            floor_N=self.floor_N,
        )

    def flatness_N(self) -> float:
        """Return how much a level may vary and still count as quiet."""
        return max(8 * self.noise_N, 0.05 * self.height_N)


def is_pull(
    excursion: Excursion,
    times_s: Sequence[float],
    levels_N: Sequence[float],
    samples: int,
    *,
    rest_after_N: float | None,
) -> bool:
    """Return whether a finished excursion was a pull.

    times_s, levels_N: its smoothed beats, from the last beat at rest on.  samples: in it.
    rest_after_N: the level it came back to; None when it was cut off before.
    """
    time = np.asarray(times_s)
    level = np.asarray(levels_N)
    if time.size < 2 or samples < _LASTS_SAMPLES or time[-1] - time[0] < _LASTS_S:
        return False
    end_N = excursion.rest_N if rest_after_N is None else rest_after_N
    share = (time - time[0]) / (time[-1] - time[0])
    off = excursion.side * (level - excursion.rest_N - (end_N - excursion.rest_N) * share)
    height = float(np.sort(off)[-min(off.size, 2)])  # not the very highest: a peak may be a knock
    noises = CUT_HEIGHT_NOISES if rest_after_N is None else HEIGHT_NOISES
    least = max(noises * excursion.noise_N, _HEIGHT_FLOORS * excursion.floor_N)
    if height < max(least, _HEIGHT_SPANS * excursion.span_N):
        return False
    core_s, core = _core(time, off, height)
    if not _on_its_side(core_s, core, height):
        return False
    if rest_after_N is None:
        # The way to the other side may be the edge of the next pull, after mere drift: not counted here.
        last = int(np.flatnonzero(core >= 0.8 * height)[-1]) + 1
        core_s, core = core_s[:last], core[:last]
    length_s = float(core_s[-1] - core_s[0])
    within_s = _EDGE_S if rest_after_N is None else min(_EDGE_S, _EDGE_PART * length_s)
    wander = _EDGE_RESTLESS * excursion.restless_N * max(1.0, within_s / RESTLESS_S) ** 0.5
    edge = max(_EDGE_SHARE * height, _EDGE_NOISES * excursion.noise_N, wander)
    return _stays_high(core_s, core, height) and _has_an_edge(core_s, core, edge, within_s)


def _core(time: FloatArray, off: FloatArray, height: float) -> tuple[FloatArray, FloatArray]:
    """Return the part of an excursion that is well away, and half a second around it.

    A drift may have begun the excursion long before the pull.
    """
    away = np.flatnonzero(off > _SIDE_SHARE * height)
    begin_s, end_s = time[away[0]] - _EDGE_S, time[away[-1]] + _EDGE_S
    first = min(int(np.searchsorted(time, begin_s)), max(int(away[0]) - _EDGE_BEATS, 0))
    last = max(int(np.searchsorted(time, end_s, side="right")), int(away[-1]) + 1 + _EDGE_BEATS)
    return time[first:last], off[first:last]


def _on_its_side(time: FloatArray, off: FloatArray, height: float) -> bool:
    """Return whether the force was mostly on one side: noise that swells is on both."""
    steps = np.diff(time, append=time[-1])
    whole = float(steps.sum())
    with_it = float(steps[off > _SIDE_SHARE * height].sum())
    against_it = float(steps[off < -_SIDE_SHARE * height].sum())
    return with_it >= 0.3 * whole and against_it <= 0.1 * whole


def _stays_high(time: FloatArray, off: FloatArray, height: float) -> bool:
    high = off > _HIGH_SHARE * height
    steps = np.diff(time, append=time[-1])
    return int(np.count_nonzero(high)) >= _HIGH_BEATS and float(steps[high].sum()) >= _HIGH_S


def _has_an_edge(time: FloatArray, off: FloatArray, edge: float, within_s: float) -> bool:
    later = np.searchsorted(time, time + within_s, side="right") - 1
    later = np.minimum(np.maximum(later, np.arange(time.size) + _EDGE_BEATS), time.size - 1)
    return bool(np.max(np.abs(off[later] - off)) >= edge)
