"""Welch's comparison of two means, and Holm's correction when many are looked at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.analysis.any_scatter import any_scatter_level, any_scatter_p, errs_little
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.student import two_sided_p, upper_p
from pullbench.model import UncertaintyBudget

ALPHA = 0.05


@dataclass(frozen=True, slots=True)
class Welch:
    """Difference (second − first), its standard uncertainty and effective degrees of freedom.

    pulls: of each.  Where they are so few that the test would err more often than it says if one surface scatters more
    than the other, p values and limits are those that hold whatever the scatters (see `any_scatter`).  None: as
    published.
    """

    difference: float
    u: float
    dof: float
    pulls: tuple[int, int] | None = None

    @property
    def t(self) -> float:
        """Return the difference in units of its uncertainty."""
        return self.difference / self.u

    @property
    def p(self) -> float:
        """Return the two-sided tail: how often equal means would differ as much or more."""
        return self._held(two_sided_p(self.t, self.dof))

    def p_above(self, bound: float) -> float:
        """Return the one-sided tail against "the true difference is bound or less"."""
        return self._one_sided((self.difference - bound) / self.u)

    def p_below(self, bound: float) -> float:
        """Return the one-sided tail against "the true difference is bound or more"."""
        return self._one_sided((bound - self.difference) / self.u)

    def coverage(self, asked: float = 0.95) -> float:
        """Return the coverage for Student's t with which the limits of the difference really hold it so often."""
        if self.pulls is None or errs_little(*self.pulls):
            return asked
        return 1 - any_scatter_level(round(1 - asked, 9), *self.pulls)

    def _one_sided(self, t: float) -> float:
        """Return P(T > t); by symmetry half of a two-sided tail is as often exceeded as the whole."""
        p = upper_p(t, self.dof)
        return p if p >= 0.5 else self._held(2 * p) / 2

    def _held(self, p: float) -> float:
        return p if self.pulls is None or errs_little(*self.pulls) else any_scatter_p(p, *self.pulls)


def welch(first: Repeats, second: Repeats) -> Welch | None:
    """Return Welch's comparison, scatter of each on its own; None without repeats or without any scatter.

    Welch, Biometrika 34 (1947) 28; effective degrees of freedom as in JCGM 100:2008, G.4.1.
    """
    if first.variance is None or second.variance is None or first.variance + second.variance <= 0:
        return None
    budget = UncertaintyBudget((first.row("first"), second.row("second")))
    return Welch(second.mean - first.mean, budget.combined, budget.effective_dof, (first.n, second.n))


def holm(ps: Sequence[float]) -> list[float]:
    """Return the p values after Holm's correction, in the order given.

    Holm, Scandinavian Journal of Statistics 6 (1979) 65: the smallest is multiplied by m, the next by
    m − 1, and none may fall below one before it.
    """
    adjusted = [0.0] * len(ps)
    highest = 0.0
    for rank, index in enumerate(sorted(range(len(ps)), key=ps.__getitem__)):
        highest = max(highest, min(1.0, (len(ps) - rank) * ps[index]))
        adjusted[index] = highest
    return adjusted


def holm_where_known(ps: Sequence[float | None]) -> list[float | None]:
    """Return Holm's correction among the p values that exist."""
    known = iter(holm([p for p in ps if p is not None]))
    return [None if p is None else next(known) for p in ps]
