"""`pullbench tilt`: coefficients from a tilted board, and whether they agree with the pull's."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from pullbench.analysis import tilt_check
from pullbench.analysis.compare import mean_of
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.surfaces import told
from pullbench.cli.day import asked_for_day, day_of, day_options, labelled, say_label, surface_option
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.pictures import picture_path, write_picture
from pullbench.cli.quantities import angle, number_and_unit
from pullbench.cli.surfaces import conditions_of, gravity_of, share_of, surface_of
from pullbench.errors import ConditionsError
from pullbench.live.two_roads import tilt_of
from pullbench.model import Measured, Quantity, TiltCheck
from pullbench.physics import STANDARD_GRAVITY_M_S2
from pullbench.render import tilt_record, tilt_svg, tilt_table, tilt_text
from pullbench.render.tokens import RoomName
from pullbench.sources import TableChoices

QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")


@click.command(name="tilt", context_settings={"help_option_names": ["--help", "-h"]})
@day_options
@surface_option
@click.option("--slides", default="", help="Angles at which the sled slid off: 17.2,16.8,17.5 degrees.")
@click.option("--holds", default="", help="Angles at which it stayed: 16,16.5 degrees.")
@click.option("--acceleration", default="", help="Down the board, m/s²: 0.52,0.61 .")
@click.option("--at", "at_text", help="Tilt at which it was measured, degrees.")
@click.option("--u-angle", default=0.3, help="Standard uncertainty of the gauge, degrees.", show_default=True)
@click.option("--pulls", default="", help="Recordings of pulls on the level to compare with: a.csv,b.csv")
@click.option("--load", "load_text", help="Sled and load in those pulls: 1.35kg or 13.2N.")
@click.option("--u-load", "u_load_text", help="Its standard uncertainty, such as 2g.")
@click.option("--margin", type=float, help="What counts as agreement; 10 % of the pull's when not said.")
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option("--rate", type=float, help="Samples a second, when a recording has no time.")
@click.option("--sure", "unlikely", is_flag=True, help="Coefficients below 0.01 or above 3 are meant.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--table", "table_only", is_flag=True, help="The numbers without the sentences.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw both roads: FILE.svg or FILE.png.")
@click.option("--dark", is_flag=True, help="Draw for a dark room.")
@click.option("--label", help="Words drawn on the picture, such as simulated.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(**options: Any) -> None:
    """Read a tilted board: the angle at which the sled slides gives the static coefficient.

    With --acceleration the kinetic one too; with --pulls both are held against those of the pull. --day latest takes
    angles and pulls of a day from the logbook.
    """
    if asked_for_day(options, instead={
        "--slides": options["slides"], "--holds": options["holds"], "--acceleration": options["acceleration"],
        "--at": options["at_text"], "--pulls": options["pulls"], "--load": options["load_text"],
        "--u-load": options["u_load_text"],
    }):  # fmt: skip
        _of_day(options)
        return
    picture = picture_path(options["picture"], _paths(options))
    check = tilt_check(
        _angles(options["slides"], "--slides"),
        _angles(options["holds"], "--holds"),
        accelerations_m_s2=_accelerations(options["acceleration"]),
        accelerated_at_deg=None if options["at_text"] is None else angle(options["at_text"], "--at"),
        u_angle_deg=options["u_angle"],
        g_m_s2=STANDARD_GRAVITY_M_S2 if options["g_m_s2"] is None else options["g_m_s2"],
        pull=_pulled(options),
        margin=options["margin"],
        unlikely=options["unlikely"],
    )
    _tell(check, options, picture, None, "")


def _of_day(options: dict[str, Any]) -> None:
    """Check a day's tilted board against its pulls."""
    picture = picture_path(options["picture"], [options["logbook"] or USUAL_LOGBOOK])
    day = day_of(options, tilted=True)
    roads = tilt_of(
        day.tilts, day.pulls, options["surface"], g_m_s2=gravity_of(options), u_angle_deg=options["u_angle"],
        margin=options["margin"], sure=options["unlikely"],
    )  # fmt: skip
    label = day.label if roads.pulls else None
    _tell(roads.check, {**options, "label": options["label"] or label}, picture, label, roads.surface)


def _tell(
    check: TiltCheck, options: dict[str, Any], picture: Path | None, label: str | None, surface: str
) -> None:
    """Print a tilt check and draw it.  label: to be said over the numbers."""
    if picture is not None:
        room: RoomName = "dark" if options["dark"] else "light"
        svg = tilt_svg(check, title=surface, room=room, label=options["label"], comma=options["comma"])
        write_picture(svg, picture)
    if options["as_json"]:
        print(labelled(tilt_record(check), label))
    else:
        say_label(label)
        print((tilt_table if options["table_only"] else tilt_text)(check, comma=options["comma"]))


def _angles(text: str, option: str) -> list[float]:
    return [angle(part, option) for part in text.split(",") if part.strip()]


def _accelerations(text: str) -> list[float]:
    told = [number_and_unit(part, "--acceleration", "0.52,0.61") for part in text.split(",") if part.strip()]
    if any(unit for _, unit in told):
        raise ConditionsError(
            "acceleration-unit-unknown", f"--acceleration is {text!r}.", "It must be plain numbers, in m/s².",
            "Leave the unit out, such as 0.52,0.61.",
        )  # fmt: skip
    return [value for value, _ in told]


def _paths(options: dict[str, Any]) -> list[Path]:
    return [Path(part) for part in options["pulls"].split(",") if part.strip()]


def _pulled(options: dict[str, Any]) -> dict[Quantity, Measured]:
    """Return the coefficients of the pulls to compare with."""
    conditions = conditions_of(options)
    paths = _paths(options)
    if not paths:
        return {}
    if conditions is None:
        raise ConditionsError(
            "load-missing", "Pulls are given without their load.", "A coefficient needs sled and load together.",
            "Add --load, such as --load 1.35kg.",
        )  # fmt: skip
    surface = surface_of("pulls", paths, conditions, TableChoices(rate_Hz=options["rate"]))
    means = {q: mean_of(Repeats.of(*told(surface, q)), "1", share_of(conditions)) for q in QUANTITIES}
    return means if options["acceleration"] else {"static": means["static"]}
