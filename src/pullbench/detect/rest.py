"""A rest: where the reading stays while nobody pulls, how it drifts, and how far it strays.

Everything is robust (medians), so that knocks and spikes neither move a rest nor widen it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from itertools import pairwise

MEMORY_S = 6.0
"""A rest is known from its last seconds: long against noise, short against a drift that bends."""

RESTLESS_S = 0.25
"""Within this a wandering rest changes little, and a pull much."""

_LEAD_S = 0.25  # the newest beats are left out: they may already belong to a pull that starts slowly
_SLOPE_NEEDS_S = 1.5  # a slope from less would be noise
_SLOPE_NEEDS_BEATS = 12
_KNOWN_BEATS = 20  # fewer beats say less about the noise than the rest before
_MIDDLE_SDS = 2.9  # a little more than the 2.56 standard deviations from the 10 % to the 90 % point
_SD = 1.4826  # standard deviation per median absolute deviation, for normal noise


def median(values: Sequence[float]) -> float:
    """Return the median of values, at least one."""
    ranked = sorted(values)
    n = len(ranked)
    return 0.5 * (ranked[(n - 1) // 2] + ranked[n // 2])


def scatter(values: Sequence[float]) -> float:
    """Return a robust standard deviation about the median.

    The larger of two: from the median absolute deviation, and from the middle four fifths; a reading
    that flickers between two counts has a median deviation of nought.
    """
    return spread([value - median(values) for value in values])


def spread(off: Sequence[float]) -> float:
    """Return the robust standard deviation of deviations from a line or level."""
    ranked = sorted(off)
    cut = len(ranked) // 10
    return max(_SD * median([abs(value) for value in off]), (ranked[-1 - cut] - ranked[cut]) / _MIDDLE_SDS)


def steps(levels: Sequence[float]) -> list[float]:
    """Return how far each level is from the one before."""
    return [abs(b - a) for a, b in pairwise(levels)]


def smoothed(levels: Sequence[float]) -> list[float]:
    """Return the median of every three neighbours: single spikes vanish."""
    return [median(levels[k : k + 3]) for k in range(len(levels) - 2)]


def line_through(times_s: Sequence[float], levels_N: Sequence[float]) -> tuple[float, float, float]:
    """Return (level, slope, reference time) of a line through the medians of both halves.

    Too short or too few for a slope: level only.
    """
    n = len(times_s)
    if n < _SLOPE_NEEDS_BEATS or times_s[-1] - times_s[0] < _SLOPE_NEEDS_S:
        return median(levels_N), 0.0, times_s[-1]
    half = n // 2
    early_s, late_s = median(times_s[:half]), median(times_s[half:])
    early_N, late_N = median(levels_N[:half]), median(levels_N[half:])
    slope_N_s = (late_N - early_N) / (late_s - early_s)
    return 0.5 * (early_N + late_N), slope_N_s, 0.5 * (early_s + late_s)


class NoiseMemory:
    """The noise of a beat, from the quieter parts of the last minutes: a guess where rest is short."""

    def __init__(self) -> None:
        self.noise_N = 0.0
        self._steps: list[float] = []
        self._before: float | None = None
        self._blocks: deque[float] = deque(maxlen=60)

    def see(self, level_N: float) -> None:
        """Take the level of one more beat."""
        if self._before is not None:
            self._steps.append(abs(level_N - self._before))
        self._before = level_N
        if len(self._steps) == 8:
            self._blocks.append(_SD * median(self._steps) / 2**0.5)
            self._steps = []
            self.noise_N = sorted(self._blocks)[len(self._blocks) // 4]


class Rest:
    """One rest and its line.  times in the recording's seconds, levels in newtons.

    index: of its first beat.  prior_N, prior_span_N: noise of a beat and wandering of the rest before;
    they count while this rest is too short to know better.
    """

    def __init__(
        self,
        index: int,
        times_s: Sequence[float],
        levels_N: Sequence[float],
        prior_N: float,
        prior_span_N: float = 0.0,
        prior_restless_N: float = 0.0,
    ) -> None:
        self.index = index
        self.prior_restless_N = prior_restless_N
        self.prior_span_N = prior_span_N
        self.since_s = times_s[0]
        self.prior_N = prior_N
        self._beats = deque(zip(times_s, levels_N, strict=True))
        self._fresh = 0
        self._fit()

    def add(self, time_s: float, level_N: float) -> None:
        """Take one more beat at rest."""
        self._beats.append((time_s, level_N))
        while time_s - self._beats[0][0] > MEMORY_S and len(self._beats) > 8:
            self._beats.popleft()
        self._fresh += 1
        if self._fresh >= 4 or len(self._beats) < 16:
            self._fit()

    @property
    def last_s(self) -> float:
        """Return the time of the newest beat."""
        return self._beats[-1][0]

    def at(self, time_s: float) -> float:
        """Return the rest level expected at a time (N); the drift is not carried on for long."""
        ahead_s = min(time_s - self._reference_s, MEMORY_S)
        return self._level_N + self._slope_N_s * ahead_s

    def noise_N(self, floor_N: float) -> float:
        """Return how far one beat strays from the line (standard deviation), at least floor_N."""
        return max(self._scatter_N, floor_N)

    @property
    def span_N(self) -> float:
        """Return how far the rest wandered lately, knocks left out."""
        levels_N = [level for _, level in self._settled()]
        ranked = sorted(smoothed(levels_N))
        if len(ranked) < 8:
            return 0.7 * self.prior_span_N
        cut = max(1, len(ranked) // 20)
        own_N = ranked[-1 - cut] - ranked[cut]
        young = self._beats[-1][0] - self._beats[0][0] < 0.7 * MEMORY_S
        return max(own_N, 0.7 * self.prior_span_N) if young else own_N

    @property
    def restless_N(self) -> float:
        """Return the typical change within RESTLESS_S, the steady drift taken off."""
        used = self._settled()
        off = [level - self.at(time) for time, level in used]
        pace_s = (used[-1][0] - used[0][0]) / max(len(used) - 1, 1)
        lag = max(2, round(RESTLESS_S / pace_s)) if pace_s > 0 else 2
        if len(off) < 2 * lag + 4:
            return self.prior_restless_N
        smooth = smoothed(off)
        own_N = median([abs(b - a) for a, b in zip(smooth, smooth[lag:], strict=False)])
        young = used[-1][0] - used[0][0] < 0.7 * MEMORY_S
        return max(own_N, 0.7 * self.prior_restless_N) if young else own_N

    @property
    def step_N(self) -> float:
        """Return the typical step from beat to beat."""
        return median(steps([level for _, level in self._beats]) or [0.0])

    def _settled(self) -> list[tuple[float, float]]:
        newest_s = self._beats[-1][0]
        old = [beat for beat in self._beats if beat[0] <= newest_s - _LEAD_S]
        return old if len(old) >= 4 else list(self._beats)

    def _fit(self) -> None:
        self._fresh = 0
        used = self._settled()
        times_s, levels_N = [time for time, _ in used], [level for _, level in used]
        self._level_N, self._slope_N_s, self._reference_s = line_through(times_s, levels_N)
        n = len(used)
        self._scatter_N = spread([level - self.at(time) for time, level in used]) * (1 + 2 / n)
        if n < _KNOWN_BEATS:
            self._scatter_N = min(max(self._scatter_N, 0.7 * self.prior_N), 2.0 * self.prior_N)


def steadiness(times_s: Sequence[float], levels_N: Sequence[float]) -> tuple[float, float, float]:
    """Return (level, change over the stretch, scatter about its line) of a stretch of beats."""
    half = len(levels_N) // 2
    early_N, late_N = median(levels_N[:half]), median(levels_N[half:])
    change_N = 2 * (late_N - early_N)
    level_N = 0.5 * (early_N + late_N)
    middle_s = 0.5 * (times_s[0] + times_s[-1])
    length_s = max(times_s[-1] - times_s[0], 1e-9)
    off = [
        abs(x - level_N - change_N * (t - middle_s) / length_s)
        for t, x in zip(times_s, levels_N, strict=True)
    ]
    return level_N, change_N, max(_SD * median(off), 0.5 * median(steps(levels_N)))
