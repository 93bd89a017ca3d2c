"""A class set from options, made as `pullbench sheets` makes it, for review and question packages."""

from __future__ import annotations

from typing import Any

from pullbench.cli.lesson import day_read
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.live.handed_out import set_of_code
from pullbench.render.sheets import ClassSet
from pullbench.teach.lesson import Lesson
from pullbench.teach.set_making import check_levels, check_seats, check_seed, set_kinds, set_versions


def class_set(options: dict[str, Any]) -> tuple[ClassSet, tuple[str, ...]]:
    """Return the set that these options make, or made when its sheets were, and what is to be said about it.

    options: seed, seats, level, kinds, day, logbook, surfaces, code.  Raises ConditionsError and LogbookError as for
    sheets, and ConditionsError for a code of another set.
    """
    check_set(options)
    asked = kinds_asked(options)
    read = day_read(options["day"], options["logbook"], USUAL_LOGBOOK, options["surfaces"])
    notes: list[str] = []

    def make(lesson: Lesson) -> ClassSet:
        chosen = options["kinds"] is not None
        problems, left = set_versions(asked, lesson.pair, options["seed"], options["seats"], chosen=chosen)
        notes[:] = [*([lesson.note] if lesson.note else []), *left]
        return ClassSet(seed=options["seed"], lesson=lesson, versions=problems)

    made = make(read.lesson)
    if options["code"] is not None:
        made, _ = set_of_code(options["code"].strip().upper(), made, read, make, options["surfaces"])
    return made, tuple(notes)


def option(name: str) -> str:
    """Return an input as the shell calls it."""
    return f"--{name}"


def check_set(options: dict[str, Any]) -> None:
    """Refuse numbers that make no set, before any work.  Raises ConditionsError."""
    check_seats(options["seats"], option)
    check_levels(levels_of(options), option)
    check_seed(options["seed"], option)


def kinds_asked(options: dict[str, Any]) -> list[str]:
    """Return the names of the kinds of a set in their order.  Raises ConditionsError."""
    return set_kinds(names_of(options), levels_of(options), options["seed"], option)


def levels_of(options: dict[str, Any]) -> tuple[int, ...]:
    """Return the level asked for, none when nothing was said."""
    return () if options["level"] is None else (options["level"],)


def names_of(options: dict[str, Any]) -> list[str] | None:
    """Return the kinds that were named, None when none were."""
    kinds: str | None = options["kinds"]
    return None if kinds is None else kinds.split(",")
