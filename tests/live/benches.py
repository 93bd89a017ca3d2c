"""Sources, clocks and readers for the tests of a session.  (Not a test module.)"""

from __future__ import annotations

import time
from concurrent.futures import Future
from contextlib import contextmanager

import numpy as np

from pullbench.live import InlineAnalyst, PullTold, Session
from pullbench.model import Chunk, Ended
from pullbench.physics.bench import demo_day
from unit.detect.shapes import PULL, corners, drawn, rest

NINE_O_CLOCK = time.mktime((2026, 11, 25, 9, 0, 0, 0, 0, -1))
DAY = "2026-11-25"


class FakeClock:
    """Steady seconds that move by a step each time a source delivers."""

    def __init__(self, step_s=0.05):
        self.now_s, self.step_s = 0.0, step_s

    def __call__(self):
        return self.now_s

    def sleep(self, wait_s):
        self.now_s += wait_s

    def unix(self):
        return NINE_O_CLOCK + self.now_s


class Script:
    """A source that delivers what it is given; a callable among it is called when its turn comes."""

    name = "a scripted sensor"

    def __init__(self, *deliveries, label=None):
        self._deliveries, self.label, self.closed = deliveries, label, False

    def deliveries(self, *, clock, sleep):
        for delivery in self._deliveries:
            if self.closed:
                return
            if callable(delivery):
                delivery()
                continue
            if isinstance(clock, FakeClock):
                clock.now_s += clock.step_s
            yield delivery

    def close(self):
        self.closed = True


class Held:
    """A reader that reads nothing before it is let."""

    def __init__(self):
        self._waiting, self._inner = [], InlineAnalyst()

    def read(self, window, *, u_gain=0.0, by_hand=None):
        future = Future()
        self._waiting.append((future, window, u_gain, by_hand))
        return future

    def let(self):
        waiting, self._waiting = self._waiting, []
        for future, window, u_gain, by_hand in waiting:
            future.set_result(self._inner.read(window, u_gain=u_gain, by_hand=by_hand).result())

    def close(self):
        pass


def chunks_of(time_s, force_N, size=50):
    """Return samples in chunks of this size."""
    return [
        Chunk(time_s=time_s[a : a + size], force_N=force_N[a : a + size]) for a in range(0, time_s.size, size)
    ]


def pulls(count, *, rate_Hz=200.0, height_N=3.0, seed=1, before_s=3.0, after_s=4.0):
    """Return time and force of plain pulls with rest about each."""
    pieces = [rest(before_s)]
    for _ in range(count):
        pieces += [[(t, height_N * f) for t, f in PULL], rest(after_s)]
    return drawn(corners(*pieces), rate_Hz=rate_Hz, noise_N=0.004, seed=seed, offset_N=0.1)


def pulling(count=1, size=20, **more):
    """Return the deliveries of so many pulls."""
    return chunks_of(*pulls(count, **more), size=size)


def demo_pulling(size=8):
    """Return the deliveries of the demo day's first recording: two pulls of a simulated sled, both usable."""
    trace = demo_day(0)[0].trace
    return chunks_of(trace.time_s, trace.force_N, size)


def session_on(source, logbook=None, *, clock=None, reader=None, **more):
    """Return a session with a fake clock."""
    clock = clock or FakeClock()
    return Session(
        source,
        logbook,
        clock=clock,
        sleep=clock.sleep,
        now=clock.unix,
        reader=reader or InlineAnalyst(),
        **more,
    )


@contextmanager
def on_bench(*deliveries, logbook=None, label=None, **more):
    """Run a session over deliveries; give it with all that it told."""
    session = session_on(Script(*deliveries, label=label), logbook, **more)
    listener = session.listen(1_000_000)
    session.run()
    try:
        yield session, [message for _, message in listener.take_all()]
    finally:
        session.close()


def finals(told):
    """Return the final readings among what was told."""
    return [one for one in told if isinstance(one, PullTold) and not one.card.provisional]


ENDED = Ended("The string was untied.")
NOTHING = Chunk(time_s=np.empty(0), force_N=np.empty(0))
