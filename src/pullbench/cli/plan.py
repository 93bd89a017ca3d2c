"""`pullbench plan`: what to expect from this kit, before the lesson."""

from __future__ import annotations

from typing import Any

import click

from pullbench.cli.quantities import FORCES_N, MASSES_KG, size, sizes, span
from pullbench.errors import ConditionsError
from pullbench.render import plan_record, plan_text
from pullbench.sources.handbook import handbook
from pullbench.teach import Coefficients, Entry, Kit, plan

RATES = {"Hz": 1.0, "": 1.0}
STIFFNESSES = {"N/m": 1.0, "kN/m": 1e3, "N/mm": 1e3}
USUAL = (0.2, 0.5)  # most pairs of a classroom


@click.command(name="plan", context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--range", "range_text", default="50N", help="Of the sensor, such as 50N.", show_default=True)
@click.option("--resolution", default="0.01N", help="One step of the sensor.", show_default=True)
@click.option("--rate", default="50", help="Samples per second.", show_default=True)
@click.option("--noise", help="Standard deviation of one sample; half a step when nothing is said.")
@click.option("--sled", default="0.35kg", help="The empty sled.", show_default=True)
@click.option("--masses", default="0.5kg,0.5kg,1kg", help="Masses at hand, each once.", show_default=True)
@click.option("--mu", help="Lowest kinetic to highest static coefficient expected, such as 0.2-0.5.")
@click.option("--surfaces", help='A pair of the handbook, such as "oak on oak".')
@click.option("--string", default="1.5kN/m", help="Stiffness of string and arm together.", show_default=True)
@click.option("--pulls", type=int, default=3, help="With each load.", show_default=True)
@click.option("--seed", type=click.IntRange(min=0), default=0, help="Of the simulation.", show_default=True)
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(**options: Any) -> None:
    """Plan a lesson: which loads, what forces, how sure the coefficients, what hides the static peak.

    Everything is tried on a simulated bench; nothing here is a measurement.
    """
    entry, coefficients = _coefficients(options["mu"], options["surfaces"])
    planned = plan(_kit(options), coefficients, pulls=options["pulls"], seed=options["seed"])
    if options["as_json"]:
        print(plan_record(planned, entry).decode("utf-8"))
    else:
        print(plan_text(planned, entry, comma=options["comma"]))


def _coefficients(mu: str | None, surfaces: str | None) -> tuple[Entry | None, Coefficients]:
    if mu is not None and surfaces is not None:
        raise ConditionsError(
            "coefficients-twice", f"Both --mu {mu} and --surfaces {surfaces!r} are given.",
            "The coefficients come from one of the two.", "Leave one out.",
        )  # fmt: skip
    if surfaces is not None:
        entry = handbook().find(surfaces)
        return entry, Coefficients.from_ranges(entry.static, entry.kinetic, f"handbook, {entry.surfaces}")
    low, high = USUAL if mu is None else span(mu, "--mu", "0.2-0.5")
    return None, Coefficients.between(low, high)


def _kit(options: dict[str, Any]) -> Kit:
    resolution_N = size(options["resolution"], "--resolution", FORCES_N, "0.01N")
    noise = options["noise"]
    return Kit(
        range_N=size(options["range_text"], "--range", FORCES_N, "50N"),
        resolution_N=resolution_N,
        rate_Hz=size(options["rate"], "--rate", RATES, "50", bare=1.0),
        noise_N=resolution_N / 2 if noise is None else size(noise, "--noise", FORCES_N, "5mN"),
        sled_kg=size(options["sled"], "--sled", MASSES_KG, "0.35kg"),
        masses_kg=sizes(options["masses"], "--masses", MASSES_KG, "0.5kg,0.5kg,1kg"),
        stiffness_N_m=size(options["string"], "--string", STIFFNESSES, "1.5kN/m", bare=1.0),
    )
