"""Error rates of comparisons and coverage of pooled limits on simulated draws with known truth.

    python -m benchmarks.comparisons [--draws 2000] [--seed 0]

Values are normal about an invented 0.3; scatter 4 % from pull to pull. Never a measurement.
"""

import argparse

import numpy as np

from benchmarks.machine import machine
from benchmarks.tables import Column, Row, Table
from simulated.comparisons import (
    from_pulls_coverage,
    holm_error,
    next_result_coverage,
    pooled_coverage,
    published_error,
    ratio_coverage,
    tost_error,
    welch_coverage,
    welch_error,
)

HOLD, AT_LEAST, ERR = (0.93, 0.97), (0.93, 1.0), (0.0, 0.05)
PAIRS = (
    (2, 2, 1.0), (2, 6, 1.0), (2, 6, 0.5), (3, 3, 1.0), (3, 3, 2.0), (3, 6, 1.0), (3, 6, 0.5), (5, 5, 1.0),
    (5, 5, 2.0), (4, 8, 2.0), (10, 10, 1.0), (20, 20, 2.0),
)  # fmt: skip
FAMILIES = ((3, 3), (3, 5), (5, 5))
GROUPS = (3, 4, 6, 10, 20, 30)
TAUS = (0.0, 0.5, 1.0, 3.0)
SLOWER = 4  # fewer draws where each takes longer


def pairs_table(draws: int, seed: int) -> Table:
    """Return how often each test of two surfaces errs, and how often limits hold."""
    table = Table(
        "Two surfaces",
        "Pulls of each, scatter of the second as a multiple of the first's. *False difference*: equal surfaces called "
        "different; *false same*: surfaces that differ by the margin called the same within it; in %. Beside them "
        "Welch's test as published and Student's with one common scatter, as in a spreadsheet. *Held*: 95 % limits of "
        "the difference and of the ratio; up to four pulls they hold whatever the scatters are, so too often "
        "where those are alike.",
        "pulls, scatter",
        (
            Column("false difference", ERR), Column("false same", ERR), Column("difference held", AT_LEAST),
            Column("ratio held", AT_LEAST), Column("Welch, published"), Column("Student, common scatter"),
        ),
    )  # fmt: skip
    for n, m, wider in PAIRS:
        ours = welch_error(n, m, wider, draws, seed + 1), tost_error(n, m, wider, draws, seed + 2)
        held = (
            welch_coverage(n, m, wider, draws, seed + 3),
            ratio_coverage(n, m, wider, max(20, draws // SLOWER), seed + 4),
        )
        figures = (*ours, *held, *published_error(n, m, wider, draws, seed + 1))
        table.rows.append(Row(f"{n} and {m}, × {wider:g}", tuple(map(float, figures)), draws))
    return table


def families_table(draws: int, seed: int) -> Table:
    """Return how often any of several equal surfaces is called different."""
    table = Table(
        "Several equal surfaces",
        "Any pair called different, after Holm, in %.",
        "surfaces, pulls of each",
        (Column("any false difference", ERR),),
    )
    for surfaces, n in FAMILIES:
        count = max(20, draws // SLOWER)
        wrong = float(holm_error(surfaces, n, count, seed + 5))
        table.rows.append(Row(f"{surfaces} surfaces, {n} pulls", (wrong,), count))
    return table


def pools_table(draws: int, seed: int) -> Table:
    """Return how often pooled limits hold the mean, and prediction limits the next result."""
    table = Table(
        "Pools",
        "Results of groups whose own u is uneven by a factor of three; they differ besides by τ, a multiple of the "
        "typical u. Hartung and Knapp's limits of the mean, and the limits of the next result (τ = u), in %.",
        "groups",
        (*(Column(f"held, τ = {tau:g} u", HOLD) for tau in TAUS), Column("next result", AT_LEAST)),
    )
    for groups in GROUPS:
        held = [pooled_coverage(groups, tau, draws, seed + 6) for tau in TAUS]
        following = next_result_coverage(groups, 1.0, max(20, draws // SLOWER), seed + 7)
        table.rows.append(Row(f"{groups}", (*map(float, held), float(following)), draws))
    return table


def pulls_table(draws: int, seed: int) -> Table:
    """Return the same for groups of a few pulls, whose u is estimated."""
    table = Table(
        "Pools of pulls",
        "Groups of a few pulls each, which differ by as much as pulls do; in %.",
        "groups",
        (Column("mean held", HOLD), Column("next pull", AT_LEAST)),
    )
    for groups, pulls in ((3, 3), (5, 3), (10, 5), (30, 3)):
        count = max(20, draws // SLOWER)
        told = np.array(from_pulls_coverage(groups, pulls, 1.0, count, seed + 8), dtype=np.float64)
        table.rows.append(Row(f"{groups} of {pulls} pulls", tuple(map(float, told)), count))
    return table


TABLES = (pairs_table, families_table, pools_table, pulls_table)


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--draws", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args(arguments)
    print(machine())
    for table in TABLES:
        print(f"\n{table(asked.draws, asked.seed).plain()}", flush=True)


if __name__ == "__main__":
    main()
