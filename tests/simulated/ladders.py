"""Thousands of cheap load ladders with known truth: forces are drawn, no pull is simulated.  (Not a test module.)

Shared by the tests and by `python -m benchmarks.ladders`.  A clean ladder has 4 to 8 loads from about 0.35–0.6 kg
to 3.5–6 times as much, 1 to 5 pulls at each (unequal), in a shuffled order; static and kinetic scatter by 3–5 % of
the force between pulls and half together, and every reading has 0.8 % of its own.
"""

from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from pullbench.analysis import coverage_factor, ladder
from pullbench.model import LoadedPull

G_M_S2 = 9.80665
OWN = 0.008  # of the force, a reading's own standard uncertainty
FAULTS = {
    "mass left out": "sled mass left out",
    "offset": "rest reading offset",
    "power": "not proportional",
    "wrong load": "a load that does not belong",
    "drift": "drifts with the order of pulls",
}
LEFT_OUT_KG, OFFSET_N, POWER, WRONG, DRIFT = 0.35, 0.5, 2 / 3, 1.35, 0.30


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawn ladder and its truth: slopes and intercepts by series, scatter of one pull."""

    pulls: tuple[LoadedPull, ...]
    slope: dict[str, float]
    intercept_N: dict[str, float]
    scatter: float


def drawn(
    rng, *, fault=None, loads=None, repeats=None, shuffled=True, scatter=None, kinetic_only=False, alike=False
):
    """Return a ladder.  loads, repeats: as given, or 4 to 8 and 1 to 5 each.  scatter: of one pull, or 3–5 %.

    alike: the scatter is the same newtons at every load, that share of the mean force.
    """
    loads = int(rng.integers(4, 9)) if loads is None else loads
    counts = rng.integers(1, 6, loads) if repeats is None else np.full(loads, repeats)
    lightest = rng.uniform(0.35, 0.6) * G_M_S2
    ladder_N = np.linspace(lightest, lightest * rng.uniform(3.5, 6), loads)
    normal = np.repeat(ladder_N, counts)
    normal = rng.permutation(normal) if shuffled else normal
    n = normal.size
    mu_k = rng.uniform(0.2, 0.4)
    mu_s = mu_k * rng.uniform(1.2, 1.6)
    missing_N = LEFT_OUT_KG * G_M_S2 if fault == "mass left out" else 0.0
    added_N = OFFSET_N if fault == "offset" else 0.0
    share = np.ones(n)
    if fault == "power":
        share = (normal / ladder_N.mean()) ** (POWER - 1)
    elif fault == "wrong load":
        share = np.where(normal == rng.choice(ladder_N), WRONG, 1.0)
    elif fault == "drift":
        share = 1 + DRIFT * (np.arange(n) / (n - 1) - 0.5)
    s = rng.uniform(0.03, 0.05) if scatter is None else scatter
    both = rng.standard_normal(n)
    forces = {}
    for series, mu in (("static", mu_s), ("kinetic", mu_k)):
        alone = np.sqrt(0.5) * both + np.sqrt(0.5) * rng.standard_normal(n)
        rubbed = mu * (normal + missing_N) * share
        true = rubbed + (rubbed.mean() if alike else rubbed) * s * alone + added_N
        forces[series] = true * (1 + OWN * rng.standard_normal(n))
    pulls = tuple(
        LoadedPull(
            normal_N=normal_N, kinetic_N=k, u_kinetic_N=OWN * k,
            static_N=None if kinetic_only else st, u_static_N=OWN * st,
        )
        for normal_N, st, k in zip(normal, forces["static"], forces["kinetic"], strict=True)
    )  # fmt: skip
    mus = {"static": mu_s, "kinetic": mu_k}
    return Drawn(pulls, mus, {series: mu * missing_N + added_N for series, mu in mus.items()}, s)


@dataclass(slots=True)
class Coverage:
    """How often the limits held: slope and intercept, ours and those of an ordinary least-squares line.

    wider: its intercept's limits ÷ ours.  faulted: whether anything was said of a ladder at all.
    """

    ours: list[tuple[bool, bool]] = field(default_factory=list)
    ordinary: list[tuple[bool, bool]] = field(default_factory=list)
    normal_limits: list[tuple[bool, bool]] = field(default_factory=list)
    wider: list[float] = field(default_factory=list)
    faulted: list[bool] = field(default_factory=list)

    def add(self, one: Drawn) -> None:
        told = ladder(one.pulls, sure=True)
        self.faulted.append(bool(told.diagnoses))
        for line in told.lines:
            truth = one.slope[line.series], one.intercept_N[line.series]
            pairs = zip((line.slope, line.intercept), truth, strict=True)
            self.ours.append(tuple(m.limits[0] <= t <= m.limits[1] for m, t in pairs))
            normal = np.array([pull.normal_N for pull in one.pulls])
            force = np.array([pull.force_N(line.series) for pull in one.pulls])
            fitted = ordinary_line(normal, force)
            for kept, k in ((self.ordinary, coverage_factor(line.dof)), (self.normal_limits, 2.0)):
                kept.append(tuple(abs(v - t) <= k * u for (v, u), t in zip(fitted, truth, strict=True)))
            low, high = line.intercept.limits
            self.wider.append(2 * coverage_factor(line.dof) * fitted[1][1] / (high - low))


def ordinary_line(x, y):
    """Return (slope, its standard error) and (intercept, its), as a spreadsheet's straight line gives them."""
    n, away = x.size, x - x.mean()
    slope = float(away @ y / (away @ away))
    intercept = float(y.mean() - slope * x.mean())
    s = np.sqrt(np.sum((y - intercept - slope * x) ** 2) / (n - 2))
    u = s / np.sqrt(away @ away)
    return (slope, u), (intercept, s * np.sqrt(1 / n + x.mean() ** 2 / (away @ away)))


def measured(count, seed, **shape):
    """Return the coverage of so many clean ladders of one shape."""
    rng, told = np.random.default_rng(seed), Coverage()
    for _ in range(count):
        told.add(drawn(rng, **shape))
    return told


def hidden_held(count, seed, *, hidden, **shape):
    """Return for each series of each ladder whether a hidden load's limits hold it, None where it was not told.

    hidden: its pulls.  It weighs anything from the lightest load to the heaviest.
    """
    rng, held = np.random.default_rng(seed), []
    for _ in range(count):
        one = drawn(rng, **shape)
        normal = [pull.normal_N for pull in one.pulls]
        true_N = rng.uniform(min(normal), max(normal))
        both = rng.standard_normal(hidden)
        forces = {}
        for series, mu in one.slope.items():
            alone = np.sqrt(0.5) * both + np.sqrt(0.5) * rng.standard_normal(hidden)
            forces[series] = mu * true_N * (1 + one.scatter * alone) * (1 + OWN * rng.standard_normal(hidden))
        pulls = [
            LoadedPull(normal_N=0.0, static_N=s, u_static_N=OWN * s, kinetic_N=k, u_kinetic_N=OWN * k)
            for s, k in zip(forces["static"], forces["kinetic"], strict=True)
        ]
        mystery = ladder(one.pulls, mystery=pulls, sure=True).mystery
        limits = (mystery.static.limits, mystery.kinetic.limits)
        held += [None if ends is None else ends[0] <= true_N <= ends[1] for ends in limits]
    return held


def covered(count, seed, **shape):
    """Return shares (slope, intercept) of limits that held: ours, ordinary with Student's t, ordinary ± 2 s."""
    told = measured(count, seed, **shape)
    return {name: np.mean(getattr(told, name), axis=0) for name in ("ours", "ordinary", "normal_limits")}


@dataclass(slots=True)
class Diagnosed:
    """How often a name was among the diagnoses, came first, stood alone; how often anything was said at all.

    mistaken: something was named, but not that.
    """

    count: int = 0
    among: int = 0
    first: int = 0
    alone: int = 0
    mistaken: int = 0
    anything: int = 0
    names: Counter = field(default_factory=Counter)

    def share(self, number: int) -> float:
        return number / self.count


def diagnosed(count, seed, *, fault=None, **shape):
    """Return what was said of so many ladders with one fault, or of clean ones."""
    rng, told, name = np.random.default_rng(seed), Diagnosed(), FAULTS.get(fault)
    for _ in range(count):
        found = ladder(drawn(rng, fault=fault, **shape).pulls, sure=True).diagnoses
        names = [one.name for one in found]
        told.count += 1
        told.anything += bool(names)
        told.among += name in names
        told.first += names[:1] == [name]
        told.alone += names == [name]
        told.mistaken += bool(names) and name not in names
        told.names.update(names)
    return told
