"""The coefficients that the page's choices stand for, and what is said of them."""

from __future__ import annotations

from dataclasses import replace

from pullbench.analysis import Conditions
from pullbench.errors import ConditionsError, LogbookError, PageError
from pullbench.live import Session
from pullbench.live.lesson import (
    AboutPulls,
    DayRead,
    handbook_lesson,
    lesson_of_day,
    lesson_today,
    pulls_told,
    stands_in,
)
from pullbench.physics import STANDARD_GRAVITY_M_S2, weight_N
from pullbench.render.formula import plain_words
from pullbench.render.sheets.class_set import coefficients_told
from pullbench.render.sheets.words import made_with
from pullbench.sources.handbook import handbook
from pullbench.teach.lesson import FLOOR, SOLE
from pullbench.teach.problems import ENGLISH, KINDS
from pullbench.web.paper_bodies import LessonBody
from pullbench.web.typed import doubt_of, named, number, numbers, surface

TODAY, NO_DAY = "today", "none"
_NEXT = {  # what is to be done, as the page says it
    "coefficient-includes-nought": "Pull a few more times, with more load, or take the handbook.",
    "surfaces-unknown": "Name two materials, such as oak on oak.",
    "set-differs": "Choose seed, kinds and pulls on Problem sheets as they were for these.",
}  # fmt: skip


def choices(session: Session) -> dict[str, object]:
    """Return what can be chosen: kinds with level and title, days with pulls, pairs of surfaces of the handbook."""
    days = (
        []
        if session.logbook is None
        else [row.day for row in session.logbook.days() if row.day != session.day]
    )
    kinds = [{"name": n, "level": k.level, "title": plain_words(ENGLISH[n].title)} for n, k in KINDS.items()]
    return {
        "kinds": kinds,
        "days": days[::-1],
        "surfaces": list(dict.fromkeys(r.pair for r in handbook().rows)),
    }


def for_page(mistake: ConditionsError) -> ConditionsError:
    """Return a mistake with the next step as the page has it."""
    step = _NEXT.get(mistake.code, mistake.next_step)
    return ConditionsError(mistake.code, mistake.what, mistake.allowed, step)


def day_read(session: Session, asked: LessonBody, *, samples: bool = False) -> DayRead:
    """Return the day that is asked for and its lesson.  Raises PageError, ConditionsError."""
    if asked.day == NO_DAY:
        return DayRead(lesson=handbook_lesson(asked.surfaces))
    about = AboutPulls(
        conditions=_conditions(asked), numbers=numbers(asked.pulls, "pulls"),
        sole=surface(asked.sole, "sole", SOLE), floor=surface(asked.floor, "floor", FLOOR),
    )  # fmt: skip
    if asked.day in (TODAY, session.day):
        return lesson_today(session, about, asked.surfaces, samples=samples)
    try:
        if session.logbook is None:
            raise LogbookError(
                "no-logbook", "This session keeps no logbook.", "Today's pulls are there.", "Choose today."
            )
        return lesson_of_day(session.logbook, asked.day[:20], about, asked.surfaces, samples=samples)
    except LogbookError as mistake:
        if mistake.code not in ("no-logbook", "day-unknown"):
            raise
        raise PageError(mistake.code, mistake.what, mistake.allowed, mistake.next_step) from mistake


def said(session: Session, asked: LessonBody, read: DayRead, notes: list[str]) -> dict[str, object]:
    """Return what is said of the coefficients, in words, with where they come from."""
    today = read.day == session.day
    lesson, pulls = read.lesson, pulls_told(read, today=today)
    if pulls:
        lesson = replace(lesson, pair=replace(lesson.pair, told=pulls))
    told = made_with(coefficients_told(lesson, comma=asked.comma), lesson.pair.label, lesson.pair.source)
    return {
        "told": plain_words(told, comma=asked.comma), "stands_in": stands_in(read, today=today),
        "label": lesson.pair.label, "source": lesson.pair.source, "notes": notes,
        "pulls": [one.number for one in read.pulls],
    }  # fmt: skip


def _conditions(asked: LessonBody) -> Conditions | None:
    """Return load and geometry as typed, None without a load."""
    load_kg = number(asked.load_kg, "load", "1.35")
    if load_kg is None:
        return None
    if not 0 < load_kg < 1000:
        raise PageError(
            "load-impossible", f"{named('load')} is {load_kg:g} kg.", "It must be above 0 kg and below 1000 kg.",
            "Type the mass of sled and load together.",
        )  # fmt: skip
    doubt_kg = number(asked.u_load_kg, "plus or minus", "0.01")
    u_kg = doubt_of(asked.load_kg, doubt_kg)
    return Conditions(
        weight_N=weight_N(load_kg), u_weight_N=u_kg * STANDARD_GRAVITY_M_S2,
        string_deg=_angle(asked.string_deg, "string"), tilt_deg=_angle(asked.tilt_deg, "slope"),
    )  # fmt: skip


def _angle(text: str, name: str) -> float:
    angle_deg = number(text, name, "3") or 0.0
    if not abs(angle_deg) < 90:
        raise PageError(
            "angle-impossible", f"{named(name)} is {angle_deg:g}°.", "It must lie strictly between -90° and 90°.",
            "Measure it from the surface, in degrees.",
        )  # fmt: skip
    return angle_deg
