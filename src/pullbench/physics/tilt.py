"""A sled on a tilted board without a string: when it slips, and how it speeds up."""

from __future__ import annotations

import math

from pullbench.errors import ConditionsError
from pullbench.physics.gravity import STANDARD_GRAVITY_M_S2


def coefficient_from_tilt(tilt_deg: float) -> tuple[float, float]:
    """Return the static coefficient from the tilt at which the sled slips, and its change per degree.

    μ = tan θ, from W sin θ = μ W cos θ; dμ/dθ = 1 + μ².  Raises ConditionsError outside 0 to 90°.
    """
    mu = math.tan(_tilt(tilt_deg))
    return mu, (1 + mu**2) * math.radians(1.0)


def slip_tilt_deg(coefficient: float) -> float:
    """Return the tilt at which a sled with this static coefficient slips, in degrees (arctan μ)."""
    return math.degrees(math.atan(coefficient))


def acceleration_down_m_s2(
    coefficient: float, tilt_deg: float, *, g_m_s2: float = STANDARD_GRAVITY_M_S2
) -> float:
    """Return the acceleration of a sled sliding downhill: g (sin θ - μ cos θ), in m/s².

    Negative when friction slows it.  coefficient: kinetic.  Raises ConditionsError.
    """
    theta = _tilt(tilt_deg)
    return g_m_s2 * (math.sin(theta) - coefficient * math.cos(theta))


def acceleration_up_m_s2(
    coefficient: float, tilt_deg: float, *, g_m_s2: float = STANDARD_GRAVITY_M_S2
) -> float:
    """Return the uphill acceleration of a sled gliding uphill: -g (sin θ + μ cos θ), in m/s²."""
    theta = _tilt(tilt_deg)
    return -g_m_s2 * (math.sin(theta) + coefficient * math.cos(theta))


def coefficient_from_acceleration(
    acceleration_m_s2: float, tilt_deg: float, *, g_m_s2: float = STANDARD_GRAVITY_M_S2
) -> float:
    """Return the kinetic coefficient of a sled seen to speed up downhill: tan θ - a / (g cos θ)."""
    theta = _tilt(tilt_deg)
    return math.tan(theta) - acceleration_m_s2 / (g_m_s2 * math.cos(theta))


def _tilt(tilt_deg: float) -> float:
    if not 0 <= tilt_deg < 90:
        raise ConditionsError(
            "tilt-out-of-range",
            f"Tilt of the board is {tilt_deg:g}°.",
            "It must be at least 0° and below 90°.",
            "Measure the tilt from level, in degrees.",
        )
    return math.radians(tilt_deg)
