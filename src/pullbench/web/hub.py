"""From the bench's thread to many sockets: every message is written once and handed to each socket's own queue.

The bench only ever puts into one bounded listener.  The hub empties it on the event loop, at most every
FRAME_S, and offers each finished frame to the sockets; a socket that does not take them loses strip frames
first and is told so.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable
from contextlib import suppress

from starlette.websockets import WebSocket

from pullbench.live import Listener, PredictionNow, Refreshed, Session, StripColumns
from pullbench.web.wire import joined, strip_frame, text_of

FRAME_S = 0.016  # a frame of a screen
MOST_WAITING = 256
STUCK_S = 15.0
Frame = tuple[int, str | bytes]


class Watcher:
    """One socket's queue.  greet: makes its hello anew."""

    def __init__(self, socket: WebSocket, greet: Callable[[], tuple[int, list[str]]]) -> None:
        self._socket, self._greet = socket, greet
        self._waiting: deque[Frame] = deque()
        self._some = asyncio.Event()
        self._seen = 0
        self.sending_since: float | None = None
        self.stuck = asyncio.Event()
        self.greet()

    def greet(self) -> None:
        """Begin anew with a hello; what it holds is not sent again."""
        self._seen, texts = self._greet()
        self._waiting = deque((0, text) for text in texts)
        self._some.set()

    def offer(self, frames: list[Frame]) -> None:
        """Take frames; never waits."""
        for seq, frame in frames:
            if isinstance(frame, str) and seq <= self._seen:
                continue
            if len(self._waiting) >= MOST_WAITING:
                self._make_room()
            self._waiting.append((seq, frame))
        self._some.set()

    async def send(self) -> None:
        """Send what waits, for ever."""
        loop = asyncio.get_running_loop()
        while True:
            await self._some.wait()
            self._some.clear()
            while self._waiting:
                _, frame = self._waiting.popleft()
                self.sending_since = loop.time()
                if isinstance(frame, str):
                    await self._socket.send_text(frame)
                else:
                    await self._socket.send_bytes(frame)
                self.sending_since = None

    def _make_room(self) -> None:
        texts = [one for one in self._waiting if isinstance(one[1], str) and one[1] != _BEHIND]
        if len(texts) >= MOST_WAITING - 1:
            self.greet()
            return
        self._waiting = deque([*texts, (0, _BEHIND)])


_BEHIND = '{"kind":"behind"}'


class Hub:
    """All watchers of a session."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._watchers: set[Watcher] = set()
        self._listener: Listener | None = None
        self._due: asyncio.TimerHandle | None = None
        self._woken = False
        self._handed_s = 0.0

    async def run(self) -> None:
        """Listen until cancelled; close sockets that take nothing for too long."""
        loop = asyncio.get_running_loop()

        def wake() -> None:
            if not self._woken:  # one call to the loop for everything that comes until it looks
                self._woken = True
                with suppress(RuntimeError):  # the loop has ended; nobody listens any more
                    loop.call_soon_threadsafe(self._plan, loop)

        self._listener = self._session.listen(1024, wake=wake)
        try:
            while True:
                await asyncio.sleep(5.0)
                for watcher in list(self._watchers):
                    if watcher.sending_since is not None and loop.time() - watcher.sending_since > STUCK_S:
                        watcher.stuck.set()
        finally:
            self._session.leave(self._listener)

    def add(self, watcher: Watcher) -> None:
        """Offer this watcher everything from now on."""
        self._watchers.add(watcher)

    def remove(self, watcher: Watcher) -> None:
        """Offer it nothing more."""
        self._watchers.discard(watcher)

    @property
    def count(self) -> int:
        """Return how many watch."""
        return len(self._watchers)

    def _plan(self, loop: asyncio.AbstractEventLoop) -> None:
        """Hand out at once after a pause, else FRAME_S after the last time."""
        if self._due is None:
            self._due = loop.call_at(max(self._handed_s + FRAME_S, loop.time()), self._hand_out, loop)

    def _hand_out(self, loop: asyncio.AbstractEventLoop) -> None:
        self._due, self._woken, self._handed_s = None, False, loop.time()
        assert self._listener is not None
        frames: list[Frame] = []
        strips: list[StripColumns] = []
        taken = self._listener.take_all()
        asked = [seq for seq, message in taken if isinstance(message, PredictionNow)]
        for seq, message in taken:
            if isinstance(message, PredictionNow) and seq != asked[-1]:
                continue  # a class that hands in at once is told once
            if isinstance(message, StripColumns):
                strips.append(message)
            elif isinstance(message, Refreshed):
                for watcher in self._watchers:
                    watcher.greet()
            else:
                text = text_of(seq, message)
                if text is not None:
                    frames.append((seq, text))
        # Paper first: whoever hears that the watch stood down has all of the strip.
        paper: list[Frame] = [(0, strip_frame(columns)) for columns in joined(strips)]
        for watcher in list(self._watchers):
            watcher.offer([*paper, *frames])
