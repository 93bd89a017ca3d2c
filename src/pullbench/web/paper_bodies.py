"""What the page asks of problem sheets, item bank and sheet review.  What a teacher types comes as it was typed."""

from __future__ import annotations

from typing import Literal

import msgspec

from pullbench.live.lesson import USUAL_SURFACES
from pullbench.render.sheets import Paper

What = Literal["sheet", "key", "lab"]


class LessonBody(msgspec.Struct, forbid_unknown_fields=True, kw_only=True):
    """Which coefficients.  day: "today", "none" (the handbook) or a day of the logbook.  pulls: a list, "" for all."""

    day: str = "today"
    surfaces: str = USUAL_SURFACES
    load_kg: str = ""
    u_load_kg: str = ""
    string_deg: str = ""
    tilt_deg: str = ""
    pulls: str = ""
    sole: str = ""
    floor: str = ""
    seed: str = "1"
    levels: tuple[int, ...] = ()
    kinds: tuple[str, ...] = ()
    comma: bool = False


class SetBody(LessonBody, kw_only=True):
    """A class set and how it is set.  kinds: none for those of the levels."""

    seats: str = "1"
    paper: Paper = "a4"
    large_print: bool = False
    plain_type: bool = False


class LookBody(SetBody, kw_only=True):
    """What of a set is looked at."""

    show: What = "sheet"
    seat: str = "1"


class TakeBody(SetBody, kw_only=True):
    """What of a set is taken."""

    what: What = "sheet"
    form: Literal["pdf", "html"] = "pdf"


class ItemsBody(LessonBody, kw_only=True):
    """A question package.  at: the item that is looked at, from 0."""

    variants: str = "5"
    pictures: Literal["svg", "png"] = "svg"
    at: int = 0


class TakeItemsBody(ItemsBody, kw_only=True):
    """In what form a package is taken."""

    form: Literal["package", "csv", "text"] = "package"


class ReviewBody(SetBody, kw_only=True):
    """Typed answers to a set.  code: on the sheets, "" when not typed."""

    code: str = ""
    answers: str = ""


class SlipsBody(ReviewBody, kw_only=True):
    """Answers that are handed back: seat, problem, part of each."""

    approved: tuple[tuple[int, int, str], ...] = ()
