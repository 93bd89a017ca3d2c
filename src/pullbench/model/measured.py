"""A number with its plus or minus, or the reason why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Kind = Literal["value", "lower bound", "upper bound", "cannot tell"]


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """One source of doubt: its name, and its standard uncertainty carried to the result (same unit).

    dof: degrees of freedom of that estimate; infinite when it is not from repeated readings.
    """

    source: str
    u: float
    dof: float = math.inf


@dataclass(frozen=True, slots=True)
class UncertaintyBudget:
    """The itemised doubt of one result, in the manner of JCGM 100:2008 (GUM), 5.1.2 and G.4."""

    rows: tuple[BudgetRow, ...]

    @property
    def combined(self) -> float:
        """Return the combined standard uncertainty: the root of the summed squares."""
        return math.sqrt(sum(row.u**2 for row in self.rows))

    @property
    def effective_dof(self) -> float:
        """Return the Welch-Satterthwaite effective degrees of freedom (GUM G.4.1, eq. G.2b)."""
        shares = sum(row.u**4 / row.dof for row in self.rows if row.u > 0 and math.isfinite(row.dof))
        return self.combined**4 / shares if shares > 0 else math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A result that is never a bare number.

    kind: value; lower or upper bound (one limit is then None); cannot tell (value and limits are None).
    limits: 95 % coverage, in `unit`.  reason: why it is a bound or cannot be told, else None.
    """

    kind: Kind
    value: float | None
    standard_uncertainty: float | None
    limits: tuple[float | None, float | None] | None
    unit: str
    reason: str | None = None
    budget: UncertaintyBudget = UncertaintyBudget(())

    def __post_init__(self) -> None:
        told = self.kind != "cannot tell"
        if told != (self.value is not None and self.limits is not None):
            raise ValueError(f"{self.kind!r} with value {self.value} and limits {self.limits}")
        if self.value is not None and not math.isfinite(self.value):
            raise ValueError(f"a result cannot be {self.value}")
        if self.kind != "value" and not self.reason:
            raise ValueError(f"a result of kind {self.kind!r} needs its reason")

    @classmethod
    def cannot_tell(cls, reason: str, *, unit: str) -> Measured:
        """Return the honest absence of a number, with its reason."""
        return cls(
            kind="cannot tell", value=None, standard_uncertainty=None, limits=None, unit=unit, reason=reason
        )
