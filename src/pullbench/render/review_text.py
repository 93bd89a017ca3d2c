"""A class review as text: every answer with what came of it, then counts by slip and by idea, no names."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.model.review import ClassReview, Flag, Outcome, PartReview
from pullbench.teach.ideas import IDEAS

_OUTCOMES: dict[Outcome, str] = {
    "right": "right", "follows": "right, follows from {}", "idea": "not right: {}",
    "unclear": "not right: more than one way leads here", "unit": "right number, unit of another quantity",
    "wrong": "not right", "unreadable": "cannot be read",
}  # fmt: skip
_COUNTED: dict[Outcome, str] = {
    "right": "right", "follows": "right, following from an earlier answer", "idea": "with one idea or slip behind it",
    "unclear": "with more than one way behind it: ask for the working", "unit": "right number, another quantity's unit",
    "wrong": "not right, no known way behind it", "unreadable": "cannot be read",
}  # fmt: skip
_FLAGS: dict[Flag, str] = {
    "unit-missing": "unit left out", "unit-other": "given in another unit", "figures-few": "too few figures",
    "figures-many": "too many figures",
}  # fmt: skip
PROPOSED = "Proposed: look it through, then approve it with --approve. Nothing is handed back before."
APPROVED = "Approved."
WIDE = 18


def review_text(review: ClassReview, *, made_with: str) -> str:
    """Return the whole review for the teacher.  made_with: what the problems' coefficients are."""
    state = APPROVED if review.state == "approved" else PROPOSED
    return "\n".join(
        [
            f"Review of set {review.code}. {state}",
            made_with,
            *_sheets(review),
            *_counts(review),
            *_left(review),
        ]
    )


def slips_text(review: ClassReview) -> str:
    """Return what is handed back, one slip a seat with the sentences alone.

    Raises ValueError for a review that was not approved: a proposal is not handed back.
    """
    if review.state != "approved":
        raise ValueError("a proposed review is not handed back")
    lines: list[str] = []
    for seat in sorted({sheet.seat for sheet in review.sheets}):
        lines += [f"Set {review.code}, seat {seat}"]
        for sheet in review.sheets:
            if sheet.seat == seat:
                lines += [_slip(sheet.number, part) for part in sheet.review.parts]
        lines.append("")
    return "\n".join(lines)


def _slip(number: int, part: PartReview) -> str:
    told = " ".join(part.told) or "Right."
    head = "Right. " if part.outcome == "right" and part.told else ""
    return f"  {number}{part.key}  {part.typed.strip()}: {head}{told}"


def _sheets(review: ClassReview) -> Iterator[str]:
    seat = None
    for sheet in review.sheets:
        if sheet.seat != seat:
            seat = sheet.seat
            yield f"Seat {seat}"
        for part in sheet.review.parts:
            flags = "".join(f"; {_FLAGS[flag]}" for flag in part.flags)
            outcome = _OUTCOMES[part.outcome].format(part.follows or part.idea)
            yield f"  {sheet.number}{part.key}  {part.typed.strip():<{WIDE}}  {outcome}{flags}"
            yield from (f"      {sentence}" for sentence in part.told)


def _counts(review: ClassReview) -> Iterator[str]:
    total = sum(review.outcomes.values())
    yield f"Of {total} answer{'' if total == 1 else 's'}"
    yield from (f"  {count:>4}  {_COUNTED[outcome]}" for outcome, count in review.outcomes.items() if count)
    yield from (
        f"  {count:>4}  {_FLAGS[flag]} (not marked wrong)" for flag, count in review.flags.items() if count
    )
    for kind, heading in (("idea", "By idea"), ("slip", "By slip")):
        named = [(idea, count) for idea, count in review.ideas.items() if _sort(idea) == kind]
        yield from ([heading, *(f"  {count:>4}  {idea}" for idea, count in named)] if named else [])


def _sort(idea: str) -> str:
    known = IDEAS.get(idea)
    return "slip" if known is None else known.kind


def _left(review: ClassReview) -> Iterator[str]:
    if review.complaints:
        yield "Lines to mend"
        yield from (f"  {complaint}" for complaint in review.complaints)
