"""`pullbench pool`: repeats, days or groups in one number, and where the next pull will lie."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from pullbench.analysis import pool_batches
from pullbench.analysis.surfaces import check_names
from pullbench.cli.surfaces import batch_of, batches_in, conditions_of, share_of, surface_of
from pullbench.model import Pool, Quantity
from pullbench.render import pool_record, pool_table, pool_text
from pullbench.sources import TableChoices, read_result_table, result_headings

QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")


@click.command(name="pool", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="RECORDING… | TABLE"
)
@click.option("--load", "load_text", help="Sled and load together: 1.35kg or 13.2N. Gives coefficients.")
@click.option("--u-load", "u_load_text", help="Its standard uncertainty, such as 2g.")
@click.option("--g", "g_m_s2", type=float, help="Gravity, m/s²; standard gravity when nothing is said.")
@click.option("--sure", "unlikely", is_flag=True, help="Coefficients below 0.01 or above 3 are meant.")
@click.option("--rate", type=float, help="Samples a second, when a recording has no time.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a quantity.")
@click.option("--table", "table_only", is_flag=True, help="The groups and the mean without the sentences.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(files: tuple[Path, ...], **options: Any) -> None:
    """Pool results: each recording is one group; pulls of a single recording are pooled by themselves.

    A TABLE has the columns group and value (a coefficient; value_N: newtons), and u if it is known.
    """
    pools = _pools(files, options)
    if options["as_json"]:
        print("\n".join(pool_record(one).decode("utf-8") for one in pools))
    elif options["table_only"]:
        print("\n\n".join(pool_table(one, comma=options["comma"]) for one in pools))
    else:
        print(pool_text(pools, comma=options["comma"]))


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
        batches = [batch_of(surface, quantity) for surface in surfaces]
        pools.append(
            pool_batches(
                batches, quantity=f"{quantity} {noun}", unit=surfaces[0].unit, u_scale=share_of(conditions),
                unlikely=options["unlikely"],
            )
        )  # fmt: skip
    return pools
