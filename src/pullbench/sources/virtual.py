"""The virtual bench as a source: the invented demo day in real time or faster, without end."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterable, Iterator

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import Chunk, Delivery, News, Setting, Trace
from pullbench.physics.bench import SLED_KG, DemoRecording, DemoTruth, demo_days

LABEL = "simulated"
"""What every number from this source has to say."""


class VirtualBench:
    """A bench at which pulls of a lesson are made for ever; nothing of it is measured.

    recordings: what is played, one after the other on one clock; default, the demo day of `seed` over and
    over, every day with other pulls.  speed: of deliveries(), how much faster than life.  `label` must
    stand beside every number that comes from here.
    """

    name = "virtual bench"
    label = LABEL

    def __init__(
        self, seed: int = 0, *, recordings: Iterable[DemoRecording] | None = None, speed: float = 1.0
    ) -> None:
        self._recordings = demo_days(seed) if recordings is None else recordings
        self._speed = speed
        self._closing = threading.Event()
        self.playing: DemoRecording | None = None
        """The recording under way, with its truth; its times count from the recording's own start."""

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        self._closing.set()

    def deliveries(
        self, *, clock: Callable[[], float], sleep: Callable[[float], object]
    ) -> Iterator[Delivery]:
        """Yield the samples as they become due, one recording without end; raises BenchError as chunks()."""
        # Slower than life a piece is shorter, so that one comes every 0.05 s all the same.
        chunk_s = 0.05 * min(1.0, self._speed)
        yield News("connected", "The virtual bench plays the invented demo day; nothing of it is measured.")
        told: DemoRecording | None = None
        for chunk in self.chunks(clock=clock, sleep=sleep, speed=self._speed, chunk_s=chunk_s):
            if self._closing.is_set():
                return
            if self.playing is not None and self.playing is not told:
                told = self.playing
                yield on_the_sled(told.truth)
            yield chunk

    def chunks(
        self,
        *,
        clock: Callable[[], float],
        sleep: Callable[[float], object],
        speed: float = 1.0,
        chunk_s: float = 0.05,
    ) -> Iterator[Chunk]:
        """Yield the samples as they become due, chunk_s of the bench's time together.

        clock: a steady clock in seconds.  sleep: waits so many seconds.  speed: how much faster than life;
        infinite never waits.  A reader that falls behind gets the chunks that are due without waiting,
        and none is lost.  Raises BenchError for an impossible speed or chunk length.
        """
        for name, value in (("speed", speed), ("chunk length", chunk_s)):
            if not value > 0 or (name != "speed" and value == math.inf):
                raise BenchError(
                    "virtual-bench-impossible",
                    f"The {name} of the virtual bench is {value:g}.",
                    "It must be above 0.",
                    "Use 1 for real time, more for faster.",
                )
        return self._due(clock, sleep, speed, chunk_s)

    def _due(
        self, clock: Callable[[], float], sleep: Callable[[float], object], speed: float, chunk_s: float
    ) -> Iterator[Chunk]:
        began_s, shift_s = clock(), 0.0
        for recording in self._recordings:
            self.playing, trace = recording, recording.trace
            for chunk in _pieces(trace, shift_s, chunk_s):
                wait_s = began_s + float(chunk.time_s[-1]) / speed - clock()
                if wait_s > 0:
                    sleep(wait_s)
                yield chunk
            # The next recording's first sample comes one sample later, whatever its own time says.
            step_s = float(np.median(np.diff(trace.time_s)))
            shift_s += float(trace.time_s[-1]) + step_s


def on_the_sled(truth: DemoTruth) -> Setting:
    """Return what a teacher would say of an invented recording: sled, tins, sole."""
    return Setting(sled_kg=SLED_KG, load_kg=round(truth.mass_kg - SLED_KG, 6), surface=truth.sole)


def _pieces(trace: Trace, shift_s: float, chunk_s: float) -> Iterator[Chunk]:
    """Yield the recording in pieces of chunk_s, its times moved by shift_s."""
    edges = np.flatnonzero(np.diff(np.floor(trace.time_s / chunk_s))) + 1
    for time_s, force_N in zip(np.split(trace.time_s, edges), np.split(trace.force_N, edges), strict=True):
        yield Chunk(time_s=time_s + shift_s, force_N=force_N)
