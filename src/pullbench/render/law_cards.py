"""A day's laws as the page takes them: the drawing, the record of the command, both voices, who is left out."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from pullbench.errors import PullbenchError
from pullbench.model import Comparison, DayPull, Ladder, Prediction, Slip, TiltCheck
from pullbench.render.compare_json import compare_record
from pullbench.render.compare_picture import compare_svg
from pullbench.render.compare_words import (
    HOLDS_FOR,
    LIMITS_OF_PAIRS,
    colleague_other_sentences,
    colleague_pair_sentences,
    colleague_sentences,
    difference_words,
    other_sentences,
    pair_sentences,
    room_sentences,
    together_sentences,
)
from pullbench.render.line_json import line_record
from pullbench.render.line_picture import line_svg
from pullbench.render.line_words import (
    aside_sentence,
    diagnosis_sentence,
    fix_sentence,
    law_sentence,
    statistics_sentence,
)
from pullbench.render.rounding import figures_of
from pullbench.render.tilt_picture import tilt_svg
from pullbench.render.tilt_text import tilt_colleague, tilt_record, tilt_sentences
from pullbench.render.tokens import RoomName
from pullbench.render.told import NEWTONS, told

ALONE = "The loads are without the sled, which was not weighed."


class Greyed(msgspec.Struct, frozen=True):
    """A pull that does not count, and why."""

    n: int
    why: str


class DiagnosisCard(msgspec.Struct, frozen=True):
    """What is wrong with a ladder, and the one thing to do."""

    name: str
    sentence: str
    fix: str


class LadderCard(msgspec.Struct, frozen=True, kw_only=True):
    """The Load ladder.  cannot: why there is none yet; then what belongs to a line is None or empty."""

    svg: str | None = None
    record: msgspec.Raw | None = None
    room_sentence: str = ""
    colleague_sentence: str = ""
    diagnoses: tuple[DiagnosisCard, ...] = ()
    pulls: tuple[int, ...]
    greyed: tuple[Greyed, ...]
    surface: str
    surfaces: tuple[str, ...]
    cannot: str | None = None


class SurfaceCard(msgspec.Struct, frozen=True):
    """A surface and the pulls on it that count."""

    name: str
    pulls: tuple[int, ...]


class SurfacesCard(msgspec.Struct, frozen=True, kw_only=True):
    """Surfaces side by side.  each: a sentence a pair, where there are several; colleague_each: their tests."""

    svg: str | None = None
    record: msgspec.Raw | None = None
    sentence: str = ""
    colleague_sentence: str = ""
    each: tuple[str, ...] = ()
    colleague_each: tuple[str, ...] = ()
    surfaces: tuple[SurfaceCard, ...]
    greyed: tuple[Greyed, ...]
    cannot: str | None = None


class TiltReadingCard(msgspec.Struct, frozen=True, kw_only=True):
    """One trial; i: its place in the day, by which it is left out."""

    i: int
    kind: str
    angle_deg: float
    acceleration_m_s2: float | None
    surface: str
    aside: str | None


class TiltCard(msgspec.Struct, frozen=True, kw_only=True):
    """The Tilt check.  pulls: those on the level that it is held against."""

    svg: str | None = None
    record: msgspec.Raw | None = None
    sentence: str = ""
    colleague_sentence: str = ""
    readings: tuple[TiltReadingCard, ...]
    surface: str = ""
    pulls: tuple[int, ...] = ()
    cannot: str | None = None


class SlipCard(msgspec.Struct, frozen=True):
    """What one who watches said."""

    value_N: float | None
    plus_minus_N: float | None


class OutcomeCard(msgspec.Struct, frozen=True, kw_only=True):
    """What it was: the pull, its result in words, its limits in newtons; option: the answer that came out."""

    pull: int | None
    told: str
    value_N: float | None = None
    low_N: float | None = None
    high_N: float | None = None
    label: str | None = None
    option: str | None = None


class PredictionCard(msgspec.Struct, frozen=True, kw_only=True):
    """A question to the class.  Slips and counts are told once it is revealed, before that their number alone.

    decided: the pull that settles it has been read.
    """

    state: str
    kind: str
    quantity: str
    question: str
    options: tuple[str, ...]
    count: int
    committed_before_pull: int | None
    decided: bool
    slips: tuple[SlipCard, ...] | None = None
    counts: dict[str, int] | None = None
    outcome: OutcomeCard | None = None
    sentence: str = ""


def ladder_card(
    found: Ladder, *, room: RoomName, label: str | None, pulls: tuple[int, ...], greyed: tuple[Greyed, ...],
    surface: str, surfaces: tuple[str, ...], alone: bool,
) -> LadderCard:  # fmt: skip
    """Return a ladder drawn and told.  alone: the sled is not in the loads."""
    said = [law_sentence(found), ALONE if alone else ""]
    return LadderCard(
        svg=line_svg(found, title=surface, room=room, label=label, in_page=True),
        record=msgspec.Raw(line_record(found)),
        room_sentence=" ".join(filter(None, said)),
        colleague_sentence=" ".join(filter(None, [statistics_sentence(found), aside_sentence(found)])),
        diagnoses=tuple(
            DiagnosisCard(one.name, diagnosis_sentence(one, found), fix_sentence(one)) for one in found.diagnoses
        ),
        pulls=pulls, greyed=greyed, surface=surface, surfaces=surfaces,
    )  # fmt: skip


def surfaces_card(
    found: Comparison, *, room: RoomName, label: str | None, surfaces: tuple[SurfaceCard, ...],
    greyed: tuple[Greyed, ...],
) -> SurfacesCard:  # fmt: skip
    """Return surfaces drawn and told; three and more with one sentence for all, and their pairs by themselves."""
    together = together_sentences(found)
    room_words = [*together, HOLDS_FOR] if together else room_sentences(found)
    colleague = colleague_other_sentences(found) if together else colleague_sentences(found)
    return SurfacesCard(
        svg=compare_svg(found, room=room, label=label, in_page=True), record=msgspec.Raw(compare_record(found)),
        sentence=" ".join(room_words), colleague_sentence=" ".join(colleague), surfaces=surfaces, greyed=greyed,
        each=(*pair_sentences(found), *other_sentences(found)) if together else (),
        colleague_each=(*colleague_pair_sentences(found), LIMITS_OF_PAIRS) if together else (),
    )  # fmt: skip


def tilt_card(
    check: TiltCheck, *, room: RoomName, label: str | None, readings: tuple[TiltReadingCard, ...], surface: str,
    pulls: tuple[int, ...], narrow: bool = False,
) -> TiltCard:  # fmt: skip
    """Return a tilt check drawn and told.  narrow: drawn for a phone."""
    return TiltCard(
        svg=tilt_svg(check, title=surface, room=room, label=label, in_page=True, narrow=narrow),
        record=msgspec.Raw(tilt_record(check)),
        sentence=" ".join(tilt_sentences(check)), colleague_sentence=" ".join(tilt_colleague(check)),
        readings=readings, surface=surface, pulls=pulls,
    )  # fmt: skip


def cannot_words(fault: PullbenchError) -> str:
    """Return why there is no law yet, for the page: options of the command line mean nothing there."""
    step = "" if "--" in fault.next_step else fault.next_step
    return " ".join(filter(None, [fault.what, fault.allowed, step]))


def prediction_card(
    asked: Prediction, *, pull: DayPull | None, found: Comparison | None, decided: bool
) -> PredictionCard:
    """Return a question as everybody may see it.  pull: the one that settles it; found: of the surfaces among the
    answers.  Both are looked at once it is revealed.
    """
    revealed = asked.state == "revealed"
    outcome = _outcome(asked, pull, found) if revealed else None
    return PredictionCard(
        state=asked.state, kind=asked.kind, quantity=asked.quantity, question=asked.question, options=asked.options,
        count=asked.count, committed_before_pull=asked.committed_before_pull, decided=decided,
        slips=tuple(SlipCard(s.value_N, s.plus_minus_N) for s in asked.slips)
        if revealed and asked.kind == "number" else None,
        counts={o: sum(s.option == o for s in asked.slips) for o in asked.options}
        if revealed and asked.kind == "which" else None,
        outcome=outcome, sentence=_sentence(asked, outcome),
    )  # fmt: skip


def _outcome(asked: Prediction, pull: DayPull | None, found: Comparison | None) -> OutcomeCard:
    if asked.kind == "which":
        said = [difference_words(one) for one in found.differences] if found is not None else []
        words = " ".join(said) or (f"{asked.option}, the teacher says" if asked.option else "cannot tell")
        return OutcomeCard(pull=None if pull is None else pull.number, told=words, option=asked.option)
    if pull is None:
        return OutcomeCard(pull=asked.pull, told="cannot tell: that pull no longer counts")
    force = told(pull.static if asked.quantity == "static_N" else pull.kinetic, scale=NEWTONS)
    return OutcomeCard(
        pull=pull.number,
        told=force.whole,
        value_N=force.value,
        low_N=force.low,
        high_N=force.high,
        label=pull.label,
    )


def _sentence(asked: Prediction, outcome: OutcomeCard | None) -> str:
    slips = "1 slip" if asked.count == 1 else f"{asked.count} slips"
    if asked.state == "open":
        return f"{slips} handed in."
    if outcome is None:
        return f"{slips} committed before pull {asked.committed_before_pull}."
    if asked.kind == "which":
        counts = "; ".join(f"{o}: {sum(s.option == o for s in asked.slips)}" for o in asked.options)
        came = (
            f"It was {outcome.option}." if outcome.option else "Which it was cannot be told from these pulls."
        )
        return f"{slips}: {counts}. {came}"
    return f"{_middle_words(asked.slips, slips)} {_hit_words(asked.slips, outcome)}".strip()


def _middle_words(slips: Sequence[Slip], count: str) -> str:
    """Return where the middle half of the slips lies: what people said, so that there is no plus or minus."""
    values = sorted(abs(slip.value_N) for slip in slips if slip.value_N is not None)
    low, high = values[(len(values) - 1) // 4], values[-1 - (len(values) - 1) // 4]
    if len(values) < 4:
        return f"{count}, from {figures_of(values[0])} N to {figures_of(values[-1])} N."
    return f"{count}, the middle half from {figures_of(low)} N to {figures_of(high)} N."


def _hit_words(slips: Sequence[Slip], outcome: OutcomeCard) -> str:
    """Return the outcome, and how many slips reach it with their own plus or minus."""
    if outcome.value_N is None:
        return f"{outcome.told[:1].upper()}{outcome.told[1:]}."
    said = f"Pull {outcome.pull}: {outcome.told}{f' ({outcome.label})' if outcome.label else ''}."
    sure = [s for s in slips if s.plus_minus_N is not None and s.value_N is not None]
    if not sure:
        return said
    low, high = outcome.low_N or outcome.value_N, outcome.high_N or outcome.value_N
    hits = sum(
        s.value_N - s.plus_minus_N <= high and s.value_N + s.plus_minus_N >= low
        for s in sure if s.value_N is not None and s.plus_minus_N is not None
    )  # fmt: skip
    return f"{said} {hits} of {len(sure)} slips with a plus or minus reach it."
