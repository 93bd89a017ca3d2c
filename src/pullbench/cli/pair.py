"""`pullbench pair`: surfaces compared, from recordings or from a table of results."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from pullbench.analysis import compare
from pullbench.cli.day import asked_for_day, day_of, day_options, labelled, say_label
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.surfaces import conditions_of, gravity_of, named_paths, share_of, surface_of, surfaces_in
from pullbench.errors import ConditionsError
from pullbench.live.side_by_side import comparison_of, surfaces_of
from pullbench.model import Comparison, Surface
from pullbench.render import compare_record, compare_svg, compare_table, compare_text
from pullbench.sources import TableChoices, read_result_table


@click.command(name="pair", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("surfaces", nargs=-1, metavar="NAME=RECORDING,… NAME=… | TABLE | --day DAY")
@day_options
@click.option("--load", "load_text", help="Sled and load together: 1.35kg or 13.2N. Gives coefficients.")
@click.option("--u-load", "u_load_text", help="Its standard uncertainty, such as 2g.")
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option("--margin", type=float, help="Chosen beforehand: a difference that would not matter.")
@click.option("--sure", "unlikely", is_flag=True, help="Coefficients below 0.01 or above 3 are meant.")
@click.option("--rate", type=float, help="Samples a second, when a recording has no time.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--table", "table_only", is_flag=True, help="The means without the sentences.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the surfaces: FILE.svg or FILE.png.")
@click.option("--dark", is_flag=True, help="Draw for a dark room.")
@click.option("--label", help="Words drawn on the picture, such as simulated.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(surfaces: tuple[str, ...], **options: Any) -> None:
    """Compare surfaces: which needs more to start and to keep going, or that these pulls cannot tell.

    A TABLE has the columns surface and static, kinetic (coefficients) or static_N, kinetic_N (under one load).
    With --margin: same within the margin, different, or cannot tell yet.
    """
    if asked_for_day(options, instead={
        "recordings or a table": surfaces, "--load": options["load_text"], "--u-load": options["u_load_text"],
    }):  # fmt: skip
        _of_day(options)
        return
    if not surfaces:
        raise ConditionsError(
            "no-input", "There is nothing to compare.", "It is recordings by surface, a table or a day.",
            "Name NAME=RECORDING …, a TABLE, or --day latest.",
        )  # fmt: skip
    conditions = conditions_of(options)
    if len(surfaces) == 1 and "=" not in surfaces[0]:
        inputs = [Path(surfaces[0])]
        picture = picture_path(options["picture"], inputs)
        found = surfaces_in(read_result_table(inputs[0]), conditions)
    else:
        named = named_paths(surfaces)
        picture = picture_path(options["picture"], [path for _, paths in named for path in paths])
        choices = TableChoices(rate_Hz=options["rate"])
        found = [surface_of(name, paths, conditions, choices) for name, paths in named]
    _show(found, options, share_of(conditions), picture)


def _of_day(options: dict[str, Any]) -> None:
    """Compare the surfaces of a day."""
    picture = picture_path(options["picture"], [options["logbook"] or USUAL_LOGBOOK])
    day = day_of(options)
    side = surfaces_of(day.pulls, g_m_s2=gravity_of(options))
    told = comparison_of(side, margin=options["margin"], sure=options["unlikely"])
    _tell(told, {**options, "label": options["label"] or day.label}, picture, day.label)


def _show(found: list[Surface], options: dict[str, Any], u_scale: float, picture: Path | None) -> None:
    told = compare(found, margin=options["margin"], u_scale=u_scale, unlikely=options["unlikely"])
    _tell(told, options, picture, None)


def _tell(told: Comparison, options: dict[str, Any], picture: Path | None, label: str | None) -> None:
    """Print a comparison and draw it.  label: to be said over the numbers."""
    if options["as_json"]:
        print(labelled(compare_record(told), label))
    else:
        say_label(label)
        print((compare_table if options["table_only"] else compare_text)(told, comma=options["comma"]))
    if picture is not None:
        svg = compare_svg(
            told,
            room="dark" if options["dark"] else "light",
            label=options["label"],
            comma=options["comma"],
        )
        write_picture(svg, picture)
