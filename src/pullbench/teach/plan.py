"""Plan a lesson from the kit: which loads, what forces, how sure, what hides the peak, what to change.

Nothing here is a formula alone: every load is pulled on the virtual bench, recorded by the kit's sensor,
caught by the watch and read by the analysis, and the limits follow from how far the readings were off.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from pullbench.errors import ConditionsError
from pullbench.model import Measured
from pullbench.teach.advice import advice_for
from pullbench.teach.expect import expected
from pullbench.teach.kit import Coefficients, Kit
from pullbench.teach.planned import Load, Plan
from pullbench.teach.trial import Trial, highest_reading_N, rng_for, share_told, trials_of

MOST_LOADS = 5
TRIALS = 4  # readings of each load: the scatter between pulls is known, only the reading's own is sampled
MOST_PULLS = 50
_OVER = 1.1  # an ordinary pull exceeds its static peak by less
_STRONGEST = 1_000_003  # names the trial with the strongest friction among those of a load


def plan(kit: Kit, coefficients: Coefficients, *, pulls: int = 3, seed: int = 0) -> Plan:
    """Return the plan of a lesson with so many pulls of each load.  The same seed gives the same digits.

    Raises ConditionsError for an impossible number of pulls, BenchError for a kit that cannot be simulated.
    """
    if not 1 <= pulls <= MOST_PULLS:
        raise ConditionsError(
            "pulls-impossible",
            f"{pulls} pulls of each load are planned.",
            f"It must be from 1 to {MOST_PULLS}.",
            "Mend --pulls.",
        )
    tried = [_try_load(kit, coefficients, mass_kg, seed) for mass_kg in loads_to_try(kit, coefficients)]
    trials = [trial for _, some in tried for trial in some]
    count = pulls * sum(bool(some) for _, some in tried)
    mu_s, mu_k = coefficients.pair(0.5)
    made = Plan(
        kit=kit,
        coefficients=coefficients,
        loads=tuple(load for load, _ in tried),
        pulls=pulls,
        static=expected(trials, [trial.static for trial in trials], mu_s, count, kit),
        kinetic=expected(trials, [trial.kinetic for trial in trials], mu_k, count, kit),
        advice=(),
    )
    return replace(made, advice=tuple(advice_for(made, seed)))


def loads_to_try(kit: Kit, coefficients: Coefficients) -> list[float]:
    """Return at most five loads (kg) that should stay in range, well spread, and the next that should not."""
    possible = kit.possible_loads_kg()
    most_kg = kit.range_N / (coefficients.static[1] * kit.g_m_s2 * _OVER)
    fitting = [mass_kg for mass_kg in possible if mass_kg <= most_kg]
    beyond = [mass_kg for mass_kg in possible if mass_kg > most_kg][:1]
    if len(fitting) <= MOST_LOADS:
        return fitting + beyond
    wanted = np.linspace(fitting[0], fitting[-1], MOST_LOADS)
    chosen = sorted({min(fitting, key=lambda mass_kg: abs(mass_kg - goal)) for goal in wanted.tolist()})
    return chosen + beyond


def _try_load(kit: Kit, coefficients: Coefficients, mass_kg: float, seed: int) -> tuple[Load, list[Trial]]:
    """Return one load with its trials; none when it clips."""
    strong = 1 + 2 * kit.between_pulls
    mu_s, mu_k = coefficients.pair(1.0)
    rng = rng_for(seed, mass_kg, _STRONGEST)
    highest_N = highest_reading_N(kit, mass_kg, (strong * mu_s, strong * mu_k), rng)
    clips = highest_N >= kit.range_N
    trials = [] if clips else trials_of(kit, mass_kg, coefficients.pair(0.5), seed, TRIALS)
    weight_N = mass_kg * kit.g_m_s2
    load = Load(
        mass_kg=mass_kg,
        static_N=(coefficients.static[0] * weight_N, coefficients.static[1] * weight_N),
        kinetic_N=(coefficients.kinetic[0] * weight_N, coefficients.kinetic[1] * weight_N),
        highest_N=highest_N,
        clips=clips,
        static_told=_share([trial.static for trial in trials]),
        kinetic_told=_share([trial.kinetic for trial in trials]),
    )
    return load, trials


def _share(told: list[Measured]) -> float | None:
    return share_told(told) if told else None
