"""A load ladder as one JSON object: SI units, every digit of the double, no NaN, always the same keys."""

from __future__ import annotations

import msgspec

from pullbench.model import Diagnosis, Ladder, LoadLine, Measured
from pullbench.render.line_words import (
    diagnosis_sentence,
    fix_sentence,
    in_kilograms,
    law_sentence,
    statistics_sentence,
)

Limits = tuple[float | None, float | None] | None


class NumberRecord(msgspec.Struct, frozen=True):
    """A result and its 95 % limits; all null when it cannot be told."""

    value: float | None
    standard_uncertainty: float | None
    limits: Limits


class LineRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One line: coefficient, force at no load, what it rests on.

    scatter, scatter_N: between pulls, as a share of the force and as newtons alike at every load.
    """

    slope: NumberRecord
    intercept_N: NumberRecord
    pulls: int
    loads: int
    lack_of_fit_p: float | None
    scatter: float | None
    scatter_N: float | None


class SizeRecord(msgspec.Struct, frozen=True):
    """How much, in what unit; an open limit is null."""

    value: float | None
    unit: str
    limits: Limits


class DiagnosisRecord(msgspec.Struct, frozen=True, kw_only=True):
    """What is wrong: its fixed name, what was seen, what to do, how much, what else fits nearly as well."""

    name: str
    sentence: str
    fix: str
    size: SizeRecord
    fits_as_well: tuple[str, ...]


class HiddenRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A hidden load by one line: all that presses (N), and its mass without the sled (kg); why untold."""

    normal_N: NumberRecord
    load_kg: NumberRecord
    reason: str | None


class MysteryRecord(msgspec.Struct, frozen=True):
    """The hidden load by each line, null where no force was told."""

    static: HiddenRecord | None
    kinetic: HiddenRecord | None


class LadderRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The whole ladder; statistics: the sentence for a colleague; set_aside: pulls left out."""

    kinetic: LineRecord | None
    static: LineRecord | None
    sentence: str
    statistics: str
    diagnoses: tuple[DiagnosisRecord, ...]
    set_aside: int
    mystery: MysteryRecord | None


def line_record(ladder: Ladder, *, sled_kg: float = 0.0) -> bytes:
    """Return the ladder as one JSON object in UTF-8, without a line end.

    sled_kg: known part of a hidden load.
    """
    hidden = ladder.mystery
    return msgspec.json.encode(
        LadderRecord(
            kinetic=_line(ladder.kinetic),
            static=_line(ladder.static),
            sentence=law_sentence(ladder),
            statistics=statistics_sentence(ladder),
            diagnoses=tuple(_diagnosis(one, ladder) for one in ladder.diagnoses),
            set_aside=sum(pull.set_aside is not None for pull in ladder.pulls),
            mystery=None if hidden is None else MysteryRecord(
                _hidden(hidden.static, ladder.g_m_s2, sled_kg), _hidden(hidden.kinetic, ladder.g_m_s2, sled_kg)
            ),
        )
    )  # fmt: skip


def _line(line: LoadLine | None) -> LineRecord | None:
    if line is None:
        return None
    return LineRecord(
        slope=_number(line.slope), intercept_N=_number(line.intercept), pulls=line.pulls, loads=line.loads,
        lack_of_fit_p=line.lack_of_fit_p, scatter=line.scatter if line.dof > 0 else None,
        scatter_N=line.scatter_N if line.dof > 0 else None,
    )  # fmt: skip


def _diagnosis(one: Diagnosis, ladder: Ladder) -> DiagnosisRecord:
    return DiagnosisRecord(
        name=one.name,
        sentence=diagnosis_sentence(one, ladder),
        fix=fix_sentence(one),
        size=SizeRecord(one.size.value, one.size.unit, one.size.limits),
        fits_as_well=one.rivals,
    )


def _hidden(force: Measured | None, g_m_s2: float, sled_kg: float) -> HiddenRecord | None:
    if force is None:
        return None
    mass = in_kilograms(force, g_m_s2, sled_kg)
    return HiddenRecord(normal_N=_number(force), load_kg=_number(mass), reason=force.reason)


def _number(told: Measured) -> NumberRecord:
    return NumberRecord(told.value, told.standard_uncertainty, told.limits)
