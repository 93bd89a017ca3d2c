"""Two surfaces or more: difference and ratio with limits (Welch), Holm's correction, what would settle it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from pullbench.analysis.equivalence import equivalences
from pullbench.analysis.paired import static_against_kinetic
from pullbench.analysis.repeats import (
    Repeats,
    exponential,
    joint_scatter,
    more_pulls,
    pulls_to_see,
    within,
)
from pullbench.analysis.surfaces import QUANTITIES, check_surfaces, told
from pullbench.analysis.variance import one_way
from pullbench.analysis.welch import ALPHA, Welch, holm_where_known, welch
from pullbench.model import (
    BudgetRow,
    Comparison,
    Difference,
    Equivalence,
    Measured,
    OneWay,
    Quantity,
    Surface,
    SurfaceLevel,
)

NO_SCATTER = "the readings are all alike: too coarse to show how pulls scatter"


@dataclass(frozen=True, slots=True)
class Side:
    """One surface in one quantity, and its repeats."""

    name: str
    repeats: Repeats


def compare(
    surfaces: Sequence[Surface], *, margin: float | None = None, u_scale: float = 0.0, unlikely: bool = False
) -> Comparison:
    """Return the surfaces side by side, static and kinetic apart.

    margin: what the room chose beforehand as a difference that would not matter, in the values' unit.
    u_scale: relative standard uncertainty that all values share (load, force scale): it widens means and
    differences, and cancels in ratios.  unlikely: coefficients below 0.01 or above 3 are meant.
    Raises ConditionsError: fewer than two surfaces, equal names, impossible values, a margin that is none.
    """
    check_surfaces(surfaces, margin=margin, unlikely=unlikely)
    plain = _compared(surfaces, margin, u_scale)
    if not any(pull.set_aside for surface in surfaces for pull in surface.pulls):
        return plain
    everything = [replace(s, pulls=tuple(replace(p, set_aside=None) for p in s.pulls)) for s in surfaces]
    return replace(plain, with_aside=_compared(everything, margin, u_scale))


def _compared(surfaces: Sequence[Surface], margin: float | None, u_scale: float) -> Comparison:
    levels: list[SurfaceLevel] = []
    differences: list[Difference] = []
    same: list[Equivalence] = []
    together: list[tuple[Quantity, OneWay]] = []
    for quantity in QUANTITIES:
        if not any(told(s, quantity, with_aside=True)[0] for s in surfaces):
            continue
        sides = [Side(s.name, Repeats.of(*told(s, quantity))) for s in surfaces]
        unit = surfaces[0].unit
        levels += [_level(s, quantity, r.repeats, u_scale) for s, r in zip(surfaces, sides, strict=True)]
        pairs = [(a, b) for a, b in combinations(sides, 2) if a.repeats.n and b.repeats.n]
        tests = [welch(a.repeats, b.repeats) for a, b in pairs]
        if margin is not None:
            named = [(a.name, b.name, a.repeats, b.repeats) for a, b in pairs]
            same += equivalences(named, tests, quantity, margin)
        differences += _differences(pairs, tests, quantity, unit, u_scale)
        several = one_way([told(s, quantity)[0] for s in surfaces]) if len(surfaces) > 2 else None
        together += [] if several is None else [(quantity, several)]
    paired = [static_against_kinetic(surface) for surface in surfaces]
    return Comparison(
        surfaces=tuple(surfaces), levels=tuple(levels), differences=tuple(differences),
        equivalences=tuple(same), together=tuple(together), margin=margin,
        paired=tuple(one for one in paired if one is not None),
    )  # fmt: skip


def _level(surface: Surface, quantity: Quantity, repeats: Repeats, u_scale: float) -> SurfaceLevel:
    used = [pull for pull in surface.pulls if pull.set_aside is None]
    return SurfaceLevel(
        surface=surface.name, quantity=quantity, mean=mean_of(repeats, surface.unit, u_scale),
        scatter=repeats.scatter, pulls=repeats.n, untold=len(used) - repeats.n,
        aside=len(surface.pulls) - len(used),
    )  # fmt: skip


def mean_of(repeats: Repeats, unit: str, u_scale: float = 0.0) -> Measured:
    """Return the mean of repeats with limits that hold their scatter, or why it cannot be told."""
    if repeats.n == 0:
        return Measured.cannot_tell("no pull told it", unit=unit)
    if repeats.variance is None:
        return Measured.cannot_tell("one pull only: without repeats its scatter is not known", unit=unit)
    if repeats.variance <= 0:
        return Measured.cannot_tell(NO_SCATTER, unit=unit)
    shared = BudgetRow("shared by all pulls", abs(repeats.mean) * u_scale)
    return within(repeats.mean, (repeats.row("scatter between pulls"), shared), unit)


def _differences(
    pairs: Sequence[tuple[Side, Side]],
    tests: Sequence[Welch | None],
    quantity: Quantity,
    unit: str,
    u_scale: float,
) -> list[Difference]:
    adjusted = holm_where_known([None if test is None else test.p for test in tests])
    return [
        _difference(a, b, test, p, quantity, unit, u_scale, len(pairs))
        for (a, b), test, p in zip(pairs, tests, adjusted, strict=True)
    ]


def _difference(
    a: Side,
    b: Side,
    test: Welch | None,
    adjusted: float | None,
    quantity: Quantity,
    unit: str,
    u_scale: float,
    family: int,
) -> Difference:
    first, second = a.repeats, b.repeats
    shown = adjusted is not None and adjusted < ALPHA
    needed = pulls_to_see(abs(second.mean - first.mean), joint_scatter(first, second), alpha=ALPHA / family)
    why = _why_not(a, b)
    return Difference(
        first=a.name, second=b.name, quantity=quantity,
        difference=Measured.cannot_tell(why, unit=unit) if test is None
        else within(
            test.difference, (*_scatters(a, b), _shared(test.difference, u_scale)), unit, coverage=test.coverage()
        ),
        ratio=Measured.cannot_tell(why, unit="1") if test is None else ratio(first, second, coverage=test.coverage()),
        t=test.t if test else None, dof=test.dof if test else None, p=test.p if test else None,
        adjusted_p=adjusted, larger=second.mean > first.mean if shown else None,
        more=None if shown else more_pulls(needed, first, second),
    )  # fmt: skip


def ratio(first: Repeats, second: Repeats, *, coverage: float = 0.95) -> Measured:
    """Return second ÷ first with limits, from the difference of the logarithms of the means.

    coverage: for Student's t, as of their difference.

    Relative variances add (GUM 5.1.6) with effective degrees of freedom; a shared scale cancels.
    """
    rows = (first.row("first", 1 / first.mean), second.row("second", 1 / second.mean))
    return exponential(within(math.log(second.mean / first.mean), rows, "1", coverage=coverage))


def _scatters(a: Side, b: Side) -> tuple[BudgetRow, BudgetRow]:
    return a.repeats.row(f"scatter of {a.name}"), b.repeats.row(f"scatter of {b.name}")


def _shared(difference: float, u_scale: float) -> BudgetRow:
    return BudgetRow("shared by all pulls", abs(difference) * u_scale)


def _why_not(a: Side, b: Side) -> str:
    """Return why two surfaces have no limits: which of them lacks repeats, or that nothing scatters."""
    alone = [side.name for side in (a, b) if side.repeats.variance is None]
    if not alone:
        return NO_SCATTER
    return f"too few pulls: one of {' and one of '.join(alone)}, so how repeats scatter is not known"
