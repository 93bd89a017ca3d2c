"""A planned lesson as one JSON object: SI units, every digit, no NaN, always the same keys."""

from __future__ import annotations

import msgspec

from pullbench.teach import Entry, Expected, Plan


class LoadRecord(msgspec.Struct, frozen=True):
    """One load (sled and tins): forces from lowest to highest coefficient; whether a pull leaves the range."""

    load_kg: float
    static_N: tuple[float, float]
    kinetic_N: tuple[float, float]
    clips: bool


class CoefficientRecord(msgspec.Struct, frozen=True):
    """The middle of the expected range, and the 95 % limits to expect (null: it stays hidden)."""

    value: float
    limits: tuple[float, float] | None
    pulls: int


class AdviceRecord(msgspec.Struct, frozen=True):
    """One piece of advice."""

    name: str
    sentence: str


class RowRecord(msgspec.Struct, frozen=True):
    """One row of the handbook."""

    pair: str
    condition: str
    static: tuple[float, float] | None
    kinetic: tuple[float, float] | None
    source: str
    licence: str
    seen: bool
    note: str


class PlanRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The whole plan."""

    simulated: bool = True
    pulls: int
    loads: tuple[LoadRecord, ...]
    kinetic_coefficient: CoefficientRecord
    static_coefficient: CoefficientRecord
    advice: tuple[AdviceRecord, ...]
    coefficients_from: str
    handbook: tuple[RowRecord, ...]
    remarks: tuple[str, ...]


def plan_record(plan: Plan, entry: Entry | None = None) -> bytes:
    """Return the plan as one JSON object in UTF-8, without a line end.

    entry: what the handbook says of the surfaces, when they were named.
    """
    rows = entry.rows if entry else ()
    return msgspec.json.encode(
        PlanRecord(
            pulls=plan.pulls,
            loads=tuple(
                LoadRecord(load.mass_kg, load.static_N, load.kinetic_N, load.clips) for load in plan.loads
            ),
            kinetic_coefficient=_coefficient(plan.kinetic),
            static_coefficient=_coefficient(plan.static),
            advice=tuple(AdviceRecord(one.name, one.sentence) for one in plan.advice),
            coefficients_from=plan.coefficients.source,
            handbook=tuple(
                RowRecord(r.pair, r.condition, r.static, r.kinetic, r.source, r.licence, r.seen, r.note)
                for r in rows
            ),
            remarks=entry.remarks if entry else (),
        )
    )


def _coefficient(known: Expected) -> CoefficientRecord:
    return CoefficientRecord(known.value, known.limits, known.readings)
