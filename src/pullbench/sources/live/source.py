"""What every live source is to the session, and what moves bytes beneath those that speak in lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Protocol, TypeAlias

import numpy as np

from pullbench.model import Chunk, Delivery, News

Clock: TypeAlias = Callable[[], float]
Sleep: TypeAlias = Callable[[float], object]

WAIT_s = 0.05
"""Longest wait for bytes: a source must speak every 0.1 s, if only to say that nothing came."""
NOTHING = Chunk(time_s=np.empty(0), force_N=np.empty(0))
"""Delivered when nothing came, so that the session can commit and stand down."""


class Source(Protocol):
    """name: in words, for the logbook and the page.  label: "simulated", "replayed", or None: measured."""

    @property
    def name(self) -> str:
        """Return what the samples come from, in words."""
        ...

    @property
    def label(self) -> str | None:
        """Return what must stand beside every number from here, if anything."""
        ...

    def deliveries(self, *, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        """Yield samples and news at least every 0.1 s; raises SourceError where there can be none."""
        ...

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        ...


class GoneError(Exception):
    """The other end went away; it may come back.  Its text says how."""


class EndedError(Exception):
    """The other end has said all it has to say."""


class Octets(Protocol):
    """An open port, socket or pipe."""

    def read(self, wait_s: float) -> bytes:
        """Return what came, waiting at most wait_s for the first byte; raises GoneError or EndedError."""
        ...

    def news(self) -> list[News]:
        """Return what was found out about the port since the last call."""
        ...

    def close(self) -> None:
        """Let go of it; never raises."""
        ...
