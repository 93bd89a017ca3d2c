"""Problem sheets and question packages, made from what the page asks."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from pullbench.errors import PageError
from pullbench.live import Session
from pullbench.live.handed_out import set_of_code
from pullbench.live.lesson import DayRead, day_ladder
from pullbench.model.problem import PairFriction, Problem
from pullbench.render.formula import plain_words
from pullbench.render.items import Bank, bank_csv, bank_text, package
from pullbench.render.items.made import bank_of
from pullbench.render.items.shown import item_shown
from pullbench.render.sheets import (
    ClassSet,
    Document,
    Style,
    as_pdf,
    html_page,
    key_sheet,
    lab_sheet,
    student_sheets,
)
from pullbench.render.sheets.one import one_sheet
from pullbench.render.sheets.words import caution
from pullbench.teach.ideas import IDEAS
from pullbench.teach.lesson import Lesson
from pullbench.teach.problems import ENGLISH
from pullbench.teach.set_making import (
    MOST_VARIANTS,
    check_levels,
    check_seats,
    check_seed,
    check_variants,
    item_columns,
    item_kinds,
    set_kinds,
    set_versions,
)
from pullbench.web.paper_bodies import ItemsBody, LookBody, SetBody, TakeBody, TakeItemsBody, What
from pullbench.web.paper_lesson import day_read, said
from pullbench.web.typed import named, whole

MOST_ON_PAGE = 20  # variants of a kind: all kinds take about a second then, beside a watch
_FILES: Mapping[What, str] = {"sheet": "sheets", "key": "key"}


@dataclass(frozen=True, slots=True)
class Taken:
    """A file that the page takes."""

    name: str
    kind: str
    data: bytes


def look(session: Session, asked: LookBody) -> tuple[dict[str, object], str]:
    """Return what is said of a set, and the page of it that is looked at.  Raises PageError and ConditionsError."""
    seat = whole(asked.seat, "seat")
    made, read, notes = class_set(session, asked, samples=asked.show == "lab")
    if not 1 <= seat <= len(made.versions):
        raise PageError(
            "seat-unknown", f"There is no seat {seat}.", f"The set has seats 1 to {len(made.versions)}.",
            "Look at one of these.",
        )  # fmt: skip
    style = _style(asked)
    document = _document(asked.show, made, read, style)
    shown = one_sheet(document, seat) if asked.show == "sheet" else document
    problems = made.versions[seat - 1]
    found = {
        **said(session, asked, read, notes), "code": made.code, "seats": len(made.versions), "seat": seat,
        "problems": [{"kind": p.kind, "title": plain_words(p.title), "level": p.level} for p in problems],
        "caution": caution([text for p in problems for text in (p.title, p.text)]), "lab": bool(read.pulls),
    }  # fmt: skip
    return found, html_page(shown, style)


def take(session: Session, asked: TakeBody) -> Taken:
    """Return a document of a set as a file.  Raises PageError, ConditionsError, and PullbenchError without typst."""
    made, read, _ = class_set(session, asked, samples=asked.what == "lab")
    style = _style(asked)
    document = _document(asked.what, made, read, style)
    name = f"lab-{_plain(read.day or '')}" if asked.what == "lab" else f"{_FILES[asked.what]}-{made.code}"
    if asked.form == "pdf":
        return Taken(f"{name}.pdf", "application/pdf", as_pdf(document, style))
    return Taken(f"{name}.html", "text/html; charset=utf-8", html_page(document, style).encode("utf-8"))


def look_at_item(session: Session, asked: ItemsBody) -> tuple[dict[str, object], str]:
    """Return what is said of a question package, and the page of one of its items."""
    bank, read, notes = _bank(session, asked)
    entries = tuple(bank.entries())
    if not 0 <= asked.at < len(entries):
        raise PageError(
            "item-unknown", f"There is no item {asked.at + 1}.", f"The package has items 1 to {len(entries)}.",
            "Look at one of these.",
        )  # fmt: skip
    firsts: dict[str, int] = {}
    for at, entry in enumerate(entries):
        firsts.setdefault(entry.problem.kind, at)
    shown = entries[asked.at]
    found = {
        **said(session, asked, read, notes), "items": len(entries), "at": asked.at, "name": shown.name,
        "kind": shown.problem.kind, "problems": sum(len(column) for column in bank.variants),
        "firsts": [{"kind": kind, "title": plain_words(ENGLISH[kind].title), "at": at} for kind, at in firsts.items()],
    }  # fmt: skip
    document = item_shown(bank, shown, comma=asked.comma)
    return found, html_page(document, Style(comma=asked.comma))


def take_items(session: Session, asked: TakeItemsBody) -> Taken:
    """Return a question package, or its table or text, as a file."""
    bank, _, _ = _bank(session, asked)
    name = f"items-{asked.seed.strip()}"
    if asked.form == "package":
        return Taken(
            f"{name}.zip", "application/zip", package(bank, pictures=asked.pictures, comma=asked.comma)
        )
    if asked.form == "csv":  # the mark at its head tells a spreadsheet that it is UTF-8
        return Taken(
            f"{name}.csv", "text/csv; charset=utf-8", b"\xef\xbb\xbf" + bank_csv(bank).encode("utf-8")
        )
    text = bank_text(bank, comma=asked.comma)
    return Taken(f"{name}.txt", "text/plain; charset=utf-8", text.encode("utf-8"))


def class_set(
    session: Session, asked: SetBody, *, samples: bool = False, code: str = ""
) -> tuple[ClassSet, DayRead, list[str]]:
    """Return the set that is asked for, the day it is made with, and notes of what was left out.

    code: on sheets that were handed out, perhaps before the day's last pulls.  Raises ConditionsError for another's.
    """
    seats, seed = whole(asked.seats, "seats"), whole(asked.seed, "seed")
    check_seats(seats, named)
    check_levels(asked.levels, named)
    check_seed(seed, named)
    names = set_kinds(asked.kinds or None, asked.levels if not asked.kinds else (), seed, named)
    read = day_read(session, asked, samples=samples)
    notes: list[str] = []

    def make(lesson: Lesson) -> ClassSet:
        problems, notes[:] = _versions(tuple(names), lesson.pair, seed, seats, bool(asked.kinds))
        return ClassSet(seed=seed, lesson=lesson, versions=problems)

    made = make(read.lesson)
    if code:
        made, read = set_of_code(code, made, read, make, asked.surfaces)
    return made, read, notes


def _bank(session: Session, asked: ItemsBody) -> tuple[Bank, DayRead, list[str]]:
    variants, seed = whole(asked.variants, "variants"), whole(asked.seed, "seed")
    if variants > MOST_ON_PAGE:
        raise PageError(
            "variants-out-of-range", f"{named('variants')} is {variants}.",
            f"On the page it must be from 1 to {MOST_ON_PAGE}: the bench comes first.",
            f"Mend {named('variants')}; the shell's command items makes up to {MOST_VARIANTS}.",
        )  # fmt: skip
    check_variants(variants, named)
    check_levels(asked.levels, named)
    check_seed(seed, named)
    names = item_kinds(asked.kinds or None, asked.levels if not asked.kinds else (), named)
    read = day_read(session, asked)
    columns, notes = _columns(tuple(names), read.lesson.pair, seed, variants, bool(asked.kinds))
    return bank_of(read.lesson, columns, _sentences(), comma=asked.comma), read, notes


def _document(what: What, made: ClassSet, read: DayRead, style: Style) -> Document:
    if what == "key":
        return key_sheet(made, style, _sentences())
    if what == "sheet":
        return student_sheets(made, style)
    if read.day is None or not read.pulls:
        raise PageError(
            "lab-without-pulls", "There is no pull for a lab sheet.", "It shows the pulls of a day.",
            "Pull first, or choose a day with pulls.",
        )  # fmt: skip
    return lab_sheet(read.pulls, read.lesson, day_ladder(read), day=read.day, style=style)


def _style(asked: SetBody) -> Style:
    return Style(
        paper=asked.paper, large_print=asked.large_print, plain_type=asked.plain_type, comma=asked.comma
    )  # fmt: skip


@lru_cache(maxsize=4)  # looking at another seat, at the key, and taking them, makes the set once
def _versions(
    names: tuple[str, ...], pair: PairFriction, seed: int, seats: int, chosen: bool
) -> tuple[tuple[tuple[Problem, ...], ...], list[str]]:
    return set_versions(names, pair, seed, seats, chosen=chosen)


@lru_cache(maxsize=4)  # stepping from item to item makes them once
def _columns(
    names: tuple[str, ...], pair: PairFriction, seed: int, variants: int, chosen: bool
) -> tuple[tuple[tuple[Problem, ...], ...], list[str]]:
    return item_columns(names, pair, seed, variants, chosen=chosen)


def _sentences() -> dict[str, str]:
    return {name: idea.sentence for name, idea in IDEAS.items()}


def _plain(text: str) -> str:
    return re.sub("[^0-9A-Za-z-]", "_", text)
