"""Measure the reader on wide pulls and write docs/accuracy.md.

    python -m benchmarks.wide [--pulls 6000] [--first-seed 1000] [--laws 1500] [--processes 2] [--into docs/accuracy.md]

Two cores read about ten pulls a second.  Progress goes to stderr.  With --laws and without --pulls the section on
the laws of many pulls is written anew and the rest of the page left as it is.
"""

import argparse
import multiprocessing
import sys
from pathlib import Path
from time import perf_counter

from benchmarks import ROOT
from benchmarks.wide import laws
from benchmarks.wide.cells import counted
from benchmarks.wide.measure import Outcome, outcome
from benchmarks.wide.page import page

DEFAULT_PULLS, DEFAULT_SEED = 6000, 1000  # the oracle was made on seeds below 1000
FEWEST_DRAWS = 8


def outcomes(pulls: int, first_seed: int, processes: int) -> list[Outcome]:
    """Return what became of each pull, by seed: the same for any number of processes."""
    seeds = range(first_seed, first_seed + pulls)
    done: list[Outcome] = []
    began = perf_counter()
    with multiprocessing.Pool(processes) as pool:
        for one in pool.imap_unordered(outcome, seeds, chunksize=4):
            done.append(one)
            if len(done) % max(1, pulls // 20) == 0:
                left_s = (perf_counter() - began) * (pulls / len(done) - 1)
                print(f"{len(done)} of {pulls} pulls, about {left_s:.0f} s left", file=sys.stderr, flush=True)
    return sorted(done, key=lambda one: one.seed)


def main(arguments: list[str] | None = None) -> None:
    """Parse, measure, write."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pulls", type=int, help=f"how many (default {DEFAULT_PULLS}: ten minutes)")
    parser.add_argument("--laws", type=int, help="ladders a row of the laws (default a quarter of the pulls)")
    parser.add_argument("--first-seed", type=int, default=DEFAULT_SEED)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--into", type=Path, default=ROOT / "docs" / "accuracy.md")
    asked = parser.parse_args(arguments)
    alone = asked.pulls is None and asked.laws is not None
    pulls = DEFAULT_PULLS if asked.pulls is None else asked.pulls
    draws = max(FEWEST_DRAWS, pulls // 4) if asked.laws is None else asked.laws
    if min(pulls, asked.processes, draws) < 1 or asked.first_seed < 0:
        parser.error("--pulls, --laws and --processes must be 1 or more, --first-seed 0 or more")
    began = perf_counter()
    if alone:
        written = asked.into.read_text("utf-8")
    else:
        written = page(counted(outcomes(pulls, asked.first_seed, asked.processes)), pulls, asked.first_seed)
    whole = laws.replaced(written, laws.section(draws, asked.processes))
    asked.into.write_text(whole, encoding="utf-8")
    what = f"{draws} ladders a row" if alone else f"{pulls} pulls and {draws} ladders a row"
    print(f"{what} in {perf_counter() - began:.0f} s, written to {asked.into}")


if __name__ == "__main__":
    main()
