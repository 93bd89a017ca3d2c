"""Static against kinetic inside the same pulls, and how the static peak grows with waiting and a quicker start."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np

from pullbench.analysis.repeats import Repeats, exponential, within
from pullbench.analysis.student import two_sided_p
from pullbench.analysis.surfaces import counted
from pullbench.model import BudgetRow, Growth, Measured, StaticKinetic, Surface, SurfacePull

FEWEST_FOR_A_LINE = 4
WIDE_ENOUGH = 3.0  # longest ÷ shortest time: half a decade, below which a slope per decade says little
TOGETHER = 0.7  # correlation of the two times above which nobody can say which of them it was


def static_against_kinetic(surface: Surface) -> StaticKinetic | None:
    """Return static − kinetic and static ÷ kinetic of one surface, paired pull by pull, None without a pair.

    Student's paired t on the differences, and on the logarithms of the ratios. What a pull's two values
    share (hand, load, the force scale in the ratio) does not enter.
    """
    both = [
        (pull.static, pull.kinetic)
        for pull in counted(surface)
        if pull.static is not None and pull.kinetic is not None
    ]
    if not both:
        return None
    growths = growths_of(surface)
    difference, p = _paired([s - k for s, k in both], surface.unit, size=max(max(one) for one in both))
    logarithm, _ = _paired([math.log(s / k) for s, k in both], "1", size=1.0)
    return StaticKinetic(
        surface=surface.name, difference=difference, ratio=exponential(logarithm), p=p, pulls=len(both),
        growths=growths,
    )  # fmt: skip


def _paired(numbers: Sequence[float], unit: str, *, size: float) -> tuple[Measured, float | None]:
    repeats = Repeats.of(numbers, size=size)
    if not repeats.variance or not repeats.u:
        why = (
            "one pull only: no repeats"
            if repeats.n < 2
            else "every pull gives the same: no scatter to judge by"
        )
        return Measured.cannot_tell(why, unit=unit), None
    p = two_sided_p(repeats.mean / repeats.u, repeats.n - 1)
    return within(repeats.mean, (repeats.row("scatter between pulls"),), unit), p


def growths_of(surface: Surface) -> tuple[Growth, ...]:
    """Return the log lines of static friction against rest time and loading time, where times are known.

    Two times that went up and down together cannot be told apart: then neither line is given.
    """
    pulls = [pull for pull in counted(surface) if pull.static is not None]
    waits = [pull for pull in pulls if pull.rested_s is not None and pull.rested_s > 0]
    loads = [pull for pull in pulls if pull.loading_s is not None and pull.loading_s > 0]
    found = []
    if waits:
        found.append(growth("rest time", [p.rested_s or 0.0 for p in waits], _static(waits), surface.unit))
    if loads:
        found.append(
            growth("loading time", [p.loading_s or 0.0 for p in loads], _static(loads), surface.unit)
        )
    timed = [pull for pull in waits if pull in loads]
    if len(found) == 2 and any(g.shown for g in found) and _went_together(timed):
        why = "rest time and loading time went up and down together: it may be either"
        return tuple(_untold(g.against, why, g.pulls, g.span_s, surface.unit) for g in found)
    return tuple(found)


def growth(
    against: Literal["rest time", "loading time"],
    times_s: Sequence[float],
    static: Sequence[float],
    unit: str,
) -> Growth:
    """Return the slope of static friction per tenfold time: least squares on log10(time), Student's t.

    The logarithmic law of contact ageing is Dieterich's (1972); how large it is belongs to the pair.
    """
    span = (min(times_s), max(times_s))
    if len(times_s) < FEWEST_FOR_A_LINE:
        return _untold(against, f"only {len(times_s)} pulls tell both", len(times_s), span, unit)
    if span[1] < WIDE_ENOUGH * span[0]:
        return _untold(against, "all pulls had nearly the same time", len(times_s), span, unit)
    x = np.log10(np.asarray(times_s, dtype=np.float64))
    y = np.asarray(static, dtype=np.float64)
    x, level = x - x.mean(), y.mean()
    spread = float(x @ x)
    slope = float(x @ (y - level)) / spread
    left = y - level - slope * x
    dof = len(times_s) - 2
    u = math.sqrt(float(left @ left) / dof / spread)
    if u <= 0:
        return _untold(against, "no scatter to judge by", len(times_s), span, unit)
    told = within(slope, (BudgetRow("scatter about the line", u, dof),), unit)
    low, high = told.limits or (None, None)
    shown = low is not None and high is not None and (low > 0 or high < 0)
    return Growth(against=against, slope=told, shown=shown, pulls=len(times_s), span_s=span)


def _untold(
    against: Literal["rest time", "loading time"],
    why: str,
    pulls: int,
    span: tuple[float, float] | None,
    unit: str,
) -> Growth:
    return Growth(
        against=against, slope=Measured.cannot_tell(why, unit=unit), shown=False, pulls=pulls, span_s=span
    )


def _went_together(pulls: Sequence[SurfacePull]) -> bool:
    if len(pulls) < FEWEST_FOR_A_LINE:
        return False
    logs = np.log([(p.rested_s or 1.0, p.loading_s or 1.0) for p in pulls])
    if np.any(np.ptp(logs, axis=0) <= math.log(WIDE_ENOUGH)):
        return False
    return bool(abs(np.corrcoef(logs.T)[0, 1]) > TOGETHER)


def _static(pulls: Sequence[SurfacePull]) -> list[float]:
    return [pull.static for pull in pulls if pull.static is not None]
