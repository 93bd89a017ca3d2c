"""What to know before the lesson, and the cheapest change that brings a hidden peak out.

A change is not believed but tried: the load that hides its peak is pulled again on the virtual bench with
the change made, cheapest first, and the first one that shows the peak is advised.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from pullbench.teach.expect import pulls_needed
from pullbench.teach.kit import Kit
from pullbench.teach.planned import Advice, Load, Plan
from pullbench.teach.trial import share_told, trials_of

MOSTLY = 2 / 3  # a peak counts as told when so many of the trials told it
_TRIALS = 4
_SURELY = 0.7  # a change is advised when so many of its trials told the peak
_GOAL = 0.05
_WIDE_LADDER = 3.0
_HEAVIEST_KG = 20.0  # that anyone should put on a table in a classroom (common practice, no published source)
_SMALL_N = 3.0  # below it a hand's unsteadiness outweighs the pull: the floor of its error does not shrink


class _Change(NamedTuple):
    """A change of kit: the name of what was wrong, what to do, and the kit after it."""

    name: str
    fix: str
    kit: Kit


def advice_for(plan: Plan, seed: int) -> Iterator[Advice]:
    """Yield what there is to say about a plan, the most harmful first."""
    yield from _clipping(plan)
    yield from _hidden_peak(plan, seed)
    yield from _light(plan)
    yield from _width(plan)
    yield from _ladder(plan)


def _clipping(plan: Plan) -> Iterator[Advice]:
    clipping = [load for load in plan.loads if load.clips]
    if not clipping:
        return
    load, sensor_N = clipping[0], plan.kit.range_N
    told = f"With {load.mass_kg:g} kg a pull may reach {load.highest_N:.3g} N and the sensor ends at {sensor_N:g} N"
    if plan.used:
        yield Advice("clips", f"{told}: stop at {plan.used[-1].mass_kg:g} kg.")
    else:
        wanted_N = 1.2 * load.highest_N
        yield Advice(
            "clips", f"{told}: even the lightest load is too much. Use a sensor of {wanted_N:.2g} N or more."
        )


def _hidden_peak(plan: Plan, seed: int) -> Iterator[Advice]:
    mu_s, mu_k = plan.coefficients.pair(0.5)
    if mu_s - mu_k < 0.03 * mu_s:
        yield Advice(
            "no static peak to see",
            f"Static {mu_s:.2g} and kinetic {mu_k:.2g} are too close together: expect no peak on this pair.",
        )
        return
    hidden = [load for load in plan.used if (load.static_told or 0.0) < MOSTLY]
    if not hidden:
        return
    if len(hidden) < len(plan.used):
        lightest = min(set(plan.used) - set(hidden), key=lambda load: load.mass_kg)
        if all(load.mass_kg < lightest.mass_kg for load in hidden):
            yield Advice(
                "sled too light",
                f"Below {lightest.mass_kg:g} kg the static peak often hides: take it from {lightest.mass_kg:g} kg up.",
            )
            return
    yield _cheapest(plan, hidden[-1], seed)


def _cheapest(plan: Plan, load: Load, seed: int) -> Advice:
    changes = _changes(plan.kit)
    for change in changes:
        if _shows(plan, change.kit, load, seed):
            return Advice(
                change.name, f"At {load.mass_kg:g} kg the static peak hides. {change.fix}: then it shows."
            )
    every = _all_of(changes, plan.kit)
    if _shows(plan, every, load, seed):
        fixes = "; ".join(change.fix[0].lower() + change.fix[1:] for change in changes)
        return Advice(
            "several things hide the peak", f"No single change shows the static peak. Do all: {fixes}."
        )
    return Advice(
        "static peak hidden",
        "The static peak stays hidden whatever is changed: take the static value as a lower bound.",
    )


def _changes(kit: Kit) -> list[_Change]:
    """Return the changes worth trying, cheapest first."""
    slower = _Change(
        "pulled too fast", "Take twice as long to reach the break", replace(kit, load_s=2 * kit.load_s)
    )
    stiffer = _Change(
        "string too springy", "Use a quarter of the string, or a stiffer one",
        replace(kit, stiffness_N_m=4 * kit.stiffness_N_m),
    )  # fmt: skip
    faster = _Change(
        "sampled too coarsely", f"Set the sensor to {max(100.0, 2 * kit.rate_Hz):g} samples per second or more",
        replace(kit, rate_Hz=max(100.0, 2 * kit.rate_Hz)),
    )  # fmt: skip
    finer = _Change(
        "resolution too coarse", f"Use a sensor that resolves {kit.resolution_N / 10:.1g} N",
        replace(kit, resolution_N=kit.resolution_N / 10, noise_N=kit.noise_N / 10),
    )  # fmt: skip
    return [slower, faster, stiffer, finer]


def _all_of(changes: Sequence[_Change], kit: Kit) -> Kit:
    slower, faster, stiffer, finer = (change.kit for change in changes)
    return replace(
        kit, load_s=slower.load_s, stiffness_N_m=stiffer.stiffness_N_m, rate_Hz=faster.rate_Hz,
        resolution_N=finer.resolution_N, noise_N=finer.noise_N,
    )  # fmt: skip


def _shows(plan: Plan, kit: Kit, load: Load, seed: int) -> bool:
    trials = trials_of(kit, load.mass_kg, plan.coefficients.pair(0.5), seed, _TRIALS)
    return share_told([trial.static for trial in trials]) >= _SURELY


def _light(plan: Plan) -> Iterator[Advice]:
    if not plan.used:
        return
    light = [load for load in plan.used if sum(load.kinetic_N) / 2 < _SMALL_N]
    if light:
        heavier_kg = _SMALL_N / (plan.coefficients.pair(0.5)[1] * plan.kit.g_m_s2)
        pull_N = sum(light[0].kinetic_N) / 2
        yield Advice(
            "light load",
            f"{light[0].mass_kg:g} kg pulls with about {pull_N:.2g} N: "
            + (
                f"a hand is steadier from {heavier_kg:.2g} kg up."
                if heavier_kg < _HEAVIEST_KG
                else "no load that a class can lift makes that steady. Take a rougher pair of surfaces."
            ),
        )


def _width(plan: Plan) -> Iterator[Advice]:
    loads = len(plan.used)
    for name, known in (("static", plan.static), ("kinetic", plan.kinetic)):
        if known.half_width is None and loads:
            yield Advice(
                f"no {name} coefficient",
                f"{known.readings} of {plan.pulls * loads} pulls tell a {name} value: no limits can be given.",
            )
    if plan.kinetic.half_width and plan.kinetic.scatter and plan.kinetic.half_width > _GOAL:
        needed = pulls_needed(_GOAL, plan.kinetic.scatter)
        each = -(-needed // loads)
        yield Advice(
            "more pulls",
            f"For ± {100 * _GOAL:.0f} % of the kinetic coefficient make {needed} pulls, {each} of each load.",
        )


def _ladder(plan: Plan) -> Iterator[Advice]:
    used = plan.used
    if len(used) < 2:
        if used:
            yield Advice("one load only", "One load draws no line: bring masses, so that the loads differ.")
        return
    spread = used[-1].mass_kg / used[0].mass_kg
    if spread < _WIDE_LADDER:
        yield Advice(
            "narrow ladder",
            f"The loads differ only 1 to {spread:.2g}: draw a line from 1 to {_WIDE_LADDER:g} or more.",
        )
    yield Advice("order", "Go up through the loads, then down again: a surface that changes shows itself.")
