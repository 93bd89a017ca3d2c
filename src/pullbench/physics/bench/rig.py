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

_MOST_PATCHES = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Rider:
    """Something that stands on the sled and is held by static friction alone.

    mass_kg: of the rider, part of what slides.  mu_s, mu_k: between rider and sled.  Raises BenchError.
    """

    mass_kg: float
    mu_s: float
    mu_k: float

    def __post_init__(self) -> None:
        _check("Rider's mass", self.mass_kg, "kg", above=0.0)
        if not 0 <= self.mu_k <= self.mu_s < math.inf:
            raise BenchError(
                "rider-impossible",
                f"The rider's static coefficient is {self.mu_s:g}, its kinetic one {self.mu_k:g}.",
                "The kinetic one must be 0 or more, and the static one at least as large.",
                "Swap them if they were mixed up.",
            )

    def most_m_s2(self, g_m_s2: float = STANDARD_GRAVITY_M_S2) -> float:
        """Return the greatest acceleration on a level board that static friction can give it: mu_s g."""
        return self.mu_s * g_m_s2


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The sled as it would tip: string_m and centre_m above the board, front_m from the centre to the front edge.

    Raises BenchError unless front_m is above 0 and the heights are 0 or more.
    """

    string_m: float
    front_m: float
    centre_m: float = 0.0

    def __post_init__(self) -> None:
        _check("Distance from the centre to the front edge", self.front_m, "m", above=0.0)
        _check("Height of the string", self.string_m, "m")
        _check("Height of the centre", self.centre_m, "m")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """A sled on a board, pulled by a string that cannot push.

    mass_kg: everything that slides.  stiffness_N_m, damping_N_s_m: of string, sensor and arm together.
    law: the friction of the pair.  string_deg: above the surface, kept by a hand that walks along.
    tilt_deg: of the board, positive when pulled uphill.  contact_s: how long the sled stood before the
    recording (matters to laws that age).  patchiness: relative standard deviation of the friction from
    place to place, patch_m the size of a place; 0 for an even surface.  rider: stands loose on the sled,
    its mass is part of mass_kg.  shape: lets a pull tip the sled.  Raises BenchError, and ConditionsError
    for an impossible mass or angle.
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
    rider: Rider | None = None
    shape: Shape | None = None

    def __post_init__(self) -> None:
        _check("Stiffness", self.stiffness_N_m, "N/m", above=0.0)
        _check("Patch size", self.patch_m, "m", above=0.0)
        _check("Damping", self.damping_N_s_m, "N s/m")
        _check("Contact time", self.contact_s, "s")
        _check("Patchiness", self.patchiness, "", below=0.3)
        _ = self.breakaway_pull_N  # refuses impossible masses and angles now rather than later
        if self.rider is not None:
            _check_rider(self.rider, self.mass_kg, self.tilt_deg, self.law)

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


def _check_rider(rider: Rider, mass_kg: float, tilt_deg: float, law: FrictionLaw) -> None:
    if rider.mass_kg >= mass_kg:
        raise BenchError(
            "rider-too-heavy",
            f"The rider has {rider.mass_kg:g} kg of {mass_kg:g} kg that slide.",
            "Its mass must be below that of sled, load and rider together.",
            "Add the rider's mass to the mass of the bench.",
        )
    if math.tan(math.radians(abs(tilt_deg))) > rider.mu_s:
        raise BenchError(
            "rider-cannot-stand",
            f"On a board tilted by {tilt_deg:g}° a rider with coefficient {rider.mu_s:g} slides off at rest.",
            f"The tilt must be at most {math.degrees(math.atan(rider.mu_s)):.1f}°.",
            "Lower the board, or give the rider more grip.",
        )
    if isinstance(law, RateState):
        raise BenchError(
            "rider-with-memory",
            "A rider was asked for on a pair with rate-and-state friction.",
            "A loose rider is simulated with Coulomb, Stribeck and Ageing only.",
            "Take the rider off, or choose another law.",
        )


def sled_numbers(bench: Bench) -> Sled:
    """Return the bench as plain numbers for the inner step."""
    alpha, theta = math.radians(bench.string_deg), math.radians(bench.tilt_deg)
    return (
        1.0 / bench.mass_kg,
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
    if not reach_m / spacing_m < _MOST_PATCHES:
        raise BenchError(
            "surface-too-long",
            f"The hand moves {reach_m:.3g} m over patches of {bench.patch_m:g} m.",
            f"At most {_MOST_PATCHES:.0e} patches can be laid.",
            "Use a stiffer string, larger patches or an even surface.",
        )
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
