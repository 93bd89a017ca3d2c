"""The force scale, verified with known masses: a weighted straight line through what was hung.

What is hung weighs m·g; the sensor should read as much above its reading with nothing on it. The slope of
reading against weight is the gain, 1 for a true sensor. Readings are never corrected by it, so that the same
samples give the same numbers everywhere: the found difference from 1 enters the budgets as a known effect
that is left uncorrected (JCGM 100:2008, 6.3.1 note and F.2.4.5), together with the doubt of the gain itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.student import coverage_factor
from pullbench.errors import ConditionsError
from pullbench.model import BudgetRow, Measured, UncertaintyBudget
from pullbench.physics import STANDARD_GRAVITY_M_S2

USUAL_U_MASS = 1e-3  # relative, of a mass whose doubt nobody told: a school's slotted mass (judgement)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """One known mass and what was read with it.

    mass_kg: 0 for nothing hung.  reading_N: the sensor's own sign and offset.  u_reading_N: standard
    uncertainty of that mean.  u_mass_kg: of the mass; None: a thousandth of it.
    """

    mass_kg: float
    reading_N: float
    u_reading_N: float
    u_mass_kg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Verification:
    """The force scale as masses show it: gain is reading per newton, u_gain what enters every budget.

    u_gain: relative standard uncertainty of forces that are left as they are read.  masses: how many.
    """

    gain: Measured
    u_gain: float
    masses: int


def verify(hung: Sequence[Hung], *, g_m_s2: float = STANDARD_GRAVITY_M_S2) -> Verification:
    """Return gain and its uncertainty from readings under known masses.

    A weighted straight line (weights from the doubts of reading and mass; offset free). When points scatter
    more than their doubts say, the doubt grows with them (Birge ratio, n − 2 degrees of freedom).
    A sensor that is pulled the other way reads negative: the gain is the slope's size.
    Raises ConditionsError for impossible masses, fewer than two different ones, or a sensor that does not
    answer to them.
    """
    _refuse(hung)
    weight_N = np.array([one.mass_kg * g_m_s2 for one in hung])
    reading_N = np.array([one.reading_N for one in hung])
    u_mass = [one.mass_kg * USUAL_U_MASS if one.u_mass_kg is None else one.u_mass_kg for one in hung]
    slope, _, _ = _line(weight_N, reading_N, np.array([one.u_reading_N for one in hung]))
    u_N = np.hypot([one.u_reading_N for one in hung], slope * g_m_s2 * np.array(u_mass))
    slope, u_slope, misfit = _line(weight_N, reading_N, u_N)
    if abs(slope) < 5 * u_slope:
        raise ConditionsError(
            "masses-not-felt",
            f"The reading changes by {slope:.3g} N a newton hung, within its doubt of {u_slope:.2g}.",
            "It must change clearly with the mass.",
            "Hang the masses from the sensor itself, heavier ones if need be.",
        )  # fmt: skip
    dof = len(hung) - 2
    birge = math.sqrt(misfit / dof) if dof > 0 else 1.0
    row = BudgetRow("masses and readings", u_slope * max(birge, 1.0), dof if birge > 1 else math.inf)
    gain, k = abs(slope), coverage_factor(row.dof)
    told = Measured(
        kind="value", value=gain, standard_uncertainty=row.u, limits=(gain - k * row.u, gain + k * row.u),
        unit="1", budget=UncertaintyBudget((row,)),
    )  # fmt: skip
    # Few masses make their own scatter a poor estimate: k/k∞ carries that into the one number budgets take.
    u_gain = math.hypot(row.u * k / coverage_factor(math.inf), gain - 1.0) / gain
    return Verification(gain=told, u_gain=u_gain, masses=sum(one.mass_kg > 0 for one in hung))


def _line(x: np.ndarray, y: np.ndarray, u: np.ndarray) -> tuple[float, float, float]:
    """Return slope, its standard uncertainty and the weighted sum of squares left (GUM H.3, weighted)."""
    weight = 1 / np.maximum(u, 1e-12) ** 2
    x0 = float(weight @ x / weight.sum())
    y0 = float(weight @ y / weight.sum())
    spread = float(weight @ (x - x0) ** 2)
    slope = float(weight @ ((x - x0) * (y - y0))) / spread
    left = y - y0 - slope * (x - x0)
    return slope, 1 / math.sqrt(spread), float(weight @ left**2)


def _refuse(hung: Sequence[Hung]) -> None:
    for one in hung:
        if not 0 <= one.mass_kg <= 1000:
            raise ConditionsError(
                "mass-impossible", f"A hung mass is {one.mass_kg:g} kg.", "It must lie from 0 to 1000 kg.",
                "Type the mass in kilograms, such as 0.5.",
            )  # fmt: skip
    if len({one.mass_kg for one in hung}) < 2:
        raise ConditionsError(
            "masses-too-few", f"{len({one.mass_kg for one in hung})} different mass was hung.",
            "A scale needs two different ones; nothing hung counts as one.",
            "Hang another mass and wait until it is still.",
        )  # fmt: skip
