"""Load ladders with known truth: how often limits hold beside a spreadsheet's, and how often a diagnosis is right.

    python -m benchmarks.ladders [--count 2000] [--seed 0]

Every number is from drawn forces (tests/simulated/ladders.py), never a measurement.
"""

import argparse
import time

import numpy as np

from benchmarks.machine import machine
from pullbench.analysis import ladder
from pullbench.render import line_svg
from simulated.ladders import FAULTS, covered, diagnosed, drawn

SHAPES = {
    "4–8 loads, 1–5 pulls": {},
    "4 loads, 1 pull": {"loads": 4, "repeats": 1},
    "5 loads, 1 pull": {"loads": 5, "repeats": 1},
    "5 loads, 2 pulls": {"loads": 5, "repeats": 2},
    "5 loads, 3 pulls": {"loads": 5, "repeats": 3},
    "8 loads, 5 pulls": {"loads": 8, "repeats": 5},
}
TOLD = {
    "4–8 loads, 1–5 pulls": {},
    "5 loads, 2 pulls": SHAPES["5 loads, 2 pulls"],
    "5 loads, 3 pulls": SHAPES["5 loads, 3 pulls"],
}


def coverage_table(count: int, seed: int) -> None:
    """Print how often 95 % limits hold the truth: ours, a spreadsheet's line with Student's t, and with ± 2 s."""
    print("95 % limits that hold the truth, slope / intercept in %:")
    print(f"{'':24s}{'pullbench':>16s}{'spreadsheet, t':>18s}{'spreadsheet, ± 2 s':>20s}")
    for name, shape in SHAPES.items():
        told = covered(count, seed, **shape)
        cells = [f"{100 * told[key][0]:.1f} / {100 * told[key][1]:.1f}" for key in told]
        print(f"{name:24s}{cells[0]:>16s}{cells[1]:>18s}{cells[2]:>20s}")


def diagnosis_table(count: int, seed: int) -> None:
    """Print how often clean ladders are called faulty, and how often a planted fault is found."""
    print("\nClean ladders with any diagnosis at all, in %:")
    for name, shape in SHAPES.items():
        for kinetic_only in (False, True):
            told = diagnosed(count, seed, kinetic_only=kinetic_only, **shape)
            kind = "kinetic alone" if kinetic_only else "static and kinetic"
            print(f"{name:24s}{kind:22s}{100 * told.share(told.anything):5.1f}   {dict(told.names)}")
    print("\nOne planted fault: named at all / named first / named alone, in %:")
    for name, shape in TOLD.items():
        for fault in FAULTS:
            told = diagnosed(count // 4, seed, fault=fault, **shape)
            shares = " / ".join(f"{100 * told.share(n):.0f}" for n in (told.among, told.first, told.alone))
            others = ", ".join(
                f"{n} {100 * told.share(k):.0f}" for n, k in told.names.items() if n != FAULTS[fault]
            )
            print(f"{name:24s}{fault:16s}{shares:>16s}   ({others})")


def speed(seed: int) -> None:
    """Print how long a ladder of 200 pulls takes."""
    pulls = drawn(np.random.default_rng(seed), loads=8, repeats=25).pulls
    line_svg(ladder(pulls))  # fonts are read once
    taken = []
    for _ in range(20):
        start = time.perf_counter()
        line_svg(ladder(pulls))
        taken.append(time.perf_counter() - start)
    print(f"\n200 pulls, lines, diagnoses and picture: {1e3 * float(np.median(taken)):.0f} ms")


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args(arguments)
    print(machine())
    coverage_table(asked.count, asked.seed)
    diagnosis_table(asked.count, asked.seed)
    speed(asked.seed)


if __name__ == "__main__":
    main()
