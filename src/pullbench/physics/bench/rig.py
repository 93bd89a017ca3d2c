"""The virtual bench itself: sled, string, board and the pair of surfaces."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.physics.bench.step import Law, Sled
from pullbench.physics.friction import FrictionLaw, RateState, Stribeck
from pullbench.physics.gravity import STANDARD_GRAVITY_M_S2
from pullbench.physics.plane import pull_needed_N, weight_N


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """A sled on a board, pulled by a string that cannot push.

    mass_kg: everything that slides.  stiffness_N_m, damping_N_s_m: of string, sensor and arm together.
    law: the friction of the pair.  string_deg: above the surface, kept by a hand that walks along.
    tilt_deg: of the board, positive when pulled uphill.  contact_s: how long the sled stood before the
    recording (matters to laws that age).  patchiness: relative standard deviation of the friction from
    place to place, patch_m the size of a place; 0 for an even surface.  Raises BenchError, and
    ConditionsError for an impossible mass or angle.
    """

    mass_kg: float
    stiffness_N_m: float
    law: FrictionLaw
    damping_N_s_m: float = 0.0
    string_deg: float = 0.0
    tilt_deg: float = 0.0
    g_m_s2: float = STANDARD_GRAVITY_M_S2
    contact_s: float = 0.0
    patchiness: float = 0.0
    patch_m: float = 0.005

    def __post_init__(self) -> None:
        _check("Stiffness", self.stiffness_N_m, "N/m", above=0.0)
        _check("Patch size", self.patch_m, "m", above=0.0)
        _check("Damping", self.damping_N_s_m, "N s/m")
        _check("Contact time", self.contact_s, "s")
        _check("Patchiness", self.patchiness, "", below=0.3)
        _ = self.breakaway_pull_N  # refuses impossible masses and angles now rather than later

    @property
    def weight_N(self) -> float:
        """Return the weight of everything that slides."""
        return weight_N(self.mass_kg, self.g_m_s2)

    @property
    def breakaway_pull_N(self) -> float:
        """Return the pull at which the sled breaks away right after contact_s of rest (even surface)."""
        mu_s = self.law.holding(self.contact_s, self.law.fresh)
        return pull_needed_N(mu_s, self.weight_N, string_deg=self.string_deg, tilt_deg=self.tilt_deg)

    @property
    def stretch_m(self) -> float:
        """Return how far the string gives until breakaway: the natural size for a hand."""
        return self.breakaway_pull_N / self.stiffness_N_m

    @property
    def omega_rad_s(self) -> float:
        """Return the angular frequency of the sled on its string."""
        return math.sqrt(self.stiffness_N_m / self.mass_kg)


def sled_numbers(bench: Bench) -> Sled:
    """Return the bench as plain numbers for the inner step."""
    alpha, theta = math.radians(bench.string_deg), math.radians(bench.tilt_deg)
    return (
        bench.mass_kg,
        bench.stiffness_N_m,
        bench.damping_N_s_m,
        math.cos(alpha),
        math.sin(alpha),
        bench.weight_N * math.cos(theta),
        bench.weight_N * math.sin(theta),
    )


def law_numbers(law: FrictionLaw) -> Law:
    """Return the sliding part of a law as plain numbers for the inner step.  Raises BenchError."""
    if isinstance(law, RateState):
        memory = 1.0 if law.law == "ageing" else 2.0
        return (law.mu0, 0.0, 0.0, 0.0, law.a, law.b, law.Dc_m, law.V0_m_s, law.creep_m_s, memory)
    if isinstance(law, Stribeck):
        drop = law.mu_s - law.mu_k
        return (law.mu_k, drop, law.v_stribeck_m_s, law.viscous_s_m, 0.0, 0.0, 1.0, 1.0, 1.0, 0.0)
    if law.constant is not None:
        return (law.constant, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 0.0)
    raise BenchError(
        "law-unknown",
        f"The bench cannot simulate {type(law).__name__}.",
        "It knows Coulomb, Stribeck, Ageing and RateState, and laws with a constant kinetic coefficient.",
        "Choose one of these.",
    )


def patches(bench: Bench, reach_m: float, rng: np.random.Generator | None) -> tuple[FloatArray, float]:
    """Return local factors on the friction over ±reach_m, centred on the start, and their spacing (m).

    Gaussian noise smoothed over patch_m, cut at three standard deviations so that friction stays
    positive.  An even surface is the single factor 1 and needs no rng.
    """
    if bench.patchiness == 0:
        return np.ones(1), 1.0
    if rng is None:
        raise BenchError(
            "rng-missing",
            "A patchy surface was asked for without a source of randomness.",
            "A numpy Generator is needed when patchiness is above 0.",
            "Pass rng=, or set patchiness to 0.",
        )
    spacing_m = bench.patch_m / 4
    count = 2 * math.ceil(reach_m / spacing_m) + 1
    window = np.hanning(11)[1:-1]
    noise = np.convolve(rng.standard_normal(count + window.size - 1), window, mode="valid")
    scaled = np.clip(noise / math.hypot(*window), -3.0, 3.0)
    return 1 + bench.patchiness * scaled, spacing_m


def _check(
    name: str, value: float, unit: str, *, above: float | None = None, below: float = math.inf
) -> None:
    enough = value >= 0 if above is None else value > above
    if not (enough and value < below):
        least = "0 or more" if above is None else f"above {above:g}"
        most = "finite" if below == math.inf else f"below {below:g}"
        raise BenchError(
            "bench-impossible",
            f"{name} is {value:g} {unit}".rstrip() + ".",
            f"It must be {least} and {most}.",
            "Check the value and its unit.",
        )
