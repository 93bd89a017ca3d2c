"""`pullbench pool`: repeats, days or groups in one number, and where the next pull will lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from pullbench.analysis import pool_batches
from pullbench.analysis.surfaces import check_names
from pullbench.cli.day import (
    DayOfPulls,
    asked_for_day,
    days_of,
    days_options,
    labelled,
    say_label,
    surface_option,
)
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.recordings import recordings_of
from pullbench.cli.surfaces import batches_in, conditions_of, gravity_of, share_of, surface_of
from pullbench.errors import ConditionsError
from pullbench.live import label_of
from pullbench.live.day_pulls import on_surface, surface_name
from pullbench.live.settings import known_surfaces, the_surface
from pullbench.live.side_by_side import batch_of, surfaces_of
from pullbench.model import DayPull, Pool, Quantity
from pullbench.render import pool_record, pool_svg, pool_table, pool_text
from pullbench.render.tokens import RoomName
from pullbench.sources import TableChoices, read_result_table, result_headings

QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")
NAMELESS = "pull"


@click.command(name="pool", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("files", nargs=-1, type=click.Path(path_type=Path), metavar="RECORDING… | TABLE | --day DAY")
@days_options
@surface_option
@click.option("--load", "load_text", help="Sled and load together: 1.35kg or 13.2N. Gives coefficients.")
@click.option("--u-load", "u_load_text", help="Its standard uncertainty, such as 2g.")
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option("--sure", "unlikely", is_flag=True, help="Coefficients below 0.01 or above 3 are meant.")
@click.option("--rate", type=float, help="Samples a second, when a recording has no time.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a quantity.")
@click.option("--table", "table_only", is_flag=True, help="The groups and the mean without the sentences.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the pool: FILE.svg or FILE.png.")
@click.option("--dark", is_flag=True, help="Draw for a dark room.")
@click.option("--label", help="Words drawn on the picture, such as simulated.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(files: tuple[Path, ...], **options: Any) -> None:
    """Pool results: each recording is one group; pulls of a single recording are pooled by themselves.

    A TABLE has the columns group and value (a coefficient; value_N: newtons), and u if it is known.  Of one day its
    surfaces are the groups, or with --surface its pulls; of several days, each day is one.
    """
    by_day = asked_for_day(options, instead={
        "files": files, "--load": options["load_text"], "--u-load": options["u_load_text"],
    })  # fmt: skip
    if not files and not by_day:
        raise ConditionsError(
            "no-input", "There is nothing to pool.", "It is recordings, a table or a day.",
            "Name RECORDING …, a TABLE, or --day latest.",
        )  # fmt: skip
    files = tuple(recordings_of(files))
    picture = picture_path(options["picture"], [options["logbook"] or USUAL_LOGBOOK, *files])
    pools, label = _of_days(options) if by_day else (_pools(files, options), None)
    if picture is not None:
        room: RoomName = "dark" if options["dark"] else "light"
        svg = pool_svg(pools, room=room, label=options["label"] or label, comma=options["comma"])
        write_picture(svg, picture)
    _tell(pools, options, label)


def _tell(pools: list[Pool], options: dict[str, Any], label: str | None) -> None:
    """Print pools.  label: to be said over the numbers."""
    if options["as_json"]:
        print("\n".join(labelled(pool_record(one), label) for one in pools))
        return
    say_label(label)
    if options["table_only"]:
        print("\n\n".join(pool_table(one, comma=options["comma"]) for one in pools))
    else:
        print(pool_text(pools, comma=options["comma"]))


def _of_days(options: dict[str, Any]) -> tuple[list[Pool], str | None]:
    """Return a day's surfaces pooled, or the pulls of one; of several days the pulls on one surface, day by day."""
    days = days_of(options)
    if len(days) > 1:
        pulls = _by_day(days, options["surface"])
    else:
        (day,) = days
        named = the_surface(day.pulls, options["surface"]) if options["surface"] else None
        pulls = [pull for pull in day.pulls if named is None or surface_name(pull) == named]
        if not known_surfaces(pulls):  # nobody said a surface: they are all on one
            pulls = [on_surface(pull, NAMELESS) for pull in pulls]
    side = surfaces_of(pulls, g_m_s2=gravity_of(options))
    unit = side.surfaces[0].unit if side.surfaces else "N"
    noun = "friction" if unit == "N" else "coefficient"
    pools = [
        pool_batches(
            [batch_of(surface.name, surface, quantity) for surface in side.surfaces], quantity=f"{quantity} {noun}",
            unit=unit, u_scale=side.u_scale, unlikely=options["unlikely"],
        )
        for quantity in QUANTITIES
    ]  # fmt: skip
    return pools, label_of([pull for day in days for pull in day.pulls])


def _by_day(days: Sequence[DayOfPulls], surface: str | None) -> list[DayPull]:
    """Return the pulls of several days on one surface, each as on the surface of its day, numbered anew.

    surface: None takes the only one there is.  Raises ConditionsError when there are several.
    """
    everything = [pull for day in days for pull in day.pulls]
    known = known_surfaces(everything)
    if surface is None and len(known) > 1:
        raise ConditionsError(
            "surface-missing", f"The {len(days)} days have pulls on {', '.join(known)}.",
            "Several days are pooled for one surface, each day a group.", f"Add --surface {known[-1]!r}.",
        )  # fmt: skip
    named = the_surface(everything, surface) if surface else next(iter(known), "")
    found = [on_surface(pull, day.day) for day in days for pull in day.pulls if surface_name(pull) == named]
    return [replace(pull, number=number) for number, pull in enumerate(found, 1)]


def _pools(files: tuple[Path, ...], options: dict[str, Any]) -> list[Pool]:
    conditions = conditions_of(options)
    if len(files) == 1 and "group" in result_headings(files[0]):
        table = read_result_table(files[0])
        unit = "N" if "value_n" in table.columns else "1"
        name = "force" if unit == "N" else "coefficient"
        return [pool_batches(batches_in(table), quantity=name, unit=unit, unlikely=options["unlikely"])]
    choices = TableChoices(rate_Hz=options["rate"])
    check_names([str(path) for path in files], "recording")
    surfaces = [surface_of(str(path), [path], conditions, choices) for path in files]
    noun = "friction" if conditions is None else "coefficient"
    pools = []
    for quantity in QUANTITIES:
        batches = [batch_of(surface.name, surface, quantity) for surface in surfaces]
        pools.append(
            pool_batches(
                batches, quantity=f"{quantity} {noun}", unit=surfaces[0].unit, u_scale=share_of(conditions),
                unlikely=options["unlikely"],
            )
        )  # fmt: skip
    return pools
