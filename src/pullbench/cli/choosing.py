"""Which source to watch, from the command line: serial, socket, standard input, folder, replay or virtual."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from pullbench.cli.quantities import FORCES_N, size
from pullbench.errors import SourceError
from pullbench.sources import (
    FolderOfTables,
    Replay,
    SerialLines,
    Source,
    StandardInput,
    TableChoices,
    TcpLines,
    TypedReadings,
    VirtualBench,
)

_OPTIONS = (
    click.argument("standard_input", required=False, type=click.Choice(["-"]), metavar="[-]"),
    click.option(
        "--serial", "serial_port", metavar="PORT", help="A serial port, such as /dev/ttyACM0 or COM3."
    ),
    click.option("--baud", type=int, metavar="N", help="Its rate; found out when nothing is said."),
    click.option("--tcp", metavar="HOST:PORT", help="Text lines from a network address."),
    click.option(
        "--folder", type=click.Path(path_type=Path), help="A folder where another program leaves tables."
    ),
    click.option("--replay", type=click.Path(path_type=Path), help="A recording, played again."),
    click.option(
        "--speed", metavar="X", help="How much faster than life to replay or simulate; inf never waits."
    ),
    click.option("--virtual", is_flag=True, help="The virtual bench; everything from it is simulated."),
    click.option("--seed", type=click.IntRange(min=0), default=0, help="Of the virtual bench."),
    click.option(
        "--typed",
        metavar="DIVISION",
        help="Readings of a spring scale, typed here; its smallest division: 0.1N.",
    ),
    click.option("--column", help="The force column: its name, or its number from 1."),
    click.option("--time-column", help="The time column: its name, or its number from 1."),
    click.option("--time-unit", help="s, ms, µs or min."),
    click.option("--force-unit", help="N, mN, kN, gf, kgf, lbf, kip, g, kg, mV …"),
    click.option("--scale", type=float, help="Newtons per unit of a raw column, such as per mV."),
    click.option("--rate", type=float, help="Samples a second, when a table has no time."),
    click.option("--decimal", type=click.Choice([".", ","]), help="The decimal mark."),
    click.option("--separator", help="comma, semicolon, tab, bar or blank."),
)


def source_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that choose a source."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def chosen_source(options: dict[str, Any]) -> Source:
    """Return the one source that was asked for.  Raises SourceError for none or several, or as sources do."""
    asked = [
        name
        for name in ("standard_input", "serial_port", "tcp", "folder", "replay", "virtual", "typed")
        if options[name]
    ]
    if len(asked) != 1:
        raise SourceError(
            "source-unclear", f"{'No source is' if not asked else 'Several sources are'} named.",
            "One of -, --serial PORT, --tcp HOST:PORT, --folder DIR, --replay FILE, --virtual, --typed DIVISION.",
            "Name one; --virtual needs no sensor.",
        )  # fmt: skip
    if options["baud"] is not None and asked != ["serial_port"]:
        raise SourceError(
            "baud-without-serial", "--baud is given.", "It belongs to --serial PORT.", "Leave it out."
        )
    speed = _speed(options["speed"])
    if speed is not None and asked[0] not in ("replay", "virtual"):
        raise SourceError(
            "speed-without-replay",
            "--speed is given.",
            "It belongs to --replay FILE or --virtual.",
            "Leave it out.",
        )
    choices = TableChoices(
        rate_Hz=options["rate"], column=options["column"], time_column=options["time_column"],
        time_unit=options["time_unit"], force_unit=options["force_unit"], scale_N=options["scale"],
        decimal=options["decimal"], separator=options["separator"],
    )  # fmt: skip
    return _made(asked[0], options, choices, 1.0 if speed is None else speed)


def _made(name: str, options: dict[str, Any], choices: TableChoices, speed: float) -> Source:
    if name == "standard_input":
        return StandardInput(None, choices)
    if name == "serial_port":
        return SerialLines(options["serial_port"], options["baud"], choices)
    if name == "tcp":
        host, port = _address(options["tcp"])
        return TcpLines(host, port, choices)
    if name == "folder":
        return FolderOfTables(options["folder"], choices)
    if name == "replay":
        return Replay(options["replay"], speed, choices)
    if name == "typed":
        division_N = size(options["typed"], "--typed", FORCES_N, "0.1N", bare=1.0)
        return TypedReadings(division_N)
    return VirtualBench(options["seed"], speed=speed)


def _speed(text: str | None) -> float | None:
    if text is None:
        return None
    try:
        speed = float(text.lower().removesuffix("x"))
    except ValueError:
        speed = -1.0
    if not speed > 0:
        raise SourceError(
            "speed-impossible",
            f"--speed is {text!r}.",
            "It must be a number above 0, or inf.",
            "Give 1 for real time.",
        )
    return speed


def _address(text: str) -> tuple[str, int]:
    host, colon, port = text.rpartition(":")
    if not (colon and host and port.isdigit() and 0 < int(port) < 65536):
        raise SourceError(
            "address-unreadable",
            f"--tcp is {text!r}.",
            "It must be HOST:PORT, such as 192.168.1.20:5000.",
            "Mend --tcp.",
        )
    return host.strip("[]"), int(port)


def duration_s(text: str | None, option: str) -> float | None:
    """Return seconds of a time such as 30s, 5min or 1h; None for None.  Raises SourceError."""
    if text is None:
        return None
    for ending, unit_s in (("min", 60.0), ("s", 1.0), ("h", 3600.0), ("", 1.0)):
        if text.endswith(ending):
            try:
                seconds = float(text.removesuffix(ending)) * unit_s
            except ValueError:
                break
            if 0 < seconds < 1e6:
                return seconds
            break
    raise SourceError(
        "duration-unreadable",
        f"{option} is {text!r}.",
        "It must be a time such as 30s, 5min or 1h.",
        f"Mend {option}.",
    )
