"""What is told to listeners: numbered, remembered for those who come back, never waiting for anybody."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable

from pullbench.errors import PullbenchError
from pullbench.live.listeners import Listener
from pullbench.live.messages import Message, NewsTold, StateNow, StripColumns
from pullbench.model import News

NEWS_KEPT, HISTORY = 200, 512
SAME_NEWS_S = 30.0


class Teller:
    """Tells every listener.  lock: held while a message is numbered, and by whoever must not be overtaken.

    clock: steady seconds.
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self.lock = threading.RLock()
        self.seq = 0
        self.listeners: list[Listener] = []
        self._clock = clock
        self._history: deque[tuple[int, StateNow]] = deque(maxlen=HISTORY)
        self._news: deque[News] = deque(maxlen=NEWS_KEPT)
        self._told_at: dict[str, float] = {}

    def tell(self, message: Message) -> None:
        """Number a message and hand it to all; strip columns share the number before them."""
        with self.lock:
            if not isinstance(message, StripColumns):
                self.seq += 1
            if isinstance(message, StateNow):
                self._history.append((self.seq, message))
            for listener in self.listeners:
                listener.put(self.seq, message)

    def tell_news(self, news: News) -> None:
        """Tell news, and keep them for those who come later."""
        with self.lock:
            self._news.append(news)
            self.tell(NewsTold(news))

    def trouble(self, fault: Exception) -> None:
        """Tell what went wrong with keeping or reading, the same at most once in SAME_NEWS_S; the watch goes on."""
        what = str(fault) if isinstance(fault, PullbenchError) else f"A pull could not be read: {fault!r}."
        told_at, now_s = self._told_at.get(what), self._clock()
        if told_at is None or now_s - told_at >= SAME_NEWS_S:
            self._told_at[what] = now_s
            self.tell_news(News("logbook", what))

    def news(self) -> tuple[News, ...]:
        """Return the latest news."""
        return tuple(self._news)

    def missed(self, after: int) -> tuple[tuple[int, StateNow], ...]:
        """Return the changes of state since a number; none for 0 and for a number of another session."""
        if not 0 < after <= self.seq:
            return ()
        return tuple(one for one in self._history if one[0] > after)

    def listen(self, size: int, wake: Callable[[], None] | None) -> Listener:
        """Return a new listener; what is told from now on waits for it."""
        listener = Listener(size, wake=wake)
        with self.lock:
            self.listeners = [*self.listeners, listener]
        return listener

    def leave(self, listener: Listener) -> None:
        """Tell a listener no more."""
        with self.lock:
            self.listeners = [one for one in self.listeners if one is not listener]
        listener.close()

    def close(self) -> None:
        """Let all listeners go."""
        for listener in self.listeners:
            listener.close()
