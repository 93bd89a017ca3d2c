"""The session: one source on watch, everything it brings kept, read and told to whoever listens."""

from __future__ import annotations

import math
import threading
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import replace
from time import localtime, strftime

from pullbench.analysis import Verification
from pullbench.archive import Logbook
from pullbench.detect import Watch
from pullbench.errors import PageError
from pullbench.live.analyst import Reader
from pullbench.live.bench_time import Axis
from pullbench.live.board import Board, tilt_cards
from pullbench.live.catch_up import left_unread
from pullbench.live.clerk import Clerk
from pullbench.live.day import Day
from pullbench.live.earlier import EarlierStrip
from pullbench.live.listeners import Listener
from pullbench.live.messages import ForceNow, Snapshot, StateNow, StoodDown, StripColumns
from pullbench.live.pull_desk import PullDesk
from pullbench.live.readings import Readings
from pullbench.live.slip_desk import SlipDesk
from pullbench.live.standards import Standards, not_on_watch
from pullbench.live.strip import Strip
from pullbench.live.telling import Teller
from pullbench.live.under_way import UnderWay
from pullbench.model import Chunk, Delivery, Ended, News, PullWindow, Setting, WatchState
from pullbench.render import NEWTONS, CheckCard, told
from pullbench.sources import Source

COMMIT_S = 0.5
FORCE_S = 0.2
MOST_COLUMNS = 4000
STOOD_DOWN = "The watch stood down."
KEPT, NOT_KEPT = "Everything up to now is kept.", "Nothing is kept: no logbook was named."
NEWS_WAITING = 200


class Session:
    """One session at the bench.

    source: where samples come from.  logbook: where they are kept, or None.  clock: steady seconds; sleep:
    waits so many; now: unix seconds.  reader: analyses windows (an `Analyst` process, or `InlineAnalyst`).
    first_looks: tell a pull as soon as let go is certain, marked as a first reading, before its rest after is
    complete.  for_s: stand down after so many seconds.

    `run` takes samples in its own thread and neither touches the disk (but where a recording begins) nor waits
    for anybody: commits and readings are the clerk's, analysis is the reader's, listeners have queues.

    pulls: what is asked and changed of today's pulls; board: what was said of them, and their laws; slips: what the
    class predicts.
    """

    def __init__(
        self,
        source: Source,
        logbook: Logbook | None = None,
        *,
        clock: Callable[[], float],
        sleep: Callable[[float], object],
        now: Callable[[], float],
        reader: Reader,
        day: str | None = None,
        for_s: float | None = None,
        first_looks: bool = False,
    ) -> None:
        self.source, self.logbook = source, logbook
        self._clock, self._sleep, self._now = clock, sleep, now
        self._began_at, self._for_s, self._first_looks = now(), for_s, first_looks
        self.day = day or strftime("%Y-%m-%d", localtime(self._began_at))
        self._pulls = Day(self.day, logbook, reader)
        self._earlier = None if logbook is None else EarlierStrip(logbook, self.day)
        self._axis = Axis.of(() if logbook is None else logbook.recordings(self.day))
        self._strip, self._recordings = Strip(), 0
        self._under_way: UnderWay | None = None
        self._teller = Teller(clock)
        self._clerk = Clerk(self._teller.trouble)
        self.board = Board(self._pulls, logbook, self._teller, moment=self._moment_s)
        self.slips = SlipDesk(
            self._pulls, logbook, self._clerk, self._teller, moment=self._moment_s, next_pull=self._next_pull
        )
        self._readings = Readings(source, self._pulls, reader, self._clerk, self._teller, caught=self._caught)
        self.pulls = PullDesk(self._pulls, self._teller, changed=self.slips.look_again)
        self._standards = Standards(source.label, logbook, self._pulls, self._clerk, self._teller)
        self._state = WatchState.QUIET
        self._committed_s = self._force_s = -math.inf
        self._before_any: deque[News] = deque(maxlen=NEWS_WAITING)  # told before there is a recording
        self._on_watch, self._over, self._sentence = True, threading.Event(), ""
        self.begun = threading.Event()  # the source is there and has delivered something
        for sentence in () if logbook is None else logbook.found:
            self._teller.tell_news(News("logbook", sentence))

    def _caught(self) -> None:
        self.board.caught()
        self.slips.look_again()

    # -- the bench's thread -------------------------------------------------------------------------

    def run(self) -> None:
        """Take what the source delivers until it ends, `end` is called or the time is over.

        Raises SourceError when there is nothing to be had; what came before it is kept all the same.
        """
        began_s = self._clock()
        sentence = "The source has no more samples."
        if self.logbook is not None:
            for row, window in left_unread(self.logbook, self.day):
                self._readings.catch_up(row, window)
        try:
            for delivery in self.source.deliveries(clock=self._clock, sleep=self._sleep):
                self._take(delivery)
                self._tick()
                self.begun.set()
                if self._over.is_set():
                    break
                if self._for_s is not None and self._clock() - began_s >= self._for_s:
                    sentence = f"The watch stood down after {self._for_s:g} s, as asked."
                    break
        finally:
            self.source.close()
            self._finish(self._sentence if self._over.is_set() else sentence)

    def _take(self, delivery: Delivery) -> None:
        if not self._on_watch:
            self._end_recording(STOOD_DOWN)
            return
        if isinstance(delivery, Ended):
            self._end_recording(delivery.sentence)
        elif isinstance(delivery, News):
            self._take_news(delivery)
        elif isinstance(delivery, PullWindow):
            self._take_by_eye(delivery)
        elif isinstance(delivery, Setting):
            at_s = self._moment_s()
            self._clerk.do(lambda: self.board.told(delivery, at_s))
        elif delivery.time_s.size or delivery.flaws:
            self._take_samples(delivery)

    def _take_news(self, news: News) -> None:
        here = self._under_way
        if here is None:
            self._before_any.append(news)
        elif self.logbook is not None:
            self.logbook.keep_news(here.identity, news)
        at_s = None if news.at_s is None or here is None else here.bench_s(news.at_s)
        self._teller.tell_news(replace(news, at_s=at_s))

    def _take_samples(self, chunk: Chunk) -> None:
        here = self._recording()
        if chunk.time_s.size and here.offset_s is None:
            here.first_s = float(chunk.time_s[0])
            here.offset_s = self._axis.offset_s(here.first_s, here.began_at)
        if self.logbook is not None:
            self.logbook.keep(here.identity, chunk)
        with self._teller.lock:
            windows = self._watched(here, chunk)
            if chunk.time_s.size:
                here.newest_s = float(chunk.time_s[-1])
                self._show(here, chunk)
        for window in windows:
            self._readings.read(here, window)
        if self._first_looks and self._teller.listeners:
            self._readings.look(here)

    def _take_by_eye(self, window: PullWindow) -> None:
        """Keep and read a pull that a person read off a scale: there is nothing to watch."""
        here, trace = self._recording(), window.trace
        if here.offset_s is None:
            here.first_s = window.start_s
            here.offset_s = self._axis.offset_s(here.first_s, here.began_at)
        if self.logbook is not None:
            self.logbook.keep(here.identity, Chunk(time_s=trace.time_s, force_N=trace.force_N))
        here.newest_s = window.end_s
        self._readings.read(here, window)

    def _watched(self, here: UnderWay, chunk: Chunk) -> tuple[PullWindow, ...]:
        """Return the windows that samples complete; a fault of the watch costs the pull under way, not the day."""
        try:
            return here.watch.advance(chunk)
        except Exception as fault:
            self._teller.trouble(fault)
            here.watch, here.looked_at = Watch(), here.completed
            return ()

    def _show(self, here: UnderWay, chunk: Chunk) -> None:
        """Put samples on the strip, and tell the state and the force."""
        state = here.watch.state
        here.null.see(chunk, state)
        rest = here.null.now
        assert rest is not None
        columns = self._strip.append(chunk.time_s + (here.offset_s or 0.0), chunk.force_N - rest.rest_N)
        self._teller.tell(columns)
        if state is not self._state:
            self._state = state
            self._teller.tell(StateNow(state, here.bench_s(here.newest_s)))
        now_s = self._clock()
        if now_s - self._force_s >= FORCE_S:
            self._force_s = now_s
            force = here.null.force(self._pulls.u_gain)
            if force is not None:
                self._teller.tell(ForceNow(told(force, scale=NEWTONS)))
        self._standards.follow(here)

    def _tick(self) -> None:
        now_s = self._clock()
        if self.logbook is not None and now_s - self._committed_s >= COMMIT_S:
            self._committed_s = now_s
            self._clerk.do_once("commit", self.logbook.commit)

    def _recording(self) -> UnderWay:
        if self._under_way is None:
            self._recordings += 1
            identity = self._recordings
            if self.logbook is not None:
                identity = self.logbook.begin_recording(
                    source=self.source.name, label=self.source.label, day=self.day
                )
            self._under_way = UnderWay(identity=identity, began_at=self._now())
            if self.logbook is not None:
                for news in self._before_any:
                    self.logbook.keep_news(identity, news)
            self._before_any.clear()
        return self._under_way

    def _end_recording(self, sentence: str) -> None:
        here, self._under_way = self._under_way, None
        if here is None:
            return
        for window in here.watch.finish():
            self._readings.read(here, window)
        if here.offset_s is not None:
            self._axis.ended(here.bench_s(here.newest_s))
        if self.logbook is not None:
            logbook = self.logbook  # a recording that has ended still takes readings
            self._clerk.do(lambda: logbook.end_recording(here.identity, sentence))
        with self._teller.lock:
            if self._state is not WatchState.QUIET:
                self._state = WatchState.QUIET
                self._teller.tell(StateNow(self._state, here.bench_s(here.newest_s)))

    def _finish(self, sentence: str) -> None:
        self._end_recording(sentence)
        self._readings.wait()
        self._clerk.wait()
        with self._teller.lock:
            self._on_watch, self._sentence = False, sentence
            self._teller.tell(StoodDown(f"{sentence} {self._kept}"))

    # -- what others ask ----------------------------------------------------------------------------

    @property
    def on_watch(self) -> bool:
        """Whether samples are watched and kept."""
        return self._on_watch

    @property
    def newest_s(self) -> float:
        """Return the newest sample in bench seconds."""
        moment_s = self._moment_s()
        return moment_s if math.isfinite(moment_s) else 0.0

    def _moment_s(self) -> float:
        """Return the newest sample in bench seconds, -inf before the day's first."""
        here = self._under_way
        if here is not None and here.offset_s is not None:
            return here.bench_s(here.newest_s)
        return self._axis.ends_s

    def _next_pull(self) -> int:
        """Return the number that a pull that begins now will get."""
        pulling = self._state not in (WatchState.QUIET, WatchState.LET_GO)
        return self._readings.next_number(self._under_way) + int(pulling)

    def listen(self, size: int = 256, *, wake: Callable[[], None] | None = None) -> Listener:
        """Return a new listener; what is told from now on waits for it."""
        return self._teller.listen(size, wake)

    def leave(self, listener: Listener) -> None:
        """Tell this listener no more."""
        self._teller.leave(listener)

    def snapshot(self, after: int = 0) -> Snapshot:
        """Return what one who comes now has to know; after: the last message it had, 0 for none."""
        with self._teller.lock:
            return Snapshot(
                seq=self._teller.seq, day=self.day, source=self.source.name, label=self.source.label, state=self._state,
                now_s=self.newest_s, on_watch=self._on_watch, since_at=self._began_at,
                sentence=self._sentence or None, check=self._standards.check, pulls=self._pulls.cards(),
                news=self._teller.news(), missed=self._teller.missed(after), setting=self.board.setting,
                prediction=self.slips.card, tilt=tilt_cards(self.board.tilts()),
            )  # fmt: skip

    def strip(self, from_s: float, to_s: float, columns: int) -> StripColumns:
        """Return so many columns of the strip.  Raises PageError for an impossible stretch."""
        if (
            not (math.isfinite(from_s) and math.isfinite(to_s) and from_s < to_s)
            or not 1 <= columns <= MOST_COLUMNS
        ):
            raise PageError(
                "strip-impossible", f"The strip is asked for from {from_s:g} s to {to_s:g} s in {columns} columns.",
                "It must run forward, in 1 to 4000 columns.", "Ask for less at once.",
            )  # fmt: skip
        asked = self._strip.columns(from_s, to_s, columns)
        if self._earlier is not None and from_s <= self._earlier.ends_s:
            self._earlier.pour(asked.pairs, from_s, asked.column_s)
        return asked

    def check(self) -> CheckCard | None:
        """Return the bench check, None before there was one."""
        return self._standards.check

    # -- what changes the day -----------------------------------------------------------------------

    def null(self) -> None:
        """Take the rest reading and the bench check anew, from the next rest on."""
        with self._teller.lock:
            if self._under_way is not None:
                self._under_way.null.renew()
            self._standards.wanted = True

    def verify_with(self, hung: Sequence[tuple[float, float]]) -> Verification:
        """Take the force scale from masses (kg) that hung still at moments (bench seconds).

        Raises ConditionsError for impossible masses; PageError for a moment without samples.
        """
        here = self._under_way
        if here is None:
            raise not_on_watch()
        return self._standards.verify_with(hung, here, self._strip)

    def stand_down(self) -> None:
        """Stop watching and keeping; the source stays connected, so that the watch can go on again."""
        with self._teller.lock:
            if not self._on_watch:
                return
            self._on_watch, self._sentence = False, STOOD_DOWN
            self._teller.tell(StoodDown(f"{STOOD_DOWN} {self._kept}"))

    def go_on_watch(self) -> None:
        """Go on watch again, in a new recording.  Raises PageError when the source is gone for good."""
        if self._over.is_set() or (self._sentence and self._sentence != STOOD_DOWN):
            raise PageError(
                "source-over",
                "The source has ended.",
                "Going on watch again needs a source.",
                "Start pullbench watch anew.",
            )
        with self._teller.lock:
            self._on_watch, self._sentence = True, ""
            self._teller.tell(StateNow(WatchState.QUIET, self.newest_s, on_watch=True))

    def end(self, sentence: str = STOOD_DOWN) -> None:
        """Make `run` return soon, with everything kept.  From any thread, also from a signal's."""
        self._sentence = sentence
        self._over.set()
        self.source.close()

    def close(self) -> None:
        """Let the listeners go and end the clerk.  After `run` has returned."""
        self._clerk.close()
        self._teller.close()

    @property
    def _kept(self) -> str:
        return NOT_KEPT if self.logbook is None else KEPT
