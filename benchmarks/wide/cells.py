"""What was told, counted by cell: one cell is one kind of hand, one law, one band."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from scipy import stats

from benchmarks.wide.draw import HANDS, LAWS
from benchmarks.wide.measure import MASSES_KG, NOISES, RATES_HZ, Outcome, Reading, bands
from pullbench.model import Verdict
from simulated.figures import Told

PROMISED = (0.93, 0.97)
"""Between these the share of limits that hold the truth should lie, for limits of 95 %."""

AIMED_RATIO = 1.5  # of our median error to the oracle's

STANDS, FALLS = "sled stands until it goes", "friction falls as the sled gathers speed"
ORDER = {
    "pulls": [STANDS, FALLS],
    "verdict": [verdict.value for verdict in Verdict],
    "hand": list(HANDS),
    "law": list(LAWS),
    "rate": bands(RATES_HZ, " Hz"),
    "mass": bands(MASSES_KG, " kg"),
    "noise": bands(tuple(100 * noise for noise in NOISES), " % of the level"),
}
"""Groups and their cells, in the order of the tables."""


@dataclass(slots=True)
class Force:
    """What was told of one force in a cell, and the oracle's errors on the pulls where ours told a value.

    invented: values told of a sled that never moved.
    """

    told: Told = field(default_factory=Told)
    beside: list[tuple[float, float]] = field(default_factory=list)
    invented: int = 0

    def add(self, reading: Reading) -> None:
        ours, truth_N = reading.ours, reading.truth_N
        if ours is None:
            return
        if truth_N is None:
            self.invented += ours.kind == "value"
            return
        self.told.add(ours, truth_N)
        if ours.kind == "value" and reading.oracle_N is not None:
            self.beside.append((abs(ours.value / truth_N - 1), abs(reading.oracle_N / truth_N - 1)))

    @property
    def coverage_limits(self) -> tuple[float, float]:
        """Return the 95 % limits of the coverage (Clopper and Pearson 1934), from the count of limits."""
        held, count = sum(self.told.held), len(self.told.held)
        if not count:
            return 0.0, 1.0
        low, high = stats.binomtest(held, count).proportion_ci(0.95, "exact")
        return float(low), float(high)

    @property
    def oracle_error(self) -> float:
        """Return the median of the oracle's relative error, on the pulls where ours told a value."""
        return float(np.median([oracle for _, oracle in self.beside])) if self.beside else float("nan")

    @property
    def ratio(self) -> float:
        """Return our median error over the oracle's, on the same pulls."""
        if not self.beside:
            return float("nan")
        ours, oracle = np.median(np.array(self.beside), axis=0)
        return float(ours / oracle)


@dataclass(slots=True)
class Cell:
    """The pulls of one cell."""

    pulls: int = 0
    missed: int = 0
    twice: int = 0
    again: int = 0
    breakaway: Force = field(default_factory=Force)
    kinetic: Force = field(default_factory=Force)

    def add(self, outcome: Outcome) -> None:
        self.pulls += 1
        self.missed += outcome.caught == 0
        self.twice += max(outcome.caught - 1, 0)
        self.again += outcome.cells.get("verdict") == Verdict.PULL_AGAIN
        self.breakaway.add(outcome.breakaway)
        self.kinetic.add(outcome.kinetic)

    @property
    def invented(self) -> int:
        """Return windows beyond the one pull that was made, and breakaways of a sled that never moved."""
        return self.twice + self.breakaway.invented


Counted = dict[tuple[str, str], Cell]


def counted(outcomes: Iterable[Outcome]) -> Counted:
    """Return every cell that has a pull, in the order of the tables, after the cell of all."""
    cells = {("all", "all"): Cell()}
    cells |= {(group, name): Cell() for group, names in ORDER.items() for name in names}
    for outcome in outcomes:
        cells["all", "all"].add(outcome)
        for group, name in outcome.cells.items():
            cells[group, name].add(outcome)
    return {key: cell for key, cell in cells.items() if cell.pulls}
