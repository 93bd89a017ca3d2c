"""A recording played again as if it came live."""

from __future__ import annotations

import pathlib
import threading
from collections.abc import Iterator

from pullbench.errors import RecordingError, SourceError
from pullbench.model import Delivery, Ended, News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.pacing import CHUNK_s, Pace, pieces
from pullbench.sources.live.source import Clock, Sleep
from pullbench.sources.tables import open_table

LABEL = "replayed"
_NO_CHOICES = TableChoices()


class Replay:
    """A text table, paced by its own times; samples and flaws are those of `read_table`, digit for digit.

    speed: how much faster than life; infinite never waits.  Raises RecordingError as `open_table` does,
    and SourceError for an impossible speed.
    """

    label = LABEL

    def __init__(self, path: pathlib.Path, speed: float = 1.0, choices: TableChoices = _NO_CHOICES) -> None:
        if not speed > 0:
            raise SourceError(
                "speed-impossible",
                f"The speed of the replay is {speed:g}.",
                "It must be above 0.",
                "Use 1 for real time, more for faster.",
            )
        self._table, self._speed = open_table(path, choices), speed
        self._closing = threading.Event()
        self.name = f"replay of {path.name}" + (f" at {speed:g} times its speed" if speed != 1 else "")

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        self._closing.set()

    def deliveries(self, *, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        """Yield the recording's samples when they are due, then its end."""
        yield News("connected", f"Playing the {self.name}. Read as: {self._table.assumed}.")
        pace = Pace(clock, sleep, self._speed, self._closing.is_set)
        # Slower than life a piece is shorter, so that one comes every 0.05 s all the same.
        piece_s = CHUNK_s * min(1.0, self._speed)
        try:
            for chunk in self._table.chunks():
                for piece in pieces(chunk, piece_s):
                    if self._closing.is_set():
                        yield Ended("The replay was stopped.")
                        return
                    if piece.time_s.size:
                        yield from pace.wait_for(float(piece.time_s[-1]))
                    yield piece
        except RecordingError as refusal:  # the file changed since it was opened, or ends in damage
            yield from (News("file refused", str(refusal)), Ended("The recording cannot be read further."))
            return
        yield from (News("stopped", f"The {self.name} is over."), Ended("The recording is over."))
