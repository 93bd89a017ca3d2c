"""Required against available: a rider, cargo, a box on a slope, a person who pushes, tyres; from today's grip.

Friction opposes the sliding of two surfaces over each other.  Whatever rides along needs it to be taken along:

    rider, flatbed, tyres   asked m a          there is μs m g           most: a = μs g
    box on a slope          asked m g sin θ    there is μs m g cos θ     most: tan θ = μs
    person who pushes       asked the push P   there is μs m g           most: P = μs m g

A thought for the lesson: nothing here is tried in a vehicle, and no load is secured by a coefficient.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pullbench.errors import ConditionsError
from pullbench.model import FloatArray, Measured
from pullbench.model.required import Answer, Grip, Required, ScenarioName
from pullbench.physics import STANDARD_GRAVITY_M_S2, acceleration_down_m_s2, slip_tilt_deg, weight_N
from pullbench.teach.handbook import Entry

CAUTION = (
    "For teaching only, not a safety measurement. Never try it in or on a moving vehicle: "
    "the law and straps hold a load, not friction."
)
STEPS = 161  # from nothing to well past sliding
BEYOND = 1.6  # of the most that may hold
STEEPEST_DEG = 89.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """Words of one scenario.  grows, unit: what is turned up.  holds, slides: one sentence each."""

    title: str
    grows: str
    unit: str
    mass_kg: float
    who: str
    holds: str
    slides: str
    then: str


SCENARIOS: Mapping[ScenarioName, Scenario] = MappingProxyType(
    {
        "rider": Scenario(
            title="Rider on the sled", grows="acceleration of the sled", unit="m/s²", mass_kg=0.5, who="rider",
            holds="Friction points forward and takes the rider along.",
            slides="The sled speeds up faster than friction can take the rider along: the rider is left behind.",
            then="Left behind, the rider still speeds up, at",
        ),
        "flatbed": Scenario(
            title="Cargo on a flatbed", grows="acceleration or braking", unit="m/s²", mass_kg=500.0, who="cargo",
            holds="Friction changes the cargo's speed together with the flatbed's.",
            slides="The flatbed changes its speed faster than friction can change the cargo's: the cargo slides.",
            then="Sliding, the cargo changes its speed at only",
        ),
        "tilt": Scenario(
            title="Box on a slope", grows="angle of the slope", unit="°", mass_kg=1.0, who="box",
            holds="Friction points up the slope and holds the box.",
            slides="The slope asks for more than there is: the box slides down.",
            then="At that angle it then speeds up at",
        ),
        "pusher": Scenario(
            title="Person who pushes scenery", grows="push", unit="N", mass_kg=60.0, who="person",
            holds="The floor pushes the soles forward just as hard as the person pushes.",
            slides="The push asks for more than the soles can get from the floor: the feet slip backwards.",
            then="",
        ),
        "tyres": Scenario(
            title="Tyres, a thought on a closed track", grows="acceleration, braking or cornering", unit="m/s²",
            mass_kg=1200.0, who="car",
            holds="The road's static friction changes the car's velocity: the tyres roll without sliding.",
            slides="More is asked than the road can give: the tyres slide.",
            then="Sliding, the car changes its velocity at only",
        ),
    }
)  # fmt: skip
BETWEEN = "Between the limits: nobody can tell whether it holds."


def grip_from(static: Measured, kinetic: Measured | None, *, told: str, label: str | None = None) -> Grip:
    """Return the grip that coefficients of today give.  Raises ConditionsError when static cannot be told."""
    span = _span(static)
    if span is None:
        raise ConditionsError(
            "grip-unknown", f"The static coefficient cannot be told: {static.reason or 'no limits'}.",
            "It must have a value with both limits.", "Take another pull, or a pair from the handbook.",
        )  # fmt: skip
    return Grip(static=span, kinetic=None if kinetic is None else _span(kinetic), told=told, label=label)


def grip_from_handbook(entry: Entry) -> Grip:
    """Return a handbook's range as grip, from its lowest to its highest value.  Raises ConditionsError."""
    if entry.static is None:
        raise ConditionsError(
            "grip-unknown", f"The handbook has no static coefficient for {entry.surfaces}.",
            "A static coefficient is needed.", "Name another pair of surfaces, or use a pull of today.",
        )  # fmt: skip
    middle = None if entry.kinetic is None else (entry.kinetic[0], sum(entry.kinetic) / 2, entry.kinetic[1])
    return Grip(
        static=(entry.static[0], sum(entry.static) / 2, entry.static[1]), kinetic=middle,
        told=f"handbook range for {entry.surfaces}",
    )  # fmt: skip


def required(
    scenario: ScenarioName, grip: Grip, *, mass_kg: float | None = None, most: float | None = None,
    g_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> Required:  # fmt: skip
    """Return a scenario from nothing asked to well past sliding.

    mass_kg: of what rides, lies or pushes; the scenario's usual one by default.  most: where it ends, in the
    scenario's unit.  Raises ConditionsError.
    """
    words = SCENARIOS[scenario]
    mass = words.mass_kg if mass_kg is None else mass_kg
    weight = weight_N(mass, g_m_s2)
    low, usual, high = (_largest(scenario, mu, weight, g_m_s2) for mu in grip.static)
    end = _end(scenario, BEYOND * high) if most is None else check_at(scenario, most)
    at = np.linspace(0.0, end, STEPS)
    asked, pressing = _asked(scenario, at, weight, g_m_s2)
    mu_low, mu_usual, mu_high = grip.static
    return Required(
        scenario=scenario, unit=words.unit, mass_kg=mass, g_m_s2=g_m_s2, grip=grip, at=at,
        required_N=asked, low_N=mu_low * pressing,
        usual_N=mu_usual * pressing, high_N=mu_high * pressing, largest=_measured((low, usual, high), words.unit),
        then=_then(scenario, grip, usual, g_m_s2),
    )  # fmt: skip


def check_at(scenario: ScenarioName, at: float) -> float:
    """Return what is asked, if that can be.  Raises ConditionsError in one clear sentence."""
    words = SCENARIOS[scenario]
    if math.isfinite(at) and at < 0 and scenario == "tilt":
        raise ConditionsError(
            "slides-up-by-itself", f"At {at:g}° the box would have to slide up the slope by itself: nothing does that.",
            "The angle must be 0° or more.", "Give the angle from level, in degrees.",
        )  # fmt: skip
    largest = 90.0 if scenario == "tilt" else math.inf
    if not 0 <= at < largest:
        raise ConditionsError(
            "asked-impossible", f"The {words.grows} is {at:g} {words.unit}.",
            "It must be 0 or more" + (" and below 90°." if scenario == "tilt" else ", and finite."),
            "Give how large it is; its direction changes nothing.",
        )  # fmt: skip
    return at


def answer_at(found: Required, at: float) -> tuple[Answer, Measured]:
    """Return whether it holds when `at` is asked, and the margin: available less required, with its limits."""
    needed, low, high = forces_at(found, at)
    usual = low * found.grip.static[1] / found.grip.static[0]
    margin = _measured((low - needed, usual - needed, high - needed), "N")
    if needed <= low:
        return "holds", margin
    return ("slides" if needed > high else "cannot tell"), margin


def forces_at(found: Required, at: float) -> tuple[float, float, float]:
    """Return what is asked, and the least and the most there may be, in newtons.  Raises ConditionsError."""
    check_at(found.scenario, at)
    weight = weight_N(found.mass_kg, found.g_m_s2)
    needed, pressing = (float(one[0]) for one in _asked(found.scenario, np.array([at]), weight, found.g_m_s2))
    return needed, found.grip.static[0] * pressing, found.grip.static[2] * pressing


def sentence(scenario: ScenarioName, answer: Answer) -> str:
    """Return what happens, in one sentence."""
    words = SCENARIOS[scenario]
    return {"holds": words.holds, "slides": words.slides, "cannot tell": BETWEEN}[answer]


def _largest(scenario: ScenarioName, mu: float, weight: float, g_m_s2: float) -> float:
    if scenario == "tilt":
        return slip_tilt_deg(mu)
    return mu * weight if scenario == "pusher" else mu * g_m_s2


def _end(scenario: ScenarioName, end: float) -> float:
    return min(end, STEEPEST_DEG) if scenario == "tilt" else end


def _asked(
    scenario: ScenarioName, at: FloatArray, weight: float, g_m_s2: float
) -> tuple[FloatArray, FloatArray]:
    """Return friction asked for, and the normal force that goes with it."""
    if scenario == "tilt":
        theta = np.radians(at)
        return weight * np.sin(theta), weight * np.cos(theta)
    level = np.full_like(at, weight)
    return (at.copy() if scenario == "pusher" else weight / g_m_s2 * at), level


def _then(scenario: ScenarioName, grip: Grip, largest: float, g_m_s2: float) -> Measured | None:
    """Return the acceleration once it slides: kinetic friction alone, or what it leaves of the slope's pull."""
    if grip.kinetic is None or scenario == "pusher":
        return None
    moved: Callable[[float], float] = (
        (lambda mu: acceleration_down_m_s2(mu, largest, g_m_s2=g_m_s2))
        if scenario == "tilt"
        else (lambda mu: mu * g_m_s2)
    )
    a, usual, b = (moved(mu) for mu in grip.kinetic)
    return _measured((min(a, b), usual, max(a, b)), "m/s²")


def _measured(span: tuple[float, float, float], unit: str) -> Measured:
    low, usual, high = span
    return Measured(kind="value", value=usual, standard_uncertainty=None, limits=(low, high), unit=unit)


def _span(coefficient: Measured) -> tuple[float, float, float] | None:
    low, high = coefficient.limits or (None, None)
    if coefficient.kind != "value" or coefficient.value is None or low is None or high is None or not low > 0:
        return None
    return low, coefficient.value, high
