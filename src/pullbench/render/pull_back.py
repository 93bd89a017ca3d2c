"""A stored line of `read`, back to a pull: every number as it was told, without samples and budgets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import msgspec
import numpy as np

from pullbench.model import (
    BreakawayForce,
    Finding,
    Measured,
    Phase,
    PlateauForce,
    Pull,
    PullWindow,
    StickSlip,
    Trace,
    Verdict,
)
from pullbench.render.pull_json import MeasuredRecord, PullRecord

_RECORD = msgspec.json.Decoder(PullRecord)


def pull_of_record(record: bytes) -> Pull:
    """Return the pull that a record tells of; its trace is empty, its phases follow from its moments.

    Raises msgspec.DecodeError or ValueError for a record that tells of no pull.
    """
    line = _RECORD.decode(record)
    if (
        line.breakaway_force_N is None
        or line.kinetic_force_N is None
        or line.start_s is None
        or line.end_s is None
        or line.verdict is None
    ):
        raise ValueError("the record tells of no pull")
    from_s, to_s = line.sliding_s or (None, None)
    saw = line.stick_slip
    return Pull(
        window=PullWindow(
            trace=Trace(time_s=np.empty(0), force_N=np.empty(0)), start_s=line.start_s, end_s=line.end_s,
            direction=-1 if line.direction == -1 else 1,
        ),
        rest_reading=_measured(line.rest_reading_N),
        breakaway=BreakawayForce(force=_measured(line.breakaway_force_N), time_s=line.breakaway_time_s),
        plateau=PlateauForce(force=_measured(line.kinetic_force_N), start_s=from_s, end_s=to_s),
        stick_slip=None if saw is None else StickSlip(
            high=_measured(saw.high_N), low=_measured(saw.low_N), mean=_measured(saw.mean_N), count=saw.count,
            rhythm_Hz=saw.rhythm_Hz, mean_is_kinetic=saw.mean_is_kinetic,
        ),
        phases=tuple(_phases(line)),
        findings=tuple(Finding(f.name, f.sentence, f.fix) for f in line.findings),
        verdict=Verdict(line.verdict),
        static_coefficient=None if line.static_coefficient is None else _measured(line.static_coefficient, "1"),
        kinetic_coefficient=None if line.kinetic_coefficient is None else _measured(line.kinetic_coefficient, "1"),
    )  # fmt: skip


def with_samples(pull: Pull, window: PullWindow) -> Pull:
    """Return a pull with its own samples, and the rests that they show before and after it."""
    time_s = window.trace.time_s
    moving = tuple(phase for phase in pull.phases if phase.name != "rest")
    if time_s.size == 0:
        return replace(pull, window=window, phases=moving)
    rests = (
        Phase("rest", float(time_s[0]), window.start_s),
        Phase("rest", window.end_s, float(time_s[-1])),
    )
    before, after = ((rest,) if rest.end_s > rest.start_s else () for rest in rests)
    return replace(pull, window=window, phases=(*before, *moving, *after))


def _measured(record: MeasuredRecord | None, unit: str = "N") -> Measured:
    if record is None:
        return Measured.cannot_tell("it was not kept", unit=unit)
    return Measured(
        kind=record.kind,  # type: ignore[arg-type]
        value=record.value, standard_uncertainty=record.standard_uncertainty, limits=record.limits, unit=unit,
        reason=record.reason,
    )  # fmt: skip


def _phases(line: PullRecord) -> Iterator[Phase]:
    start_s, end_s = line.start_s or 0.0, line.end_s or 0.0
    moments: list[tuple[str, float]] = [("loading", start_s)]
    if line.breakaway_time_s is not None:
        moments.append(("transition", line.breakaway_time_s))
    if line.sliding_s is not None:
        moments += [("kinetic", line.sliding_s[0]), ("release", line.sliding_s[1])]
    ends = [*(moment for _, moment in moments[1:]), end_s]
    for (name, from_s), to_s in zip(moments, ends, strict=True):
        if to_s > from_s:
            yield Phase(name, from_s, to_s)  # type: ignore[arg-type]
