"""A pull as one JSON line: SI units, every digit of the double, no NaN, and always the same keys."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from pullbench.model import Finding, Measured, Pull, StickSlip


class MeasuredRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A result: kind, value, standard uncertainty, 95 % limits (an open one is null), reason."""

    kind: str
    value: float | None
    standard_uncertainty: float | None
    limits: tuple[float | None, float | None] | None
    reason: str | None


class FindingRecord(msgspec.Struct, frozen=True):
    """A finding: its name, what was seen, what to do."""

    name: str
    sentence: str
    fix: str


class StickSlipRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A sawtooth: typical high and low, time mean, slips counted, slips per second."""

    high_N: MeasuredRecord
    low_N: MeasuredRecord
    mean_N: MeasuredRecord
    count: int
    rhythm_Hz: float
    mean_is_kinetic: bool


class PullRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One line of output. A file without a pull has `pull` null, its findings, and null for the rest."""

    file: str
    pull: int | None
    start_s: float | None = None
    end_s: float | None = None
    direction: int | None = None
    breakaway_time_s: float | None = None
    breakaway_force_N: MeasuredRecord | None = None
    sliding_s: tuple[float, float] | None = None
    kinetic_force_N: MeasuredRecord | None = None
    rest_reading_N: MeasuredRecord | None = None
    stick_slip: StickSlipRecord | None = None
    static_coefficient: MeasuredRecord | None = None
    kinetic_coefficient: MeasuredRecord | None = None
    findings: tuple[FindingRecord, ...] = ()
    verdict: str | None = None


def pull_record(file: str, number: int | None, pull: Pull | None, findings: Sequence[Finding] = ()) -> bytes:
    """Return one JSON object in UTF-8, without a line end.

    file: as the reader knows it.  number: from 1, None without a pull.  findings: those of the file, put
    after the pull's own. Numbers keep full double precision: reading the line back gives the same floats.
    """
    own = pull.findings if pull else ()
    seen = tuple(FindingRecord(f.name, f.sentence, f.fix) for f in (*own, *findings))
    name = file.encode("utf-8", "replace").decode("utf-8")  # a file name may hold bytes that are no text
    if pull is None:
        return msgspec.json.encode(PullRecord(file=name, pull=None, findings=seen))
    return msgspec.json.encode(_record(name, number, pull, seen))


def _record(file: str, number: int | None, pull: Pull, findings: tuple[FindingRecord, ...]) -> PullRecord:
    plateau, moment = pull.plateau, pull.breakaway.time_s
    slid = plateau.start_s is not None and plateau.end_s is not None
    return PullRecord(
        file=file,
        pull=number,
        start_s=_number(pull.window.start_s),
        end_s=_number(pull.window.end_s),
        direction=pull.window.direction,
        breakaway_time_s=_number(moment),
        breakaway_force_N=_measured(pull.breakaway.force),
        sliding_s=((plateau.start_s or 0.0) + 0.0, (plateau.end_s or 0.0) + 0.0) if slid else None,
        kinetic_force_N=_measured(plateau.force),
        rest_reading_N=_measured(pull.rest_reading),
        stick_slip=_stick_slip(pull.stick_slip) if pull.stick_slip else None,
        static_coefficient=_measured(pull.static_coefficient),
        kinetic_coefficient=_measured(pull.kinetic_coefficient),
        findings=findings,
        verdict=str(pull.verdict),
    )


def _measured(measured: Measured | None) -> MeasuredRecord | None:
    return None if measured is None else measured_record(measured)


def measured_record(measured: Measured) -> MeasuredRecord:
    """Return a result as every JSON of ours writes it."""
    low, high = measured.limits or (None, None)
    return MeasuredRecord(
        kind=measured.kind,
        value=_number(measured.value),
        standard_uncertainty=_number(measured.standard_uncertainty),
        limits=None if measured.limits is None else (_number(low), _number(high)),
        reason=measured.reason,
    )


def _stick_slip(saw: StickSlip) -> StickSlipRecord:
    return StickSlipRecord(
        high_N=measured_record(saw.high),
        low_N=measured_record(saw.low),
        mean_N=measured_record(saw.mean),
        count=saw.count,
        rhythm_Hz=_number(saw.rhythm_Hz) or 0.0,
        mean_is_kinetic=saw.mean_is_kinetic,
    )


def _number(value: float | None) -> float | None:
    """Return value as a float; a negative zero loses its sign. msgspec writes what is not finite as null."""
    return None if value is None else float(value) + 0.0
