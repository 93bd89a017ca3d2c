"""The loop beneath every source that speaks in lines: reads, tells, and comes back after a break."""

from __future__ import annotations

import threading
from abc import ABC, abstractmethod
from collections.abc import Generator, Iterator

from pullbench.errors import SourceError
from pullbench.model import Delivery, Ended, News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.line_reader import LineReader
from pullbench.sources.live.source import NOTHING, Clock, EndedError, GoneError, Octets, Sleep, WAIT_s

GATHER_s = 0.01
"""How long bytes gather before they are read on: a hundred chunks a second whatever the rate."""
SILENT_s = 3.0
_TRY_AGAIN_s = 0.5


class LineSource(ABC):
    """A stream of text lines from something that may go away and come back."""

    label: str | None = None
    check_when_silent = "Check that the sensor is switched on and sends."
    joined_midway = False
    """Whether the first bytes may be the middle of a line."""

    def __init__(self, choices: TableChoices) -> None:
        self._reader = LineReader(choices, mid_line=self.joined_midway)
        self._closing = threading.Event()

    @property
    @abstractmethod
    def name(self) -> str:
        """Return what the samples come from, in words."""

    @abstractmethod
    def _open(self, clock: Clock) -> Octets:
        """Return the open port; raises SourceError when it cannot be had."""

    def _open_again(self, clock: Clock) -> Octets:
        """Return the port after a break, within a tenth of a second; raises SourceError."""
        return self._open(clock)

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        self._closing.set()

    def deliveries(self, *, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        """Yield samples and news at least every 0.1 s until the stream ends or close() is called.

        Raises SourceError when the port cannot be had at the start, or the lines need the person's choice.
        """
        octets: Octets | None = self._open(clock)
        yield News("connected", f"Listening to the {self.name}.")
        try:
            while octets is not None and not self._closing.is_set():
                try:
                    yield from self._listen(octets, clock, sleep)
                except GoneError as gone:
                    octets.close()
                    octets = None
                    yield News("lost", f"The {self.name} is gone ({gone}). Trying to get it back.")
                    octets = yield from self._come_back(clock, sleep)
                except EndedError:
                    yield from self._reader.finish(clock())
                    sentence = f"The {self.name} has ended."
                    yield from (News("stopped", sentence), Ended(sentence))
                    return
            yield from self._stopped(clock)
        finally:
            if octets is not None:
                octets.close()

    def _listen(self, octets: Octets, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        heard_s, silent = clock(), False
        while not self._closing.is_set():
            data = octets.read(WAIT_s)
            if data:
                sleep(GATHER_s)
                data += _rest(octets)
            now_s = clock()
            told: list[Delivery] = [*octets.news()]
            if data:
                if silent:
                    told.append(News("back", f"The {self.name} sends again."))
                heard_s, silent = now_s, False
            elif not silent and now_s - heard_s >= SILENT_s:
                silent = True
                sentence = f"Nothing came from the {self.name} for {SILENT_s:g} s. {self.check_when_silent}"
                told.append(News("silent", sentence))
            told += self._reader.feed(data, now_s) if data else self._reader.tick(now_s)
            yield from told or [NOTHING]

    def _come_back(self, clock: Clock, sleep: Sleep) -> Generator[Delivery, None, Octets | None]:
        """Yield nothing until the port is there again; return it, or None when closed meanwhile."""
        tried_s = clock()
        while not self._closing.is_set():
            sleep(WAIT_s)
            yield from self._reader.tick(clock()) or [NOTHING]
            if clock() - tried_s < _TRY_AGAIN_s:
                continue
            tried_s = clock()
            try:
                octets = self._open_again(clock)
            except SourceError:
                continue
            self._reader.reconnected()
            yield News("back", f"The {self.name} is back; the watch goes on.")
            return octets
        return None

    def _stopped(self, clock: Clock) -> Iterator[Delivery]:
        try:
            yield from self._reader.finish(clock())
        except SourceError as refusal:  # stood down before anything was found out: nobody's mistake
            yield News("stopped", f"Nothing was recorded yet. {refusal.what}")
        yield Ended("Stood down.")


def _rest(octets: Octets) -> bytes:
    """Return what has gathered; a break is met again at the next read, after this is delivered."""
    try:
        return octets.read(0.0)
    except (GoneError, EndedError):
        return b""
