"""Repeats of one pull boiled down: how many, their mean, their scatter, and how many more would do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.student import coverage_factor
from pullbench.model import BudgetRow, Measured, More, UncertaintyBudget

USUAL_SCATTER = 0.04  # relative, between hand pulls repeated alike: 3–5 % in practice
FAIR_CHANCE = 0.8  # that the pulls asked for will settle it, when the difference seen is the true one
RESIDUE = 8 * 2.0**-52  # relative: what adding and subtracting a few doubles leaves
MOST_PULLS = 60  # of each: more than a lesson has


@dataclass(frozen=True, slots=True)
class Repeats:
    """n repeats: mean, and the variance of one of them (None from a single one)."""

    n: int
    mean: float
    variance: float | None

    @classmethod
    def of(cls, values: Sequence[float], own_u: Sequence[float] = (), *, size: float = 0.0) -> Repeats:
        """Return the repeats of one thing.

        size: of the numbers the values were computed from, when larger: what a double cannot hold of them is
        no scatter.
        own_u: their own standard uncertainties.  The scatter of a few repeats can by luck be smaller than
        what each of them doubts by itself: the variance is then the mean square of the latter.
        """
        numbers = np.asarray(values, dtype=np.float64)
        if numbers.size < 2:
            return cls(numbers.size, float(numbers.sum()), None)
        first = float(numbers[0])  # digits that all share are taken off first: they would eat precision
        variance = float(np.var(numbers - first, ddof=1))
        if variance <= (RESIDUE * max(size, abs(first))) ** 2:
            variance = 0.0
        own = float(np.mean(np.square(own_u))) if len(own_u) else 0.0
        return cls(numbers.size, first + float(np.mean(numbers - first)), max(variance, own))

    @property
    def u(self) -> float | None:
        """Return the standard uncertainty of the mean, None without repeats."""
        return None if self.variance is None else math.sqrt(self.variance / self.n)

    @property
    def scatter(self) -> float | None:
        """Return the standard deviation of one, None without repeats."""
        return None if self.variance is None else math.sqrt(self.variance)

    def row(self, source: str, sensitivity: float = 1.0) -> BudgetRow:
        """Return the budget row of the mean, carried to a result."""
        return BudgetRow(source, abs(sensitivity) * (self.u or 0.0), self.n - 1)


def within(value: float, rows: Sequence[BudgetRow], unit: str, *, coverage: float = 0.95) -> Measured:
    """Return a value with 95 % limits from its budget (JCGM 100:2008, G.4: effective degrees of freedom).

    coverage: for Student's t; more where so few repeats would hold the value less often than that.
    """
    budget = UncertaintyBudget(tuple(row for row in rows if row.u > 0))
    half = coverage_factor(budget.effective_dof, coverage) * budget.combined
    return Measured(
        kind="value", value=value, standard_uncertainty=budget.combined, limits=(value - half, value + half),
        unit=unit, budget=budget,
    )  # fmt: skip


def exponential(logarithm: Measured) -> Measured:
    """Return exp of a result, limits included: a ratio from the difference of logarithms."""
    value, (low, high) = logarithm.value, logarithm.limits or (None, None)
    if value is None or low is None or high is None:
        return logarithm
    u = math.exp(value) * (logarithm.standard_uncertainty or 0.0)
    limits = (math.exp(min(low, 700.0)), math.exp(min(high, 700.0)))  # two wild repeats may have no upper end
    return Measured(
        kind="value", value=math.exp(value), standard_uncertainty=u, limits=limits, unit="1",
        budget=logarithm.budget,
    )  # fmt: skip


def pulls_to_see(
    effect: float, scatter: float, *, alpha: float = 0.05, one_sided: bool = False
) -> int | None:
    """Return how many repeats of each of two things show a difference with a fair chance, None if too many.

    effect: the distance to be seen, same unit as scatter (standard deviation of one repeat).  alpha: of the
    test.  The usual sum of quantiles, effect / (scatter √(2/n)) ≥ t(1 − α/2) + t(0.8) on 2n − 2 degrees of
    freedom; it differs from the noncentral t by at most one pull.
    """
    coverage = 1 - (2 * alpha if one_sided else alpha)
    for n in range(2, MOST_PULLS + 1):
        dof = 2 * n - 2
        needed = coverage_factor(dof, coverage) + coverage_factor(dof, 2 * FAIR_CHANCE - 1)
        if effect >= needed * scatter * math.sqrt(2 / n):
            return n
    return None


def more_pulls(needed: int | None, first: Repeats, second: Repeats) -> More:
    """Return how many more of each, from how many are there already."""
    usual = first.variance is None or second.variance is None
    return More(
        of_each=None if needed is None else max(1, needed - min(first.n, second.n)), usual_scatter=usual
    )


def joint_scatter(first: Repeats, second: Repeats) -> float:
    """Return the typical scatter of one repeat of two things, the usual one where neither has repeats."""
    variances = [r.variance for r in (first, second) if r.variance is not None]
    if len(variances) < 2:
        variances.append((USUAL_SCATTER * (first.mean + second.mean) / 2) ** 2)
    return math.sqrt(sum(variances) / len(variances))
