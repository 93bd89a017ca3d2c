"""`pullbench read`: recordings in, pulls out."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import click

from pullbench.analysis import Conditions, analyse, from_repeats, with_coefficients
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.quantities import angle, gravity, load
from pullbench.detect import Watch
from pullbench.errors import ConditionsError, PullbenchError
from pullbench.model import Chunk, Finding, Measured, Pull, PullWindow
from pullbench.physics import normal_gravity_m_s2
from pullbench.render import explain, plus_minus, pull_record, recording_svg, table
from pullbench.sources import TableChoices, open_table

ONE_PULL = "one pull: repeats usually scatter 3–5 %"
NO_PULL = Finding(
    "no pull", "Nothing in this recording rises from rest and comes back as a pull does.",
    "Record from a loose string, pull until it slides, and let go before the recording ends.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """One file, read: how it was understood, its pulls, its findings."""

    path: Path
    assumed: str
    pulls: tuple[Pull, ...]
    findings: tuple[Finding, ...]


def read_file(path: Path, choices: TableChoices, conditions: Conditions | None) -> Reading:
    """Return one recording's pulls, streamed: only windows are kept, never the whole file."""
    recording = open_table(path, choices)
    pulls = [analyse(window) for window in _windows(recording.chunks())]
    if conditions is not None:
        pulls = [with_coefficients(pull, conditions) for pull in pulls]
    return Reading(path, recording.assumed, tuple(pulls), () if pulls else (NO_PULL,))


def _windows(chunks: Iterator[Chunk]) -> Iterator[PullWindow]:
    watch = Watch()
    for chunk in chunks:
        yield from watch.advance(chunk)
    yield from watch.finish()


@click.command(name="read", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object a pull, files and pulls in order.")
@click.option("--table", "table_only", is_flag=True, help="The table without the sentences and assumptions.")
@click.option("--explain", "explained", type=int, metavar="N", help="Budget and choices behind pull N.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the pulls: FILE.svg or FILE.png.")
@click.option("--dark", is_flag=True, help="Draw for a dark room.")
@click.option("--label", help="Words drawn on the picture, such as simulated.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
@click.option("--load", "load_text", help="Sled and load together: 1.35kg or 13.2N. Gives coefficients.")
@click.option("--u-load", "u_load_text", help="Its standard uncertainty, such as 2g.")
@click.option("--string-angle", default="0", help="Of the string above the surface, degrees.")
@click.option("--tilt", default="0", help="Of the surface, degrees; positive when pulled uphill.")
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option("--latitude", type=float, help="Latitude in degrees, for gravity.")
@click.option("--height", type=float, default=0.0, help="Height above the sea in metres, for gravity.")
@click.option("--rate", type=float, help="Samples a second, when the table has no time.")
@click.option("--column", help="The force column: its name, or its number from 1.")
@click.option("--time-column", help="The time column: its name, or its number from 1.")
@click.option("--time-unit", help="s, ms, µs or min.")
@click.option("--force-unit", help="N, mN, kN, gf, kgf, lbf, kip, g, kg, mV …")
@click.option("--scale", type=float, help="Newtons per unit of a raw column, such as per mV.")
@click.option("--decimal", type=click.Choice([".", ","]), help="The decimal mark.")
@click.option("--separator", help="comma, semicolon, tab, bar or blank.")
@click.option("--encoding", help="The text encoding, such as utf-16.")
def command(files: tuple[Path, ...], **options: Any) -> int:
    """Read the pulls of recordings: when each broke away, the static maximum, the kinetic level.

    A recording is a text table from any sensor. What was assumed about it is printed and can be overridden.
    """
    g_m_s2 = _gravity(options["g_m_s2"], options["latitude"], options["height"])
    conditions = _conditions(options, g_m_s2)
    choices = TableChoices(
        rate_Hz=options["rate"], column=options["column"], time_column=options["time_column"],
        time_unit=options["time_unit"], force_unit=options["force_unit"], scale_N=options["scale"],
        decimal=options["decimal"], separator=options["separator"], encoding=options["encoding"],
        g_m_s2=g_m_s2,
    )  # fmt: skip
    picture = picture_path(options["picture"], files)
    readings, status = [], 0
    for path in files:
        try:
            reading = read_file(path, choices, conditions)
        except PullbenchError as mistake:
            print(f"pullbench: {path}: {mistake}", file=sys.stderr)
            status = 2
            continue
        readings.append(reading)
        _show(reading, options)
    _repeats(readings, conditions, options)
    if options["explained"] is not None and readings:
        _explain(readings, options["explained"], options["comma"])
    if picture is not None and readings:
        _draw(readings, picture, options)
    return status


def _show(reading: Reading, options: dict[str, Any]) -> None:
    name = str(reading.path)
    if options["as_json"]:
        records = [pull_record(name, n, pull) for n, pull in enumerate(reading.pulls, 1)]
        for record in records or [pull_record(name, None, None, reading.findings)]:
            print(record.decode("utf-8"))
        return
    if options["explained"] is not None:
        return
    note = ONE_PULL if any(pull.kinetic_coefficient for pull in reading.pulls) else None
    text = table(reading.pulls, name, note=note, comma=options["comma"])
    if options["table_only"]:
        text = text.split("\n\nPull 1:")[0]
    print(text)
    if not options["table_only"]:
        for finding in reading.findings:
            print(f"{finding.sentence} {finding.fix}")
        print(f"Read as: {reading.assumed}.\n")


def _repeats(readings: list[Reading], conditions: Conditions | None, options: dict[str, Any]) -> None:
    """Print the coefficients of all pulls together, when there are repeats to take them from."""
    pulls = [pull for reading in readings for pull in reading.pulls]
    if conditions is None or len(pulls) < 2 or options["as_json"] or options["explained"] is not None:
        return
    for name, told in (
        ("static", [pull.static_coefficient for pull in pulls if pull.static_coefficient]),
        ("kinetic", [pull.kinetic_coefficient for pull in pulls if pull.kinetic_coefficient]),
    ):
        together: Measured = from_repeats(told)
        used = sum(one.kind == "value" for one in told)
        reason = (
            f" ({together.reason})"
            if together.reason
            else f" from {used} pulls, scatter between them included"
        )
        print(f"{name} coefficient {plus_minus(together, comma=options['comma'])}{reason}")


def _explain(readings: list[Reading], number: int, comma: bool) -> None:
    pulls = [(reading, pull) for reading in readings for pull in reading.pulls]
    if not 1 <= number <= len(pulls):
        raise ConditionsError(
            "pull-unknown", f"There is no pull {number}.",
            f"{'These recordings hold' if len(readings) > 1 else 'This recording holds'} {len(pulls)}.",
            "Give --explain one of them, counted from 1.",
        )  # fmt: skip
    reading, pull = pulls[number - 1]
    print(f"{reading.path}, pull {number}\n")
    print(explain(pull, note=ONE_PULL if pull.kinetic_coefficient else None, comma=comma))
    print(f"\nRead as: {reading.assumed}.")


def _draw(readings: list[Reading], picture: Path, options: dict[str, Any]) -> None:
    """Write one picture a recording; with several, each file name carries its recording's."""
    for reading in readings:
        svg = recording_svg(
            reading.pulls, title=reading.path.name, room="dark" if options["dark"] else "light",
            label=options["label"], comma=options["comma"],
        )  # fmt: skip
        name = picture if len(readings) == 1 else picture.with_stem(f"{picture.stem}-{reading.path.stem}")
        write_picture(svg, name)


def _gravity(g_m_s2: float | None, latitude: float | None, height: float) -> float:
    if g_m_s2 is not None and latitude is not None:
        raise ConditionsError(
            "gravity-twice", f"Both --g ({g_m_s2:g} m/s²) and --latitude ({latitude:g}°) are given.",
            "Gravity comes from one of the two.", "Leave one out.",
        )  # fmt: skip
    if latitude is not None:
        return normal_gravity_m_s2(latitude, height)
    return gravity(g_m_s2)


def _conditions(options: dict[str, Any], g_m_s2: float) -> Conditions | None:
    string_deg, tilt_deg = angle(options["string_angle"], "--string-angle"), angle(options["tilt"], "--tilt")
    if options["load_text"] is None:
        return None
    weight = load(options["load_text"], g_m_s2)
    u_weight = load(options["u_load_text"], g_m_s2) if options["u_load_text"] else 0.0
    base = Conditions(weight_N=weight, u_weight_N=u_weight, string_deg=string_deg)
    return replace(base, tilt_deg=tilt_deg)
