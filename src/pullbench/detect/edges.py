"""Where a pull leaves the rest line and where it regains it, to about a beat, on the safe side."""

from __future__ import annotations

from pullbench.detect.excursion import AWAY_NOISES, Excursion
from pullbench.detect.rest import line_through, median, spread
from pullbench.detect.store import BeatStore

_OFF_NOISES = 2.0  # of a smoothed beat's departure from the line: about three of its own deviations
_OFF_SHARE = 0.004
_CLEAR_SHARE = 0.05
_SHELF_SHARE = 0.015
_FLAT_S = 0.4
_FIT_S, _LEAD_S = 4.0, 0.3
_SETTLES_S = 1.0  # a let-go that rings longer is left to the reader


def start_of(store: BeatStore, excursion: Excursion, height_N: float, not_before: int) -> int:
    """Return the number of the last beat at rest before an excursion.

    The excursion may have been noticed late (a slow start) or early (the rest drifted first), so the
    search goes back from where the force is well away.  A shelf above the old rest is a string held
    taut and belongs to the pull; a smaller step is drift and does not.
    """
    clear = _well_away(store, excursion, height_N)
    noise_N = excursion.noise_N
    if _SHELF_SHARE * height_N > 2 * noise_N:
        foot = _foot(store, clear, excursion.side, max(noise_N, _OFF_SHARE * height_N), not_before)
        foot_N = store.smoothed(foot, foot + 1)[1][0]
        if abs(foot_N - excursion.rest_N) <= _SHELF_SHARE * height_N:
            return foot
    return _leaves_line(store, excursion, clear, height_N, not_before)


def _well_away(store: BeatStore, excursion: Excursion, height_N: float) -> int:
    """Return the first beat that is beyond doubt part of the pull."""
    least_N = max(AWAY_NOISES * excursion.noise_N, _CLEAR_SHARE * height_N)
    levels_N = store.smoothed(excursion.start, store.end)[1]
    for k, level_N in enumerate(levels_N):
        if excursion.side * (level_N - excursion.rest_N) >= least_N:
            return excursion.start + k
    return excursion.start


def _foot(store: BeatStore, clear: int, side: int, least_N: float, not_before: int) -> int:
    """Return the beat, going back from `clear`, before which the force no longer rises."""
    index = clear
    while index > max(not_before, store.first):
        earlier = max(min(store.number_at(store.time_s(index) - _FLAT_S), index - 2), store.first)
        levels_N = store.smoothed(earlier, index + 1)[1]
        rises_N = side * (levels_N[-1] - median(levels_N[:-1])), side * (levels_N[-1] - levels_N[-2])
        if max(rises_N) <= least_N:
            return index
        index -= 1
    return index


def _leaves_line(store: BeatStore, excursion: Excursion, clear: int, height_N: float, not_before: int) -> int:
    """Return the last beat on the rest line, fitted again to beats ever farther back."""
    least_N = max(_OFF_NOISES * excursion.noise_N, _OFF_SHARE * height_N)
    start, line = clear, (excursion.rest_N, 0.0, 0.0)
    for _ in range(4):
        found = _walk_back(store, start, excursion.side, least_N, line, not_before)
        end_s = store.time_s(found) - _LEAD_S
        begin = max(store.number_at(end_s - _FIT_S), not_before)
        times_s, levels_N = store.smoothed(begin, store.number_at(end_s))
        if len(levels_N) < 4 or found == start:
            return found
        start, line = found, line_through(times_s, levels_N)
    return start


def _walk_back(
    store: BeatStore, start: int, side: int, least_N: float, line: tuple[float, float, float], not_before: int
) -> int:
    level_N, slope_N_s, reference_s = line
    index = start
    while index > max(not_before, store.first):
        times_s, levels_N = store.smoothed(index - 2, index + 1)
        off = [
            side * (x - level_N - slope_N_s * (t - reference_s))
            for t, x in zip(times_s, levels_N, strict=True)
        ]
        if max(off) <= least_N:
            return index
        index -= 1
    return index


def end_of(store: BeatStore, near: int, noise_N: float, height_N: float, last: int) -> int:
    """Return the number of the first beat at rest after a let-go.

    near: first beat near the rest.  last: beats from it on may belong to the next pull.  Rest begins
    when level and swing within a beat have both come down to what they stay at.
    """
    times_s, levels_N = store.smoothed(near, last)
    if len(levels_N) < 4:
        return near
    late = max(len(levels_N) // 3, 1)
    level_N, slope_N_s, reference_s = line_through(times_s[late:], levels_N[late:])
    off_N = [x - level_N - slope_N_s * (t - reference_s) for t, x in zip(times_s, levels_N, strict=True)]
    swings_N = [beat.high_N - beat.low_N for beat in (store.beat(near + k) for k in range(len(levels_N)))]
    least_N = max(_OFF_NOISES * noise_N, _OFF_SHARE * height_N, _OFF_NOISES * spread(off_N[late:]))
    most_swing_N = 1.5 * median(swings_N[late:]) + max(4 * noise_N, 0.02 * height_N)
    settled = [abs(off) <= least_N and s <= most_swing_N for off, s in zip(off_N, swings_N, strict=True)]
    for k in range(len(settled)):
        if times_s[k] - times_s[0] > _SETTLES_S or k + 3 > len(settled):
            break
        if all(settled[k : k + 3]):
            return near + k
    return near + min(late, len(settled) - 1)
