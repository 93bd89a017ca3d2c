"""What a batch of simulated pulls is worth, in the figures that are promised.  (Not a test module.)"""

from collections.abc import Container, Iterable
from dataclasses import dataclass, field

import numpy as np
from scipy import stats

from pullbench.model import Measured, Pull, Verdict
from simulated.pulls import Simulated, simulated


@dataclass(slots=True)
class Told:
    """What was told of one force: relative errors and widths of values, whether limits and bounds held."""

    errors: list[float] = field(default_factory=list)
    widths: list[float] = field(default_factory=list)
    held: list[bool] = field(default_factory=list)
    bounds_true: list[bool] = field(default_factory=list)
    untold: list[str] = field(default_factory=list)

    def add(self, force: Measured, truth_N: float) -> None:
        if force.kind == "value":
            low, high = force.limits
            self.errors.append(force.value / truth_N - 1)
            self.widths.append((high - low) / truth_N)
            self.held.append(low <= truth_N <= high)
        elif force.kind == "lower bound":
            self.bounds_true.append(force.limits[0] <= truth_N)
        else:
            self.untold.append(force.reason)

    @property
    def count(self) -> int:
        return len(self.errors) + len(self.bounds_true) + len(self.untold)

    def error(self, quantile: float) -> float:
        """Return a quantile of the size of the relative error; NaN when no value was told."""
        return float(np.quantile(np.abs(self.errors), quantile)) if self.errors else float("nan")

    @property
    def width(self) -> float:
        return float(np.median(self.widths)) if self.widths else float("nan")

    @property
    def coverage(self) -> float:
        return float(np.mean(self.held)) if self.held else float("nan")

    @property
    def untold_share(self) -> float:
        return len(self.untold) / self.count if self.count else float("nan")


@dataclass(slots=True)
class Figures:
    """The figures of one batch."""

    kind: str
    breakaway: Told = field(default_factory=Told)
    kinetic: Told = field(default_factory=Told)
    pulls: int = 0
    missed: list[int] = field(default_factory=list)
    invented: list[int] = field(default_factory=list)
    again: list[int] = field(default_factory=list)

    def add(self, case: Simulated, pulls: list[Pull]) -> None:
        """Count one recording that holds exactly one pull."""
        self.pulls += 1
        if not pulls:
            self.missed.append(case.seed)
            return
        self.invented += [case.seed] * (len(pulls) - 1)
        pull = min(pulls, key=lambda pull: abs(pull.window.start_s - case.run.truths[0].start_s))
        if pull.verdict is Verdict.PULL_AGAIN:
            self.again.append(case.seed)
        if case.static_N is not None:
            self.breakaway.add(pull.breakaway.force, case.static_N)
        if case.kinetic_N is not None:
            self.kinetic.add(pull.plateau.force, case.kinetic_N)


STEADY = ("coulomb", "ageing")
"""Laws whose sled stands until it goes: the pull at first motion is the static maximum."""

WEAKENING = ("stribeck", "rate and state")
"""Laws whose friction falls only as the sled gathers speed: the pull climbs on past the static maximum."""


def figures(kind: str, seeds: Iterable[int], laws: Container[str] | None = None) -> Figures:
    """Return the figures of the whole chain on these pulls, or on those of them with one of these laws."""
    batch = Figures(kind)
    for seed in seeds:
        case = simulated(kind, seed)
        if laws is None or case.law in laws:
            batch.add(case, case.pulls())
    return batch


def fewest_held(count: int, coverage: float = 0.93) -> int:
    """Return the fewest of `count` limits that may hold the truth if `coverage` of them do (odds 1 in 200)."""
    return int(stats.binom.ppf(0.005, count, coverage))
