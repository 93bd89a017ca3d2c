"""Readings of a spring scale, typed at the terminal: what an eye can honestly give."""

from __future__ import annotations

import re
import sys
import threading
from collections.abc import Iterator
from typing import IO, Any

import numpy as np

from pullbench.errors import RecordingError, SourceError
from pullbench.model import ByEye, Delivery, Ended, FloatArray, News, PullWindow, Trace
from pullbench.sources.cells import MISSING, Cell, read_cell
from pullbench.sources.choices import TableChoices, check_choices, force_unit
from pullbench.sources.live.line_cutter import LineCutter
from pullbench.sources.live.source import NOTHING, Clock, EndedError, Sleep, WAIT_s
from pullbench.sources.live.standard_input import ThreadedOctets
from pullbench.sources.units import Unit, unit_of

HOW = (
    "Type what the scale shows: a number at rest with the string slack (0.1), then for each pull the"
    " highest reading before the sled moved and the level while it slid steadily: s 2.8 k 2.1. q ends."
)
_WORDS = {"r": "rest", "s": "static", "k": "kinetic"}
_MARKED = re.compile(r"\s*([rsk])\s*[:=]?\s*([^rsk\s][^rsk\s]*)", re.IGNORECASE)
_STRONGEST_N = 1e5
ORDER_s = 1e-3  # between the numbers of one line
_NO_CHOICES = TableChoices()


class TypedReadings:
    """Pulls typed by the person who reads a spring scale.

    There are no samples here: deliveries() yields whole windows beside news, each with the readings of one
    line, at seconds since the first was asked for.  division: the scale's smallest division, in
    choices.force_unit (newtons unless said); a unit typed behind a number counts for it.
    Raises SourceError for a division that is no positive number, or a unit that is no force.
    """

    label = None
    name = "typed readings of a spring scale"

    def __init__(
        self, division: float, choices: TableChoices = _NO_CHOICES, *, stream: IO[Any] | None = None
    ) -> None:
        try:
            check_choices(choices)
        except RecordingError as refusal:
            raise SourceError(refusal.code, refusal.what, refusal.allowed, refusal.next_step) from refusal
        newton = unit_of("N")
        assert newton is not None
        self._unit, self._g_m_s2 = force_unit(choices) or newton, choices.g_m_s2
        if self._unit.quantity == "raw" or not 0 < self._newtons(division, self._unit) < _STRONGEST_N:
            raise SourceError(
                "division-impossible",
                f"The scale's division is {division:g} {self._unit.symbol}.",
                "It must be a force above 0, as printed on the scale, such as 0.1 N.",
                "Give the smallest division of the scale.",
            )
        self._half_N = self._newtons(division, self._unit) / 2
        self._stream = sys.stdin if stream is None else stream
        self._rest_N: float | None = None
        self._closing, self._newest_s = threading.Event(), -np.inf

    def close(self) -> None:
        """Make deliveries() end soon; may be called from another thread."""
        self._closing.set()

    def deliveries(self, *, clock: Clock, sleep: Sleep) -> Iterator[Delivery]:
        """Yield a window for each line of readings, and news of what was understood."""
        began_s = clock()
        octets, cutter = ThreadedOctets(self._stream), LineCutter()
        yield News("connected", HOW)
        while not self._closing.is_set():
            try:
                lines = cutter.feed(octets.read(WAIT_s))
            except EndedError:
                lines = [*cutter.finish(), b"q"]
            yield NOTHING
            for line in lines:
                text = line.decode("utf-8", "replace").strip()
                if text.lower() in ("q", "quit", "end"):
                    yield from (News("stopped", "No more readings."), Ended("The typed readings ended."))
                    return
                yield from self._understand(text, clock() - began_s)

    def _understand(self, text: str, now_s: float) -> Iterator[Delivery]:
        """Yield what one typed line says: a pull, or news of a rest reading or of a line not understood."""
        readings = self._readings(text)
        if readings is None:
            yield News("not numbers", f'"{text[:60]}" is not understood, and left out. {HOW}')
            return
        if "rest" in readings:
            self._rest_N = readings["rest"]
            yield News("found out", f"At rest the scale shows {readings['rest']:g} N; taken off from now on.")
        static_N, kinetic_N = readings.get("static"), readings.get("kinetic")
        if static_N is None and kinetic_N is None:
            return
        if static_N is not None and kinetic_N is not None and kinetic_N > static_N + 2 * self._half_N:
            yield News("found out", f'In "{text[:60]}" k is above s: type it again if they are swapped.')
        yield self._window(
            ByEye(
                rest_N=self._rest_N, static_N=static_N, kinetic_N=kinetic_N, half_division_N=self._half_N, text=text
            ),
            now_s,
        )  # fmt: skip

    def _window(self, by_eye: ByEye, now_s: float) -> PullWindow:
        """Return a window of the numbers that were read; its times only keep their order and when they came."""
        read = [one for one in (by_eye.rest_N, by_eye.static_N, by_eye.kinetic_N) if one is not None]
        first_s = max(now_s, self._newest_s + ORDER_s)
        time_s = first_s + ORDER_s * np.arange(len(read), dtype=np.float64)
        self._newest_s = float(time_s[-1])
        return PullWindow(
            trace=Trace(time_s=time_s, force_N=np.array(read)), start_s=float(time_s[0]),
            end_s=float(time_s[-1]), direction=1, by_eye=by_eye,
        )  # fmt: skip

    def _readings(self, text: str) -> dict[str, float] | None:
        """Return the readings of a line in newtons by what they are of, or None if it says anything else."""
        alone = self._force_N(text)
        if alone is not None:
            return {"rest": alone}
        found: dict[str, float] = {}
        at = 0
        while at < len(text.rstrip()):
            match = _MARKED.match(text, at)
            value_N = self._force_N(match.group(2)) if match else None
            if match is None or value_N is None or _WORDS[match.group(1).lower()] in found:
                return None
            found[_WORDS[match.group(1).lower()]] = value_N
            at = match.end()
        return found or None

    def _force_N(self, text: str) -> float | None:
        """Return a typed number in newtons; with point or comma, with or without a unit."""
        cell: Cell = read_cell(text, "," if "," in text and "." not in text else ".")
        unit = cell.unit or self._unit
        if cell.kind != "number" or cell == MISSING or unit.quantity not in ("force", "mass"):
            return None
        value_N = self._newtons(cell.value, unit)
        return value_N if abs(value_N) <= _STRONGEST_N else None

    def _newtons(self, value: float, unit: Unit) -> float:
        value_SI: float | FloatArray = value * unit.times / unit.over
        return float(value_SI) * (self._g_m_s2 if unit.quantity == "mass" else 1.0)
