"""The one solver behind the keys: bodies on boards, joined by taut strings, with or without a rider.

Two balances carry everything: along the board, mass × acceleration = pull + weight's share - friction; across it
the normal force, from `physics.plane`.  Friction at rest is whatever keeps the balance, up to μs N; friction while
sliding is μk N against the sliding.  SI units; angles in degrees.

`two_forces_N` serves only the check against printed answers (ladder, climber, curves): no kind uses it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from pullbench.errors import ConditionsError
from pullbench.physics import normal_force_N, pull_needed_N, steady_friction_N, weight_N


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One body of a chain on taut strings; forward is where the chain is pulled.

    tilt_deg: of its board, positive when forward is uphill.  pull_N: at string_deg above its board, on this body.
    hanging: from a string over a pulley, so that its weight pulls the chain forward.  press_N: what else presses
    it to its board (a rider).  drag_N: a known resistance, in newtons, beside μ N.
    """

    mass_kg: float
    mu_s: float = 0.0
    mu_k: float = 0.0
    tilt_deg: float = 0.0
    pull_N: float = 0.0
    string_deg: float = 0.0
    hanging: bool = False
    press_N: float = 0.0
    drag_N: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """How a chain moves, forward counted positive.

    friction_N: on the whole chain, against the motion (at rest: against what would move it).  strings_N: force in
    the string ahead of each body but the last; empty at rest, where rigid bodies do not tell who holds how much.
    """

    acceleration_m_s2: float
    friction_N: float
    sliding: bool
    strings_N: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """How a sled and the rider on it move, forward counted positive; friction_N: on the rider, from the sled."""

    sled_m_s2: float
    rider_m_s2: float
    friction_N: float
    together: bool


def motion(chain: Sequence[Link], g_m_s2: float, *, moving: bool = False) -> Motion:
    """Return how a chain moves that stands, or (moving) already slides forward, from rear to front.

    At rest it stays while |drive| <= Σ μs N; else it slides to where it is driven.  Raises ConditionsError for an
    impossible mass, angle or lifted body.
    """
    drives_N = [_drive_N(link, g_m_s2) for link in chain]
    limit_N = sum(_friction_N(link, link.mu_s, g_m_s2) for link in chain)
    drive_N = sum(drives_N)
    if not moving and abs(drive_N) <= limit_N:
        return Motion(acceleration_m_s2=0.0, friction_N=drive_N, sliding=False)
    way = 1.0 if moving or drive_N > 0 else -1.0
    frictions_N = [way * _friction_N(link, link.mu_k, g_m_s2) for link in chain]
    acceleration = (drive_N - sum(frictions_N)) / sum(link.mass_kg for link in chain)
    strings_N, so_far_N = [], 0.0
    for link, drive, friction in zip(chain, drives_N, frictions_N, strict=True):
        so_far_N += link.mass_kg * acceleration + friction - drive
        strings_N.append(so_far_N)
    return Motion(
        acceleration_m_s2=acceleration,
        friction_N=sum(frictions_N),
        sliding=True,
        strings_N=tuple(strings_N[:-1]),
    )


def pull_for_N(
    chain: Sequence[Link], g_m_s2: float, *, acceleration_m_s2: float = 0.0, static: bool = False
) -> float:
    """Return the pull on the last body (at its string_deg) that gives a sliding chain this acceleration, in newtons.

    static: the largest pull at which the chain still stands, with μs instead of μk.  Any pull_N of the last body
    is left out.  Raises ConditionsError when no pull is enough.
    """
    *others, last = (*chain[:-1], replace(chain[-1], pull_N=0.0))
    mu = last.mu_s if static else last.mu_k
    angles = {"string_deg": last.string_deg, "tilt_deg": last.tilt_deg}
    alone_N = pull_needed_N(mu, weight_N(last.mass_kg, g_m_s2), **angles)
    alpha = math.radians(last.string_deg)
    more_N = mu * last.press_N + last.drag_N + acceleration_m_s2 * sum(link.mass_kg for link in chain)
    for link in others:
        coefficient = link.mu_s if static else link.mu_k
        more_N += _friction_N(link, coefficient, g_m_s2) - _drive_N(link, g_m_s2)
    return alone_N + more_N / (math.cos(alpha) + mu * math.sin(alpha))


def bed_friction_N(load: Link, bed_m_s2: float, g_m_s2: float) -> float:
    """Return the friction on a load that rides on a level bed, in newtons, with the sign of the bed's acceleration.

    It is m a, forwards when the bed speeds up, until μs N is not enough; then the load slides on the bed and μk N acts.
    """
    needed_N = load.mass_kg * bed_m_s2
    if abs(needed_N) <= _friction_N(load, load.mu_s, g_m_s2):
        return needed_N
    return math.copysign(_friction_N(load, load.mu_k, g_m_s2), bed_m_s2)


def ride(sled: Link, rider: Link, g_m_s2: float, *, moving: bool = False) -> Ride:
    """Return how a pulled sled on a level floor and the rider on it move.

    sled: with its pull and the floor's coefficients.  rider: with the coefficients between rider and sled.
    First both are taken as one body; if the rider would need more than μs N, it slides on the sled.
    """
    one = motion([replace(sled, mass_kg=sled.mass_kg + rider.mass_kg)], g_m_s2, moving=moving)
    friction_N = bed_friction_N(rider, one.acceleration_m_s2, g_m_s2)
    rider_m_s2 = friction_N / rider.mass_kg
    together = math.isclose(rider_m_s2, one.acceleration_m_s2, rel_tol=1e-12, abs_tol=1e-12)
    if together:
        return Ride(
            sled_m_s2=one.acceleration_m_s2, rider_m_s2=rider_m_s2, friction_N=friction_N, together=True
        )
    pressed = replace(sled, press_N=weight_N(rider.mass_kg, g_m_s2), pull_N=sled.pull_N - friction_N)
    alone = motion([pressed], g_m_s2, moving=True)
    return Ride(
        sled_m_s2=alone.acceleration_m_s2, rider_m_s2=rider_m_s2, friction_N=friction_N, together=False
    )


def speed_after_m_s(speed_m_s: float, acceleration_m_s2: float, distance_m: float) -> float:
    """Return the speed after a distance under a steady acceleration: v² = v0² + 2 a d.

    Raises ConditionsError when the body stops before.
    """
    square = speed_m_s**2 + 2 * acceleration_m_s2 * distance_m
    if square < 0:
        raise ConditionsError(
            "stops-before",
            f"It comes to rest before {distance_m:g} m.",
            f"From {speed_m_s:g} m/s it gets {speed_m_s**2 / (-2 * acceleration_m_s2):.3g} m far.",
            "Ask for a shorter distance.",
        )
    return math.sqrt(square)


def stopping(speed_m_s: float, slowing_m_s2: float) -> tuple[float, float]:
    """Return the distance (m) and the time (s) in which a steady slowing takes all the speed away.

    d = v² / 2a, t = v / a.  Raises ConditionsError unless something slows it.
    """
    if not slowing_m_s2 > 0:
        raise ConditionsError(
            "never-stops",
            f"It slows by {slowing_m_s2:g} m/s each second.",
            "It must be above 0 m/s²: else it never comes to rest.",
            "Take a gentler slope or a larger coefficient.",
        )
    return speed_m_s**2 / (2 * slowing_m_s2), speed_m_s / slowing_m_s2


def work_J(force_N: float, distance_m: float, *, angle_deg: float = 0.0) -> float:
    """Return the work of a steady force over a distance, angle_deg between the two: F d cos(angle), in joules."""
    return force_N * distance_m * math.cos(math.radians(angle_deg))


def two_forces_N(first_deg: float, second_deg: float, *, x_N: float, y_N: float) -> tuple[float, float]:
    """Return the sizes of two forces along known directions whose sum is (x, y).  Only the check uses it.

    Directions in degrees from x towards y.  Raises ConditionsError when both lie along one line.
    """
    first, second = math.radians(first_deg), math.radians(second_deg)
    across = math.sin(second - first)
    if abs(across) < 1e-12:
        raise ConditionsError(
            "forces-on-one-line",
            f"Directions {first_deg:g}° and {second_deg:g}° lie along one line.",
            "They must differ, and not by 180°.",
            "Check the angles.",
        )
    return (
        (x_N * math.sin(second) - y_N * math.cos(second)) / across,
        (y_N * math.cos(first) - x_N * math.sin(first)) / across,
    )


def _drive_N(link: Link, g_m_s2: float) -> float:
    weight = weight_N(link.mass_kg, g_m_s2)
    if link.hanging:
        return weight + link.pull_N
    return steady_friction_N(link.pull_N, weight, string_deg=link.string_deg, tilt_deg=link.tilt_deg)


def _friction_N(link: Link, coefficient: float, g_m_s2: float) -> float:
    if link.hanging:
        return link.drag_N
    weight = weight_N(link.mass_kg, g_m_s2)
    normal = normal_force_N(weight, link.pull_N, string_deg=link.string_deg, tilt_deg=link.tilt_deg)
    return coefficient * (normal + link.press_N) + link.drag_N
