"""Where recordings lie on the one axis of the day."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pullbench.archive import RecordingRow

BETWEEN_RECORDINGS_S = 1.0


class Axis:
    """Bench seconds.

    The first recording of a day keeps its own time.  Each further one begins at its distance by the wall clock
    from the first, at least a second after the last sample before it; offsets are whole seconds.  A logbook
    places its recordings by the same rule.

    ends_s: the last sample so far, -inf before any.
    """

    def __init__(self) -> None:
        self.ends_s = -math.inf
        self._nought_at: float | None = None

    @classmethod
    def of(cls, rows: Sequence[RecordingRow]) -> Axis:
        """Return the axis of a day that has begun."""
        axis = cls()
        if rows:
            axis._nought_at = rows[0].began_at - (rows[0].first_s or 0.0)
            axis.ends_s = max(
                row.offset_s + (row.first_s or 0.0 if row.last_s is None else row.last_s) for row in rows
            )
        return axis

    def offset_s(self, first_s: float, began_at: float) -> float:
        """Return what to add to a recording's own seconds.  first_s: its first sample; began_at: unix seconds."""
        if self._nought_at is None:
            self._nought_at = began_at - first_s
            return 0.0
        begins_s = max(began_at - self._nought_at, self.ends_s + BETWEEN_RECORDINGS_S)
        return float(math.ceil(begins_s - first_s))

    def ended(self, at_s: float) -> None:
        """Take the last sample of a recording, in bench seconds."""
        self.ends_s = max(self.ends_s, at_s)
