"""What of a review the teacher approved: only that is handed back."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from pullbench.model.review import ClassReview

Place = tuple[int, int, str]  # seat, problem, part


def approved_parts(review: ClassReview, places: Collection[Place]) -> ClassReview:
    """Return the approved review of these answers alone; seats without one are left out, and so are complaints.

    What follows from an answer that is not handed back stays as it was judged.
    """
    wanted = frozenset(places)
    sheets = []
    for sheet in review.sheets:
        parts = tuple(
            part for part in sheet.review.parts if (sheet.seat, sheet.number, part.key) in wanted
        )  # fmt: skip
        if parts:
            sheets.append(replace(sheet, review=replace(sheet.review, parts=parts)))
    return replace(review, sheets=tuple(sheets), complaints=()).approved()


def by_seat(review: ClassReview) -> tuple[ClassReview, ...]:
    """Return a review as one review a seat, in order of seats."""
    seats = sorted({sheet.seat for sheet in review.sheets})
    return tuple(
        replace(review, sheets=tuple(sheet for sheet in review.sheets if sheet.seat == seat))
        for seat in seats
    )
