"""The `pullbench` command: parse, call, print. Mistakes become one line on stderr and exit status 2, here."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING

from pullbench.errors import PullbenchError

if TYPE_CHECKING:
    import click

COMMANDS = {
    "check": "check the bench: rate, noise, drift, and what pulls it is good for",
    "watch": "go on watch: every pull caught, judged, shown and kept, while you look closer",
    "read": "read the pulls of recordings: breakaway, kinetic level, each with its plus or minus",
    "line": "friction against load: both coefficients with true limits, and what is wrong when it is no straight line",
    "pair": "compare surfaces: difference and ratio with limits, same within a margin or not, static against kinetic",
    "tilt": "static and kinetic coefficients from a tilted board, and whether they agree with the pull's",
    "pool": "many results in one: groups, days or repeats, and where the next pull will lie",
    "plan": "plan a lesson from the kit: loads, forces, limits to expect, what hides the static peak",
    "rehearse": "pull a virtual sled, with a chosen hand or your own keys, and hear the one fix",
    "sheets": "problem sheets with today's coefficients: a version a seat, a key, the day's lab sheet",
    "items": "a question package for a platform's item bank: tolerances, feedback, pictures, formulas",
    "review": "typed answers checked: units, figures, consequential slips, the idea behind a wrong answer",
    "shelve": "write a day's raw samples out of the logbook",
}
ABOUT = (
    "Friction from a sled dragged in front of a room: every pull caught, every number with its plus or minus."
)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line; never returns."""
    arguments = sys.argv[1:] if arguments is None else arguments
    if arguments in ([], ["--help"], ["-h"]):  # the most asked page needs no imports at all
        print(overview())
        raise SystemExit(0)
    if arguments == ["--version"]:
        from pullbench import __version__

        print(f"pullbench {__version__}")
        raise SystemExit(0)
    raise SystemExit(run(arguments))


def overview() -> str:
    """Return what `pullbench --help` prints."""
    width = max(map(len, COMMANDS))
    rows = (f"  {name:<{width}}  {what}" for name, what in COMMANDS.items())
    return "\n".join(
        ["Usage: pullbench COMMAND [OPTIONS]", "", ABOUT, "", "Commands:", *rows, "",
         "pullbench COMMAND --help tells more."]
    )  # fmt: skip


def run(arguments: list[str]) -> int:
    """Run one command and return its exit status: 0 done, 2 a mistake that was told on stderr."""
    name, *rest = arguments
    if name not in COMMANDS:
        known = ", ".join(COMMANDS)
        print(
            f"pullbench: There is no command {name!r}. Known are {known}. See pullbench --help.",
            file=sys.stderr,
        )
        return 2
    import click

    command: click.Command = import_module(f"pullbench.cli.{name}").command
    try:
        status = command.main(rest, prog_name=f"pullbench {name}", standalone_mode=False)
    except click.ClickException as mistake:
        print(f"pullbench: {mistake.format_message()} See pullbench {name} --help.", file=sys.stderr)
        return 2
    except (click.Abort, KeyboardInterrupt):
        return 130
    except PullbenchError as mistake:
        print(f"pullbench: {mistake}", file=sys.stderr)
        return 2
    except BrokenPipeError:  # the reader of our output went away: nothing is wrong
        sys.stderr.close()
        return 0
    return status if isinstance(status, int) else 0
