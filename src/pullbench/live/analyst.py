"""Windows are analysed in a process of their own, so that a hard one never delays a sample."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from typing import Protocol

import numpy as np

from pullbench.analysis import ByHand, analyse
from pullbench.model import Pull, PullWindow, Trace

Done = Callable[["Future[Pull]"], None]


class Reader(Protocol):
    """Whoever reads windows."""

    def read(self, window: PullWindow, *, u_gain: float = 0.0, by_hand: ByHand | None = None) -> Future[Pull]:
        """Return the pull of a window, later."""

    def close(self) -> None:
        """Finish; nothing may follow."""


class InlineAnalyst:
    """Reads at once, in the caller's thread: for tests and for files."""

    def read(self, window: PullWindow, *, u_gain: float = 0.0, by_hand: ByHand | None = None) -> Future[Pull]:
        """Return the pull of a window."""
        future: Future[Pull] = Future()
        try:
            future.set_result(analyse(window, u_gain=u_gain, by_hand=by_hand))
        except Exception as fault:
            future.set_exception(fault)
        return future

    def close(self) -> None:
        """Do nothing."""


class Analyst:
    """One process that reads windows in the order they come; it is started and warmed before the first pull.

    When that process dies (killed, out of memory), a new one is started and the window is read again, once.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._pool = _started()

    def read(self, window: PullWindow, *, u_gain: float = 0.0, by_hand: ByHand | None = None) -> Future[Pull]:
        """Return the pull of a window, later."""
        outcome: Future[Pull] = Future()
        self._submit(outcome, window, u_gain, by_hand, again=True)
        return outcome

    def close(self) -> None:
        """Finish what is under way and end the process."""
        self._pool.shutdown(wait=True, cancel_futures=True)

    def _submit(
        self, outcome: Future[Pull], window: PullWindow, u_gain: float, by_hand: ByHand | None, *, again: bool
    ) -> None:
        def done(future: Future[Pull]) -> None:
            if future.cancelled():
                outcome.cancel()
                return
            fault = future.exception()
            if fault is None:
                outcome.set_result(future.result())
            elif isinstance(fault, BrokenProcessPool) and again:
                self._replace(pool)
                self._submit(outcome, window, u_gain, by_hand, again=False)
            else:
                outcome.set_exception(fault)

        with self._lock:
            pool = self._pool
        try:
            future = pool.submit(_read, window, u_gain, by_hand)
        except BrokenProcessPool:
            self._replace(pool)
            with self._lock:
                pool = self._pool
            future = pool.submit(_read, window, u_gain, by_hand)
        future.add_done_callback(done)

    def _replace(self, broken: ProcessPoolExecutor) -> None:
        with self._lock:
            if self._pool is broken:
                self._pool = _started()


def _started() -> ProcessPoolExecutor:
    pool = ProcessPoolExecutor(max_workers=1, mp_context=get_context("spawn"), initializer=ready)
    pool.submit(_warm)
    return pool


def ready() -> None:
    """Prepare a process of ours."""
    # Ctrl-C goes to the whole group; the session ends this process itself, in order.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, name="parent", daemon=True).start()


def _end_with_parent() -> None:
    """End this process when the one that started it is gone, also by kill -9: nobody else would."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)


def _warm() -> None:
    """Read an invented pull, so that imports and first calls are paid before the first real one."""
    t = np.arange(0.0, 8.0, 0.0125)
    f = np.interp(t, [2.0, 3.0, 3.1, 5.0, 5.1], [0.0, 3.0, 2.2, 2.2, 0.0]) + 1e-3 * np.sin(37 * t)
    analyse(PullWindow(trace=Trace(time_s=t, force_N=f), start_s=2.0, end_s=5.1, direction=1))


def _read(window: PullWindow, u_gain: float, by_hand: ByHand | None) -> Pull:
    return analyse(window, u_gain=u_gain, by_hand=by_hand)
