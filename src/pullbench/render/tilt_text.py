"""The Tilt check as text for people, and as one JSON object."""

from __future__ import annotations

import msgspec

from pullbench.model import Agreement, TiltCheck
from pullbench.render.compare_text import wrapped
from pullbench.render.compare_words import HOLDS_FOR, p_words
from pullbench.render.pull_json import FindingRecord, MeasuredRecord, measured_record
from pullbench.render.rounding import figures_of, fixed, plus_minus

AGREEMENT = {True: "agree", False: "disagree", None: "cannot tell"}


class AgreementRecord(msgspec.Struct, frozen=True, kw_only=True):
    """Tilt against pull: agree, disagree or cannot tell, within the margin."""

    quantity: str
    pull: MeasuredRecord
    difference: MeasuredRecord
    margin: float | None
    p: float | None
    answer: str


class TiltRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The whole Tilt check; kinetic is null without accelerations."""

    slides_deg: tuple[float, ...]
    holds_deg: tuple[float, ...]
    static: MeasuredRecord
    kinetic: MeasuredRecord | None
    agreements: tuple[AgreementRecord, ...]
    findings: tuple[FindingRecord, ...]
    sentence: str
    colleague: str


def tilt_text(check: TiltCheck, *, comma: bool = False) -> str:
    """Return the sentences for the room, then the statistics.  No line is over 100 columns."""
    lines = [line for said in tilt_sentences(check, comma=comma) for line in wrapped(said)]
    lines += ["", "For the colleague with the statistics:"]
    lines += [line for said in tilt_colleague(check, comma=comma) for line in wrapped(said, "  ")]
    return "\n".join(lines)


def tilt_table(check: TiltCheck, *, comma: bool = False) -> str:
    """Return the numbers alone, one a line."""
    rows = [f"static by tilt   {plus_minus(check.static, comma=comma)}"]
    rows += [f"kinetic by tilt  {plus_minus(check.kinetic, comma=comma)}"] if check.kinetic else []
    for one in check.agreements:
        rows.append(f"{one.quantity} by pull   {plus_minus(one.pull, comma=comma)}  {AGREEMENT[one.same]}")
    return "\n".join(rows)


def tilt_record(check: TiltCheck) -> bytes:
    """Return the Tilt check as one JSON object in UTF-8, without a line end."""
    return msgspec.json.encode(
        TiltRecord(
            slides_deg=check.slides_deg,
            holds_deg=check.holds_deg,
            static=measured_record(check.static),
            kinetic=None if check.kinetic is None else measured_record(check.kinetic),
            agreements=tuple(map(_agreement_record, check.agreements)),
            findings=tuple(FindingRecord(f.name, f.sentence, f.fix) for f in check.findings),
            sentence=" ".join(tilt_sentences(check)),
            colleague=" ".join(tilt_colleague(check)),
        )
    )


def tilt_sentences(check: TiltCheck, *, comma: bool = False) -> list[str]:
    """Return what the room hears."""
    told = [
        f"Static coefficient from the tilt: {plus_minus(check.static, comma=comma)}{_why(check.static.reason)}."
    ]
    if check.kinetic is not None:
        size = plus_minus(check.kinetic, comma=comma)
        told.append(f"Kinetic coefficient from how it sped up: {size}{_why(check.kinetic.reason)}.")
    told += [_agreement_words(one, comma) for one in check.agreements]
    told += [f"{finding.sentence} {finding.fix}" for finding in check.findings]
    return [*told, HOLDS_FOR]


def tilt_colleague(check: TiltCheck, *, comma: bool = False) -> list[str]:
    """Return where the doubt comes from, and the tests."""
    trials = f"Slides: {len(check.slides_deg)}, holds: {len(check.holds_deg)}; μs = tan θ"
    told = [
        f"{trials}, scatter between trials (Student's t) and the angle gauge's shared doubt in the limits."
    ]
    return told + [
        f"{one.quantity}, tilt − pull: {plus_minus(one.difference, comma=comma)} on "
        f"{fixed(one.difference.budget.effective_dof, 1, comma=comma)} degrees of freedom; two one-sided tests "
        f"against ±{figures_of(one.margin, comma=comma)}, {p_words(one.p, comma=comma)}."
        for one in check.agreements
        if one.p is not None
    ]


def _agreement_words(one: Agreement, comma: bool) -> str:
    if one.difference.value is None:
        return f"Tilt against pull, {one.quantity}: cannot tell ({one.difference.reason})."
    by = f"tilt − pull = {plus_minus(one.difference, comma=comma)}"
    roads = f"tilt and pull ({one.quantity} {plus_minus(one.pull, comma=comma)})"
    margin = figures_of(one.margin, comma=comma)
    if one.same:
        return f"Two roads, one number: {roads} agree within {margin}: {by}."
    if one.same is None:
        return (
            f"Cannot tell yet whether {roads} agree within {margin}: {by}. More slides and more pulls would."
        )
    return (
        f"Two roads, two numbers: {roads} disagree: {by}. Was it the same spot, the same wait, the same sole?"
    )


def _agreement_record(one: Agreement) -> AgreementRecord:
    return AgreementRecord(
        quantity=one.quantity,
        pull=measured_record(one.pull),
        difference=measured_record(one.difference),
        margin=one.margin,  # not finite, when the pull tells nothing: msgspec writes null
        p=one.p,
        answer=AGREEMENT[one.same],
    )


def _why(reason: str | None) -> str:
    return f" ({reason})" if reason else ""
