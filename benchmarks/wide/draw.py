"""One pull drawn from ranges wider than those of tests/simulated/pulls.py in every parameter.

The ranges were fixed before any figure was counted (the sensor's offset and end of range were narrowed once, when
recordings without a single true sample turned up).  The simulator is the project's own bench; detection
and analysis never see it.  A loose rider and a wrong force scale are left out: they change the truth
itself, and no reader of the force could know.
"""

import math
from dataclasses import dataclass

import numpy as np

from benchmarks.wide.truth import kinetic_N, static_N
from pullbench.errors import BenchError
from pullbench.model import Trace
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import HAND_NAMES, Bench, Hand, Run, Sensor, fastest, hand, record, simulate

HANDS = (*HAND_NAMES, "uneven")
LAWS = (
    "Coulomb",
    "velocity weakening",
    "static ageing",
    "rate and state, ageing law",
    "rate and state, slip law",
)

LOG = {  # drawn evenly in the logarithm
    "mass_kg": (0.08, 6.0),
    "stiffness_N_m": (40.0, 10_000.0),
    "damping, of critical": (0.01, 0.4),
    "v_stribeck_m_s": (0.0005, 0.05),
    "Dc_m": (1e-6, 1e-4),
    "load_s": (0.4, 8.0),
    "load_s of a hurried hand": (0.1, 0.4),
    "speed_m_s": (0.005, 0.4),
    "slide_s": (0.7, 8.0),
    "rest_s": (0.4, 6.0),
    "rest_after_s": (0.4, 6.0),
    "slack_m": (0.0005, 0.03),
    "tremor, of the stretch": (0.0005, 0.03),
    "wander, of the stretch": (0.0005, 0.03),
    "rate_Hz": (5.0, 2000.0),
    "noise, of the kinetic level": (0.0002, 0.08),
}
EVEN = {  # drawn evenly
    "mu_k": (0.05, 1.0),
    "mu_s / mu_k": (1.01, 2.0),
    "ageing per decade, of mu_k": (0.0, 0.1),
    "a, of mu_k": (0.005, 0.03),
    "b - a, of mu_k": (0.002, 0.03),
    "pause_s": (0.05, 1.0),
    "string_deg": (0.0, 30.0),
    "tilt_deg": (-3.0, 15.0),
    "offset, of the kinetic level": (-0.6, 0.6),
    "drift per second, of the kinetic level": (-0.006, 0.006),
    "hum, of the kinetic level": (0.0, 0.05),
    "low-pass, of a sample": (0.0, 2.0),
    "averaged samples": (1.0, 4.0),
    "dropped samples": (0.0, 0.05),
    "jitter, of a sample": (0.0, 0.3),
}
"""What is drawn, from where to where; `often` says which are drawn only in some of the pulls."""

OFTEN = {
    "string_deg": 0.3,
    "tilt_deg": 0.3,
    "hum, of the kinetic level": 0.25,
    "low-pass, of a sample": 0.2,
    "averaged samples": 0.2,
    "dropped samples": 0.2,
    "jitter, of a sample": 0.2,
}
"""The share of pulls in which these are drawn at all; else they are 0 (or one sample averaged)."""

RESOLUTIONS_N = (0.0, 0.001, 0.01, 0.02, 0.05)
RANGES_N = (math.inf, math.inf, 100.0, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """One pull: what was put in, the recording and the truth (pulls in newtons; None if it never moved)."""

    seed: int
    hand: str
    law: str
    bench: Bench
    sensor: Sensor
    run: Run
    trace: Trace
    static_N: float | None
    kinetic_N: float | None
    level_N: float

    @property
    def noise(self) -> float:
        """Return the noise and hum of a sample (standard deviation) as a share of the kinetic level."""
        return math.hypot(self.sensor.noise_N, self.sensor.hum_N / math.sqrt(2)) / self.level_N


class _Draws:
    """Draws from one seeded generator by the names above."""

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng

    def __call__(self, name: str, otherwise: float = 0.0) -> float:
        if self.rng.uniform() >= OFTEN.get(name, 1.0):
            return otherwise
        if name in LOG:
            low, high = LOG[name]
            return math.exp(self.rng.uniform(math.log(low), math.log(high)))
        return float(self.rng.uniform(*EVEN[name]))

    def one_of(self, choices):
        return choices[int(self.rng.integers(len(choices)))]


def drawn(seed: int) -> Drawn:
    """Return the pull of this seed; one that cannot be (a sled lifted off its board) is drawn anew."""
    rng = np.random.default_rng([*b"wide", seed])
    while True:
        try:
            return _drawn(seed, _Draws(rng))
        except BenchError:
            continue


def _drawn(seed: int, draw: _Draws) -> Drawn:
    law, habit = draw.one_of(LAWS), draw.one_of(HANDS)
    bench, mu_k = _bench(law, draw)
    if mu_k < 1.5 * math.tan(math.radians(abs(bench.tilt_deg))):
        raise BenchError("slides-by-itself", "", "", "")  # no rest before the pull: nothing to read
    run = simulate(bench, _hand(habit, bench, draw), kernel=fastest())
    level_N = mu_k * bench.weight_N
    sensor = _sensor(level_N, draw)
    return Drawn(
        seed=seed, hand=habit, law=law, bench=bench, sensor=sensor, run=run, level_N=level_N,
        trace=record(run, sensor, draw.rng), static_N=static_N(bench, run), kinetic_N=kinetic_N(bench, run),
    )  # fmt: skip


def _bench(law: str, draw: _Draws) -> tuple[Bench, float]:
    mass_kg, stiffness_N_m, mu_k = draw("mass_kg"), draw("stiffness_N_m"), draw("mu_k")
    bench = Bench(
        mass_kg=mass_kg,
        stiffness_N_m=stiffness_N_m,
        damping_N_s_m=2 * draw("damping, of critical") * math.sqrt(stiffness_N_m * mass_kg),
        law=_law(law, mu_k, draw),
        string_deg=draw("string_deg"),
        tilt_deg=draw("tilt_deg"),
    )
    return bench, mu_k


def _law(name: str, mu_k: float, draw: _Draws) -> Coulomb | Stribeck | Ageing | RateState:
    mu_s = mu_k * draw("mu_s / mu_k")
    if name == "Coulomb":
        return Coulomb(mu_s, mu_k)
    if name == "velocity weakening":
        return Stribeck(mu_s, mu_k, v_stribeck_m_s=draw("v_stribeck_m_s"))
    if name == "static ageing":
        return Ageing(mu_s, mu_k, per_decade=mu_k * draw("ageing per decade, of mu_k"))
    a = mu_k * draw("a, of mu_k")
    return RateState(
        mu0=mu_k, a=a, b=a + mu_k * draw("b - a, of mu_k"), Dc_m=draw("Dc_m"), V0_m_s=0.05, creep_m_s=2e-4,
        law="ageing" if name.endswith("ageing law") else "slip",
    )  # fmt: skip


def _hand(habit: str, bench: Bench, draw: _Draws) -> Hand:
    rest_s = draw("rest_s")
    load_s = draw("load_s of a hurried hand" if habit in ("hurried", "jerked") else "load_s")
    holding = bench.law.holding(rest_s + load_s, bench.law.fresh)
    stretch_m = bench.stretch_m * holding / bench.law.holding(0.0, bench.law.fresh)
    pace_m_s = stretch_m / load_s
    moving = hand(
        "smooth" if habit == "uneven" else habit, draw.rng, stretch_m=stretch_m, load_s=load_s, rest_s=rest_s,
        slack_m=draw("slack_m"), rest_after_s=draw("rest_after_s"), pause_s=draw("pause_s"),
        speed_m_s=pace_m_s if habit == "motor" else max(draw("speed_m_s"), pace_m_s), slide_s=draw("slide_s"),
        tremor=0.0 if habit == "motor" else draw("tremor, of the stretch"),
        wander=0.0 if habit == "motor" else draw("wander, of the stretch"),
    )  # fmt: skip
    return _uneven(moving, draw) if habit == "uneven" else moving


def _uneven(moving: Hand, draw: _Draws) -> Hand:
    """Return the hand with a pace that swells and ebbs by up to four tenths while it pulls."""
    times_s = np.unique(np.concatenate([np.arange(0, moving.duration_s, 0.02), moving.knot_s]))
    speeds = np.interp(times_s, moving.knot_s, moving.knot_m_s)
    swell = np.zeros(times_s.size)
    for frequency_Hz in draw.rng.uniform(0.2, 3.0, 4):
        swell += draw.rng.uniform(0, 0.1) * np.sin(
            2 * np.pi * frequency_Hz * times_s + draw.rng.uniform(0, 6.28)
        )
    forward = np.where(speeds > 0, speeds * (1 + swell), speeds)
    return Hand("uneven", moving.start_m, times_s, forward, moving.wave_Hz, moving.wave_m, moving.wave_rad)


def _sensor(level_N: float, draw: _Draws) -> Sensor:
    rate_Hz = draw("rate_Hz")
    conversions = round(draw("averaged samples", 1.0))
    return Sensor(
        rate_Hz=rate_Hz,
        sign=draw.one_of((1, -1)),
        noise_N=level_N * draw("noise, of the kinetic level"),
        hum_N=level_N * draw("hum, of the kinetic level"),
        hum_Hz=draw.one_of((50.0, 60.0)),
        offset_N=level_N * draw("offset, of the kinetic level"),
        drift_N_s=level_N * draw("drift per second, of the kinetic level"),
        resolution_N=min(draw.one_of(RESOLUTIONS_N), level_N / 20),
        range_N=draw.one_of(RANGES_N),
        lowpass_s=draw("low-pass, of a sample") / rate_Hz,
        averaging_s=conversions / rate_Hz if conversions > 1 else 0.0,
        dropped=draw("dropped samples"),
        jitter_s=draw("jitter, of a sample") / rate_Hz,
    )
