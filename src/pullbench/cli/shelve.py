"""`pullbench shelve`: a day's raw samples out of the logbook, as they were received."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from pullbench.archive import Logbook
from pullbench.cli.watch import USUAL_LOGBOOK
from pullbench.errors import LogbookError


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
@click.option(
    "--raw", type=click.Path(path_type=Path), required=True, help="Where the samples go; - prints them."
)
def command(path: Path, day: str, raw: Path) -> None:
    """Write a day's raw samples as a text table that `pullbench read` takes; gaps are marked."""
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
        if str(raw) == "-":
            logbook.write_raw(name, sys.stdout)
            return
        samples = _written(logbook, name, raw)
    print(f"{samples} samples of {name} are in {raw}.")


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
