"""Pulls with known truth over wide ranges, for the tests here and for the benchmarks.  (Not a test module.)

Every number is drawn from the range beside it, which was fixed before any result was seen: sleds of
0.15-2.5 kg, strings from slack elastic to stiff cord, hands from slow to quick, sensors of 50-1000 Hz.
The simulator is the project's own bench; detection and analysis never see it.
"""

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.model import Chunk, Pull, Trace
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import Bench, Hand, Run, Sensor, hand, record, simulate

KINDS = ("plain", "jerky", "sticky", "sparse", "noisy")
"""Kinds with promised figures."""

HABITS = ("drifting", "stop-and-go", "held", "hurried", "jerked")
"""Ways of pulling that earn a note or a "pull again"; each is also a kind here."""

LAWS = ("coulomb", "coulomb", "coulomb", "stribeck", "stribeck", "ageing", "ageing", "rate and state")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Simulated:
    """One simulated pull: what was put in, what the sensor made of it, and the truth."""

    kind: str
    seed: int
    law: str
    bench: Bench
    run: Run
    trace: Trace
    sensor: Sensor
    static_N: float | None
    kinetic_N: float | None

    @property
    def breakaway_time_s(self) -> float | None:
        return self.run.breakaway_time_s

    @property
    def stuck_share(self) -> float:
        """Return the share of the slide, first slip to last, that the sled stood still."""
        slide = np.flatnonzero(self.run.sliding)
        return float(1 - self.run.sliding[slide[0] : slide[-1] + 1].mean()) if slide.size else 1.0

    def pulls(self) -> list[Pull]:
        """Return what the whole chain makes of the recording."""
        chunk = Chunk(time_s=self.trace.time_s, force_N=self.trace.force_N)
        return [analyse(window) for window in windows([chunk])]


class _Draw:
    """Uniform and log-uniform draws from one seeded generator."""

    def __init__(self, kind: str, seed: int) -> None:
        self.rng = np.random.default_rng([*kind.encode(), seed])

    def even(self, low: float, high: float) -> float:
        return float(self.rng.uniform(low, high))

    def log(self, low: float, high: float) -> float:
        return math.exp(self.even(math.log(low), math.log(high)))

    def one_of(self, *choices: str) -> str:
        return choices[int(self.rng.integers(len(choices)))]


def simulated(kind: str, seed: int, *, law: str | None = None) -> Simulated:
    """Return one pull of a kind in KINDS or HABITS; the same arguments give the same digits."""
    draw = _Draw(kind, seed)
    bench, law_name = _bench(kind, draw, law)
    moving = _hand(kind, bench, draw)
    run = simulate(bench, moving)
    sensor = _sensor(kind, bench, draw)
    return Simulated(
        kind=kind, seed=seed, law=law_name, bench=bench, run=run, sensor=sensor,
        trace=record(run, sensor, draw.rng), static_N=_static_maximum(run, law_name), kinetic_N=_kinetic(run),
    )  # fmt: skip


def _bench(kind: str, draw: _Draw, law: str | None) -> tuple[Bench, str]:
    sticky = kind == "sticky"
    mass_kg, mu_k = draw.log(0.15, 2.5), draw.even(0.12, 0.6)
    ratio = draw.even(1.25, 1.6) if sticky else draw.even(1.05, 1.6)
    stiffness_N_m = draw.log(60, 600) if sticky else draw.log(150, 4000)
    damping = draw.even(0.02, 0.06) if sticky else draw.even(0.05, 0.25)  # of critical
    name = law or draw.one_of(*LAWS)
    bench = Bench(
        mass_kg=mass_kg,
        stiffness_N_m=stiffness_N_m,
        damping_N_s_m=2 * damping * math.sqrt(stiffness_N_m * mass_kg),
        law=_law(name, mu_k, ratio, draw),
    )
    return bench, name


def _law(name: str, mu_k: float, ratio: float, draw: _Draw) -> Coulomb | Stribeck | Ageing | RateState:
    if name == "coulomb":
        return Coulomb(ratio * mu_k, mu_k)
    if name == "stribeck":
        return Stribeck(ratio * mu_k, mu_k, v_stribeck_m_s=draw.log(0.001, 0.02))
    if name == "ageing":
        return Ageing(ratio * mu_k, mu_k, per_decade=mu_k * draw.even(0.01, 0.05))
    # Weakening with speed (b > a) over micrometres; at 4 s of rest the peak is 1.1-1.4 of the slide.
    a = mu_k * draw.even(0.01, 0.02)
    return RateState(
        mu0=mu_k, a=a, b=a + mu_k * draw.even(0.005, 0.02), Dc_m=draw.log(3e-6, 3e-5), V0_m_s=0.05,
        creep_m_s=1e-4,
    )  # fmt: skip


def _hand(kind: str, bench: Bench, draw: _Draw) -> Hand:
    sticky = kind == "sticky"
    habit = kind if kind in HABITS else draw.one_of("smooth", "smooth", "hesitant", "shaky")
    rest_s, slack_m = draw.even(0.8, 3.0), draw.even(0.001, 0.01)
    load_s = draw.log(0.15, 0.4) if kind == "hurried" else draw.log(0.5, 4.0)
    holding = bench.law.holding(rest_s + load_s + 0.5, bench.law.fresh)
    stretch_m = holding * bench.weight_N / bench.stiffness_N_m
    if kind == "held":
        stretch_m *= draw.even(0.6, 1.25)  # held at 0.42-0.88 of the limit
    # Most people quicken when they feel it go (0.05-0.35 s later); some as they reach the force.
    late = draw.even(0.05, 0.35) / load_s if draw.even(0, 1) < 0.8 else 0.0
    pace_m_s = stretch_m / load_s
    quick_m_s = draw.log(0.003, 0.03) if sticky else draw.log(0.03, 0.2)
    moving = hand(
        habit, draw.rng, stretch_m=stretch_m * (1 + late), load_s=load_s * (1 + late), slack_m=slack_m,
        rest_s=rest_s, rest_after_s=draw.even(0.8, 3.0), pause_s=draw.even(0.15, 0.6),
        speed_m_s=max(quick_m_s, pace_m_s), slide_s=draw.even(1.5, 5.0),
        tremor=draw.log(0.003, 0.03) if kind == "jerky" or habit == "shaky" else draw.log(0.001, 0.01),
        wander=draw.log(0.001, 0.015),
    )  # fmt: skip
    return _jerky(moving, slack_m, draw) if kind == "jerky" else moving


def _jerky(moving: Hand, slack_m: float, draw: _Draw) -> Hand:
    """Return the hand with an uneven pace and a few jerks, none of them backward, while the string is tight."""
    times_s = np.unique(np.concatenate([np.arange(0, moving.duration_s, 0.01), moving.knot_s]))
    speeds = np.interp(times_s, moving.knot_s, moving.knot_m_s)
    travelled_m = np.concatenate([[0.0], np.cumsum(np.diff(times_s) * (speeds[1:] + speeds[:-1]) / 2)])
    tight = (travelled_m > slack_m) & (times_s < times_s[np.argmax(speeds < 0)])
    uneven = np.zeros(times_s.size)
    for frequency_Hz in draw.rng.uniform(0.1, 2.5, 6):
        uneven += math.sqrt(2 / 6) * np.sin(2 * np.pi * frequency_Hz * times_s + draw.even(0, 6.28))
    jerks = np.zeros(times_s.size)
    for _ in range(int(draw.rng.integers(2, 7))):
        at_s = draw.even(float(times_s[tight][0]), float(times_s[tight][-1]))
        sign = 1.0 if draw.even(0, 1) < 0.7 else -0.7
        jerks += sign * draw.even(0.3, 1.2) * np.exp(-0.5 * ((times_s - at_s) / draw.even(0.03, 0.12)) ** 2)
    factor = np.where(tight & (speeds > 0), np.maximum(1 + draw.even(0.05, 0.25) * uneven + jerks, 0.0), 1.0)
    return Hand(
        "jerky", moving.start_m, times_s, speeds * factor, moving.wave_Hz, moving.wave_m, moving.wave_rad
    )


def _sensor(kind: str, bench: Bench, draw: _Draw) -> Sensor:
    mu_k = bench.law.mu0 if isinstance(bench.law, RateState) else bench.law.mu_k
    level_N = mu_k * bench.weight_N
    noisy = kind == "noisy"
    resolution_N = float(draw.rng.choice([0.0, 0.001, 0.005, 0.01]))
    return Sensor(
        rate_Hz=draw.log(10, 25) if kind == "sparse" else draw.log(50, 1000),
        sign=1 if draw.even(0, 1) < 0.7 else -1,
        noise_N=level_N * (0.04 if noisy else draw.log(0.0005, 0.006)),
        hum_N=level_N * draw.even(0.01, 0.04) if noisy else 0.0,
        hum_Hz=50.0 if draw.even(0, 1) < 0.5 else 60.0,
        offset_N=level_N * draw.even(-0.3, 0.3),
        drift_N_s=level_N * draw.even(-0.003, 0.003),
        resolution_N=resolution_N if noisy else min(resolution_N, level_N / 60),
    )


def _static_maximum(run: Run, law: str) -> float | None:
    """Return the pull that the contact bore before it gave way.

    Laws with a true rest: the pull at first motion. Rate and state creeps from the first newton on, and its
    strength peaks within micrometres of slip: there it is the highest friction of the first slip.
    """
    if run.breakaway_time_s is None or law != "rate and state":
        return run.breakaway_force_N
    began = int(np.searchsorted(run.time_s, run.breakaway_time_s))
    fastest = began + int(np.argmax(run.velocity_m_s[began : began + int(0.3 / run.step_s)]))
    return float(run.friction_N[began : fastest + 1].max())


def _kinetic(run: Run) -> float | None:
    """Return the friction while sliding, averaged over the middle of the slide (30-90 % of its time).

    For a constant coefficient it is that; for laws that depend on speed it leaves out getting under way.
    """
    slide = np.flatnonzero(run.sliding)
    if slide.size < 20:
        return None
    first, last = slide[0], slide[-1]
    middle = slice(first + 3 * (last - first) // 10, first + 9 * (last - first) // 10)
    sliding = run.sliding[middle]
    return float(run.friction_N[middle][sliding].mean()) if sliding.any() else None
