"""Every kind of problem, thousands of times: `python -m benchmarks.problems [--seeds 10000] [--kinds a,b]`.

Each problem is held against the laws of `tests/problem_laws.py`, and its answers against a second road to them
(`tests/second_route*.py`), to 1e-9.  Pairs go from slippery to very rough, with static just above kinetic and twice
it.  Printed: problems made, refused and failing, by kind; the first failures in full.
"""

import argparse
import math
import sys
from collections import Counter
from time import perf_counter

from benchmarks.machine import machine
from problem_laws import LAWS
from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction
from pullbench.teach.problems import ENGLISH, KINDS, make
from second_route import SECOND
from second_route_level import SECOND_LEVEL, read_trace

PAIRS = ((0.40, 0.30), (0.10, 0.07), (0.31, 0.30), (0.60, 0.30), (0.24, 0.12), (0.70, 0.50), (1.20, 0.95))
SHOWN = 10  # failures told in full


def pair_of(mu_s, mu_k):
    return PairFriction(
        sole="felt", floor="the painted stage floor", mu_s=mu_s, mu_k=mu_k, u_mu_s=0.01, u_mu_k=0.01, source="today",
        told="invented numbers",
    )  # fmt: skip


def by_second_road(kind, problem):
    """Return the answers by another way, and how far they may be off; nothing for questions without numbers."""
    given = {one.symbol: one.value for one in problem.given}
    if problem.kind == "read-trace":
        return read_trace(given, problem.figure), 1e-9
    second = SECOND.get(problem.kind) or SECOND_LEVEL.get(problem.kind)
    return (second(given), 1e-9) if second else ({}, 1e-9)


def failures(name, problem):
    """Return what is wrong with a problem, by law."""
    found = [(law.__name__, fault) for law in LAWS for fault in law(problem)]
    given = {one.symbol: one.value for one in problem.given}
    right = KINDS[name].solve(given, {})
    second, tolerance = by_second_road(name, problem)
    for key, value in second.items():
        if not math.isclose(right[key], value, rel_tol=tolerance, abs_tol=1e-12):
            found.append(("second road", f"{key}: {right[key]!r} and {value!r}"))
    return found


def main(arguments=None):
    """Parse, make, print; exit status 1 with any failure."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--seeds", type=int, default=10_000, help="problems of each kind, shared out over the pairs"
    )
    parser.add_argument("--kinds", default=",".join(KINDS))
    asked = parser.parse_args(arguments)
    print(machine())
    print(f"{'kind':24s}{'made':>8s}{'refused':>9s}{'failing':>9s}{'ms each':>9s}")
    told, failing = 0, 0
    for name in asked.kinds.split(","):
        counts, started = Counter(), perf_counter()
        for seed in range(asked.seeds):
            mu_s, mu_k = PAIRS[seed % len(PAIRS)]
            try:
                problem = make(KINDS[name], ENGLISH[name], pair_of(mu_s, mu_k), seed)
            except ConditionsError:
                counts["refused"] += 1
                continue
            counts["made"] += 1
            found = failures(name, problem)
            counts["failing"] += bool(found)
            if found and told < SHOWN:
                told += 1
                print(f"  {name}, seed {seed}, μs {mu_s}, μk {mu_k}: {found[:3]}")
        failing += counts["failing"]
        each_ms = 1000 * (perf_counter() - started) / max(asked.seeds, 1)
        print(
            f"{name:24s}{counts['made']:8d}{counts['refused']:9d}{counts['failing']:9d}{each_ms:9.2f}",
            flush=True,
        )
    sys.exit(1 if failing else 0)


if __name__ == "__main__":
    main()
