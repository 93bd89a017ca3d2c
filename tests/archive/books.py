"""Invented samples that can be told from their place alone, and logbooks filled with them."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from pullbench.archive import Logbook
from pullbench.model import Chunk, Flaw, PullWindow, Trace

NINE_O_CLOCK = time.mktime((2026, 11, 25, 9, 0, 0, 0, 0, -1))
DAY = "2026-11-25"


@dataclass
class FakeClock:
    """Unix seconds that only a test moves."""

    at: float = NINE_O_CLOCK

    def __call__(self) -> float:
        return self.at


def invented(first: int, count: int) -> Chunk:
    """Return samples number first to first + count - 1 of a recording at 1 kHz: all digits in use."""
    number = np.arange(first, first + count)
    return Chunk(time_s=number / 1000.0 + 1e-7 / 3, force_N=np.sin(number * 0.37) * 3.0)


def gap(start_s: float, end_s: float, count: int = 1) -> Flaw:
    """Return a gap."""
    return Flaw(
        kind="gap", start_s=start_s, end_s=end_s, count=count, sentence=f"{count} samples did not arrive."
    )


def window_over(chunk: Chunk, *, flaws: tuple[Flaw, ...] = ()) -> PullWindow:
    """Return a window that holds just these samples."""
    return PullWindow(
        trace=Trace(time_s=chunk.time_s, force_N=chunk.force_N, flaws=flaws),
        start_s=float(chunk.time_s[0]) + 1e-4,
        end_s=float(chunk.time_s[-1]) - 1e-4,
        direction=-1,
        cut_end=True,
        earlier_rest_N=0.1 + 0.2,
        u_earlier_rest_N=1e-3 / 3,
    )


@contextmanager
def opened(path: Path, clock: FakeClock | None = None, **more: int) -> Iterator[Logbook]:
    """Open a logbook and close it at the end, whatever happens."""
    logbook = Logbook.open(path, now=clock or FakeClock(), **more)
    try:
        yield logbook
    finally:
        logbook.close()


def fill(path: Path, *, commits: int, samples: int = 500, pulls: int = 0) -> None:
    """Write a day with one recording that was ended, commits of so many samples, a pull over each of the first."""
    with opened(path) as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        for k in range(commits):
            chunk = invented(k * samples, samples)
            logbook.keep(recording, chunk)
            logbook.commit()
            if k < pulls:
                logbook.add_reading(
                    recording, window=window_over(chunk), record=b'{"pull":%d}' % k, version="0.1"
                )
        logbook.end_recording(recording, "The string was untied.")


def same(got: Trace | Chunk, wanted: Trace | Chunk) -> bool:
    """Say whether samples agree in every bit."""
    return (
        got.time_s.tobytes() == wanted.time_s.tobytes() and got.force_N.tobytes() == wanted.force_N.tobytes()
    )


def joined(chunks: list[Chunk]) -> Trace:
    """Return chunks as one trace, flaws in order."""
    return Trace(
        time_s=np.concatenate([np.empty(0), *(chunk.time_s for chunk in chunks)]),
        force_N=np.concatenate([np.empty(0), *(chunk.force_N for chunk in chunks)]),
        flaws=tuple(flaw for chunk in chunks for flaw in chunk.flaws),
    )
