"""The section on the laws of many pulls: ladders, comparisons and pools drawn from known truth."""

import multiprocessing
import re
import sys
from collections.abc import Callable

from benchmarks import comparisons, ladders
from benchmarks.tables import Table

HEADING = "## The laws of many pulls"
MORE = 4  # draws of a comparison for each ladder: they cost as much less
SEED, FEWEST = 0, 8
WHY = {
    "scatter that is the same newtons at every load": "A few pulls do not show whether scatter grows with the force, "
    "so both are supposed, five to one for the share (`analysis/lines/averaged.py`). That costs clean ladders a "
    "little width, and the intercept of a ladder whose scatter does not grow is still held less often than it says. "
    "Give `u_kinetic_N` where the sensor's own doubt is known.",
    "one pull at each of four or five loads": "An offset, a wrong load or a drift is often not told: two or three "
    "pulls are left to judge it by, and a test that errs once in a hundred must let it pass. Two pulls a load suffice.",
    "few pulls of surfaces that scatter alike": "Limits of a difference up to four pulls each hold whatever the two "
    "scatters are (`analysis/any_scatter.py`), and so more often than 95 % where they are alike.",
    "the next of few groups": "Limits of the next result are wide below ten groups: how groups differ is hardly known.",
}

Job = tuple[Callable[[int, int], Table], int]


def jobs(draws: int) -> list[Job]:
    """Return the tables to count, with their draws."""
    mine = [
        (ladders.lines_table, draws), (ladders.faults_table, max(FEWEST, draws // 2)),
        (ladders.hidden_table, draws),
    ]  # fmt: skip
    return [*mine, *((table, MORE * draws) for table in comparisons.TABLES)]


def counted(job: Job) -> Table:
    """Count one table: in a worker process of its own."""
    table, draws = job
    return table(draws, SEED)


def section(draws: int, processes: int) -> str:
    """Return the section; the same for any number of processes."""
    with multiprocessing.Pool(processes) as pool:
        tables = []
        for table in pool.imap(counted, jobs(draws)):
            tables.append(table)
            print(f"{table.title}: {len(table.rows)} rows", file=sys.stderr, flush=True)
    short = [line for table in tables for line in table.short()]
    parts = [
        f"""{HEADING}

Written by `make accuracy` with the rest, or alone by:

```console
$ python -m benchmarks.wide --laws {draws}
```

**Simulated** as well: forces and coefficients drawn from known truth, no pull simulated. Loads 1 : 3.5 to 1 : 6,
scatter from pull to pull 3–5 % of the force, half of it common to static and kinetic, 0.8 % of each reading's own;
{draws} ladders a row ({max(FEWEST, draws // 2)} for a diagnosis), {MORE * draws} draws of a comparison (a quarter of \
them for ratios,
families, next results and pools of pulls); seed {SEED}. What is asked stands in a column's head.""",
        *(table.markdown() for table in tables),
        "### Outside what is asked",
        "\n".join(short) or "Nothing.",
        "### What is known of it",
        "\n".join(f"- **{name}**: {why}" for name, why in WHY.items()),
    ]
    return "\n\n".join(parts) + "\n"


def replaced(page: str, written: str) -> str:
    """Return a page with this section in the place of the one it has, or at its end."""
    found = re.search(rf"^{re.escape(HEADING)}\n", page, re.M)
    return (page if found is None else page[: found.start()]).rstrip() + "\n\n" + written
