"""What a teacher has in the cupboard, and the coefficients to be expected."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from pullbench.errors import ConditionsError
from pullbench.physics import STANDARD_GRAVITY_M_S2

KINETIC_TO_STATIC = 0.75  # usual ratio of the tables, where only one of the two is known
MOST_MASSES = 12  # every choice of them is a load


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficients:
    """The coefficients to be expected: from lowest to highest.  source: where that comes from, in words."""

    static: tuple[float, float]
    kinetic: tuple[float, float]
    source: str

    def __post_init__(self) -> None:
        _check_span("static ", *self.static)
        _check_span("kinetic ", *self.kinetic)

    @classmethod
    def between(cls, low: float, high: float) -> Coefficients:
        """Return what a range from the lowest kinetic to the highest static coefficient means.

        The kinetic one is taken as three quarters of the static one as far as the range allows; a single
        value is the kinetic one.
        """
        _check_span("", low, high)
        if low == high:
            return cls(
                static=(low / KINETIC_TO_STATIC,) * 2,
                kinetic=(low, low),
                source=f"kinetic {low:g} as given, static taken as a third more",
            )
        return cls(
            static=(min(high, low / KINETIC_TO_STATIC), high),
            kinetic=(low, max(low, KINETIC_TO_STATIC * high)),
            source=f"from the lowest kinetic, {low:g}, to the highest static, {high:g}, as given",
        )

    @classmethod
    def from_ranges(
        cls, static: tuple[float, float] | None, kinetic: tuple[float, float] | None, source: str
    ) -> Coefficients:
        """Return the coefficients of a handbook entry; a missing one is taken from the usual ratio."""
        if static is None and kinetic is None:
            raise ConditionsError(
                "no-coefficients",
                "The handbook gives no coefficient.",
                "One is needed.",
                "Give --mu instead.",
            )
        if static is None and kinetic is not None:
            static = kinetic[0] / KINETIC_TO_STATIC, kinetic[1] / KINETIC_TO_STATIC
            source += "; static taken as a third more than kinetic"
        elif kinetic is None and static is not None:
            kinetic = static[0] * KINETIC_TO_STATIC, static[1] * KINETIC_TO_STATIC
            source += "; kinetic taken as three quarters of static"
        assert static is not None
        assert kinetic is not None
        return cls(static=static, kinetic=kinetic, source=source)

    def pair(self, share: float) -> tuple[float, float]:
        """Return static and kinetic coefficient at this share of their ranges, kinetic never above static."""
        static, kinetic = (low + share * (high - low) for low, high in (self.static, self.kinetic))
        return static, min(kinetic, static)


def _check_span(name: str, low: float, high: float) -> None:
    if not 0 < low <= high <= 5:
        raise ConditionsError(
            "expected-coefficient-impossible",
            f"The expected {name}coefficient runs from {low:g} to {high:g}.",
            "It must run from a value above 0 up to one of 5 at most.",
            "Give the lower value first, such as --mu 0.2-0.5.",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """Sensor, sled, string and masses, and how steadily they are pulled.

    range_N, resolution_N, rate_Hz, noise_N: of the sensor.  sled_kg: empty.  masses_kg: at hand, each
    once.  stiffness_N_m, damping_N_s_m: string, sensor and arm together.  load_s: time to reach the
    break.  between_pulls, patchiness: relative scatter of the friction from pull to pull and from place
    to place.  Raises ConditionsError.
    """

    range_N: float = 50.0
    resolution_N: float = 0.01
    rate_Hz: float = 50.0
    noise_N: float = 0.005
    sled_kg: float = 0.35
    masses_kg: tuple[float, ...] = (0.5, 0.5, 1.0)
    stiffness_N_m: float = 1500.0
    damping_N_s_m: float = 12.0
    load_s: float = 2.0
    between_pulls: float = 0.04
    patchiness: float = 0.02
    g_m_s2: float = STANDARD_GRAVITY_M_S2

    def __post_init__(self) -> None:
        for name, value, unit in (
            ("range", self.range_N, "N"),
            ("resolution", self.resolution_N, "N"),
            ("rate", self.rate_Hz, "per second"),
            ("sled", self.sled_kg, "kg"),
            ("stiffness of the string", self.stiffness_N_m, "N/m"),
        ):
            if not 0 < value < math.inf:
                raise _impossible(f"The {name} is {value:g} {unit}.", "It must be finite and above nought.")
        if not self.resolution_N < self.range_N / 4:
            raise _impossible(
                f"The resolution is {self.resolution_N:g} N of a range of {self.range_N:g} N.",
                "The range must hold more than four steps.",
            )
        if not 1 <= self.rate_Hz <= 10_000:
            raise _impossible(
                f"The rate is {self.rate_Hz:g} per second.", "It must be from 1 to 10000 per second."
            )
        if len(self.masses_kg) > MOST_MASSES:
            raise _impossible(
                f"There are {len(self.masses_kg)} masses.", f"At most {MOST_MASSES} can be planned with."
            )
        for mass_kg in self.masses_kg:
            if not 0 < mass_kg < math.inf:
                raise _impossible(f"One mass is {mass_kg:g} kg.", "It must be finite and above nought.")

    def possible_loads_kg(self) -> list[float]:
        """Return the mass of sled and tins for every choice of tins, lightest first."""
        choices = (
            chosen
            for count in range(len(self.masses_kg) + 1)
            for chosen in combinations(self.masses_kg, count)
        )
        return sorted({round(self.sled_kg + sum(chosen), 6) for chosen in choices})


def _impossible(what: str, allowed: str) -> ConditionsError:
    return ConditionsError("kit-impossible", what, allowed, "Check the value and its unit.")
