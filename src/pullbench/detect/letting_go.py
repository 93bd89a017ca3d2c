"""What it looks like when a string is let go: the force comes back to rest, at once or in steps."""

from __future__ import annotations

from collections.abc import Sequence

from pullbench.detect.caught import Caught
from pullbench.detect.excursion import (
    HEIGHT_NOISES,
    NEAR_NOISES,
    REST_BEATS,
    REST_S,
    SHIFTED_SHARE,
    Excursion,
)
from pullbench.detect.store import BeatStore

STEP_S = 0.5
"""A let-go, or one step of it, takes no longer."""
_SOON_S = 1.5  # after the first step of a let-go
_STEP_SHARE = 0.02  # of the pull: a smaller step is not worth the trouble


def near_for_s(store: BeatStore, excursion: Excursion, index: int) -> float:
    """Return how long the force has been back near the rest; 0 when it is not, or for too few beats."""
    if excursion.near_since is None or index - excursion.near_since[0] + 1 < REST_BEATS:
        return 0.0
    beat_s = min(store.time_s(index) - store.time_s(index - 1), REST_S)
    return store.time_s(index) - excursion.near_since[1] + beat_s


def is_back(store: BeatStore, excursion: Excursion, index: int) -> bool:
    """Return whether the force is back at rest and quiet."""
    if near_for_s(store, excursion, index) < REST_S:
        return False
    flat = store.is_flat(index, REST_S, REST_BEATS, excursion.flatness_N())
    return flat and not _bursts(store, excursion, index)


def _bursts(store: BeatStore, excursion: Excursion, index: int) -> bool:
    """Return whether single beats still leave the rest: smoothing hides a string that snaps taut."""
    begin = store.begin_of_last(index, REST_S, REST_BEATS)
    most_N = max(excursion.band_N, 0.3 * excursion.height_N)
    off_N = [abs(store.beat(number).level_N - excursion.rest_N) for number in range(begin, index + 1)]
    return sum(off > most_N for off in off_N) > 1


def lies_flat_after_a_step(store: BeatStore, excursion: Excursion, index: int) -> bool:
    """Return whether the force went to a new level in one quick step and lies flat there."""
    begin = store.begin_of_last(index, REST_S, REST_BEATS)
    if begin <= excursion.start or excursion.height_N < HEIGHT_NOISES * excursion.noise_N:
        return False
    quick = store.time_s(begin) - store.time_s(excursion.start) <= STEP_S
    step_N = abs(store.level_now(index, 0.5 * REST_S, REST_BEATS) - excursion.rest_N)
    straight = excursion.height_N < 1.1 * step_N
    flat_N = min(max(6 * excursion.noise_N, 0.03 * excursion.height_N), 0.15 * excursion.height_N)
    # Smoothing hides a swing from beat to beat, so the beats themselves are looked at, one spike allowed.
    raw_N = sorted(abs(store.beat(number).level_N - excursion.rest_N) for number in range(begin, index + 1))
    calm = min(raw_N[-2] - raw_N[0], raw_N[-1] - raw_N[1]) <= 1.5 * flat_N
    return quick and straight and calm and store.is_flat(index, REST_S, REST_BEATS, flat_N)


def further_step(store: BeatStore, last: Caught | None, excursion: Excursion, index: int) -> int | None:
    """Return where rest really begins when this excursion is but another step of the last let-go."""
    if last is None or excursion.side == last.side or last.near < store.first:
        return None
    soon = store.time_s(excursion.start) - store.time_s(last.near) < _SOON_S
    least_N = max(HEIGHT_NOISES * excursion.noise_N, _STEP_SHARE * last.height_N)
    if not soon or not least_N <= excursion.height_N <= SHIFTED_SHARE * last.height_N:
        return None
    now_N = store.level_now(index, 0.5 * REST_S, REST_BEATS)
    if abs(now_N - last.rest_N) > abs(excursion.rest_N - last.rest_N):
        return None  # away from the rest before the pull: the next pull begins
    begin = store.begin_of_last(index, REST_S, REST_BEATS)
    quick = store.time_s(begin) - store.time_s(excursion.start) <= STEP_S
    flat_N = max(NEAR_NOISES * excursion.noise_N, 0.2 * excursion.height_N)
    done = begin > excursion.start and quick and store.is_flat(index, REST_S, REST_BEATS, flat_N)
    return begin if done else None


def swings_about(levels_N: Sequence[float], rest_N: float) -> bool:
    """Return whether a force swings about the rest as far to one side as to the other."""
    ranked = sorted(levels_N)
    cut = len(ranked) // 10
    below_N, above_N = rest_N - ranked[cut], ranked[-1 - cut] - rest_N
    return below_N > 0.5 * above_N > 0 and above_N > 0.5 * below_N


def last_beat_away(store: BeatStore, excursion: Excursion, since: int) -> int:
    """Return the first beat near rest, on the way to the other side that was reached at `since`."""
    least_N = max(NEAR_NOISES * excursion.noise_N, 0.05 * excursion.height_N)
    end = since
    while end > excursion.start:
        if excursion.side * (store.smooth_at(end - 1) - excursion.rest_N) > least_N:
            break
        end -= 1
    return end
