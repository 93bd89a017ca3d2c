"""The recording under way: its place on the axis, its watch, its rest reading."""

from __future__ import annotations

from dataclasses import dataclass, field

from pullbench.detect import Watch
from pullbench.live.null import Null


@dataclass(slots=True)
class UnderWay:
    """One recording while its samples come.

    identity: in the logbook, else a count.  began_at: unix seconds.  offset_s: known from its first sample on.
    looked_at: pulls that had their first look; completed: pulls whose window was complete.
    """

    identity: int
    began_at: float
    watch: Watch = field(default_factory=Watch)
    null: Null = field(default_factory=Null)
    offset_s: float | None = None
    first_s: float = 0.0
    newest_s: float = 0.0
    looked_at: int = 0
    completed: int = 0

    def bench_s(self, own_s: float) -> float:
        """Return bench seconds of a moment of this recording."""
        return own_s + (self.offset_s or 0.0)
