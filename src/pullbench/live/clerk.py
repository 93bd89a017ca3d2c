"""The clerk: does whatever may touch the disk or take a moment, one thing after the other, off the bench's thread."""

from __future__ import annotations

import threading
from collections.abc import Callable
from queue import SimpleQueue


class Clerk:
    """A thread that does jobs in order.  troubled: told of what a job raised; the clerk goes on."""

    def __init__(self, troubled: Callable[[Exception], None]) -> None:
        self._jobs: SimpleQueue[Callable[[], None] | None] = SimpleQueue()
        self._troubled = troubled
        self._once: set[str] = set()
        self._lock = threading.Lock()
        self._thread = threading.Thread(target=self._work, name="clerk", daemon=True)
        self._thread.start()

    def do(self, job: Callable[[], None]) -> None:
        """Do a job after those before it."""
        self._jobs.put(job)

    def do_once(self, name: str, job: Callable[[], None]) -> None:
        """Do a job unless one of this name still waits: a slow disk gathers no commits."""
        with self._lock:
            if name in self._once:
                return
            self._once.add(name)

        def named() -> None:
            with self._lock:
                self._once.discard(name)
            job()

        self._jobs.put(named)

    def wait(self) -> None:
        """Return when all jobs given so far are done."""
        done = threading.Event()
        self._jobs.put(done.set)
        done.wait()

    def close(self) -> None:
        """Do what is left and end."""
        self._jobs.put(None)
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def _work(self) -> None:
        while (job := self._jobs.get()) is not None:
            try:
                job()
            except Exception as fault:
                self._troubled(fault)
