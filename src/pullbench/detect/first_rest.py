"""Did the recording begin at rest, or in the middle of a pull?

Nothing marks a rest as such, so the first level of a recording is believed until something speaks
against it: a later level that is much quieter, a beginning on a ramp, or a way back that is slow and
overshoots, as only a pull does.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

from pullbench.detect.excursion import NEAR_NOISES, REST_BEATS, Excursion
from pullbench.detect.rest import Rest, median
from pullbench.detect.stack import Level
from pullbench.detect.stillness import log_odds_stiller, roughness
from pullbench.detect.store import BeatStore

QUIETER_BEATS = 8
_QUIETER_S = (0.5, 0.75, 1.0, 2.0)  # looked at together: a small difference takes longer to be sure of
_QUIETER_AT_END_S = (0.5, 0.75, 1.0, 2.0, 4.0)
_LOG_ODDS = 9.0  # ten thousand to one, for it is asked again and again
_LOG_ODDS_ONCE = 4.0  # fifty to one: asked once, with all there is
_FLAT_NOISES = 6.0  # of the quiet stretch itself, from its lowest to its highest beat
_FLAT_SHARE = 0.03  # of the step: a rest may drift
_COMES_DOWN_S, _UP_SHARE, _DOWN_SHARE = 1.0, 0.7, 0.15  # how long, from and to which share of the step
_EDGE_SHARE = 0.1  # of the beats before may lie where the quiet stretch is: a string that goes slack
_LEAVING_BEATS = 6  # a slow start is noticed late
_LOOK_S = 10.0  # back from where the first level was left
_EVERY = 2  # beats from look to look
_AT_ONCE_S, _AT_ONCE_BEATS = 0.25, 4
_ARRIVED_BAND = 0.05  # of the step
_ARRIVED_SHARE = 0.9
_NEAR_NOUGHT = 1.5  # five to one
_OVERSHOOT = 0.05  # of the step
_SAYS = 1.5  # five to one
_DITHER = 7.0  # two counts


def quieter_since(store: BeatStore, first: Level, index: int, floor_N: float) -> int | None:
    """Return where a rest begins that shows the first level to have been none; None while nothing does.

    A hand is never as still as a sensor that nobody touches: what lasts, lies flat, stands apart from
    all that was before, and is quieter than it, is the rest.
    """
    if index % _EVERY:
        return None
    for lasting_s in _QUIETER_S:
        begin = store.begin_of_last(index, lasting_s - 1e-9, QUIETER_BEATS)
        if not _stands_apart(store, first, begin, index):
            return None  # nor do longer stretches, which hold this one
        if _is_flat(store, first, begin, index, floor_N) and (
            _log_odds_rest(store, first, begin, index, floor_N) > _LOG_ODDS
        ):
            return _arrived(store, begin, index, floor_N)
    return None


def rest_within(
    store: BeatStore, first: Level, index: int, floor_N: float, *, returned: bool
) -> tuple[int, int] | None:
    """Return first and last beat of a rest within the excursion from the first level that was none.

    Asked when that excursion ends: at `index` the force has returned to the first level, or the recording
    is over.  Everything speaks: how quiet, how near to nought, how the force went there and came back.
    """
    for lasting_s in reversed(_QUIETER_AT_END_S):
        found = _flat_stretches(store, first, lasting_s, index, floor_N)
        if found:
            begin, end = min(found, key=lambda span: roughness(store.means(span[0], span[1] + 1), 1))
            log_odds = _log_odds_rest(store, first, begin, end, floor_N) + _calm(store, first, begin)
            if returned:
                log_odds += _slow_way_back(store, first, end, index)
            return (_arrived(store, begin, end, floor_N), end) if log_odds > _LOG_ODDS_ONCE else None
    return None


def _flat_stretches(
    store: BeatStore, first: Level, lasting_s: float, index: int, floor_N: float
) -> list[tuple[int, int]]:
    found, end = [], index
    left = store.first if first.left is None else first.left
    while end > left:
        begin = store.begin_of_last(end, lasting_s - 1e-9, QUIETER_BEATS)
        if begin <= left:
            break
        apart = _stands_apart(store, first, begin, end)
        if apart and _is_flat(store, first, begin, end, floor_N):
            found.append((begin, end))
        end -= _EVERY
    return found


def _calm(store: BeatStore, first: Level, begin: int) -> float:
    """Return what the way there says: a let-go is quick, a pull loads, breaks away and overshoots."""
    since, left = _before(store, first, begin)
    from_N, to_N = median(store.smoothed(since, left)[1]), store.smooth_at(begin)
    side = 1 if to_N > from_N else -1
    beyond_N = max((side * (x - to_N) for x in store.smoothed(left, begin)[1]), default=0.0)
    if _quickest(store, left, begin, side) < 0.5 * abs(to_N - from_N):
        return -2 * _SAYS
    return -_SAYS if beyond_N > _OVERSHOOT * abs(to_N - from_N) else _SAYS


def _slow_way_back(store: BeatStore, first: Level, end: int, index: int) -> float:
    """Return what the way back says: a let-go is quick, or has a quick step at least; a pull loads slowly."""
    since, left = _before(store, first, end)
    step_N = median(store.smoothed(since, left)[1]) - store.smooth_at(end)
    quickest_N = _quickest(store, end, index, 1 if step_N > 0 else -1)
    return _SAYS if quickest_N < 0.5 * abs(step_N) else -_SAYS


def _quickest(store: BeatStore, begin: int, index: int, side: int) -> float:
    """Return the most that the force went to one side within a quarter of a second."""
    times_s, levels_N = store.smoothed(begin, index + 1)
    last = len(times_s) - 1
    later = [
        min(max(bisect_right(times_s, time_s + _AT_ONCE_S) - 1, k + _AT_ONCE_BEATS), last)
        for k, time_s in enumerate(times_s)
    ]
    return max((side * (levels_N[k] - x) for k, x in zip(later, levels_N, strict=True)), default=0.0)


def _before(store: BeatStore, first: Level, begin: int) -> tuple[int, int]:
    """Return the beats that the first level is known by: up to where it was left, eight at least."""
    left = begin if first.left is None else first.left
    end = min(max(left - _LEAVING_BEATS, first.begin + QUIETER_BEATS), begin)
    return max(store.number_at(store.time_s(max(end - 1, store.first)) - _LOOK_S), first.begin), end


def _stands_apart(store: BeatStore, first: Level, begin: int, index: int) -> bool:
    """Return whether the stretch from begin to index lies beyond what was met before it."""
    since, end = _before(store, first, begin)
    if index + 1 - begin < QUIETER_BEATS or end - since < QUIETER_BEATS - 2 or begin < end:
        return False
    late_N = store.smoothed(begin, index + 1)[1]
    early_N = sorted(store.smoothed(since, end)[1])
    cut = int(_EDGE_SHARE * len(early_N))
    return min(late_N) > early_N[-1 - cut] or max(late_N) < early_N[cut]


def _is_flat(store: BeatStore, first: Level, begin: int, index: int, floor_N: float) -> bool:
    """Return whether the stretch from begin to index is level, and was reached quickly."""
    late_N = store.smoothed(begin, index + 1)[1]
    from_N, to_N = median(store.smoothed(*_before(store, first, begin))[1]), median(late_N)
    noise_N = max(roughness(store.means(begin, index + 1), 1), floor_N)
    level = max(late_N) - min(late_N) <= max(_FLAT_NOISES * noise_N, _FLAT_SHARE * abs(to_N - from_N))
    return level and _went_quickly(store, from_N, to_N, begin)


def _went_quickly(store: BeatStore, from_N: float, to_N: float, begin: int) -> bool:
    """Return whether the force came down to a level as a string is let go, not as a reading drifts."""
    share, ended_s = 0.0, store.time_s(begin)
    for index in range(begin, store.first - 1, -1):
        share = (store.smooth_at(index) - to_N) / (from_N - to_N)
        if share <= _DOWN_SHARE:
            ended_s = store.time_s(index)
        elif share > _UP_SHARE or ended_s - store.time_s(index) > _COMES_DOWN_S:
            break
    return share > _UP_SHARE


def _log_odds_rest(store: BeatStore, first: Level, begin: int, index: int, floor_N: float) -> float:
    """Return what stillness and level say for the beats from begin to index as the rest, not the first level."""
    since, end = _before(store, first, begin)
    early_N, late_N = store.means(since, end), store.means(begin, index + 1)
    rounding_N = _rounding(store, begin, index + 1, floor_N)
    return log_odds_stiller(early_N, late_N, rounding_N) + _log_odds_near_nought(early_N, late_N)


def _rounding(store: BeatStore, begin: int, end: int, floor_N: float) -> float:
    """Return what whole counts alone may do to the mean of a beat; noise of a few counts averages it away."""
    beats = [store.beat(number) for number in range(begin, end)]
    dithered = median([beat.high_N - beat.low_N for beat in beats]) > _DITHER * floor_N
    return floor_N / median([beat.force_N.size for beat in beats]) ** 0.5 if dithered else floor_N


def _log_odds_near_nought(early_N: Sequence[float], late_N: Sequence[float]) -> float:
    """Return what it says that one level is nearer to nought: little, for many sensors are never nulled."""
    early, late = abs(median(early_N)), abs(median(late_N))
    if min(early, late) <= 0:
        return _NEAR_NOUGHT if early > late else -_NEAR_NOUGHT if late > early else 0.0
    return min(max(math.log(early / late), -_NEAR_NOUGHT), _NEAR_NOUGHT)


def _arrived(store: BeatStore, begin: int, index: int, floor_N: float) -> int:
    """Return the first beat near the rest that is known from begin to index."""
    levels_N = store.smoothed(begin, index + 1)[1]
    level_N = median(levels_N)
    step_N = abs(median(store.smoothed(store.first, begin)[1] or levels_N) - level_N)
    band_N = max(2 * max(abs(x - level_N) for x in levels_N), 2 * floor_N, _ARRIVED_BAND * step_N)
    while begin > store.first and abs(store.smooth_at(begin - 1) - level_N) <= band_N:
        begin -= 1
    return begin


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
    return _quickest(store, left.start - 1, index, left.side) < 0.5 * step_N


def pull_before(store: BeatStore, rest: Rest, rest_N: float, near: int, floor_N: float) -> Excursion:
    """Return all before beat `near` as the excursion of a pull that had begun before the recording."""
    levels_N = store.smoothed(store.first, near)[1]
    above_N, below_N = max(levels_N, default=rest_N) - rest_N, rest_N - min(levels_N, default=rest_N)
    side, height_N = (1, above_N) if above_N > below_N else (-1, below_N)
    noise_N = rest.noise_N(floor_N)
    wander = rest.span_N, rest.restless_N
    return Excursion(store.first, rest_N, noise_N, *wander, side, cut_start=True, height_N=height_N)
