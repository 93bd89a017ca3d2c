"""The logic of the watch: rests, excursions from them, and which of these were pulls.

Rests form a stack.  The force leaves the top one; if it stays quiet elsewhere (a string held taut, or
a rest that moved: only what follows can tell) that level is pushed as a rest of its own.  Coming back
to any rest of the stack closes everything above it.  Only then is the excursion judged.
"""

from __future__ import annotations

from pullbench.detect import first_rest
from pullbench.detect.beats import Beat, Resolution
from pullbench.detect.caught import Caught
from pullbench.detect.edges import start_of
from pullbench.detect.excursion import (
    AWAY_NOISES,
    NEAR_SHARE,
    OTHER_SIDE_S,
    REST_BEATS,
    REST_S,
    SHIFTED_SHARE,
    Excursion,
    is_pull,
)
from pullbench.detect.letting_go import (
    STEP_S,
    further_step,
    is_back,
    last_beat_away,
    lies_flat_after_a_step,
    near_for_s,
    swings_about,
)
from pullbench.detect.rest import NoiseMemory, Rest, median, steadiness, steps
from pullbench.detect.stack import Level, RestStack
from pullbench.detect.store import BeatStore

BOOT_BEATS, BOOT_S, _FIRST_REST_S = 8, 0.4, 0.25
"""What is looked at together before the first rest is believed; and how much of it is that rest."""
_QUIET_S, _QUIET_BEATS = 3.0, 8  # a level held so long may be a rest
_SLOW_S, _SLOW_NOISES = 0.5, 3.0  # a slow start: half a second beyond half of AWAY_NOISES
_CUT_SHARE = 0.05  # of the tallest pull: less, and without both its ends, is rather drift
_DRIFT_SHARE = 0.02  # of the tallest pull in three seconds: a rest may drift like this, no pull loads so
_KNOCK_S = 0.5
_PROVES_S = 1.5


class Follower:
    """Follows the force beat by beat; see the module.

    stack: the rests known now.  last: the pull caught last.  tallest_N: pull so far.  not_before: no
    pull may reach back beyond this beat, it belongs to the one before.
    """

    def __init__(self, store: BeatStore) -> None:
        self.store = store
        self.stack = RestStack()
        self.last: Caught | None = None
        self.tallest_N = 0.0
        self.not_before = 0
        self._resolution = Resolution()
        self._noise = NoiseMemory()

    @property
    def away_since(self) -> int | None:
        """Return the beat at which the present excursion was noticed, or None at rest."""
        top = self.stack.top.excursion if self.stack.levels else None
        return None if top is None else top.start

    @property
    def oldest_needed(self) -> int | None:
        """Return the first beat that an open excursion may reach back to, or None."""
        return min((level.left for level in self.stack.levels if level.left is not None), default=None)

    @property
    def knows_its_rest(self) -> bool:
        """Return whether the recording's first level is settled, one way or the other."""
        return bool(self.stack.levels) and not self.stack.levels[0].first

    def pull_so_far(self, level_N: float) -> tuple[float, float, float, bool]:
        """Return pull above rest (N), height so far (N), noise (N), and whether the rest has been left."""
        base = next(iter(self.stack.away), None)
        if base is None:
            return 0.0, 0.0, 0.0, False
        excursion = base[1]
        near = excursion.near_since is not None and self.stack.top.excursion is None
        return excursion.side * (level_N - excursion.rest_N), excursion.height_N, excursion.noise_N, not near

    def see(self, beat: Beat) -> None:
        """Take the raw beat: the resolution and noise of the recording."""
        self._resolution.see(beat)
        self._noise.see(beat.level_N)

    def step(self, index: int) -> list[Caught]:
        """Take the smoothed beat of this number; return the pulls that it completes."""
        if self.stack.levels:
            return self._advance(index)
        store, first = self.store, self.store.first
        enough = index - first + 1 >= BOOT_BEATS and store.time_s(index) - store.time_s(first) >= BOOT_S
        return self._boot(index) if enough else []

    def finish(self) -> list[Caught]:
        """Judge what is still under way when the recording ends."""
        end = self.store.end - 1
        caught = self._boot(end) if not self.stack.levels and end > self.store.first else []
        caught += self._at_last(end)
        for level, excursion in self.stack.away:
            if level not in self.stack.levels or self.stack.is_told_better_above(level):
                continue
            back = excursion.near_since if near_for_s(self.store, excursion, end) >= 0.5 * REST_S else None
            last = self._close(level, back[0], end) if back else self._judged(excursion, end, None)
            if last:
                return caught + last
        return caught

    # -- one beat -----------------------------------------------------------------------------------

    def _boot(self, index: int) -> list[Caught]:
        store, first = self.store, self.store.first
        end = first + 4
        while end < index and store.time_s(end) - store.time_s(first) < _FIRST_REST_S:
            end += 1
        end = min(end, index + 1)
        steps_N = sorted(steps([beat.level_N for beat in store.beats[: index - first + 1]]))
        self.stack.push(Level(self._rest(first, end, steps_N[len(steps_N) // 4]), first=True))
        return [caught for later in range(end, index + 1) for caught in self._advance(later)]

    def _rest(self, begin: int, end: int, prior_N: float, before: Excursion | None = None) -> Rest:
        times_s, levels_N = self.store.smoothed(begin, end)
        raw_N = [self.store.beat(begin + k).level_N for k in range(len(levels_N))]
        spike_N = AWAY_NOISES * max(prior_N, self._resolution.floor_N)
        seen_N = [
            x if abs(x - smooth) <= spike_N else smooth for x, smooth in zip(raw_N, levels_N, strict=True)
        ]
        wander = (0.0, 0.0) if before is None else (before.span_N, before.restless_N)
        return Rest(begin, times_s, seen_N, prior_N, *wander)

    def _advance(self, index: int) -> list[Caught]:
        time_s, level_N = self.store.time_s(index), self.store.smooth_at(index)
        for _, excursion in self.stack.away:
            # One count is only known once a second value has been seen.
            excursion.floor_N = self._resolution.floor_N
            excursion.follow(index, time_s, level_N)
        if self.stack.top.excursion is None:
            self._watch_rest(index, time_s, level_N)
        return self._in_doubt(index) or self._returned(index) or self._crossed(index) or self._quiet(index)

    def _watch_rest(self, index: int, time_s: float, level_N: float) -> None:
        """Leave the top rest, or stay and learn from the beat."""
        top = self.stack.top
        rest, noise_N = top.rest, top.rest.noise_N(self._resolution.floor_N)
        rest_N = rest.at(time_s)
        top.lately.append((time_s, level_N - rest_N))
        while time_s - top.lately[0][0] > _SLOW_S:
            top.lately.popleft()
        slow_N = median([off for _, off in top.lately]) if len(top.lately) >= 5 else 0.0
        if abs(level_N - rest_N) > AWAY_NOISES * noise_N or abs(slow_N) > _SLOW_NOISES * noise_N:
            side = 1 if level_N > rest_N else -1
            top.excursion = Excursion(index, rest_N, noise_N, rest.span_N, rest.restless_N, side)
            top.excursion.follow(index, time_s, level_N)
            top.lately.clear()
            return
        rest.add(time_s, self.store.beat(index).level_N)
        self.stack.forget_old(time_s)

    # -- ends of excursions -------------------------------------------------------------------------

    def _returned(self, index: int) -> list[Caught]:
        """Close the excursion whose rest the force has come back to."""
        away = self.stack.away
        if not any(is_back(self.store, excursion, index) for _, excursion in away):
            return []
        now_N = self._level_now(index)
        near = [one for one in away if near_for_s(self.store, one[1], index) >= 0.5 * REST_S]
        level, excursion = min(near, key=lambda one: abs(now_N - one[1].rest_N))
        return self._close(level, excursion.near_since[0] if excursion.near_since else index, index)

    def _crossed(self, index: int) -> list[Caught]:
        """End the pull of an excursion that has turned into one to the other side."""
        store = self.store
        for level, excursion in self.stack.away:
            if excursion.other_since is None:
                continue
            since, since_s = excursion.other_since
            if store.time_s(index) - since_s < OTHER_SIDE_S or index - since < REST_BEATS - 1:
                continue
            if store.is_flat(index, REST_S, REST_BEATS, excursion.flatness_N()):
                off_N = abs(self._level_now(index) - excursion.rest_N)
                if off_N < SHIFTED_SHARE * excursion.height_N:
                    return self._close(level, since, index)
                if level.first and first_rest.began_on_a_ramp(store, excursion, self._noise.noise_N):
                    self._was_pulling(since, index)
                    return []
            return self._reverse(level, excursion, since, index)
        return []

    def _reverse(self, level: Level, excursion: Excursion, since: int, index: int) -> list[Caught]:
        """End a pull that has crossed to the other side, and begin the one there."""
        self.stack.pop_above(level)
        none_before = self.last is None and excursion.earlier is None
        held = self.stack.is_only_held(level, self.store.time_s(excursion.start))
        last = last_beat_away(self.store, excursion, since)
        caught = [] if held else self._judged(excursion, last, None)
        level.excursion = excursion.turned(since if caught else excursion.start, cut_start=bool(caught))
        for number in range(since, index + 1):
            level.excursion.follow(number, self.store.time_s(number), self.store.smooth_at(number))
        if none_before and caught:  # the first of the recording: mere drift is known by the pull after it
            level.excursion.earlier, self.last = caught[0], None
            return []
        if caught:
            caught = self._settled(self.stack.levels[0]) + caught
            level.first = False
            self.stack.forget_below(level)
            self.not_before = since - 1
        return caught

    def _quiet(self, index: int) -> list[Caught]:
        """Deal with a force that is quiet somewhere else than at rest."""
        top, store = self.stack.top, self.store
        lowest = self.stack.levels[0]
        if lowest.first:
            begin = first_rest.quieter_since(store, lowest, index, self._resolution.floor_N)
            if begin is not None:
                self._was_pulling(begin, index)
                return []
        if top.excursion is None:
            return self._settled(top) if top.before and self._proved(top, index) else []
        if top.first and top.never_left and lies_flat_after_a_step(store, top.excursion, index):
            begin = store.begin_of_last(index, REST_S, REST_BEATS)
            self.stack.push(Level(self._rest(begin, index + 1, top.excursion.noise_N), doubtful=True))
            return []
        further = further_step(store, self.last, top.excursion, index)
        if self.last is not None and further is not None:
            self.last.near = self.not_before = further
            top.rest, top.excursion = self._rest(further, index + 1, top.excursion.noise_N), None
            return []
        return self._quiet_for_long(top, top.excursion, index)

    def _quiet_for_long(self, top: Level, excursion: Excursion, index: int) -> list[Caught]:
        """Push a level that has been held for seconds, unless it is a rest that has merely shifted."""
        begin = self.store.begin_of_last(index, _QUIET_S, _QUIET_BEATS)
        if begin < excursion.start:
            return []
        times_s, levels_N = self.store.smoothed(begin, index + 1)
        half = len(levels_N) // 2
        if all(swings_about(part, excursion.rest_N) for part in (levels_N[:half], levels_N[half:])):
            return self._close(top, begin, index)  # no new level: the rest has become noisier
        level_N, change_N, stray_N = steadiness(times_s, levels_N)
        drift_N = max(0.05 * excursion.height_N, _DRIFT_SHARE * self.tallest_N)
        straying = stray_N > max(2.5 * excursion.noise_N, 0.01 * excursion.height_N)
        leaving = abs(self._level_now(index) - level_N) > abs(change_N) + excursion.flatness_N()
        if straying or leaving or abs(change_N) > max(AWAY_NOISES * excursion.noise_N, drift_N):
            return []
        for level, left in self.stack.away:
            if abs(level_N - left.rest_N) < SHIFTED_SHARE * left.height_N:
                return self._close(level, begin, index)
        self.stack.push(Level(self._rest(begin, index + 1, excursion.noise_N)))
        return []

    def _close(self, level: Level, near: int, index: int) -> list[Caught]:
        """End the excursion of this level: it is back at rest from beat `near` on."""
        excursion = level.excursion
        if excursion is None:
            return []
        again = self._began_late(level, index, returned=True)
        if again is not None:
            return again
        self.stack.pop_above(level)
        now_N, left_s = self._level_now(index), self.store.time_s(excursion.start)
        begin = max(min(near, index + 1 - REST_BEATS), self.store.begin_of_last(index, REST_S, REST_BEATS))
        held = self.stack.is_only_held(level, left_s)
        caught = [] if held else self._judged(excursion, near, now_N)
        short = self.store.time_s(near) - left_s < _KNOCK_S
        level.excursion = None
        if not caught and short and abs(now_N - excursion.rest_N) < AWAY_NOISES * excursion.noise_N:
            for number in range(begin, index + 1):  # a knock: the rest goes on
                level.rest.add(self.store.time_s(number), self.store.beat(number).level_N)
            return []
        if caught and self.stack.doubt:
            caught = self._pull_before(level) + caught
        elif caught:
            caught = self._settled(self.stack.levels[0]) + caught
        rest = self._rest(begin, index + 1, excursion.noise_N, excursion)
        rest.since_s = level.rest.since_s if held else rest.since_s
        level.rest, level.never_left = rest, False
        if caught:
            level.first = False
            self.stack.forget_below(level)
            self.not_before = near
        return caught

    # -- the beginning of the recording -------------------------------------------------------------

    def _in_doubt(self, index: int) -> list[Caught]:
        """Decide which of the first two levels of a recording was the rest, when the second is left."""
        doubt = self.stack.doubt
        doubted, left = (doubt[0].excursion, doubt[1].excursion) if doubt else (None, None)
        if doubt is None or doubted is None or left is None:
            return []
        first, second = doubt
        if first_rest.second_was_the_rest(self.store, doubted, left, index):
            caught = self._pull_before(second)
            self.stack.forget_below(second)
            self.not_before = second.rest.index
            return caught
        if left.side == doubted.side:
            if lies_flat_after_a_step(self.store, left, index):  # let go in two steps
                rest = self._rest(index - REST_BEATS + 1, index + 1, left.noise_N)
                second.rest, second.excursion = rest, None
            elif self.store.time_s(index) - self.store.time_s(left.start) > STEP_S + REST_S:
                self.stack.pop_above(first)
                return self._settled(first)  # loading goes on: the first level was a rest
        return []

    def _pull_before(self, second: Level) -> list[Caught]:
        """Return the pull in whose middle the recording began, now that its rest is known."""
        near, last = second.rest.index, self.last
        rest_N = second.rest.at(second.rest.since_s)
        floor_N = self._resolution.floor_N
        pull = first_rest.pull_before(self.store, second.rest, rest_N, near, floor_N)
        caught = self._judged(pull, near, rest_N) if near > self.store.first else []
        self.last = last or self.last
        return caught

    def _at_last(self, end: int) -> list[Caught]:
        """Return the pulls that a recording holds when its first level was no rest; settle what it began with."""
        if not self.stack.levels or not self.stack.levels[0].first:
            return []
        caught = self._began_late(self.stack.levels[0], end, returned=False)
        return (caught or []) + self._settled(self.stack.levels[0])

    def _began_late(self, level: Level, index: int, *, returned: bool) -> list[Caught] | None:
        """Look again at all since a first level that was no rest; None when nothing says so."""
        if not level.first or level.excursion is None:
            return None
        floor_N = self._resolution.floor_N
        span = first_rest.rest_within(self.store, level, index, floor_N, returned=returned)
        if span is None:
            return None
        self._was_pulling(*span)
        return [caught for later in range(span[1] + 1, index + 1) for caught in self._advance(later)]

    def _proved(self, level: Level, index: int) -> bool:
        """Return whether a level has lasted as no hand holds still between a slide and letting go."""
        return self.store.time_s(index) - level.rest.since_s > _PROVES_S

    def _was_pulling(self, near: int, index: int) -> None:
        """Take what was held to be the first rest for the middle of a pull, and this for the first rest."""
        rest = self._rest(near, index + 1, self._noise.noise_N)
        self.stack.levels = [Level(rest, first=True, before=True)]
        self.not_before = near

    def _settled(self, level: Level) -> list[Caught]:
        """Believe a level to be a rest; return the pull before it, in whose middle the recording began."""
        before, level.first, level.before = level.before, False, False
        if not before:
            return []
        rest_N = level.rest.at(level.rest.since_s)
        pull = first_rest.pull_before(self.store, level.rest, rest_N, level.begin, self._resolution.floor_N)
        last, caught = self.last, self._judged(pull, level.begin, rest_N)
        self.last = last or self.last
        return caught

    # -- the judgement ------------------------------------------------------------------------------

    def _level_now(self, index: int) -> float:
        return self.store.level_now(index, 0.5 * REST_S, REST_BEATS)

    def _judged(self, excursion: Excursion, end: int, rest_after_N: float | None) -> list[Caught]:
        """Return the excursion up to beat `end` as a pull, after the one to the other side before it."""
        caught, earlier = self._alone(excursion, end, rest_after_N), excursion.earlier
        if earlier is None:
            return caught
        if not caught:
            self.last = earlier
            return [earlier]
        if earlier.height_N >= NEAR_SHARE * caught[0].height_N:
            return [earlier, *caught]
        # By the measure of the pull after it the force was at rest all the while.
        caught[0].cut_start = False
        caught[0].start = start_of(self.store, excursion, caught[0].height_N, self.not_before)
        return caught

    def _alone(self, excursion: Excursion, end: int, rest_after_N: float | None) -> list[Caught]:
        """Return the excursion up to beat `end` as a pull, or nothing."""
        begin = max(excursion.start - 1, self.store.first)
        times_s, levels_N = self.store.smoothed(begin, end + 1)
        samples = self.store.counted(excursion.start, end)
        if not is_pull(excursion, times_s, levels_N, samples, rest_after_N=rest_after_N):
            return []
        side, height_N, cut_start = excursion.side, excursion.height_N, excursion.cut_start
        if (cut_start or rest_after_N is None) and height_N < _CUT_SHARE * self.tallest_N:
            return []
        self.tallest_N = max(self.tallest_N, height_N)
        start = excursion.start
        if not cut_start:
            start = start_of(self.store, excursion, height_N, self.not_before)
        rest_N, noise_N = excursion.rest_N, excursion.noise_N
        self.last = Caught(start, end, side, rest_N, noise_N, height_N, cut_start, rest_after_N is None)
        return [self.last]
