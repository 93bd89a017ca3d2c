"""Load ladders with known truth: how often limits hold beside a spreadsheet's, and how often a diagnosis is right.

    python -m benchmarks.ladders [--draws 400] [--seed 0]

Every number is from drawn forces (tests/simulated/ladders.py), never a measurement.
"""

import argparse
import time

import numpy as np

from benchmarks.machine import machine
from benchmarks.tables import Column, Row, Table
from pullbench.analysis import ladder
from pullbench.render import line_svg
from simulated.ladders import FAULTS, diagnosed, drawn, hidden_held, measured

HOLD, FALSE, FOUND = (0.93, 0.97), (0.0, 0.05), (0.90, 1.0)
SHAPES = {
    "4–8 loads, 1–5 pulls": {},
    "4 loads, 1 pull": {"loads": 4, "repeats": 1},
    "5 loads, 1 pull": {"loads": 5, "repeats": 1},
    "5 loads, 2 pulls": {"loads": 5, "repeats": 2},
    "5 loads, 3 pulls": {"loads": 5, "repeats": 3},
    "8 loads, 5 pulls": {"loads": 8, "repeats": 5},
}
OTHERWISE = {
    "4–8 loads, 1–5 pulls, kinetic alone": {"kinetic_only": True},
    "5 loads, 2 pulls, kinetic alone": {"loads": 5, "repeats": 2, "kinetic_only": True},
    **{
        f"{name}, same newtons": {**SHAPES[name], "alike": True}
        for name in ("4–8 loads, 1–5 pulls", "5 loads, 1 pull", "5 loads, 3 pulls", "8 loads, 5 pulls")
    },
}
HIDDEN = ("4–8 loads, 1–5 pulls", "5 loads, 2 pulls", "5 loads, 3 pulls")


def lines_table(draws: int, seed: int) -> Table:
    """Return how often limits of clean ladders hold, ours and a spreadsheet's, and how often a fault is invented."""
    table = Table(
        "Load lines",
        "Clean ladders. *Held*: share of the 95 % limits that hold the truth, in %, of both lines. *Called faulty*: "
        "any diagnosis at all. *Spreadsheet*: an ordinary least-squares line through all pulls, with Student's t, and "
        "with ± two standard errors; *wider*: its intercept's limits ÷ ours, median. *Same newtons*: the scatter does "
        "not grow with the force.",
        "ladder",
        (
            Column("slope held", HOLD), Column("intercept held", HOLD), Column("called faulty", FALSE),
            Column("spreadsheet, t: slope"), Column("spreadsheet, t: intercept"), Column("± 2 s: slope"),
            Column("± 2 s: intercept"), Column("wider", form="{:.1f}"),
        ),
    )  # fmt: skip
    for name, shape in {**SHAPES, **OTHERWISE}.items():
        told = measured(draws, seed, **shape)
        shares = [np.mean(kept, axis=0) for kept in (told.ours, told.ordinary, told.normal_limits)]
        figures = (*shares[0], np.mean(told.faulted), *shares[1], *shares[2], np.median(told.wider))
        table.rows.append(Row(name, tuple(map(float, figures)), draws))
    return table


def faults_table(draws: int, seed: int) -> Table:
    """Return how often one planted fault is named."""
    table = Table(
        "Diagnoses",
        "Ladders with one fault: 0.35 kg left out; 0.5 N offset; friction as the power ⅔ of the load; one load 35 % "
        "off; 30 % drift. *Named*: among what is said, in %; *alone*: without a rival that fits nearly as well; "
        "*another*: something else is named and this is not. In brackets where it can hardly be told: one pull a load.",
        "fault, ladder",
        (Column("named", FOUND), Column("named alone"), Column("another")),
    )  # fmt: skip
    for fault in FAULTS:
        for name, shape in SHAPES.items():
            told = diagnosed(draws, seed, fault=fault, **shape)
            figures = tuple(told.share(number) for number in (told.among, told.alone, told.mistaken))
            table.rows.append(Row(f"{fault}, {name}", figures, draws, asked=shape.get("repeats") != 1))
    return table


def hidden_table(draws: int, seed: int) -> Table:
    """Return how often the limits of a hidden load hold it."""
    table = Table(
        "A hidden load",
        "Read back from its pulls by both lines, anywhere between the lightest and the heaviest load (Fieller's "
        "limits), in %.",
        "ladder, pulls of the hidden load",
        (Column("held", HOLD), Column("cannot tell")),
    )
    for name in HIDDEN:
        for hidden in (1, 3):
            held = hidden_held(draws, seed, hidden=hidden, **SHAPES[name])
            told = [one for one in held if one is not None]
            figures = float(np.mean(told)), 1 - len(told) / len(held)
            table.rows.append(Row(f"{name}, {hidden} hidden", figures, draws))
    return table


def speed(seed: int) -> str:
    """Return how long a ladder of 200 pulls takes."""
    pulls = drawn(np.random.default_rng(seed), loads=8, repeats=25).pulls
    line_svg(ladder(pulls))  # fonts are read once
    taken = []
    for _ in range(20):
        start = time.perf_counter()
        line_svg(ladder(pulls))
        taken.append(time.perf_counter() - start)
    return f"200 pulls, lines, diagnoses and picture: {1e3 * float(np.median(taken)):.0f} ms"


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--draws", type=int, default=400)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args(arguments)
    print(machine())
    for table in (lines_table, faults_table, hidden_table):
        print(f"\n{table(asked.draws, asked.seed).plain()}", flush=True)
    print(f"\n{speed(asked.seed)}")


if __name__ == "__main__":
    main()
