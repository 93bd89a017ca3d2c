"""The words of a description: every table's keys, the field each one sets, and its units."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from pullbench.physics.bench.units import (
    ACCELERATION,
    ANGLE,
    DAMPING,
    FORCE,
    FORCE_RATE,
    LENGTH,
    MASS,
    PER_SPEED,
    PURE,
    RATE,
    SPEED,
    STIFFNESS,
    TIME,
    Dimension,
)
from pullbench.physics.friction import Ageing, Coulomb, FrictionLaw, RateState, Stribeck

Keys = Mapping[str, tuple[str, Dimension]]

BENCH: Keys = MappingProxyType(
    {
        "mass": ("mass_kg", MASS),
        "stiffness": ("stiffness_N_m", STIFFNESS),
        "damping": ("damping_N_s_m", DAMPING),
        "string_angle": ("string_deg", ANGLE),
        "tilt": ("tilt_deg", ANGLE),
        "gravity": ("g_m_s2", ACCELERATION),
        "waited": ("contact_s", TIME),
        "patchiness": ("patchiness", PURE),
        "patch": ("patch_m", LENGTH),
        "between_pulls": ("between_pulls", PURE),
    }
)
RIDER: Keys = MappingProxyType(
    {"mass": ("mass_kg", MASS), "static": ("mu_s", PURE), "kinetic": ("mu_k", PURE)}
)
SHAPE: Keys = MappingProxyType(
    {
        "string_height": ("string_m", LENGTH),
        "centre_height": ("centre_m", LENGTH),
        "centre_to_front": ("front_m", LENGTH),
    }
)
HAND: Keys = MappingProxyType(
    {
        "load": ("load_s", TIME),
        "slack": ("slack_m", LENGTH),
        "speed": ("speed_m_s", SPEED),
        "slide": ("slide_s", TIME),
        "rest": ("rest_s", TIME),
        "rest_after": ("rest_after_s", TIME),
        "pause": ("pause_s", TIME),
        "tremor": ("tremor", PURE),
        "wander": ("wander", PURE),
    }
)
SENSOR: Keys = MappingProxyType(
    {
        "rate": ("rate_Hz", RATE),
        "resolution": ("resolution_N", FORCE),
        "range": ("range_N", FORCE),
        "noise": ("noise_N", FORCE),
        "offset": ("offset_N", FORCE),
        "drift": ("drift_N_s", FORCE_RATE),
        "wander": ("wander_N", FORCE),
        "low_pass": ("lowpass_s", TIME),
        "averaging": ("averaging_s", TIME),
        "gain_error": ("gain_error", PURE),
        "hum": ("hum_N", FORCE),
        "hum_rate": ("hum_Hz", RATE),
        "dropped": ("dropped", PURE),
        "jitter": ("jitter_s", TIME),
        "sign": ("sign", PURE),
    }
)
PAIR: Keys = MappingProxyType({"static": ("mu_s", PURE), "kinetic": ("mu_k", PURE)})
RATE_STATE: Keys = MappingProxyType(
    {
        "mu0": ("mu0", PURE),
        "a": ("a", PURE),
        "b": ("b", PURE),
        "slip_distance": ("Dc_m", LENGTH),
        "reference_speed": ("V0_m_s", SPEED),
        "creep_speed": ("creep_m_s", SPEED),
    }
)
LAWS: Mapping[str, tuple[Keys, Callable[..., FrictionLaw]]] = MappingProxyType(
    {
        "Coulomb": (PAIR, Coulomb),
        "Stribeck": (
            MappingProxyType(
                {**PAIR, "speed": ("v_stribeck_m_s", SPEED), "viscous": ("viscous_s_m", PER_SPEED)}
            ),
            Stribeck,
        ),
        "ageing": (
            MappingProxyType({**PAIR, "per_decade": ("per_decade", PURE), "onset": ("onset_s", TIME)}),
            Ageing,
        ),
        "rate and state, ageing law": (RATE_STATE, RateState),
        "rate and state, slip law": (RATE_STATE, lambda **sizes: RateState(**sizes, law="slip")),
    }
)
REQUIRED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "bench": ("mass", "stiffness"),
        "rider": ("mass", "static", "kinetic"),
        "shape": ("string_height", "centre_to_front"),
        "sensor": ("rate",),
        "Coulomb": ("static", "kinetic"),
        "Stribeck": ("static", "kinetic", "speed"),
        "ageing": ("static", "kinetic", "per_decade"),
        "rate and state, ageing law": ("mu0", "a", "b", "slip_distance", "reference_speed"),
        "rate and state, slip law": ("mu0", "a", "b", "slip_distance", "reference_speed"),
    }
)
TABLES = ("bench", "friction", "hand", "sensor", "rider", "shape")


LAW_KEYS: Keys = MappingProxyType({k: v for keys, _ in LAWS.values() for k, v in keys.items()})
