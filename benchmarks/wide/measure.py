"""One drawn pull through the whole chain, and through the oracle: in a worker process of its own."""

from dataclasses import dataclass

from benchmarks.wide.draw import Drawn, drawn
from benchmarks.wide.oracle import Moments, told_moments
from benchmarks.wide.truth import static_moment_s
from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.model import Chunk, Measured

RATES_HZ = (15.0, 50.0, 200.0, 700.0)
MASSES_KG = (0.25, 0.8, 2.5)
NOISES = (0.001, 0.005, 0.02)


@dataclass(frozen=True, slots=True)
class Reading:
    """What was told of one force: ours and the oracle's (N), beside the truth (None if there is none)."""

    ours: Measured | None
    oracle_N: float | None
    truth_N: float | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one pull.  cells: group to cell.  caught: windows that the watch gave for it."""

    seed: int
    cells: dict[str, str]
    caught: int
    breakaway: Reading
    kinetic: Reading


def outcome(seed: int) -> Outcome:
    """Draw the pull of this seed, read it, and ask the oracle."""
    case = drawn(seed)
    caught = list(windows([Chunk(time_s=case.trace.time_s, force_N=case.trace.force_N)]))
    nearest = min(caught, key=lambda window: abs(window.start_s - case.run.truths[0].start_s), default=None)
    pull = None if nearest is None else analyse(nearest)
    known = _moments(case)
    static_N, kinetic_N = (None, None) if known is None else told_moments(case.trace, known)
    return Outcome(
        seed=seed,
        cells=_cells(case) | ({} if pull is None else {"verdict": pull.verdict.value}),
        caught=len(caught),
        breakaway=Reading(None if pull is None else _bare(pull.breakaway.force), static_N, case.static_N),
        kinetic=Reading(None if pull is None else _bare(pull.plateau.force), kinetic_N, case.kinetic_N),
    )


def _bare(force: Measured) -> Measured:
    """Return the force without its budget: less to send from process to process."""
    return Measured(
        kind=force.kind, value=force.value, standard_uncertainty=force.standard_uncertainty,
        limits=force.limits, unit=force.unit, reason=force.reason,
    )  # fmt: skip


def _moments(case: Drawn) -> Moments | None:
    truth, break_s = case.run.truths[0], static_moment_s(case.bench, case.run)
    if break_s is None:
        return None
    rests = truth.stick_intervals
    ends_s = [*(start for start, _ in rests[1:]), float(case.run.time_s[-1])]
    slips_s = tuple((end, nxt) for (_, end), nxt in zip(rests, ends_s, strict=True) if nxt > end)
    return Moments(taut_s=(truth.start_s, truth.end_s), break_s=break_s, slips_s=slips_s)


def _cells(case: Drawn) -> dict[str, str]:
    memory = case.law.startswith("rate and state")
    falling = memory or case.law == "velocity weakening"
    return {
        "pulls": "friction falls as the sled gathers speed" if falling else "sled stands until it goes",
        "hand": case.hand,
        "law": case.law,
        "rate": band(case.sensor.rate_Hz, RATES_HZ, "{:g}", " Hz"),
        "mass": band(case.bench.mass_kg, MASSES_KG, "{:g}", " kg"),
        "noise": band(100 * case.noise, tuple(100 * edge for edge in NOISES), "{:g}", " % of the level"),
    }


def band(value: float, edges: tuple[float, ...], form: str, unit: str) -> str:
    """Return the name of the band that holds a value."""
    shown = [form.format(edge) for edge in edges]
    place = sum(value >= edge for edge in edges)
    if place == 0:
        return f"below {shown[0]}{unit}"
    if place == len(edges):
        return f"{shown[-1]}{unit} and more"
    return f"{shown[place - 1]}–{shown[place]}{unit}"


def bands(edges: tuple[float, ...], unit: str) -> list[str]:
    """Return the names of all bands, in order."""
    return [band(edge, edges, "{:g}", unit) for edge in (edges[0] - 1, *edges)]
