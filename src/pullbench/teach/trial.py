"""Pulls tried out before the lesson: the virtual bench, the sensor, the watch and the analysis in one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.analysis import Conditions, analyse, with_coefficients
from pullbench.detect import windows
from pullbench.model import Chunk, Measured, Trace
from pullbench.physics import Coulomb
from pullbench.physics.bench import Bench, Hand, PullTruth, Sensor, fastest, hand, record, simulate
from pullbench.teach.kit import Kit

_LEAST_STEPS = 5  # of the sensor: a slide that is not as high as these cannot be told from its steps
_NONE = Measured.cannot_tell("no pull was caught", unit="1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One simulated pull, as it was and as it was read.

    factor: friction of this pull over that of the pair (the scatter between pulls).  highest_N: of the
    true pull.  static, kinetic: the coefficients that the analysis told.
    """

    factor: float
    truth: PullTruth
    highest_N: float
    static: Measured
    kinetic: Measured


def try_pull(kit: Kit, mass_kg: float, pair: tuple[float, float], rng: np.random.Generator) -> Trial:
    """Return one ordinary pull with this load on a pair with these (static, kinetic) coefficients."""
    factor = float(
        np.clip(rng.normal(1.0, kit.between_pulls), 1 - 3 * kit.between_pulls, 1 + 3 * kit.between_pulls)
    )
    bench = bench_of(kit, mass_kg, (pair[0] * factor, pair[1] * factor))
    movement = _ordinary_hand(kit, bench, rng)
    run = simulate(bench, movement, rng=rng, kernel=fastest())
    trace = record(run, sensor_of(kit), rng)
    seen = (run.kinetic_N or 0.0) > _LEAST_STEPS * kit.resolution_N
    static, kinetic = _read(trace, Conditions(weight_N=bench.weight_N)) if seen else (_NONE, _NONE)
    return Trial(
        factor=factor, truth=run.truths[0], highest_N=float(run.pull_N.max()), static=static, kinetic=kinetic
    )


def rng_for(seed: int, *what: float) -> np.random.Generator:
    """Return the randomness of one trial: its own, so that no trial depends on how many came before."""
    key = [seed, *(round(1e6 * part) for part in what)]
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(key)))


def trials_of(kit: Kit, mass_kg: float, pair: tuple[float, float], seed: int, count: int) -> list[Trial]:
    """Return so many pulls of one load."""
    return [try_pull(kit, mass_kg, pair, rng_for(seed, mass_kg, number)) for number in range(count)]


def highest_reading_N(kit: Kit, mass_kg: float, pair: tuple[float, float], rng: np.random.Generator) -> float:
    """Return the highest force of one ordinary pull, overshoot, tremor and noise included."""
    bench = bench_of(kit, mass_kg, pair)
    movement = _ordinary_hand(kit, bench, rng)
    run = simulate(bench, movement, rng=rng, kernel=fastest())
    return float(run.pull_N.max()) + 3 * kit.noise_N


def _ordinary_hand(kit: Kit, bench: Bench, rng: np.random.Generator) -> Hand:
    """Return a smooth pull; a stiff string leaves little slack to take up."""
    stretch_m = bench.stretch_m
    return hand("smooth", rng, stretch_m=stretch_m, load_s=kit.load_s, slack_m=min(0.01, 5 * stretch_m))


def bench_of(kit: Kit, mass_kg: float, pair: tuple[float, float]) -> Bench:
    """Return the bench of a kit with this load."""
    return Bench(
        mass_kg=mass_kg, stiffness_N_m=kit.stiffness_N_m, damping_N_s_m=kit.damping_N_s_m, law=Coulomb(*pair),
        g_m_s2=kit.g_m_s2, patchiness=kit.patchiness,
    )  # fmt: skip


def sensor_of(kit: Kit) -> Sensor:
    """Return the sensor of a kit."""
    return Sensor(
        rate_Hz=kit.rate_Hz, resolution_N=kit.resolution_N, range_N=kit.range_N, noise_N=kit.noise_N,
        drift_N_s=2e-4,
    )  # fmt: skip


def errors(trials: Sequence[Trial], told: Sequence[Measured], mu: float) -> list[float]:
    """Return the relative errors of what was told against the friction that the pull really had."""
    pairs = zip(trials, told, strict=True)
    return [
        m.value / (mu * trial.factor) - 1 for trial, m in pairs if m.kind == "value" and m.value is not None
    ]


def share_told(told: Sequence[Measured]) -> float:
    """Return the share of results that are values rather than bounds or silence."""
    return sum(m.kind == "value" for m in told) / max(len(told), 1)


def mean_doubt(told: Sequence[Measured], mu: float) -> float:
    """Return the root mean square of the pulls' own standard uncertainties, relative to mu."""
    own = [(m.standard_uncertainty or 0.0) / mu for m in told if m.kind == "value"]
    return math.sqrt(sum(u * u for u in own) / len(own)) if own else math.nan


def _read(trace: Trace, conditions: Conditions) -> tuple[Measured, Measured]:
    caught = list(windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)]))
    if not caught:
        return _NONE, _NONE
    longest = max(caught, key=lambda window: window.end_s - window.start_s)
    pull = with_coefficients(analyse(longest), conditions)
    return pull.static_coefficient or _NONE, pull.kinetic_coefficient or _NONE
