"""`pullbench line`: a load ladder, from a table of results or from recordings with their loads."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from pullbench.analysis import Scales, ladder
from pullbench.cli.day import asked_for_day, day_of, day_options, labelled, say_label, surface_option
from pullbench.cli.ladders import hidden_in, ladder_in, ladder_of, named_recordings
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.quantities import MASSES_KG, gravity, load, size
from pullbench.errors import ConditionsError
from pullbench.live.rungs import ladder_of as ladder_of_day
from pullbench.live.rungs import rungs_of
from pullbench.live.settings import known_surfaces
from pullbench.model import Ladder, LoadedPull
from pullbench.render import line_record, line_svg, line_table, line_text
from pullbench.sources import TableChoices, read_result_table

SLED_LEFT_OUT = "The loads are without the sled, which was not weighed. Say it on watch: sled 0.35."


@click.command(name="line", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("ladder_texts", nargs=-1, metavar="TABLE | LOAD=RECORDING LOAD=RECORDING … | --day DAY")
@day_options
@surface_option
@click.option("--sled", help="The empty sled, added to every load of a recording: 0.35kg.")
@click.option("--u-load", "u_load_text", help="Standard uncertainty of each load, such as 2g.")
@click.option("--u-gain", help="Standard uncertainty of the force scale, shared by all pulls, such as 1%.")
@click.option(
    "--same-masses", is_flag=True, help="The sensor was verified with the masses that load the sled."
)
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option(
    "--mystery", type=click.Path(path_type=Path), help="Pulls of a hidden load: a table or a recording."
)
@click.option("--sure", is_flag=True, help="Coefficients below 0.01 or above 3 are meant.")
@click.option("--rate", type=float, help="Samples a second, when a recording has no time.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--table", "table_only", is_flag=True, help="The lines without the sentences.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the ladder: FILE.svg or FILE.png.")
@click.option("--title", default="", help="Words beside the picture's name, such as the surface.")
@click.option("--dark", is_flag=True, help="Draw for a dark room.")
@click.option("--label", help="Words drawn on the picture, such as simulated.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(ladder_texts: tuple[str, ...], **options: Any) -> None:
    """Draw the line of friction against load: both coefficients, and what is wrong when it is no straight line.

    A TABLE has the columns load_kg (everything that presses) or normal_N, and kinetic_N and/or static_N, a row a
    pull in the order pulled. Recordings stand with their loads: --sled 0.35kg 0.5kg=a.csv 1.0kg=b.csv

    --day latest takes the pulls of a day from the logbook, with the loads that were said on watch.
    """
    g_m_s2 = gravity(options["g_m_s2"])
    choices = TableChoices(rate_Hz=options["rate"], g_m_s2=g_m_s2)
    if asked_for_day(options, instead={
        "a table or recordings": ladder_texts, "--sled": options["sled"], "--u-load": options["u_load_text"],
        "--u-gain": options["u_gain"],
    }):  # fmt: skip
        _of_day(options, choices, g_m_s2)
        return
    if not ladder_texts:
        raise ConditionsError(
            "no-input", "There is nothing to draw a line through.", "It is a table, recordings or a day.",
            "Name a TABLE, LOAD=RECORDING …, or --day latest.",
        )  # fmt: skip
    u_load_N = load(options["u_load_text"], g_m_s2) if options["u_load_text"] else 0.0
    if len(ladder_texts) == 1 and "=" not in ladder_texts[0]:
        inputs = [Path(ladder_texts[0])]
        _refuse_sled(options["sled"])
        picture = picture_path(options["picture"], inputs)
        pulls = ladder_in(read_result_table(inputs[0]), g_m_s2, u_load_N)
    else:
        named = named_recordings(ladder_texts)
        picture = picture_path(options["picture"], [path for _, path in named])
        pulls = ladder_of(named, options["sled"], g_m_s2, u_load_N, choices)
    hidden = hidden_in(options["mystery"], choices) if options["mystery"] else []
    told = ladder(
        pulls, mystery=hidden, scales=_scales(options, pulls, u_load_N), g_m_s2=g_m_s2, sure=options["sure"]
    )
    _show(told, options, picture)


def _of_day(options: dict[str, Any], choices: TableChoices, g_m_s2: float) -> None:
    """Draw the line of a day's pulls on one surface."""
    picture = picture_path(options["picture"], [options["logbook"] or USUAL_LOGBOOK])
    day = day_of(options)
    surfaces = known_surfaces(day.pulls)
    if len(surfaces) > 1 and options["surface"] is None:
        raise ConditionsError(
            "surfaces-several", f"The pulls of {day.day} are on {', '.join(surfaces)}.", "A line is of one surface.",
            f"Add --surface {surfaces[0]}, or compare them with pullbench pair --day {day.day}.",
        )  # fmt: skip
    rungs = rungs_of(day.pulls, options["surface"], g_m_s2=g_m_s2)
    hidden = hidden_in(options["mystery"], choices) if options["mystery"] else []
    told = ladder_of_day(rungs, mystery=hidden, g_m_s2=g_m_s2, sure=options["sure"])
    shown = {
        **options, "label": options["label"] or day.label, "title": options["title"] or rungs.surface,
        "sled": None if rungs.sled_kg is None else f"{rungs.sled_kg!r}kg",
    }  # fmt: skip
    _show(told, shown, picture, day.label)
    if rungs.over_load_alone and not options["as_json"] and not options["table_only"]:
        print(SLED_LEFT_OUT)


def _show(told: Ladder, options: dict[str, Any], picture: Path | None, label: str | None = None) -> None:
    """Print a ladder and draw it.  label: to be said over the numbers."""
    sled_kg = size(options["sled"], "--sled", MASSES_KG, "0.35kg") if options["sled"] else 0.0
    if options["as_json"]:
        print(labelled(line_record(told, sled_kg=sled_kg), label))
    elif options["table_only"]:
        say_label(label)
        print(line_table(told, comma=options["comma"]))
    else:
        say_label(label)
        print(line_text(told, sled_kg=sled_kg, comma=options["comma"]))
    if picture is not None:
        svg = line_svg(
            told, title=options["title"], room="dark" if options["dark"] else "light", label=options["label"],
            sled_kg=sled_kg, comma=options["comma"],
        )  # fmt: skip
        write_picture(svg, picture)


def _scales(options: dict[str, Any], pulls: list[LoadedPull], u_load_N: float) -> Scales:
    """Return the shared doubt.  Masses that also verified the sensor share their error with it."""
    if not options["u_gain"]:
        return Scales()
    u_gain = size(options["u_gain"], "--u-gain", {"%": 0.01}, "1%")
    if not options["same_masses"]:
        return Scales(u_force=u_gain)
    return Scales(u_force=u_gain, u_load=u_gain, correlation=1.0)


def _refuse_sled(sled: str | None) -> None:
    if sled is not None:
        raise ConditionsError(
            "sled-with-table", f"--sled {sled} is given with a table.",
            "The loads of a table are everything that presses, the sled included.",
            "Leave out --sled, and add its mass to the column.",
        )  # fmt: skip
