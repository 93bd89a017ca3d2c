"""Friction that a motion asks for, against friction that two surfaces can give."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pullbench.model.arrays import FloatArray
from pullbench.model.measured import Measured

ScenarioName = Literal["rider", "flatbed", "tilt", "pusher", "tyres"]
Answer = Literal["holds", "cannot tell", "slides"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """What is known of a pair of surfaces: coefficients with 95 % limits, or a handbook's range.

    static, kinetic: lowest, usual and highest value; kinetic None where it is not known.  told: where they come
    from, one phrase.  label: "simulated", "replayed" or None.
    """

    static: tuple[float, float, float]
    kinetic: tuple[float, float, float] | None
    told: str
    label: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Required:
    """One scenario while what is asked of it grows; arrays of shape (n,), newtons.

    at: the acceleration (m/s²), angle (°) or push (N) that grows, `unit` says which.  required_N: friction the
    motion asks for.  low_N, usual_N, high_N: what static friction can give.  largest: the most before it slides.
    then: how it moves once it slides (m/s² along the surface at the largest), None where that has no meaning.
    """

    scenario: ScenarioName
    unit: str
    mass_kg: float
    g_m_s2: float
    grip: Grip
    at: FloatArray
    required_N: FloatArray
    low_N: FloatArray
    usual_N: FloatArray
    high_N: FloatArray
    largest: Measured
    then: Measured | None
