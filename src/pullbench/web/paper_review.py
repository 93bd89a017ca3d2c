"""Reviews of typed answers, made from what the page asks.  Nothing of them is kept anywhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import msgspec

from pullbench.errors import PageError
from pullbench.live import Session
from pullbench.live.lesson import DayRead
from pullbench.model.review import ClassReview
from pullbench.render.review_json import review_record
from pullbench.render.review_text import slips_text
from pullbench.render.sheets import ClassSet
from pullbench.sources.answer_rows import answer_rows
from pullbench.teach.approval import approved_parts, by_seat
from pullbench.teach.class_review import class_review
from pullbench.teach.ideas import IDEAS
from pullbench.teach.problems import KINDS
from pullbench.web.paper_bodies import ReviewBody, SlipsBody
from pullbench.web.paper_lesson import said
from pullbench.web.paper_made import class_set


def review(session: Session, asked: ReviewBody) -> dict[str, object]:
    """Return the proposed review of typed answers."""
    done, made, read, notes = _reviewed(session, asked)
    about = said(session, asked, read, notes)
    record = review_record(done, made_with=str(about["told"]), label=made.pair.label)
    return {
        **about,
        "seats": len(made.versions),
        "review": msgspec.Raw(record),
        "named": _kinds_of_ideas(done.ideas),
    }


def hand_back(session: Session, asked: SlipsBody) -> dict[str, object]:
    """Return the slips of the answers that were approved, one text a seat."""
    done, made, _, _ = _reviewed(session, asked)
    slips = [slips_text(own).strip() for own in by_seat(approved_parts(done, asked.approved))]
    if not slips:
        raise PageError(
            "review-not-approved", "No answer was approved.", "Only what was approved is handed back.",
            "Look the review through, then approve answers.",
        )  # fmt: skip
    return {"code": made.code, "slips": slips}


def _reviewed(session: Session, asked: ReviewBody) -> tuple[ClassReview, ClassSet, DayRead, list[str]]:
    rows, unread = answer_rows(asked.answers.encode("utf-8"), "The field")
    made, read, notes = class_set(session, asked, code=asked.code.strip().upper())
    done = class_review(made.versions, KINDS, rows, code=made.code)
    told = sorted((*unread, *done.complaints), key=lambda sentence: int(sentence.split()[1]))
    return replace(done, complaints=tuple(told)), made, read, notes


def _kinds_of_ideas(found: Mapping[str, int]) -> dict[str, str]:
    """Return "idea" or "slip" for each that was named."""
    return {name: IDEAS[name].kind if name in IDEAS else "slip" for name in found}
