"""The watch: samples in, chunk by chunk; pull windows out, the same for any chunking."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pullbench.detect.beats import Beat, BeatMaker
from pullbench.detect.caught import Caught
from pullbench.detect.edges import end_of
from pullbench.detect.follower import Follower
from pullbench.detect.states import LiveState
from pullbench.detect.store import BeatStore
from pullbench.model import Chunk, Flaw, PullWindow, WatchState

REST_BEFORE_S = 4.0
REST_AFTER_S = 2.5
_SURE_S = 0.5  # an excursion longer than a knock ends the rest after the pull before it
_KEPT_S = 10.0  # of rest, while nothing happens
_KEPT_AT_FIRST_S = 60.0  # while the recording may have begun in the middle of a pull
_MOST_SAMPLES = 8_000_000  # 13 minutes at 10 kHz; what pulls longer is cut there


class Watch:
    """Catches the pulls of one recording.

    Feed it with `advance`, then `finish`.  It keeps the last seconds of rest, the pull under way and the
    windows that still wait for their rest after; nothing else.

    What it cannot know: a recording without any rest gives no window, for nothing tells a slide from a
    rest then.  One that begins with the string already tight gives a window from the loading on, whose
    rest before is that held force; cut_start is then False.  One that begins in the middle of a slide is
    recognised by what follows (a much quieter rest, a slow way back up); if nothing tells, the first
    level counts as a rest.  A rest that steps to a level and back is a force held and let go.
    """

    def __init__(self) -> None:
        self._start_over()
        self._flaws: list[Flaw] = []
        self._maker = BeatMaker()
        self._live = LiveState()

    def _start_over(self) -> None:
        self._store = BeatStore()
        self._follower = Follower(self._store)
        self._waiting: list[Caught] = []
        self._free_from_s = -float("inf")  # samples before belong to the window before

    @property
    def state(self) -> WatchState:
        """Return what the room sees now."""
        return self._live.state

    @property
    def samples_kept(self) -> int:
        """Return how many samples are held in memory."""
        return self._store.samples

    @property
    def pulls_waiting(self) -> int:
        """Return how many pulls are caught for certain and wait for their rest after."""
        return len(self._waiting)

    def first_look(self) -> PullWindow | None:
        """Return the window of the newest pull that waits, as far as its rest after has come; changes nothing."""
        last = self._store.end - 2  # the newest beat is not smoothed yet
        if not self._waiting or self._waiting[-1].cut_end or last <= self._waiting[-1].near:
            return None
        free_from_s = self._free_from_s
        if len(self._waiting) > 1:
            free_from_s = max(free_from_s, self._store.time_s(self._waiting[-2].near))
        return self._window(self._waiting[-1], last, free_from_s)

    def advance(self, chunk: Chunk) -> tuple[PullWindow, ...]:
        """Take the next chunk (it may be empty); return the windows that it completes."""
        self._flaws.extend(flaw for flaw in chunk.flaws if flaw not in self._flaws)
        beats = self._maker.feed(chunk.time_s, chunk.force_N)
        return tuple(window for beat in beats for window in self._beat(beat))

    def finish(self) -> tuple[PullWindow, ...]:
        """Return the windows that the end of the recording completes.  Nothing may follow."""
        done = [window for beat in self._maker.finish() for window in self._beat(beat)]
        return (*done, *self._wind_up())

    def _beat(self, beat: Beat) -> list[PullWindow]:
        self._follower.see(beat)
        ready = self._store.append(beat)
        if ready is None:
            return []
        self._waiting += self._follower.step(ready)
        self._show(ready)
        done = self._complete(ready)
        if self._store.samples > _MOST_SAMPLES:
            done += self._wind_up()
            self._start_over()
        self._forget(ready)
        return done

    def _wind_up(self) -> list[PullWindow]:
        last = self._store.close()
        if last is None:
            return []
        if self._follower.stack.levels:
            self._waiting += self._follower.step(last)
        self._waiting += self._follower.finish()
        return self._complete(last, at_end=True)

    def _show(self, ready: int) -> None:
        level_N = self._store.smoothed(ready, ready + 1)[1][0]
        pull_N, height_N, noise_N, away = self._follower.pull_so_far(level_N)
        self._live.see(pull_N, height_N=height_N, noise_N=noise_N, away=away)

    def _complete(self, ready: int, *, at_end: bool = False) -> list[PullWindow]:
        """Return the windows whose rest after is complete."""
        done: list[PullWindow] = []
        while self._waiting:
            limit = self._rest_after_ends(ready, at_end)
            if limit is None:
                break
            done.append(self._window(self._waiting.pop(0), limit, self._free_from_s))
            self._free_from_s = done[-1].end_s
        return done

    def _rest_after_ends(self, ready: int, at_end: bool) -> int | None:
        """Return the beat that ends the rest after the first waiting pull; None while it goes on."""
        store, first = self._store, self._waiting[0]
        if first.cut_end:
            return first.near
        if len(self._waiting) > 1:
            return self._waiting[1].start
        away = self._follower.away_since
        if away is not None and away > first.near and store.time_s(ready) - store.time_s(away) >= _SURE_S:
            return away - 3
        far_enough = store.time_s(ready) >= store.time_s(first.near) + REST_AFTER_S + 1.0
        return ready if far_enough or at_end else None

    def _window(self, caught: Caught, limit: int, free_from_s: float) -> PullWindow:
        store = self._store
        end = caught.near
        if not caught.cut_end:
            end = end_of(store, caught.near, caught.noise_N, caught.height_N, max(limit, caught.near + 1))
        start_s = max(store.time_s(caught.start), free_from_s)
        end_s = store.time_s(end)
        from_s = start_s if caught.cut_start else max(start_s - REST_BEFORE_S, free_from_s)
        if caught.cut_end:
            end_s = to_s = float(store.beat(end).time_s[-1])
        else:
            last_s = float(store.beat(max(limit, end)).time_s[-1])
            to_s = min(end_s + REST_AFTER_S, last_s)
        return PullWindow(
            trace=store.trace(from_s, to_s, self._flaws),
            start_s=start_s,
            end_s=end_s,
            direction=1 if caught.side > 0 else -1,
            cut_start=caught.cut_start,
            cut_end=caught.cut_end,
            earlier_rest_N=caught.rest_N,
            u_earlier_rest_N=caught.noise_N,
        )

    def _forget(self, ready: int) -> None:
        """Drop the beats that nothing can reach back to any more."""
        store = self._store
        if not self._follower.stack.levels:
            return
        keep = [ready, *(caught.start for caught in self._waiting)]
        oldest = self._follower.oldest_needed
        if oldest is not None:
            keep.append(oldest)
        kept_s = _KEPT_S if self._follower.knows_its_rest else _KEPT_AT_FIRST_S
        store.forget_before(store.number_at(store.time_s(max(min(keep), store.first)) - kept_s))
        self._flaws = [flaw for flaw in self._flaws if flaw.end_s >= store.starts_s[0]]


def windows(chunks: Iterable[Chunk]) -> Iterator[PullWindow]:
    """Yield the pull windows of a recording given as chunks, each as soon as it is complete."""
    watch = Watch()
    for chunk in chunks:
        yield from watch.advance(chunk)
    yield from watch.finish()
