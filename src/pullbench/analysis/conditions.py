"""What pressed the sled down and how it was pulled, and the coefficients that follow."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from pullbench.analysis.student import coverage_factor
from pullbench.errors import ConditionsError
from pullbench.model import BudgetRow, Measured, Pull, UncertaintyBudget
from pullbench.physics import STANDARD_GRAVITY_M_S2, coefficient_from_pull


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Load and geometry of a pull.

    weight_N: of sled and load together, with u_weight_N.  string_deg: angle of the string above the
    surface.  tilt_deg: of the surface, positive when pulled uphill.
    """

    weight_N: float
    u_weight_N: float = 0.0
    string_deg: float = 0.0
    u_string_deg: float = 0.0
    tilt_deg: float = 0.0
    u_tilt_deg: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.weight_N < math.inf:
            raise ConditionsError(
                "load-not-positive",
                f"The load weighs {self.weight_N:g} N.",
                "It must weigh more than 0 N.",
                "Give --load as the mass of sled and load together, such as 1.35kg, or as a weight such as 13.2N.",
            )

    @classmethod
    def of_mass(cls, mass_kg: float, *, g_m_s2: float = STANDARD_GRAVITY_M_S2, **rest: float) -> Conditions:
        """Return the conditions for a mass of sled and load together, in kilograms."""
        return cls(weight_N=mass_kg * g_m_s2, **rest)


def coefficient(force: Measured, conditions: Conditions) -> Measured:
    """Return the coefficient that one force implies, with its uncertainty carried through (GUM 5.1.2).

    A bound on the force is the same bound on the coefficient; what cannot be told stays untold.
    """
    if force.kind == "cannot tell" or force.value is None:
        return Measured.cannot_tell(force.reason or "the force cannot be told", unit="1")
    at = coefficient_from_pull(
        force.value, conditions.weight_N, string_deg=conditions.string_deg, tilt_deg=conditions.tilt_deg
    )
    if force.kind != "value" or force.standard_uncertainty is None:
        low, high = (
            None if limit is None else coefficient_from_pull(
                limit, conditions.weight_N, string_deg=conditions.string_deg, tilt_deg=conditions.tilt_deg
            ).value
            for limit in force.limits or (None, None)
        )  # fmt: skip
        return Measured(
            kind=force.kind, value=at.value, standard_uncertainty=None, limits=(low, high), unit="1",
            reason=force.reason,
        )  # fmt: skip
    budget = UncertaintyBudget(
        tuple(
            row
            for row in (
                BudgetRow("the force", abs(at.per_pull) * force.standard_uncertainty),
                BudgetRow("the load", abs(at.per_weight) * conditions.u_weight_N),
                BudgetRow("the string's angle", abs(at.per_string) * conditions.u_string_deg),
                BudgetRow("the tilt", abs(at.per_tilt) * conditions.u_tilt_deg),
            )
            if row.u > 0
        )
    )
    u = budget.combined
    k = coverage_factor(budget.effective_dof)
    return Measured(
        kind="value", value=at.value, standard_uncertainty=u, limits=(at.value - k * u, at.value + k * u),
        unit="1", budget=budget,
    )  # fmt: skip


def from_repeats(coefficients: list[Measured]) -> Measured:
    """Return the mean coefficient of repeated pulls; its limits hold the between-pull scatter (Student's t).

    Only values enter; fewer than two give "cannot tell". The standard uncertainty is the larger of the
    scatter of the mean and the pulls' own average doubt, because a shared error does not average out.
    Source: JCGM 100:2008, 4.2 and G.3.
    """
    told = [
        c
        for c in coefficients
        if c.kind == "value" and c.value is not None and c.standard_uncertainty is not None
    ]
    if len(told) < 2:
        return Measured.cannot_tell(f"only {len(told)} of {len(coefficients)} pulls gave a value", unit="1")
    values = np.array([c.value for c in told], dtype=float)
    own = float(np.sqrt(np.mean([float(c.standard_uncertainty or 0.0) ** 2 for c in told]) / len(told)))
    scatter = float(values.std(ddof=1)) / math.sqrt(len(told))
    dof = len(told) - 1
    u = max(scatter, own)
    k = coverage_factor(dof)
    mean = float(values.mean())
    return Measured(
        kind="value", value=mean, standard_uncertainty=u, limits=(mean - k * u, mean + k * u), unit="1",
        budget=UncertaintyBudget((BudgetRow("scatter between pulls", u, dof),)),
    )  # fmt: skip


def with_coefficients(pull: Pull, conditions: Conditions) -> Pull:
    """Return the pull with the static and kinetic coefficients its forces imply."""
    return replace(
        pull,
        static_coefficient=coefficient(pull.breakaway.force, conditions),
        kinetic_coefficient=coefficient(pull.plateau.force, conditions),
    )
