"""A day of a logbook as input of `line`, `pair`, `tilt` and `pool`, in place of tables and recordings."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import click

from pullbench.archive import Logbook
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.errors import ConditionsError, LogbookError
from pullbench.live import label_of, pulls_of_day
from pullbench.model import DayPull, TiltReading

_ONE_DAY = "Take the pulls of a day: today, latest or 2026-11-25."
_logbook_option = click.option(
    "--logbook", type=click.Path(path_type=Path), help=f"The logbook of --day; {USUAL_LOGBOOK} here."
)
surface_option = click.option("--surface", metavar="NAME", help="With --day: the pulls on one surface.")


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOfPulls:
    """What a logbook holds of a day.  label: must stand beside its numbers, "simulated" or "replayed", or None."""

    day: str
    pulls: tuple[DayPull, ...]
    tilts: tuple[TiltReading, ...]
    label: str | None


def day_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that take its input from a day of a logbook."""
    return _logbook_option(click.option("--day", metavar="DAY", help=_ONE_DAY)(command))


def days_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that take its input from one day of a logbook, or from several."""
    several = f"{_ONE_DAY} Several with commas, or all."
    return _logbook_option(click.option("--day", metavar="DAY[,DAY]", help=several)(command))


def asked_for_day(options: dict[str, Any], *, instead: dict[str, object]) -> bool:
    """Return whether the input is a day.

    instead: other inputs by what they are called; what is given of them contradicts a day.  Raises ConditionsError.
    """
    if options["day"] is None:
        for name in ("logbook", "surface"):
            if options.get(name) is not None:
                raise ConditionsError(
                    "day-missing", f"--{name} is given without --day.", "It belongs to the pulls of a day.",
                    "Add --day latest, or leave it out.",
                )  # fmt: skip
        return False
    given = next((name for name, value in instead.items() if value), None)
    if given is not None:
        raise ConditionsError(
            "day-and-more", f"--day {options['day']} is given with {given}.",
            "The pulls of a day have their loads and surfaces in the logbook.", f"Leave out --day, or {given}.",
        )  # fmt: skip
    return True


def day_of(options: dict[str, Any], *, tilted: bool = False) -> DayOfPulls:
    """Return the day that was asked for.  tilted: angles are enough.  Raises LogbookError, each kind with its code."""
    path = _logbook_path(options)
    with Logbook.open(path, now=time.time) as logbook:
        return _taken(logbook, _named(logbook, options["day"], path), path, tilted=tilted)


def days_of(options: dict[str, Any]) -> tuple[DayOfPulls, ...]:
    """Return the days that were asked for, in their order and each once.

    "all" is every day that holds a pull.  Raises LogbookError and ConditionsError, each kind with its own code.
    """
    path = _logbook_path(options)
    with Logbook.open(path, now=time.time) as logbook:
        if options["day"].strip().lower() == "all":
            days = [row.day for row in logbook.days() if row.pulls]
            names = days or [_named(logbook, "latest", path)]  # a day without a pull is told as such
        else:
            names = [_named(logbook, text, path) for text in options["day"].split(",")]
        return tuple(_taken(logbook, day, path) for day in sorted(set(names)))


def _logbook_path(options: dict[str, Any]) -> Path:
    path: Path = options["logbook"] or USUAL_LOGBOOK
    if not path.is_file():
        raise LogbookError(
            "logbook-missing", f"There is no logbook {path}.", "A watch makes one.",
            "Give --logbook the file of your watch.",
        )  # fmt: skip
    return path


def _taken(logbook: Logbook, day: str, path: Path, *, tilted: bool = False) -> DayOfPulls:
    pulls, tilts = pulls_of_day(logbook, day), tuple(row.reading for row in logbook.tilts(day))
    if not pulls and not (tilted and tilts):
        what = "neither a pull nor an angle" if tilted else "no pull"
        raise LogbookError(
            "day-without-pulls", f"The logbook {path} holds {what} of {day}.", "A line is made of a day's pulls."
            if not tilted else "A tilt check is made of a day's angles.",
            "Name another --day, or pull first.",
        )  # fmt: skip
    return DayOfPulls(day=day, pulls=pulls, tilts=tilts, label=label_of(pulls))


def _named(logbook: Logbook, text: str, path: Path) -> str:
    """Return a day as the logbook writes it: today and latest are names of one."""
    word = text.strip().lower()
    days = [row.day for row in logbook.days()]
    known = f"Its latest days: {', '.join(days[-5:])}." if days else "It holds no day at all."
    if word == "latest" and days:
        return days[-1]
    if word == "today":
        word = time.strftime("%Y-%m-%d", time.localtime())
    try:
        date.fromisoformat(word)
    except ValueError:
        if word != "latest":
            raise ConditionsError(
                "day-unreadable", f"--day is {text!r}.", "It is today, latest or a date such as 2026-11-25.",
                "Mend --day.",
            ) from None  # fmt: skip
    if word not in days and not logbook.tilts(word):
        raise LogbookError(
            "day-unknown", f"The logbook {path} has nothing of {'any day' if word == 'latest' else word}.", known,
            "Name one of them." if days else "Go on watch first.",
        )  # fmt: skip
    return word


def labelled(record: bytes, label: str | None) -> str:
    """Return a JSON object with the label at its end, as `watch --json` writes it; unchanged without one."""
    text = record.decode("utf-8")
    return text if label is None else f'{text.removesuffix("}")},"label":"{label}"}}'


def say_label(label: str | None) -> None:
    """Print what stands over numbers that are not measured here; nothing over those that are."""
    if label:
        print(f"All pulls are {label}.")
