"""Exact stick-slip of a sled pulled through a spring at constant speed (Coulomb friction).

Assumes: no damping, constant kinetic friction while moving, the full static limit at once on
re-stick, a massless spring that never goes slack, and a sensor that reads the spring.  With
ω = √(k/M), D = Fs - Fk and c = kV/ω the pull during a slip is Fk + D cos ωt + c sin ωt; everything
here follows from it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from pullbench.errors import ConditionsError


@dataclass(frozen=True, slots=True, kw_only=True)
class StickSlipCycle:
    """One cycle: times in s, pulls in N, slip_m the sled's step, top_speed_m_s its greatest speed.

    highest_N comes just after the break and exceeds the static limit; lowest_N comes just before
    re-stick.  restick_N is 2 Fk - Fs at every speed.  mean_N holds over slip, stick and cycle.
    """

    slip_s: float
    stick_s: float
    highest_N: float
    lowest_N: float
    restick_N: float
    mean_N: float
    slip_m: float
    top_speed_m_s: float

    @property
    def period_s(self) -> float:
        """Return the time from break to break."""
        return self.slip_s + self.stick_s


def stick_slip_cycle(
    *, static_N: float, kinetic_N: float, mass_kg: float, stiffness_N_m: float, speed_m_s: float
) -> StickSlipCycle:
    """Return the cycle of a sled of mass_kg on a spring of stiffness_N_m pulled at speed_m_s.

    Raises ConditionsError unless static_N > kinetic_N >= 0 and mass, stiffness and speed are above zero.
    """
    if not 0 <= kinetic_N < static_N < math.inf:
        raise ConditionsError(
            "static-not-above-kinetic",
            f"Static limit {static_N:g} N, kinetic friction {kinetic_N:g} N.",
            "The static limit must be above the kinetic friction, which is 0 N or more.",
            "Without a drop the sled slides smoothly: there is no cycle to compute.",
        )
    _above_zero(mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, speed_m_s=speed_m_s)
    omega = math.sqrt(stiffness_N_m / mass_kg)
    drop_N = static_N - kinetic_N
    pace_N = stiffness_N_m * speed_m_s / omega
    swing_N = math.hypot(drop_N, pace_N)
    slip_s = 2 * (math.pi - math.atan2(drop_N, pace_N)) / omega
    return StickSlipCycle(
        slip_s=slip_s,
        stick_s=2 * drop_N / (stiffness_N_m * speed_m_s),
        highest_N=kinetic_N + swing_N,
        lowest_N=kinetic_N - swing_N,
        restick_N=2 * kinetic_N - static_N,
        mean_N=kinetic_N,
        slip_m=speed_m_s * slip_s + 2 * drop_N / stiffness_N_m,
        top_speed_m_s=speed_m_s + swing_N * omega / stiffness_N_m,
    )


def overshoot_N(*, drop_N: float, mass_kg: float, stiffness_N_m: float, speed_m_s: float) -> float:
    """Return how far the highest pull exceeds the static limit: √(D² + M k V²) - D, in newtons.

    drop_N: static limit minus kinetic friction, 0 or more.  Raises ConditionsError.
    """
    _above_zero(mass_kg=mass_kg, stiffness_N_m=stiffness_N_m, speed_m_s=speed_m_s)
    pace2 = mass_kg * stiffness_N_m * speed_m_s**2
    # The difference of two near-equal numbers, rewritten so that a slow pull keeps its digits.
    return pace2 / (drop_N + math.sqrt(drop_N**2 + pace2))


def _above_zero(**numbers: float) -> None:
    for name, value in numbers.items():
        if not 0 < value < math.inf:
            raise ConditionsError(
                "not-positive",
                f"{name} is {value:g}.",
                "It must be a finite number above zero.",
                "Check the value and its unit.",
            )
