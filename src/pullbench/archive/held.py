"""What was received and is not committed yet: bounded, so that a full disk cannot eat the memory."""

from __future__ import annotations

import threading
from collections import deque
from dataclasses import dataclass, field

import numpy as np

from pullbench.model import Chunk, Flaw, News

MOST_SAMPLES = 4_000_000  # 64 MB: more than an hour at 1 kHz
MOST_NEWS = 10_000


@dataclass(slots=True)
class Held:
    """The deliveries of one recording that wait for the next commit.

    newest_s: time of the newest sample received, kept or not.  When MOST_SAMPLES of all recordings wait,
    further ones are let go, and a flaw that counts them comes with the next that is held.
    """

    chunks: deque[Chunk] = field(default_factory=deque)
    news: deque[tuple[News, float | None, float]] = field(default_factory=deque)
    newest_s: float = -np.inf
    let_go: int = 0
    let_go_after_s: float | None = None
    let_go_flaws: tuple[Flaw, ...] = ()


class Waiting:
    """All recordings' deliveries that wait; safe to fill from one thread while another commits."""

    def __init__(self, most_samples: int = MOST_SAMPLES) -> None:
        self._most_samples = most_samples
        self._lock = threading.Lock()
        self._held: dict[int, Held] = {}
        self.samples = 0

    def begin(self, recording: int) -> None:
        """Take deliveries of a recording from now on."""
        with self._lock:
            self._held[recording] = Held()

    def end(self, recording: int) -> None:
        """Take no more of a recording whose deliveries are all committed."""
        with self._lock:
            self._held.pop(recording, None)

    def knows(self, recording: int) -> bool:
        """Say whether deliveries of this recording are taken."""
        return recording in self._held

    def add(self, recording: int, chunk: Chunk) -> float | None:
        """Hold a delivery.  Return the newest time before it if its times do not go up from there, else None."""
        with self._lock:
            held = self._held[recording]
            if chunk.time_s.size and not _goes_up(held.newest_s, chunk):
                return held.newest_s
            if chunk.time_s.size and self.samples + chunk.time_s.size > self._most_samples:
                self._let_go(held, chunk)
            elif chunk.time_s.size or chunk.flaws:
                held.chunks.append(_with_the_lost(held, chunk) if chunk.time_s.size else chunk)
                self.samples += chunk.time_s.size
            if chunk.time_s.size:
                held.newest_s = float(chunk.time_s[-1])
        return None

    def add_news(self, recording: int, news: News, told_at: float) -> None:
        """Hold news, with the newest time known when they came."""
        with self._lock:
            held = self._held[recording]
            if len(held.news) < MOST_NEWS:
                after_s = held.newest_s if np.isfinite(held.newest_s) else None
                held.news.append((news, after_s, told_at))

    def snapshot(self) -> dict[int, tuple[list[Chunk], list[tuple[News, float | None, float]]]]:
        """Return what waits now, by recording; it goes on waiting until `drop` says that it is written."""
        with self._lock:
            return {
                recording: (list(held.chunks), list(held.news))
                for recording, held in self._held.items()
                if held.chunks or held.news
            }

    def drop(self, recording: int, chunks: int, news: int) -> None:
        """Let go of the oldest deliveries and news, which are committed."""
        with self._lock:
            held = self._held[recording]
            for _ in range(chunks):
                self.samples -= held.chunks.popleft().time_s.size
            for _ in range(news):
                held.news.popleft()

    def _let_go(self, held: Held, chunk: Chunk) -> None:
        if held.let_go == 0:
            held.let_go_after_s = held.newest_s if np.isfinite(held.newest_s) else float(chunk.time_s[0])
        held.let_go += chunk.time_s.size
        held.let_go_flaws = (*held.let_go_flaws, *chunk.flaws)[-1000:]


def _goes_up(newest_s: float, chunk: Chunk) -> bool:
    return bool(chunk.time_s[0] > newest_s) and bool(np.all(np.diff(chunk.time_s) > 0))


def _with_the_lost(held: Held, chunk: Chunk) -> Chunk:
    """Return the chunk with a flaw for what had to be let go before it, if anything had to."""
    if not held.let_go or held.let_go_after_s is None:
        return chunk
    start_s, end_s = held.let_go_after_s, float(chunk.time_s[0])
    lost = Flaw(
        kind="gap", start_s=start_s, end_s=end_s, count=held.let_go,
        sentence=f"{held.let_go} samples between {start_s:.3f} s and {end_s:.3f} s could not be kept: the logbook "
        "could not be written and its waiting room was full; nothing is put in their place.",
    )  # fmt: skip
    flaws = (*held.let_go_flaws, lost, *chunk.flaws)
    held.let_go, held.let_go_after_s, held.let_go_flaws = 0, None, ()
    return Chunk(time_s=chunk.time_s, force_N=chunk.force_N, flaws=flaws)
