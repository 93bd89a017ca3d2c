"""The logic of the watch: rests, excursions from them, and which of these were pulls.

Rests form a stack.  The force leaves the top one; if it stays quiet elsewhere (a string held taut, or
a rest that moved: only what follows can tell) that level is pushed as a rest of its own.  Coming back
to any rest of the stack closes everything above it.  Only then is the excursion judged.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.detect.beats import Beat, Resolution
from pullbench.detect.edges import start_of
from pullbench.detect.excursion import (
    AWAY_NOISES,
    HEIGHT_NOISES,
    NEAR_NOISES,
    OTHER_SIDE_S,
    REST_BEATS,
    REST_S,
    SHIFTED_SHARE,
    Excursion,
    is_pull,
)
from pullbench.detect.rest import NoiseMemory, Rest, median, steadiness, steps
from pullbench.detect.store import BeatStore

BOOT_BEATS, BOOT_S = 8, 0.4
"""What is looked at together before the first rest is believed."""
_QUIET_S, _QUIET_BEATS = 3.0, 8  # a level held so long may be a rest
_SLOW_S, _SLOW_NOISES = 0.5, 3.0  # a slow start: half a second beyond half of AWAY_NOISES
_TRUSTED_S = 6.0  # a rest that lasted so long has moved; a shorter one may be a held string
_FORGET_S = 60.0  # lower rests are forgotten once the top one has lasted so long
_RESTS = 6
_CUT_SHARE = 0.05  # of the tallest pull: less, and without both its ends, is rather drift
_ROUGHER = 4.0  # the first "rest" of a recording was none when a later one is so much smoother
_DRIFT_SHARE = 0.02  # of the tallest pull in three seconds: a rest may drift like this, no pull loads so
_STEP_WITHIN_S, _STEP_S = 1.5, 0.5  # a string is not always let go at once


@dataclass(slots=True)
class Caught:
    """A pull that was caught, as beat numbers.

    start: last beat at rest (or the first of the recording).  near: first beat back near rest; it
    moves when the let-go turns out to have another step.
    left_no_rest: it ended by crossing to the other side, or by the end of the recording.
    """

    start: int
    near: int
    side: int
    rest_N: float
    noise_N: float
    height_N: float
    cut_start: bool
    cut_end: bool


class _Level:
    """A rest of the stack, and the excursion under way from it."""

    def __init__(self, rest: Rest, *, first: bool = False, doubtful: bool = False) -> None:
        self.rest = rest
        self.doubtful = doubtful  # it, or the first level, is the rest: what follows will tell
        self.first = first  # the recording began here: it may have been the middle of a pull
        self.excursion: Excursion | None = None
        self.drift: deque[tuple[float, float]] = deque()


class Follower:
    """Follows the force beat by beat; see the module."""

    def __init__(self, store: BeatStore) -> None:
        self.store = store
        self.resolution = Resolution()
        self.noise = NoiseMemory()
        self.levels: list[_Level] = []
        self.last: Caught | None = None
        self.tallest_N = 0.0  # pull of this recording
        self.not_before = 0  # no pull may reach back beyond this beat: it belongs to the one before

    # -- what the room sees -------------------------------------------------------------------------

    @property
    def away_since(self) -> int | None:
        """Return the beat at which the present excursion was noticed, or None at rest."""
        top = self.levels[-1].excursion if self.levels else None
        return None if top is None else top.start

    @property
    def oldest_needed(self) -> int | None:
        """Return the first beat that an open excursion may reach back to, or None."""
        starts = [level.excursion.start for level in self.levels if level.excursion is not None]
        return min(starts) if starts else None

    # -- one beat -----------------------------------------------------------------------------------

    def see(self, beat: Beat) -> None:
        """Take the raw beat: the resolution and noise of the recording."""
        self.resolution.see(beat)
        self.noise.see(beat.level_N)

    def step(self, index: int) -> list[Caught]:
        """Take the smoothed beat of this number; return the pulls that it completes."""
        if not self.levels:
            return self._boot(index)
        return self._advance(index)

    def _boot(self, index: int, *, at_end: bool = False) -> list[Caught]:
        store, first = self.store, self.store.first
        enough = index - first + 1 >= BOOT_BEATS and store.time_s(index) - store.time_s(first) >= BOOT_S
        if not (enough or (at_end and index > first)):
            return []
        end = first + 4
        while end < index and store.time_s(end) - store.time_s(first) < 0.25:
            end += 1
        end = min(end, index + 1)
        first_steps_N = sorted(steps([beat.level_N for beat in store.beats[: index - first + 1]]))
        prior_N = first_steps_N[len(first_steps_N) // 4]
        rest = self._rest(first, end, prior_N)
        self.levels = [_Level(rest, first=True)]
        return [caught for later in range(end, index + 1) for caught in self._advance(later)]

    def _rest(self, begin: int, end: int, prior_N: float, before: Excursion | None = None) -> Rest:
        times_s, levels_N = self.store.smoothed(begin, end)
        raw_N = [self.store.beat(begin + k).level_N for k in range(len(levels_N))]
        spike_N = AWAY_NOISES * max(prior_N, self.resolution.floor_N)
        seen_N = [x if abs(x - smooth) <= spike_N else smooth for x, smooth in zip(raw_N, levels_N, strict=True)]
        wander = (0.0, 0.0) if before is None else (before.span_N, before.restless_N)
        return Rest(begin, times_s, seen_N, prior_N, *wander)

    def _advance(self, index: int) -> list[Caught]:
        time_s, level_N = self.store.time_s(index), self.store.smoothed(index, index + 1)[1][0]
        for level in self.levels:
            if level.excursion is not None:
                # One count is only known once a second value has been seen.
                level.excursion.floor_N = self.resolution.floor_N
                level.excursion.follow(index, time_s, level_N)
        if self.levels[-1].excursion is None:
            self._watch_rest(index, time_s, level_N)
        return (
            self._in_doubt(index)
            or self._returned(index)
            or self._crossed(index)
            or self._quiet_elsewhere(index)
        )

    def _watch_rest(self, index: int, time_s: float, level_N: float) -> None:
        top = self.levels[-1]
        rest, floor_N = top.rest, self.resolution.floor_N
        noise_N = rest.noise_N(floor_N)
        off_N = level_N - rest.at(time_s)
        top.drift.append((time_s, off_N))
        while time_s - top.drift[0][0] > _SLOW_S:
            top.drift.popleft()
        slow_N = median([off for _, off in top.drift]) if len(top.drift) >= 5 else 0.0
        if abs(off_N) > AWAY_NOISES * noise_N or abs(slow_N) > _SLOW_NOISES * noise_N:
            rest_N = rest.at(time_s)
            side = 1 if off_N > 0 else -1
            top.excursion = Excursion(index, rest_N, noise_N, rest.span_N, rest.restless_N, side)
            top.excursion.follow(index, time_s, level_N)
            top.drift.clear()
            return
        rest.add(time_s, self.store.beat(index).level_N)
        if time_s - rest.since_s > _FORGET_S:
            del self.levels[:-1]

    # -- ends of excursions -------------------------------------------------------------------------

    def _returned(self, index: int) -> list[Caught]:
        """Close the excursion whose rest the force has come back to."""
        back = [level for level in self.levels if self._is_back(level, index)]
        if not back:
            return []
        now_N = self._recent_level(index)
        near = [level for level in self.levels if self._near_for(level, index) >= 0.5 * REST_S]
        level = min(near, key=lambda one: abs(now_N - one.excursion.rest_N) if one.excursion else 0.0)
        assert level.excursion is not None and level.excursion.near_since is not None
        return self._close(level, level.excursion.near_since[0], index)

    def _near_for(self, level: _Level, index: int) -> float:
        excursion = level.excursion
        if excursion is None or excursion.near_since is None:
            return -1.0
        since, since_s = excursion.near_since
        beat_s = self.store.time_s(index) - self.store.time_s(index - 1)
        lasted_s = self.store.time_s(index) - since_s + min(beat_s, REST_S)
        return lasted_s if index - since + 1 >= REST_BEATS else 0.0

    def _is_back(self, level: _Level, index: int) -> bool:
        if self._near_for(level, index) < REST_S:
            return False
        assert level.excursion is not None
        return self._flat(index, REST_S, REST_BEATS, level.excursion.flatness_N()) and not self._bursts(
            index, level.excursion
        )

    def _bursts(self, index: int, excursion: Excursion) -> bool:
        """Return whether single beats still leave the rest: smoothing hides a string that snaps taut."""
        begin = self._begin_of_recent(index, REST_S, REST_BEATS)
        off = [abs(self.store.beat(n).level_N - excursion.rest_N) for n in range(begin, index + 1)]
        return sum(off_N > max(excursion.band_N, 0.3 * excursion.height_N) for off_N in off) > 1

    def _flat(self, index: int, lasting_s: float, beats: int, most_N: float) -> bool:
        levels_N = self._recent(index, lasting_s, beats)[1]
        return len(levels_N) >= beats and max(levels_N) - min(levels_N) <= most_N

    def _recent(self, index: int, lasting_s: float, beats: int) -> tuple[list[float], list[float]]:
        """Return the smoothed beats of the last lasting_s, or more to have so many beats."""
        begin = min(self.store.number_at(self.store.time_s(index) - lasting_s + 1e-9), index + 1 - beats)
        return self.store.smoothed(begin, index + 1)

    def _recent_level(self, index: int) -> float:
        return median(self._recent(index, 0.5 * REST_S, REST_BEATS)[1])

    def _crossed(self, index: int) -> list[Caught]:
        """End the pull of an excursion that has turned into one to the other side."""
        for level in list(self.levels):
            excursion = level.excursion
            if excursion is None or excursion.other_since is None:
                continue
            since, since_s = excursion.other_since
            time_s = self.store.time_s(index)
            if time_s - since_s < OTHER_SIDE_S or index - since < REST_BEATS - 1:
                continue
            now_N = self._recent_level(index)
            off_N = abs(now_N - excursion.rest_N)
            flat = self._flat(index, REST_S, REST_BEATS, excursion.flatness_N())
            if flat and off_N < SHIFTED_SHARE * excursion.height_N:
                return self._close(level, since, index)
            if flat and level.first and self._began_on_a_ramp(excursion):
                return self._was_pulling_at_first(level, since, index)
            return self._reverse(level, since, index)
        return []

    def _began_on_a_ramp(self, excursion: Excursion) -> bool:
        """Return whether the recording began while the force was changing: then it knows no rest yet."""
        first = self.store.first
        if self.store.time_s(excursion.start) - self.store.time_s(first) > 1.0:
            return False
        levels_N = self.store.smoothed(first, first + 6)[1]
        change_N = abs(median(levels_N[-2:]) - median(levels_N[:2]))
        return change_N > max(0.03 * excursion.height_N, NEAR_NOISES * self.noise.noise_N)

    def _reverse(self, level: _Level, since: int, index: int) -> list[Caught]:
        excursion = level.excursion
        assert excursion is not None
        self._pop_above(level)
        end = since
        while end > excursion.start:
            off_N = excursion.side * (self.store.smoothed(end - 1, end)[1][0] - excursion.rest_N)
            if off_N > max(3 * excursion.noise_N, 0.05 * excursion.height_N):
                break
            end -= 1
        caught = self._judged(level, excursion, end, rest_after_N=None)
        other = Excursion(
            since,
            excursion.rest_N,
            excursion.own_noise_N,
            excursion.span_N,
            excursion.restless_N,
            -excursion.side,
            bool(caught),
        )
        if not caught:
            other.start, other.cut_start = excursion.start, excursion.cut_start
        for number in range(since, index + 1):
            other.follow(number, self.store.time_s(number), self.store.smoothed(number, number + 1)[1][0])
        level.excursion = other
        if caught:
            level.first = False
            self._forget_below(level)
            self.not_before = since - 1
        return caught

    def _quiet_elsewhere(self, index: int) -> list[Caught]:
        """Deal with a force that stays quiet at a new level."""
        top = self.levels[-1]
        if top.first and self._rest_is_quieter(top, index):
            begin = self._begin_of_recent(index, 0.5, 8)
            return self._was_pulling_at_first(top, begin, index)
        if top.excursion is None:
            return []
        if top.first and len(self.levels) == 1 and self._flat_bottom(top.excursion, index):
            begin = self._begin_of_recent(index, REST_S, REST_BEATS)
            self.levels.append(_Level(self._rest(begin, index + 1, top.excursion.noise_N), doubtful=True))
            return []
        if self._lets_go_in_steps(top, index):
            return []
        begin = self._begin_of_recent(index, _QUIET_S, _QUIET_BEATS)
        if begin < top.excursion.start:
            return []
        times_s, levels_N = self.store.smoothed(begin, index + 1)
        level_N, change_N, stray_N = steadiness(times_s, levels_N)
        half = len(levels_N) // 2
        if all(_both_sides(part, top.excursion.rest_N) for part in (levels_N[:half], levels_N[half:])):
            return self._close(top, begin, index)  # no new level: the rest has become noisier
        if stray_N > max(2.5 * top.excursion.noise_N, 0.01 * top.excursion.height_N):
            return []
        drift_N = max(0.05 * top.excursion.height_N, _DRIFT_SHARE * self.tallest_N)
        if abs(change_N) > max(AWAY_NOISES * top.excursion.noise_N, drift_N):
            return []
        if abs(self._recent_level(index) - level_N) > abs(change_N) + top.excursion.flatness_N():
            return []  # it has just left again
        for level in self.levels:
            if level.excursion is None:
                continue
            if abs(level_N - level.excursion.rest_N) < SHIFTED_SHARE * level.excursion.height_N:
                return self._close(level, begin, index)
        if top.first and self._was_let_go(top.excursion, begin, level_N):
            return self._was_pulling_at_first(top, begin, index)
        self.levels.append(_Level(self._rest(begin, index + 1, top.excursion.noise_N)))
        del self.levels[:-_RESTS]
        return []

    def _begin_of_recent(self, index: int, lasting_s: float, beats: int) -> int:
        begin = min(self.store.number_at(self.store.time_s(index) - lasting_s), index + 1 - beats)
        return max(begin, self.store.first)

    def _was_let_go(self, excursion: Excursion, begin: int, level_N: float) -> bool:
        """Return whether the first level of the recording was rather a held force, now let go.

        Both are equally quiet, so only two things speak for it: the force went straight to the new
        level in one quick step, and that level is much nearer to nought.
        """
        quick = self.store.time_s(begin) - self.store.time_s(excursion.start) <= _STEP_S
        straight = excursion.height_N < 1.15 * abs(level_N - excursion.rest_N)
        return quick and straight and abs(level_N) < SHIFTED_SHARE * abs(excursion.rest_N)

    def _lets_go_in_steps(self, top: _Level, index: int) -> bool:
        """Take a further step down, soon after a let-go, as part of it; return whether it was one."""
        last, excursion = self.last, top.excursion
        if last is None or excursion is None or excursion.side == last.side:
            return False
        soon = last.near >= self.store.first and (
            self.store.time_s(excursion.start) - self.store.time_s(last.near) < _STEP_WITHIN_S
        )
        least_N = max(HEIGHT_NOISES * excursion.noise_N, 0.02 * last.height_N)
        if not soon or not least_N <= excursion.height_N <= SHIFTED_SHARE * last.height_N:
            return False
        now_N = self._recent_level(index)
        if abs(now_N - last.rest_N) > abs(excursion.rest_N - last.rest_N):
            return False  # away from the rest before the pull: the next pull begins
        begin = self._begin_of_recent(index, REST_S, REST_BEATS)
        quick = self.store.time_s(begin) - self.store.time_s(excursion.start) <= _STEP_S
        flat_N = max(NEAR_NOISES * excursion.noise_N, 0.2 * excursion.height_N)
        if begin <= excursion.start or not quick or not self._flat(index, REST_S, REST_BEATS, flat_N):
            return False
        last.near = begin
        self.not_before = begin
        top.rest, top.excursion = self._rest(begin, index + 1, excursion.noise_N), None
        return True

    def _flat_bottom(self, excursion: Excursion, index: int) -> bool:
        """Return whether the force went to a new level in one quick step and lies flat there."""
        begin = self._begin_of_recent(index, REST_S, REST_BEATS)
        if begin <= excursion.start or excursion.height_N < HEIGHT_NOISES * excursion.noise_N:
            return False
        quick = self.store.time_s(begin) - self.store.time_s(excursion.start) <= _STEP_S
        step_N = abs(self._recent_level(index) - excursion.rest_N)
        straight = excursion.height_N < 1.1 * step_N
        flat_N = max(6 * excursion.noise_N, 0.03 * excursion.height_N)
        return quick and straight and self._flat(index, REST_S, REST_BEATS, flat_N)

    def _in_doubt(self, index: int) -> list[Caught]:
        """Decide which of the first two levels of a recording was the rest, when the second is left."""
        if len(self.levels) != 2 or not self.levels[0].first:
            return []
        first, second = self.levels
        doubted, left = first.excursion, second.excursion
        if doubted is None or left is None or not second.doubtful:
            return []
        step_N = abs(left.rest_N - doubted.rest_N)
        back_s = self.store.time_s(index) - self.store.time_s(left.start)
        if left.side == doubted.side:
            if self._flat_bottom(left, index):  # let go in two steps
                second.rest, second.excursion = self._rest(index - REST_BEATS + 1, index + 1, left.noise_N), None
            elif back_s > _STEP_S + REST_S:  # loading goes on: the first level was a rest
                first.first = False
                self._pop_above(first)
            return []
        if left.height_N < 0.5 * step_N:
            return []
        near = doubted.near_since
        stepped_back = near is not None and near[1] - self.store.time_s(left.start) <= _STEP_S
        if left.height_N > 1.1 * step_N or (back_s > _STEP_S and not stepped_back):
            # A let-go is quick, a pull loads slowly or overshoots: the second level was the rest.
            return self._second_was_the_rest(second)
        return []

    def _second_was_the_rest(self, second: _Level) -> list[Caught]:
        caught = self._judged_first(second)
        self.levels = [second]
        self.not_before = second.rest.index
        return caught

    def _judged_first(self, second: _Level) -> list[Caught]:
        """Return the pull in whose middle the recording began, now that its rest is known."""
        near, last = second.rest.index, self.last
        if near <= self.store.first:
            return []
        excursion = self._first_pull(near, second.rest.at(second.rest.since_s), second.rest)
        caught = self._judged(second, excursion, near, rest_after_N=excursion.rest_N)
        self.last = last or self.last
        return caught

    def _first_pull(self, near: int, rest_N: float, rest: Rest) -> Excursion:
        noise_N = rest.noise_N(self.resolution.floor_N)
        levels_N = self.store.smoothed(self.store.first, near)[1]
        side = 1 if levels_N and median(levels_N) > rest_N else -1
        height_N = max((side * (x - rest_N) for x in levels_N), default=0.0)
        return Excursion(self.store.first, rest_N, noise_N, 0.0, 0.0, side, True, height_N)

    def _rest_is_quieter(self, top: _Level, index: int) -> bool:
        begin = self._begin_of_recent(index, 0.5, 8)
        noise_N = top.rest.noise_N(self.resolution.floor_N)
        left = begin if top.excursion is None else top.excursion.start
        if begin < max(left, self.store.first + 8) or noise_N < 4 * self.resolution.floor_N:
            return False  # within a few counts nothing is quieter than anything else
        levels_N = [self.store.beat(number).level_N for number in range(begin, index + 1)]
        if max(levels_N) - min(levels_N) > 0.9 * noise_N:
            return False  # beats of the same noise span less once in ten thousand
        # The start of a ramp widens a short rest, but not its steps from beat to beat.
        return median(steps(levels_N)) < top.rest.step_N / _ROUGHER

    def _was_pulling_at_first(self, level: _Level, near: int, index: int) -> list[Caught]:
        """Take what was held to be the first rest for the middle of a pull."""
        rest = self._rest(near, index + 1, self.noise.noise_N)
        rest_N = self._recent_level(index)
        excursion = self._first_pull(near, rest_N, rest)
        caught = self._judged(level, excursion, near, rest_after_N=rest_N)
        self.levels = [_Level(rest)]
        self.not_before = near
        return caught

    def _close(self, level: _Level, near: int, index: int) -> list[Caught]:
        """End the excursion of this level: it is back at rest from beat `near` on."""
        excursion = level.excursion
        assert excursion is not None
        self._pop_above(level)
        now_N = self._recent_level(index)
        begin = min(near, index + 1 - REST_BEATS)
        begin = max(begin, self._begin_of_recent(index, REST_S, REST_BEATS))
        rest = self._rest(begin, index + 1, excursion.noise_N, excursion)
        held = self._only_held(level, excursion)
        caught = [] if held else self._judged(level, excursion, near, rest_after_N=now_N)
        short = self.store.time_s(near) - self.store.time_s(excursion.start) < 0.5
        if not caught and short and abs(now_N - excursion.rest_N) < AWAY_NOISES * excursion.noise_N:
            level.excursion = None  # a knock: the rest goes on
            for number in range(begin, index + 1):
                level.rest.add(self.store.time_s(number), self.store.beat(number).level_N)
            return []
        if caught and level.doubtful and self.levels[0].first:
            caught = self._judged_first(level) + caught
        if held:
            rest.since_s = level.rest.since_s
        level.rest, level.excursion, level.first = rest, None, False
        if caught:
            self._forget_below(level)
            self.not_before = near
        return caught

    def _only_held(self, level: _Level, excursion: Excursion) -> bool:
        """Return whether this "rest" is rather a string held taut, above a lower rest of the stack."""
        place = self.levels.index(level)
        if place == 0:
            return False
        below = self.levels[place - 1].excursion
        assert below is not None
        if self.store.time_s(excursion.start) - level.rest.since_s >= _TRUSTED_S:
            return False
        step_N = below.rest_N - excursion.rest_N
        if step_N * excursion.side > 0 and excursion.height_N < 1.15 * abs(step_N):
            return True  # a dip towards the lower rest
        return abs(step_N) > 0.3 * excursion.height_N

    def _judged(
        self, level: _Level, excursion: Excursion, end: int, *, rest_after_N: float | None
    ) -> list[Caught]:
        begin = max(excursion.start - 1, self.store.first)
        times_s, levels_N = self.store.smoothed(begin, end + 1)
        samples = self.store.counted(excursion.start, end)
        if not is_pull(excursion, times_s, levels_N, samples, rest_after_N=rest_after_N):
            return []
        whole = rest_after_N is not None and not excursion.cut_start
        if not whole and excursion.height_N < _CUT_SHARE * self.tallest_N:
            return []
        self.tallest_N = max(self.tallest_N, excursion.height_N)
        cut_end = rest_after_N is None
        start = excursion.start
        if not excursion.cut_start:
            start = start_of(self.store, excursion, excursion.height_N, self.not_before)
        noise_N, height_N = excursion.noise_N, excursion.height_N
        self.last = Caught(
            start, end, excursion.side, excursion.rest_N, noise_N, height_N, excursion.cut_start, cut_end
        )
        return [self.last]

    def _pop_above(self, level: _Level) -> None:
        del self.levels[self.levels.index(level) + 1 :]

    def _forget_below(self, level: _Level) -> None:
        del self.levels[: self.levels.index(level)]

    # -- the end of the recording -------------------------------------------------------------------

    def finish(self) -> list[Caught]:
        """Judge what is still under way when the recording ends."""
        if not self.levels:
            caught = self._boot(self.store.end - 1, at_end=True) if self.store.beats else []
            if not self.levels:
                return caught
        else:
            caught = []
        end = self.store.end - 1
        if len(self.levels) > 1 and self.levels[0].first and self.levels[1].doubtful:
            caught = caught + self._restless_first(self.levels[1])
        for place, level in enumerate(self.levels):
            if level.excursion is None or self._drifted_only(place):
                continue
            if self._near_for(level, end) >= 0.5 * REST_S:
                last = self._close(level, level.excursion.near_since[0], end)  # type: ignore[index]
            else:
                last = self._judged(level, level.excursion, end, rest_after_N=None)
            if last:
                return caught + last
        return caught

    def _restless_first(self, second: _Level) -> list[Caught]:
        """Return the pull in whose middle the recording began, if its force moved about as no rest does."""
        levels_N = sorted(self.store.smoothed(self.store.first, second.rest.index - REST_BEATS)[1])
        if len(levels_N) < 8:
            return []
        cut = len(levels_N) // 20
        moved_N = levels_N[-1 - cut] - levels_N[cut]
        return self._judged_first(second) if moved_N > 10 * second.rest.noise_N(self.resolution.floor_N) else []

    def _drifted_only(self, place: int) -> bool:
        """Return whether a higher rest of the stack tells the same pull better, or the rest just moved."""
        excursion = self.levels[place].excursion
        assert excursion is not None
        for higher in self.levels[place + 1 :]:
            level_N = higher.excursion.rest_N if higher.excursion else higher.rest.at(higher.rest.last_s)
            step_N = abs(level_N - excursion.rest_N)
            if higher.excursion is None and excursion.height_N < 1.1 * step_N:
                return True
            if higher.excursion is not None and step_N < 0.13 * excursion.height_N:
                return True
        return False

    def pull_so_far(self, level_N: float) -> tuple[float, float, float, bool]:
        """Return pull above rest, height so far, noise, and whether the rest has been left."""
        if not self.levels:
            return 0.0, 0.0, 0.0, False
        base = next((one.excursion for one in self.levels if one.excursion is not None), None)
        if base is None:
            return 0.0, 0.0, 0.0, False
        near = base.near_since is not None and self.levels[-1].excursion is None
        return base.side * (level_N - base.rest_N), base.height_N, base.noise_N, not near


def _both_sides(levels_N: Sequence[float], rest_N: float) -> bool:
    """Return whether a force swings about the rest as far to one side as to the other."""
    ranked = sorted(levels_N)
    cut = len(ranked) // 10
    below_N, above_N = rest_N - ranked[cut], ranked[-1 - cut] - rest_N
    return below_N > 0.5 * above_N > 0 and above_N > 0.5 * below_N
