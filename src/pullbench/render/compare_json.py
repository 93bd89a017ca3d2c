"""Surfaces side by side as one JSON object: SI units, every digit, no NaN, always the same keys."""

from __future__ import annotations

import msgspec

from pullbench.model import (
    Comparison,
    Difference,
    Equivalence,
    Growth,
    More,
    OneWay,
    StaticKinetic,
    SurfaceLevel,
)
from pullbench.render.compare_words import colleague_sentences, room_sentences
from pullbench.render.pull_json import MeasuredRecord, measured_record


class LevelRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One surface in one quantity."""

    surface: str
    quantity: str
    mean: MeasuredRecord
    scatter: float | None
    pulls: int
    no_value: int
    set_aside: int


class DifferenceRecord(msgspec.Struct, frozen=True, kw_only=True):
    """Second against first.  verdict: larger, smaller or cannot tell; more_of_each: null when it is told."""

    first: str
    second: str
    quantity: str
    difference: MeasuredRecord
    ratio: MeasuredRecord
    t: float | None
    dof: float | None
    p: float | None
    holm_p: float | None
    verdict: str
    more_of_each: int | None


class EquivalenceRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The three-way answer against the margin."""

    first: str
    second: str
    quantity: str
    margin: float
    answer: str
    beyond_the_margin: bool
    p_lower: float | None
    p_upper: float | None
    holm_p: float | None
    limits_90: tuple[float, float] | None
    more_of_each: int | None


class GrowthRecord(msgspec.Struct, frozen=True, kw_only=True):
    """Static friction against the logarithm of a time."""

    against: str
    slope_per_decade: MeasuredRecord
    shown: bool
    pulls: int
    span_s: tuple[float, float] | None


class PairedRecord(msgspec.Struct, frozen=True, kw_only=True):
    """Static against kinetic in the same pulls."""

    surface: str
    difference: MeasuredRecord
    ratio: MeasuredRecord
    p: float | None
    pulls: int
    growth: tuple[GrowthRecord, ...]


class ComparisonRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The whole comparison; with_set_aside: the levels with the pulls that were set aside, else null."""

    unit: str
    surfaces: tuple[LevelRecord, ...]
    differences: tuple[DifferenceRecord, ...]
    equivalences: tuple[EquivalenceRecord, ...]
    one_way: dict[str, OneWay]
    static_against_kinetic: tuple[PairedRecord, ...]
    with_set_aside: tuple[LevelRecord, ...] | None
    sentence: str
    colleague: str


def compare_record(comparison: Comparison) -> bytes:
    """Return the comparison as one JSON object in UTF-8, without a line end."""
    aside = comparison.with_aside
    return msgspec.json.encode(
        ComparisonRecord(
            unit=comparison.unit,
            surfaces=tuple(map(_level, comparison.levels)),
            differences=tuple(map(_difference, comparison.differences)),
            equivalences=tuple(map(_equivalence, comparison.equivalences)),
            one_way=dict(comparison.together),
            static_against_kinetic=tuple(map(_paired, comparison.paired)),
            with_set_aside=None if aside is None else tuple(map(_level, aside.levels)),
            sentence=" ".join(room_sentences(comparison)),
            colleague=" ".join(colleague_sentences(comparison)),
        )
    )


def _level(level: SurfaceLevel) -> LevelRecord:
    return LevelRecord(
        surface=level.surface,
        quantity=level.quantity,
        mean=measured_record(level.mean),
        scatter=level.scatter,
        pulls=level.pulls,
        no_value=level.untold,
        set_aside=level.aside,
    )


def _difference(one: Difference) -> DifferenceRecord:
    return DifferenceRecord(
        first=one.first,
        second=one.second,
        quantity=one.quantity,
        difference=measured_record(one.difference),
        ratio=measured_record(one.ratio),
        t=one.t,
        dof=one.dof,
        p=one.p,
        holm_p=one.adjusted_p,
        verdict={True: "larger", False: "smaller", None: "cannot tell"}[one.larger],
        more_of_each=_more(one.more),
    )


def _equivalence(same: Equivalence) -> EquivalenceRecord:
    return EquivalenceRecord(
        first=same.first,
        second=same.second,
        quantity=same.quantity,
        margin=same.margin,
        answer=same.answer,
        beyond_the_margin=same.beyond,
        p_lower=same.p_lower,
        p_upper=same.p_upper,
        holm_p=same.adjusted_p,
        limits_90=same.limits_90,
        more_of_each=_more(same.more),
    )


def _paired(one: StaticKinetic) -> PairedRecord:
    return PairedRecord(
        surface=one.surface,
        difference=measured_record(one.difference),
        ratio=measured_record(one.ratio),
        p=one.p,
        pulls=one.pulls,
        growth=tuple(map(_growth, one.growths)),
    )


def _growth(one: Growth) -> GrowthRecord:
    return GrowthRecord(
        against=one.against,
        slope_per_decade=measured_record(one.slope),
        shown=one.shown,
        pulls=one.pulls,
        span_s=one.span_s,
    )


def _more(more: More | None) -> int | None:
    return None if more is None else more.of_each
