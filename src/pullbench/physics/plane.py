"""Algebra of a pulled sled on a board: string at an angle, board tilted, or both.

Weight W in newtons.  string_deg: angle α of the string above the surface, positive when it lifts.
tilt_deg: angle θ of the board, positive when the sled is pulled uphill.  Every relation follows from
Newton's second law along and across the board, with friction = coefficient × normal force.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from pullbench.errors import ConditionsError
from pullbench.physics.gravity import STANDARD_GRAVITY_M_S2


@dataclass(frozen=True, slots=True)
class PullCoefficient:
    """A coefficient from one steady pull, and how fast it changes with each input.

    per_pull and per_weight are per newton; per_string and per_tilt are per degree.
    """

    value: float
    per_pull: float
    per_weight: float
    per_string: float
    per_tilt: float


def weight_N(mass_kg: float, g_m_s2: float = STANDARD_GRAVITY_M_S2) -> float:
    """Return the weight of a mass, in newtons.  Raises ConditionsError unless both are above zero."""
    if not 0 < mass_kg < math.inf:
        raise ConditionsError(
            "mass-not-positive",
            f"Mass is {mass_kg:g} kg.",
            "It must be a finite number above 0 kg.",
            "Weigh sled and load together and enter kilograms.",
        )
    if not 0 < g_m_s2 < math.inf:
        raise ConditionsError(
            "gravity-not-positive",
            f"Gravity is {g_m_s2:g} m/s².",
            "It must be a finite number above 0 m/s²; on Earth it is 9.76 to 9.83 m/s².",
            "Leave it out, or give the latitude instead.",
        )
    return mass_kg * g_m_s2


def normal_force_N(
    weight_N: float, pull_N: float = 0.0, *, string_deg: float = 0.0, tilt_deg: float = 0.0
) -> float:
    """Return the force that presses sled and board together: N = W cos θ - F sin α, in newtons.

    Raises ConditionsError for impossible angles or weights, or when the pull lifts the sled (N <= 0).
    """
    alpha, theta = _angles(string_deg, tilt_deg)
    normal_N = _weight(weight_N) * math.cos(theta) - _force(pull_N) * math.sin(alpha)
    if not normal_N > 0:
        raise ConditionsError(
            "normal-force-not-positive",
            f"Normal force is {normal_N:g} N: a pull of {pull_N:g} N at {string_deg:g}° lifts the sled.",
            "It must be above 0 N.",
            "Lower the string, or check the mass of sled and load.",
        )
    return normal_N


def steady_friction_N(
    pull_N: float, weight_N: float, *, string_deg: float = 0.0, tilt_deg: float = 0.0
) -> float:
    """Return the friction on a sled at rest or sliding steadily: F cos α - W sin θ, in newtons.

    Negative when friction holds the sled back from sliding downhill.  Raises ConditionsError.
    """
    alpha, theta = _angles(string_deg, tilt_deg)
    return _force(pull_N) * math.cos(alpha) - _weight(weight_N) * math.sin(theta)


def coefficient_from_pull(
    pull_N: float, weight_N: float, *, string_deg: float = 0.0, tilt_deg: float = 0.0
) -> PullCoefficient:
    """Return μ = (F cos α - W sin θ) / (W cos θ - F sin α), with its partial derivatives.

    Pass the breakaway pull for the static coefficient, the kinetic level for the kinetic one.
    Raises ConditionsError when the normal force is not positive or an angle is impossible.
    """
    normal = normal_force_N(weight_N, pull_N, string_deg=string_deg, tilt_deg=tilt_deg)
    friction = steady_friction_N(pull_N, weight_N, string_deg=string_deg, tilt_deg=tilt_deg)
    alpha, theta = _angles(string_deg, tilt_deg)
    mu = friction / normal
    shared = math.cos(alpha + theta) / normal**2
    per_degree = math.radians(1.0) / normal
    return PullCoefficient(
        value=mu,
        per_pull=weight_N * shared,
        per_weight=-pull_N * shared,
        per_string=pull_N * (mu * math.cos(alpha) - math.sin(alpha)) * per_degree,
        per_tilt=weight_N * (mu * math.sin(theta) - math.cos(theta)) * per_degree,
    )


def pull_needed_N(
    coefficient: float, weight_N: float, *, string_deg: float = 0.0, tilt_deg: float = 0.0
) -> float:
    """Return the pull that just moves (static μ) or keeps moving (kinetic μ) the sled, in newtons.

    F = W (μ cos θ + sin θ) / (cos α + μ sin α).  Negative when the sled slides downhill by itself.
    Raises ConditionsError when no pull is enough: a rod pushing down too steeply only jams the sled.
    """
    mu = _coefficient(coefficient)
    alpha, theta = _angles(string_deg, tilt_deg)
    grip = math.cos(alpha) + mu * math.sin(alpha)
    if not grip > 0:
        raise ConditionsError(
            "no-pull-is-enough",
            f"At {string_deg:g}° below the surface with coefficient {mu:g} the sled jams.",
            f"The angle must be above {-math.degrees(math.atan2(1, mu)):.1f}°.",
            "Raise the string towards the height of the sled.",
        )
    return _weight(weight_N) * (mu * math.cos(theta) + math.sin(theta)) / grip


def holding_pull_N(
    coefficient: float, weight_N: float, *, string_deg: float = 0.0, tilt_deg: float = 0.0
) -> float:
    """Return the uphill pull that just keeps the sled from sliding down, or lowers it steadily (N).

    F = W (sin θ - μ cos θ) / (cos α - μ sin α).  Negative when the sled stays by itself.
    Raises ConditionsError when the string is so steep that it lifts the sled first.
    """
    mu = _coefficient(coefficient)
    alpha, theta = _angles(string_deg, tilt_deg)
    grip = math.cos(alpha) - mu * math.sin(alpha)
    if not grip > 0:
        raise ConditionsError(
            "string-too-steep",
            f"A string at {string_deg:g}° with coefficient {mu:g} cannot hold the sled.",
            f"The angle must be below {math.degrees(math.atan2(1, mu)):.1f}°.",
            "Lower the string towards the board.",
        )
    return _weight(weight_N) * (math.sin(theta) - mu * math.cos(theta)) / grip


def least_pull(coefficient: float, weight_N: float, *, tilt_deg: float = 0.0) -> tuple[float, float]:
    """Return the string angle (degrees) that needs the least pull, and that pull (N).

    tan α = μ, whatever the tilt; then F = W sin(θ + α).  Raises ConditionsError.
    """
    easiest = math.atan(_coefficient(coefficient))
    _, theta = _angles(0.0, tilt_deg)
    return math.degrees(easiest), _weight(weight_N) * math.sin(theta + easiest)


def acceleration_pulled_m_s2(
    pull_N: float,
    mass_kg: float,
    coefficient: float,
    *,
    string_deg: float = 0.0,
    tilt_deg: float = 0.0,
    g_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> float:
    """Return the acceleration along the board of a sled sliding in the direction of the pull, in m/s².

    a = (F cos α - W sin θ - μ N) / m with the kinetic coefficient.  Raises ConditionsError.
    """
    weight = weight_N(mass_kg, g_m_s2)
    normal = normal_force_N(weight, pull_N, string_deg=string_deg, tilt_deg=tilt_deg)
    along = steady_friction_N(pull_N, weight, string_deg=string_deg, tilt_deg=tilt_deg)
    return (along - _coefficient(coefficient) * normal) / mass_kg


def _weight(weight_N: float) -> float:
    if not 0 < weight_N < math.inf:
        raise ConditionsError(
            "weight-not-positive",
            f"Weight is {weight_N:g} N.",
            "It must be a finite number above 0 N.",
            "Enter the mass of sled and load in kilograms.",
        )
    return weight_N


def _force(pull_N: float) -> float:
    if not math.isfinite(pull_N):
        raise ConditionsError(
            "pull-not-finite", f"Pull is {pull_N:g} N.", "It must be a finite number.", "Read the pull again."
        )
    return pull_N


def _coefficient(coefficient: float) -> float:
    if not 0 <= coefficient < math.inf:
        raise ConditionsError(
            "coefficient-negative",
            f"Coefficient of friction is {coefficient:g}.",
            "It must be a finite number, 0 or more; most pairs lie between 0.05 and 1.",
            "Check the sign of the pull and the tilt.",
        )
    return coefficient


def _angles(string_deg: float, tilt_deg: float) -> tuple[float, float]:
    """Return both angles in radians, or say which one is impossible."""
    for code, name, angle_deg in (
        ("string-angle-out-of-range", "String angle", string_deg),
        ("tilt-out-of-range", "Tilt of the board", tilt_deg),
    ):
        if not abs(angle_deg) < 90:
            raise ConditionsError(
                code,
                f"{name} is {angle_deg:g}°.",
                "It must lie strictly between -90° and 90°.",
                "Measure it from the surface, in degrees.",
            )
    return math.radians(string_deg), math.radians(tilt_deg)
