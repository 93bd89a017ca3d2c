"""`pullbench line`: a load ladder, from a table of results or from recordings with their loads."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from pullbench.analysis import Scales, ladder
from pullbench.cli.ladders import hidden_in, ladder_in, ladder_of, named_recordings
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.quantities import MASSES_KG, load, size
from pullbench.errors import ConditionsError
from pullbench.model import Ladder, LoadedPull
from pullbench.physics import STANDARD_GRAVITY_M_S2
from pullbench.render import line_record, line_svg, line_table, line_text
from pullbench.sources import TableChoices, read_result_table


@click.command(name="line", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("ladder_texts", nargs=-1, required=True, metavar="TABLE | LOAD=RECORDING LOAD=RECORDING …")
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
    """
    g_m_s2 = _gravity(options["g_m_s2"])
    choices = TableChoices(rate_Hz=options["rate"], g_m_s2=g_m_s2)
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


def _show(told: Ladder, options: dict[str, Any], picture: Path | None) -> None:
    sled_kg = size(options["sled"], "--sled", MASSES_KG, "0.35kg") if options["sled"] else 0.0
    if options["as_json"]:
        print(line_record(told, sled_kg=sled_kg).decode("utf-8"))
    elif options["table_only"]:
        print(line_table(told, comma=options["comma"]))
    else:
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


def _gravity(g_m_s2: float | None) -> float:
    if g_m_s2 is None:
        return STANDARD_GRAVITY_M_S2
    if not 0.1 < g_m_s2 < 100:
        raise ConditionsError(
            "gravity-out-of-range", f"Gravity is {g_m_s2:g} m/s².", "It must lie from 0.1 to 100 m/s².", "Mend --g.",
        )  # fmt: skip
    return g_m_s2
