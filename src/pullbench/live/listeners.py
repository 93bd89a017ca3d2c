"""Listeners: each with a bounded queue, so that a slow one costs the bench nothing."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterator

from pullbench.live.messages import Behind, Message, Refreshed, StripColumns


class Listener:
    """One who listens.

    size: most messages that wait.  When they are too many, strip columns are dropped first and the listener
    is told that it is behind; one that does not even take the rest is told to refresh.  wake: called, from
    the bench's thread, when something new waits; it must return at once.
    """

    def __init__(self, size: int = 256, *, wake: Callable[[], None] | None = None) -> None:
        self._size, self._wake = size, wake
        self._waiting: deque[tuple[int, Message]] = deque()
        self._change = threading.Condition()
        self._closed = False

    def put(self, seq: int, message: Message) -> None:
        """Hand a message over; never waits for the listener."""
        with self._change:
            if self._closed:
                return
            if len(self._waiting) >= self._size:
                self._make_room(seq)
            self._waiting.append((seq, message))
            self._change.notify()
        if self._wake is not None:
            self._wake()

    def get(self, timeout_s: float | None = None) -> tuple[int, Message] | None:
        """Return the next message with its number; None when none came in time or the bench is closed."""
        with self._change:
            self._change.wait_for(lambda: self._waiting or self._closed, timeout_s)
            return self._waiting.popleft() if self._waiting else None

    def take_all(self) -> list[tuple[int, Message]]:
        """Return everything that waits, without waiting."""
        with self._change:
            taken = list(self._waiting)
            self._waiting.clear()
        return taken

    def __iter__(self) -> Iterator[tuple[int, Message]]:
        """Yield messages until the bench is closed."""
        while (one := self.get()) is not None:
            yield one

    @property
    def closed(self) -> bool:
        """Whether nothing will come any more."""
        return self._closed

    def close(self) -> None:
        """Let nothing more in; what waits can still be taken."""
        with self._change:
            self._closed = True
            self._change.notify_all()
        if self._wake is not None:
            self._wake()

    def _make_room(self, seq: int) -> None:
        kept = [one for one in self._waiting if not isinstance(one[1], StripColumns | Behind)]
        if len(kept) >= self._size - 1:
            kept = [(seq, Refreshed())]
        self._waiting = deque([*kept, (seq, Behind())])
