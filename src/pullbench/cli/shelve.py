"""`pullbench shelve`: a day's raw samples out of the logbook, as they were received; its pulls read again."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from pullbench.archive import Logbook
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.errors import LogbookError
from pullbench.live import read_again
from pullbench.render import Card


@click.command(name="shelve", context_settings={"help_option_names": ["--help", "-h"]})
@click.option(
    "--logbook",
    "path",
    type=click.Path(path_type=Path),
    default=USUAL_LOGBOOK,
    show_default=True,
    help="The logbook.",
)
@click.option("--day", default="latest", show_default=True, help="A day such as 2026-11-25, or latest.")
@click.option("--raw", type=click.Path(path_type=Path), help="Where the samples go; - prints them.")
@click.option(
    "--read-again",
    "again",
    is_flag=True,
    help="Read the day's pulls again with this version; old readings stay.",
)
def command(path: Path, day: str, raw: Path | None, *, again: bool) -> None:
    """Write a day's raw samples as a text table that `pullbench read` takes; gaps are marked.

    With --read-again the day's pulls are read anew from their raw samples; both readings are kept.
    """
    if raw is None and not again:
        raise LogbookError(
            "nothing-to-shelve", "Neither --raw nor --read-again is given.", "One of them says what to do.",
            "Give --raw OUT.csv for the samples.",
        )  # fmt: skip
    if not path.is_file():
        raise LogbookError(
            "logbook-missing",
            f"There is no logbook {path}.",
            "A watch makes one.",
            "Give --logbook the file of your watch.",
        )
    with Logbook.open(path, now=time.time) as logbook:
        days = logbook.days()
        if not days:
            raise LogbookError(
                "logbook-empty",
                f"The logbook {path} holds no day.",
                "A watch fills it.",
                "Go on watch first.",
            )
        name = days[-1].day if day == "latest" else day
        if again:
            _read_again(logbook, name)
        if raw is None:
            return
        if str(raw) == "-":
            logbook.write_raw(name, sys.stdout)
            return
        samples = _written(logbook, name, raw)
    print(f"{samples} samples of {name} are in {raw}.")


def _read_again(logbook: Logbook, day: str) -> None:
    changed = count = 0
    for one in read_again(logbook, day):
        count, changed = count + 1, changed + one.changed
        if one.changed:
            before = "no longer readable" if one.before is None else _forces(one.before)
            print(
                f"Pull {one.number}: {_forces(one.now)}; before, by version {one.version_before}: {before}."
            )
    print(f"{count} pulls of {day} read again; {changed} read otherwise, and keep both readings.")


def _forces(card: Card) -> str:
    label = f" ({card.label})" if card.label else ""
    return f"static {card.breakaway.whole}, kinetic {card.kinetic.whole}{label}"


def _written(logbook: Logbook, day: str, raw: Path) -> int:
    try:
        with raw.open("x", encoding="utf-8", newline="\n") as out:
            return logbook.write_raw(day, out)
    except FileExistsError as fault:
        raise LogbookError(
            "recording-exists",
            f"{raw} is there already.",
            "A recording is never written over.",
            "Give --raw another name.",
        ) from fault
    except LogbookError:
        raw.unlink(missing_ok=True)  # nothing was written to it
        raise
    except OSError as fault:
        raise LogbookError(
            "recording-not-written", f"{raw} cannot be written: {fault.strerror}.", "Its folder must be writable.",
            "Give --raw another place.",
        ) from fault  # fmt: skip
