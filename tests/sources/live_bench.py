"""Clocks, ports and ways to look at deliveries, for the tests of live sources."""

from __future__ import annotations

import threading
import time

import numpy as np

from pullbench.errors import PullbenchError
from pullbench.model import Chunk, Ended, News
from pullbench.sources import TableChoices
from pullbench.sources.live.line_reader import LineReader


class FakeClock:
    """A clock that only moves when somebody waits."""

    def __init__(self, now_s: float = 100.0):
        self.now_s = now_s

    def __call__(self) -> float:
        return self.now_s

    def sleep(self, wait_s: float) -> None:
        assert wait_s >= 0
        self.now_s += wait_s


def read_lines(timed, *, mid_line=False, finish=True, **choices):
    """Return the deliveries of a reader that is fed (moment in s, bytes), ticking every 0.05 s between."""
    reader, told, now_s = LineReader(TableChoices(**choices), mid_line=mid_line), [], None
    for moment_s, octets in timed:
        while now_s is not None and moment_s - now_s > 0.05:
            now_s += 0.05
            told += reader.tick(now_s)
        now_s = moment_s
        told += reader.feed(octets, now_s)
    return told + (reader.finish(now_s) if finish else [])


def recordings(told):
    """Return (time_s, force_N) of each recording, shape (n,) each; they are parted by Ended."""
    parts, now = [], []
    for delivery in [*told, Ended("")]:
        if isinstance(delivery, Chunk):
            now.append(delivery)
        elif isinstance(delivery, Ended):
            if any(chunk.time_s.size for chunk in now):
                parts.append(
                    (
                        np.concatenate([chunk.time_s for chunk in now]),
                        np.concatenate([chunk.force_N for chunk in now]),
                    )
                )
            now = []
    return parts


def only_recording(told):
    """Return (time_s, force_N) of the one recording there must be."""
    (one,) = recordings(told)
    return one


def flaws(told):
    return [flaw for chunk in told if isinstance(chunk, Chunk) for flaw in chunk.flaws]


def news(told, kind=None):
    """Return the sentences of the news, of one kind if given."""
    return [one.sentence for one in told if isinstance(one, News) and kind in (None, one.kind)]


def steady(count, line, *, rate_Hz=1000.0, begin_s=100.0, first=0):
    """Return (moment, bytes) of lines that come at a steady rate; line: a format with i, ms and us."""
    return [
        (
            begin_s + i / rate_Hz,
            line.format(i=first + i, f=f"{0.25 * (i % 9):.2f}", ms=first + i, us=1000 * (first + i)).encode(),
        )
        for i in range(count)
    ]


class Listener:
    """Runs deliveries() in a thread with the real clock, as the session does."""

    def __init__(self, source):
        self.source, self.told, self.error = source, [], None
        self._spoke_s, self.longest_silence_s = time.monotonic(), 0.0
        self._thread = threading.Thread(target=self._run, daemon=True)

    def __enter__(self):
        self._thread.start()
        return self

    def __exit__(self, *_):
        self.source.close()
        self._thread.join(5)
        assert not self._thread.is_alive()

    def _run(self):
        try:
            for delivery in self.source.deliveries(clock=time.monotonic, sleep=time.sleep):
                now_s = time.monotonic()
                self.longest_silence_s = max(self.longest_silence_s, now_s - self._spoke_s)
                self._spoke_s = now_s
                self.told.append(delivery)
        except PullbenchError as error:
            self.error = error

    @property
    def samples(self):
        return sum(one.time_s.size for one in list(self.told) if isinstance(one, Chunk))

    def until(self, what, patience_s=8.0):
        """Wait until what(self) holds."""
        by_s = time.monotonic() + patience_s
        while time.monotonic() < by_s:
            if what(self):
                return
            assert self.error is None, self.error
            time.sleep(0.02)
        raise AssertionError(f"waited in vain; news so far: {news(list(self.told))}, {self.samples} samples")

    def until_news(self, kind, count=1):
        self.until(lambda s: len(news(list(s.told), kind)) >= count)
