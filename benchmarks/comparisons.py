"""Error rates of comparisons and coverage of pooled limits on simulated draws with known truth.

    python -m benchmarks.comparisons [--draws 4000]

Values are normal about an invented 0.3; scatter 4 % from pull to pull. Never a measurement.
"""

import argparse

from benchmarks.machine import machine
from simulated.comparisons import (
    from_pulls_coverage,
    holm_error,
    next_result_coverage,
    pooled_coverage,
    ratio_coverage,
    tost_error,
    welch_coverage,
    welch_error,
)

PAIRS = (
    (2, 2, 1.0),
    (3, 3, 1.0),
    (3, 3, 2.0),
    (3, 6, 0.5),
    (5, 5, 1.0),
    (5, 5, 2.0),
    (4, 8, 2.0),
    (10, 10, 1.0),
    (20, 20, 2.0),
)
GROUPS = (3, 4, 6, 10, 20, 30)
TAUS = (0.0, 0.5, 1.0, 3.0)


def pairs(draws: int) -> None:
    """Print how often each test errs, beside its nominal 5 %, and how often limits hold, beside 95 %."""
    print(
        "Two surfaces: n and m pulls, scatter of the second as a multiple of the first's. Nominal 5 % and 95 %.\n"
    )
    tests, limits = (
        f"{'false difference':>18s}{'false same':>12s}",
        f"{'difference held':>17s}{'ratio held':>12s}",
    )
    print(f"{'n':>4s}{'m':>4s}{'scatter':>9s} |{tests} |{limits}")
    for n, m, wider in PAIRS:
        figures = (
            welch_error(n, m, wider, draws, 1), tost_error(n, m, wider, draws, 2),
            welch_coverage(n, m, wider, draws, 3), ratio_coverage(n, m, wider, max(200, draws // 10), 4),
        )  # fmt: skip
        told = [f"{100 * figure:.1f}%" for figure in figures]
        print(
            f"{n:4d}{m:4d}{wider:9g} |{told[0]:>18s}{told[1]:>12s} |{told[2]:>17s}{told[3]:>12s}", flush=True
        )
    print("\nAny false difference among several equal surfaces (Holm), nominal 5 % at most:")
    for surfaces, n in ((3, 3), (3, 5), (5, 5)):
        print(f"  {surfaces} surfaces, {n} pulls each: {100 * holm_error(surfaces, n, draws // 2, 5):.1f}%")


def pools(draws: int) -> None:
    """Print how often pooled limits hold the mean, and prediction limits the next one."""
    print("\nRandom effects, u uneven by a factor 3; τ as a multiple of the typical u. Nominal 95 %.\n")
    print(f"{'groups':>7s} |" + "".join(f"{f'τ = {tau:g} u':>12s}" for tau in TAUS) + " | next result, τ = u")
    for groups in GROUPS:
        held = [pooled_coverage(groups, tau, draws, 6) for tau in TAUS]
        following = next_result_coverage(groups, 1.0, max(200, draws // 10), 7)
        print(
            f"{groups:7d} |" + "".join(f"{100 * one:11.1f}%" for one in held) + f" |{100 * following:18.1f}%",
            flush=True,
        )
    print("\nGroups of a few pulls (τ = scatter): mean held, next pull held")
    for groups, pulls in ((3, 3), (5, 3), (10, 5)):
        mean, following = from_pulls_coverage(groups, pulls, 1.0, max(200, draws // 8), 8)
        print(f"  {groups} groups of {pulls}: {100 * mean:.1f}%, {100 * following:.1f}%")


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--draws", type=int, default=4000)
    asked = parser.parse_args(arguments)
    print(machine())
    pairs(asked.draws)
    pools(asked.draws)


if __name__ == "__main__":
    main()
