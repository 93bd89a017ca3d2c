"""Did the recording begin at rest, or in the middle of a pull?

Nothing marks a rest as such, so the first level of a recording is believed until something speaks
against it: a later level that is much quieter, a beginning on a ramp, or a way back that is slow and
overshoots, as only a pull does.
"""

from __future__ import annotations

from bisect import bisect_right

from pullbench.detect.excursion import NEAR_NOISES, REST_BEATS, Excursion
from pullbench.detect.rest import Rest, median, steps
from pullbench.detect.stack import Level
from pullbench.detect.store import BeatStore

QUIETER_S, QUIETER_BEATS = 0.5, 8
_AT_ONCE_S, _AT_ONCE_BEATS = 0.25, 4
_ARRIVED_SHARE = 0.9
_ROUGHER = 4.0  # times the steps from beat to beat
_MOVED_NOISES = 10.0  # no rest moves about by so much


def is_quieter_now(store: BeatStore, top: Level, index: int, floor_N: float) -> bool:
    """Return whether the last half second is so much quieter than the first rest that it was none."""
    begin = store.begin_of_last(index, QUIETER_S, QUIETER_BEATS)
    noise_N = top.rest.noise_N(floor_N)
    left = begin if top.excursion is None else top.excursion.start
    if begin < max(left, store.first + QUIETER_BEATS) or noise_N < 4 * floor_N:
        return False  # within a few counts nothing is quieter than anything else
    levels_N = [store.beat(number).level_N for number in range(begin, index + 1)]
    if max(levels_N) - min(levels_N) > 0.9 * noise_N:
        return False  # beats of the same noise span less once in ten thousand
    # The start of a ramp widens a short rest, but not its steps from beat to beat.
    return median(steps(levels_N)) < top.rest.step_N / _ROUGHER


def began_on_a_ramp(store: BeatStore, excursion: Excursion, noise_N: float) -> bool:
    """Return whether the force was changing when the recording began: then it knows no rest yet."""
    first = store.first
    if store.time_s(excursion.start) - store.time_s(first) > 1.0:
        return False
    end = max(first + REST_BEATS, store.number_at(store.time_s(first) + _AT_ONCE_S))
    levels_N = store.smoothed(first, end)[1]
    change_N = abs(levels_N[-1] - levels_N[0])
    return change_N > max(0.03 * excursion.height_N, NEAR_NOISES * noise_N)


def second_was_the_rest(store: BeatStore, doubted: Excursion, left: Excursion, index: int) -> bool:
    """Return whether the second of two levels, which the force is leaving for the first, was the rest.

    A let-go is quick, or has a quick step at least; a pull loads slowly.
    """
    step_N = abs(left.rest_N - doubted.rest_N)
    if left.side == doubted.side or left.height_N < _ARRIVED_SHARE * step_N:
        return False
    times_s, levels_N = store.smoothed(left.start - 1, index + 1)
    last = len(times_s) - 1
    later = [
        min(max(bisect_right(times_s, time_s + _AT_ONCE_S) - 1, k + _AT_ONCE_BEATS), last)
        for k, time_s in enumerate(times_s)
    ]
    quickest_N = max(left.side * (levels_N[k] - x) for k, x in zip(later, levels_N, strict=True))
    return quickest_N < 0.5 * step_N


def moved_about(store: BeatStore, rest: Rest, floor_N: float) -> bool:
    """Return whether the force moved about before this rest as no rest does."""
    levels_N = sorted(store.smoothed(store.first, rest.index - REST_BEATS)[1])
    if len(levels_N) < QUIETER_BEATS:
        return False
    cut = len(levels_N) // 20
    return levels_N[-1 - cut] - levels_N[cut] > _MOVED_NOISES * rest.noise_N(floor_N)


def pull_before(store: BeatStore, rest: Rest, rest_N: float, near: int, floor_N: float) -> Excursion:
    """Return all before beat `near` as the excursion of a pull that had begun before the recording."""
    levels_N = store.smoothed(store.first, near)[1]
    above_N, below_N = max(levels_N, default=rest_N) - rest_N, rest_N - min(levels_N, default=rest_N)
    side, height_N = (1, above_N) if above_N > below_N else (-1, below_N)
    noise_N = rest.noise_N(floor_N)
    return Excursion(store.first, rest_N, noise_N, 0.0, 0.0, side, cut_start=True, height_N=height_N)
