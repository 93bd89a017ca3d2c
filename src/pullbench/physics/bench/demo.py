"""The invented day of the demo scenario: a stage crew tries soles for a scenery sled.

A birch sled with a screw-on sole on a painted stage floor, loaded with sand-filled tins, for "the
harbour play".  Nothing here was measured: coefficients, forces and hands are made up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import cycle
from typing import NamedTuple

import numpy as np

from pullbench.model import Trace
from pullbench.physics.bench.habits import hand
from pullbench.physics.bench.rig import Bench
from pullbench.physics.bench.run import PullTruth, Run, in_a_row
from pullbench.physics.bench.sensor import CONVERTER_80, Sensor, record
from pullbench.physics.bench.slider import simulate
from pullbench.physics.friction import Coulomb

SLED_KG = 0.35
TIN_KG = 0.5
SOLES: dict[str, Coulomb] = {
    "bare birch": Coulomb(0.38, 0.29),
    "felt": Coulomb(0.27, 0.22),
    "rubber-backed carpet": Coulomb(0.74, 0.62),
}
"""Invented coefficients of each sole on a painted stage floor."""

BETWEEN_PULLS = 0.03
"""Scatter from pull to pull, relative: repeats of the same pull scatter 3-5 % in practice."""


@dataclass(frozen=True, slots=True)
class DemoTruth:
    """What was put into one invented recording.

    mass_kg: sled and tins.  mu_s, mu_k: of the sole, before the scatter from pull to pull.  pulls: the
    truth of each pull, in order.  invented: always true.
    """

    sole: str
    tins: int
    mass_kg: float
    mu_s: float
    mu_k: float
    pulls: tuple[PullTruth, ...]
    invented: bool = True


class DemoRecording(NamedTuple):
    """One recording of the demo day."""

    name: str
    trace: Trace
    truth: DemoTruth


class _Plan(NamedTuple):
    sole: str
    tins: int
    hands: tuple[str, ...]


_DAY = (
    _Plan("bare birch", 1, ("smooth", "smooth")),
    _Plan("bare birch", 2, ("smooth", "hesitant", "smooth")),
    _Plan("bare birch", 4, ("smooth", "drifting")),
    _Plan("felt", 2, ("jerked", "smooth")),
    _Plan("rubber-backed carpet", 2, ("smooth", "stop-and-go")),
    _Plan("rubber-backed carpet", 4, ("held",)),
)


def demo_day(seed: int) -> list[DemoRecording]:
    """Return the day's six recordings, a dozen pulls in all, each as (name, Trace, truth).

    The same seed gives the same digits.  The fourth recording begins with a jerked pull; the sixth
    is a single pull that was held and never slid; the others hold two or three good pulls each.
    """
    days = demo_days(seed)
    return [next(days) for _ in _DAY]


def demo_days(seed: int) -> Iterator[DemoRecording]:
    """Yield the recordings of invented days without end, all with one sensor: the first six are `demo_day`."""
    rng = demo_rng(seed)
    sensor = demo_sensor(rng)
    for plan in cycle(_DAY):
        yield _recording(plan, sensor, rng)


def demo_rng(seed: int) -> np.random.Generator:
    """Return the day's randomness; its kind is named, so that no numpy may change the day."""
    return np.random.Generator(np.random.PCG64(seed))


def demo_sensor(rng: np.random.Generator) -> Sensor:
    """Return the day's one sensor: a load cell on an 80 Hz converter that starts off nought and drifts."""
    return Sensor(
        rate_Hz=CONVERTER_80.rate_Hz,
        averaging_s=CONVERTER_80.averaging_s,
        noise_N=CONVERTER_80.noise_N,
        resolution_N=CONVERTER_80.resolution_N,
        range_N=CONVERTER_80.range_N,
        offset_N=float(rng.normal(0.0, 0.05)),
        drift_N_s=2e-4,
        wander_N=0.005,
    )


def _recording(plan: _Plan, sensor: Sensor, rng: np.random.Generator) -> DemoRecording:
    law, mass_kg = SOLES[plan.sole], SLED_KG + plan.tins * TIN_KG
    run = in_a_row([demo_pull(name, law, mass_kg, rng) for name in plan.hands])
    tins = f"{plan.tins} tin" + ("" if plan.tins == 1 else "s")
    return DemoRecording(
        name=f"the harbour play (invented): {plan.sole}, {tins}",
        trace=record(run, sensor, rng),
        truth=DemoTruth(plan.sole, plan.tins, mass_kg, law.mu_s, law.mu_k, run.truths),
    )


def demo_pull(name: str, law: Coulomb, mass_kg: float, rng: np.random.Generator) -> Run:
    """Return one pull by the hand of this name: its coefficients scatter about the law's, both together."""
    factor = float(np.clip(rng.normal(1.0, BETWEEN_PULLS), 0.9, 1.1))
    bench = Bench(
        mass_kg=mass_kg,
        stiffness_N_m=1500.0,
        damping_N_s_m=12.0,  # a hand that gives a little
        law=Coulomb(law.mu_s * factor, law.mu_k * factor),
        patchiness=0.02,
    )
    return simulate(bench, hand(name, rng, stretch_m=bench.stretch_m), rng=rng)
