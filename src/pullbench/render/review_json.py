"""A class review as one JSON object, for programs."""

from __future__ import annotations

import msgspec

from pullbench.model.review import ClassReview, PartReview


class AnswerRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One answer.  value: in the part's unit, or the option from 0; null when it cannot be read."""

    seat: int
    problem: int
    part: str
    kind: str
    typed: str
    value: float | None
    outcome: str
    idea: str | None
    follows: str | None
    flags: tuple[str, ...]
    told: tuple[str, ...]


class ReviewRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A review of a set.  state: proposed or approved.  label: "simulated" or such, or null."""

    code: str
    state: str
    made_with: str
    label: str | None
    outcomes: dict[str, int]
    flags: dict[str, int]
    ideas: dict[str, int]
    answers: tuple[AnswerRecord, ...]
    complaints: tuple[str, ...]


def review_record(review: ClassReview, *, made_with: str, label: str | None) -> bytes:
    """Return a class review as JSON in UTF-8."""
    return msgspec.json.encode(
        ReviewRecord(
            code=review.code, state=review.state, made_with=made_with, label=label,
            outcomes={str(name): count for name, count in review.outcomes.items()},
            flags={str(name): count for name, count in review.flags.items()}, ideas=dict(review.ideas),
            answers=tuple(
                _answer(part, sheet.seat, sheet.number, sheet.review.kind)
                for sheet in review.sheets for part in sheet.review.parts
            ),
            complaints=review.complaints,
        )
    )  # fmt: skip


def _answer(part: PartReview, seat: int, number: int, kind: str) -> AnswerRecord:
    return AnswerRecord(
        seat=seat, problem=number, part=part.key, kind=kind, typed=part.typed, value=part.value,
        outcome=part.outcome, idea=part.idea, follows=part.follows, flags=part.flags, told=part.told,
    )  # fmt: skip
