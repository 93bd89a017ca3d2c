"""Writes down what was left out between delivered samples, and steps that are too long."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from pullbench.model import FlawKind, FloatArray
from pullbench.sources.batch import BACKWARD, REPEATED, Batch, IntArray
from pullbench.sources.damage import Damage
from pullbench.sources.rows import GOOD, MISSING, UNREADABLE

_KINDS: dict[int, FlawKind] = {
    MISSING: "missing values",
    UNREADABLE: "unreadable lines",
    REPEATED: "repeated times",
    BACKWARD: "backward times",
}
_NEAR_STEPS = 20  # damage less than this many samples apart is one stretch of damage


class Ledger:
    """Keeps the account of one recording; rows come in order, each once its fate is decided."""

    def __init__(self, *, step_s: float, gap_s: float) -> None:
        self._step_s, self._gap_s = step_s, gap_s
        self._last_s: float | None = None
        self._last_slot = 0
        self._open: dict[int, tuple[int, str]] = {}  # left out since the last delivered row

    def settle(self, batch: Batch, fate: npt.NDArray[np.uint8], time_s: FloatArray) -> list[Damage]:
        """Return the damage among rows whose fate is decided.

        fate: shape (n,), GOOD for a delivered row, else why it is left out.  time_s: shape (n,), final
        times of the delivered rows.  Rows left out at the end wait for the next delivered one.
        """
        kept = np.flatnonzero(fate == GOOD)
        times = time_s[kept]
        damages, place = self._gaps(batch.slot[kept], times), 0
        for following, first, count in _runs(kept, np.flatnonzero(fate != GOOD), fate):
            if following > place:
                damages += self._close(self._before(times, place), float(times[place]))
                place = following
            self._note(int(fate[first]), count, _example(batch, first, count))
        if place < kept.size:
            damages += self._close(self._before(times, place), float(times[place]))
        if kept.size:
            self._last_s, self._last_slot = float(times[-1]), int(batch.slot[kept[-1]])
        return damages

    def finish(self) -> list[Damage]:
        """Return the damage behind the last sample; mere words there are a footer, not damage."""
        if UNREADABLE in self._open and self._open[UNREADABLE][1][:1] not in tuple("+-.,0123456789"):
            del self._open[UNREADABLE]
        return self._close(self._last_s, self._last_s or 0.0)

    def _before(self, times: FloatArray, place: int) -> float | None:
        return float(times[place - 1]) if place else self._last_s

    def _note(self, kind: int, count: int, text: str) -> None:
        before, example = self._open.get(kind, (0, ""))
        self._open[kind] = (before + count, example or text)

    def _close(self, start_s: float | None, end_s: float) -> list[Damage]:
        start_s = end_s if start_s is None else start_s
        near_s = _NEAR_STEPS * self._step_s
        closed = [
            Damage(_KINDS[kind], start_s, end_s, count, f', such as "{text[:60]}"' if text else "", near_s)
            for kind, (count, text) in self._open.items()
        ]
        self._open.clear()
        return closed

    def _gaps(self, slot: IntArray, times: FloatArray) -> list[Damage]:
        if not slot.size:
            return []
        if self._last_s is None:  # nothing before the first sample can be missing
            before_s, before_slot = float(times[0]), int(slot[0]) - 1
        else:
            before_s, before_slot = self._last_s, self._last_slot
        steps_s, places = np.diff(times, prepend=before_s), np.diff(slot, prepend=before_slot)
        # Rows left out are told as such; only what is missing beyond them is a gap.
        long = np.flatnonzero(steps_s - (places - 1) * self._step_s > self._gap_s)
        return [
            Damage(
                "gap",
                float(times[i] - steps_s[i]),
                float(times[i]),
                max(1, round(float(steps_s[i]) / self._step_s) - int(places[i])),
                near_s=_NEAR_STEPS * self._step_s,
            )
            for i in long
        ]


def _runs(kept: IntArray, dropped: IntArray, fate: npt.NDArray[np.uint8]) -> Iterator[tuple[int, int, int]]:
    """Yield (index of the next kept row, first row, count) of rows left out together for one reason."""
    if not dropped.size:
        return
    following = np.searchsorted(kept, dropped)
    reasons = fate[dropped].astype(np.int64)
    changes = np.flatnonzero((np.diff(following) != 0) | (np.diff(reasons) != 0)) + 1
    for run in np.split(np.arange(dropped.size), changes):
        yield int(following[run[0]]), int(dropped[run[0]]), run.size


def _example(batch: Batch, first: int, count: int) -> str:
    return next((batch.texts[row] for row in sorted(batch.texts) if first <= row < first + count), "")
