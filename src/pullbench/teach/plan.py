"""Plan a lesson from the kit: which loads, what forces, how sure, what hides the peak, what to change.

Nothing here is a formula alone: every load is pulled on the virtual bench, recorded by the kit's sensor,
caught by the watch and read by the analysis, and the limits follow from how far the readings were off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from pullbench.analysis import coverage_factor
from pullbench.errors import ConditionsError
from pullbench.teach.kit import Coefficients, Kit
from pullbench.teach.trial import Trial, errors, highest_reading_N, mean_doubt, share_told, try_pull

MOST_LOADS = 5
TRIALS = 4  # readings of each load: the scatter between pulls is known, only the reading's own is sampled
MOSTLY = 2 / 3  # a peak counts as told when so many of the trials told it
MOST_PULLS = 50
_OVER = 1.1  # the static peak is exceeded by so much at most in an ordinary pull


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One load: its mass (sled and tins), the forces to be expected from lowest to highest coefficient.

    highest_N: with a strong pull of the scatter, overshoot included.  static_told, kinetic_told: share of
    the trials that told a value.
    """

    mass_kg: float
    static_N: tuple[float, float]
    kinetic_N: tuple[float, float]
    highest_N: float
    clips: bool
    static_told: float
    kinetic_told: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """A coefficient in the middle of its range, with the 95 % limits to expect; no limits if it stays hidden.

    half_width: relative.  readings: how many pulls tell a value.
    """

    value: float
    half_width: float | None
    readings: int

    @property
    def limits(self) -> tuple[float, float] | None:
        """Return the limits, or None."""
        if self.half_width is None:
            return None
        return self.value * (1 - self.half_width), self.value * (1 + self.half_width)


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to know or to change: a name and a sentence."""

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A planned lesson; all of it simulated.

    loads: lightest first, those that clip at the end.  pulls: with each load that does not clip.
    """

    kit: Kit
    coefficients: Coefficients
    loads: tuple[Load, ...]
    pulls: int
    static: Expected
    kinetic: Expected
    advice: tuple[Advice, ...]

    @property
    def used(self) -> tuple[Load, ...]:
        """Return the loads to use."""
        return tuple(load for load in self.loads if not load.clips)


def plan(kit: Kit, coefficients: Coefficients, *, pulls: int = 3, seed: int = 0) -> Plan:
    """Return the plan of a lesson with so many pulls of each load.  The same seed gives the same digits.

    Raises ConditionsError for an impossible number of pulls or a kit that cannot be simulated.
    """
    if not 1 <= pulls <= MOST_PULLS:
        raise ConditionsError(
            "pulls-impossible",
            f"{pulls} pulls of each load are planned.",
            f"It must be from 1 to {MOST_PULLS}.",
            "Mend --pulls.",
        )
    tried = [_try_load(kit, coefficients, mass_kg, seed) for mass_kg in loads_to_try(kit, coefficients)]
    loads = tuple(load for load, _ in tried)
    trials = [trial for load, some in tried for trial in some if not load.clips]
    middle = coefficients.pair(0.5)
    count = pulls * sum(not load.clips for load in loads)
    static = _expected([trial.static for trial in trials], trials, middle[0], count, kit)
    kinetic = _expected([trial.kinetic for trial in trials], trials, middle[1], count, kit)
    made = Plan(
        kit=kit, coefficients=coefficients, loads=loads, pulls=pulls, static=static, kinetic=kinetic, advice=()
    )
    from pullbench.teach.advice import advice_for

    advice = tuple(advice_for(made, seed))
    return Plan(
        kit=kit, coefficients=coefficients, loads=loads, pulls=pulls, static=static, kinetic=kinetic,
        advice=advice,
    )  # fmt: skip


def loads_to_try(kit: Kit, coefficients: Coefficients) -> list[float]:
    """Return at most five loads that should stay in range, well spread, and the next one that should not."""
    possible = kit.possible_loads_kg()
    most_kg = kit.range_N / (coefficients.static[1] * kit.g_m_s2 * _OVER)
    fitting = [mass_kg for mass_kg in possible if mass_kg <= most_kg]
    beyond = [mass_kg for mass_kg in possible if mass_kg > most_kg][:1]
    if len(fitting) <= MOST_LOADS:
        return fitting + beyond
    wanted = np.linspace(fitting[0], fitting[-1], MOST_LOADS)
    chosen = sorted({min(fitting, key=lambda mass_kg: abs(mass_kg - goal)) for goal in wanted.tolist()})
    return chosen + beyond


def rng_for(seed: int, *what: float) -> np.random.Generator:
    """Return the randomness of one trial: its own, so that no trial depends on how many came before."""
    key = [seed, *(round(1e6 * part) for part in what)]
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(key)))


def trials_of(kit: Kit, mass_kg: float, pair: tuple[float, float], seed: int, count: int) -> list[Trial]:
    """Return so many pulls of one load."""
    return [try_pull(kit, mass_kg, pair, rng_for(seed, mass_kg, number)) for number in range(count)]


def _try_load(
    kit: Kit, coefficients: Coefficients, mass_kg: float, seed: int
) -> tuple[Load, list[Trial]]:
    strong = 1 + 2 * kit.between_pulls
    static, kinetic = (
        (low * mass_kg * kit.g_m_s2, high * mass_kg * kit.g_m_s2)
        for low, high in (coefficients.static, coefficients.kinetic)
    )
    mu_s, mu_k = coefficients.pair(1.0)
    highest_N = highest_reading_N(kit, mass_kg, strong * mu_s, strong * mu_k, rng_for(seed, mass_kg, -1 % 97))
    clips = highest_N >= kit.range_N
    trials = [] if clips else trials_of(kit, mass_kg, coefficients.pair(0.5), seed, TRIALS)
    load = Load(
        mass_kg=mass_kg, static_N=static, kinetic_N=kinetic, highest_N=highest_N, clips=clips,
        static_told=share_told([trial.static for trial in trials]),
        kinetic_told=share_told([trial.kinetic for trial in trials]),
    )  # fmt: skip
    return load, trials


def _expected(told: Sequence[object], trials: Sequence[Trial], mu: float, count: int, kit: Kit) -> Expected:
    """Return the limits to expect when `count` pulls are taken together by Student's t.

    Scatter of one reading: that between pulls, which is known, and the reading's own error, which was
    sampled.  As the analysis does, the pulls' own doubt counts where it is larger.
    """
    measured = [trial.static for trial in trials] if told and told[0] is trials[0].static else [t.kinetic for t in trials]
    readings = round(count * share_told(measured))
    off = errors(trials, measured, mu)
    if readings < 2 or len(off) < 2:
        return Expected(value=mu, half_width=None, readings=readings)
    scatter = math.hypot(kit.between_pulls, float(np.std(off, ddof=1)))
    u = max(scatter * _mean_of_sd(readings), mean_doubt(measured, mu))
    return Expected(
        value=mu, half_width=coverage_factor(readings - 1) * u / math.sqrt(readings), readings=readings
    )


def pulls_needed(half_width: float, scatter: float) -> int:
    """Return how many readings bring the limits to ± half_width, both relative (Student's t)."""
    for count in range(2, 1000):
        if coverage_factor(count - 1) * scatter * _mean_of_sd(count) / math.sqrt(count) <= half_width:
            return count
    return 1000


def _mean_of_sd(count: int) -> float:
    """Return the mean of a sample's standard deviation over the true one (c4), for a normal scatter."""
    return math.sqrt(2 / (count - 1)) * math.exp(math.lgamma(count / 2) - math.lgamma((count - 1) / 2))


def widest_step(loads: Sequence[Load]) -> float:
    """Return the largest ratio between neighbouring loads."""
    return max((b.mass_kg / a.mass_kg for a, b in pairwise(loads)), default=1.0)
