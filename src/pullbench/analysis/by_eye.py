"""A pull read off a spring scale by eye: what three numbers can honestly tell."""

from __future__ import annotations

import math

from pullbench.analysis.findings import Seen, seen, verdict, worst_first
from pullbench.analysis.forces import at_least, measured_from
from pullbench.model import (
    BreakawayForce,
    BudgetRow,
    ByEye,
    Measured,
    PlateauForce,
    Pull,
    PullWindow,
    UncertaintyBudget,
)

NO_REST = "no rest reading was given, so nought is not known"
MISSED = "read by eye, which misses the top"


def pull_by_eye(window: PullWindow, by_eye: ByEye, u_gain: float = 0.0) -> Pull:
    """Return the pull that a person's readings tell of.

    Each reading is known to half a division either way (rectangular, u = half / √3: GUM 4.3.7).  The pointer
    shakes while it slides: half a division more for the level (judgement, no published source).  The highest
    reading that an eye catches is a lower bound of the static maximum.
    """
    return Pull(
        window=window,
        rest_reading=_rest(by_eye),
        breakaway=BreakawayForce(force=_static(by_eye, u_gain), time_s=None),
        plateau=PlateauForce(force=_kinetic(by_eye, u_gain), start_s=None, end_s=None),
        stick_slip=None,
        phases=(),
        findings=worst_first(noticed := _noticed(by_eye)),
        verdict=verdict(noticed),
        chosen=(f'Typed: "{by_eye.text}", on a scale with steps of {2 * by_eye.half_division_N:g} N.',),
    )


def _rows(by_eye: ByEye, force_N: float, u_gain: float) -> list[BudgetRow]:
    one = by_eye.half_division_N / math.sqrt(3)
    return [
        BudgetRow("reading by eye", one),
        BudgetRow("rest reading", one),
        BudgetRow("force scale, by masses", u_gain * abs(force_N)),
    ]


def _rest(by_eye: ByEye) -> Measured:
    if by_eye.rest_N is None:
        return Measured.cannot_tell(NO_REST, unit="N")
    return measured_from(by_eye.rest_N, [BudgetRow("reading by eye", by_eye.half_division_N / math.sqrt(3))])


def _static(by_eye: ByEye, u_gain: float) -> Measured:
    force_N = _above_rest(by_eye, by_eye.static_N)
    if force_N is None:
        return _untold(by_eye, "no reading before it moved was given")
    budget = UncertaintyBudget(tuple(row for row in _rows(by_eye, force_N, u_gain) if row.u > 0))
    return at_least(force_N, budget.combined, MISSED, budget)


def _kinetic(by_eye: ByEye, u_gain: float) -> Measured:
    force_N = _above_rest(by_eye, by_eye.kinetic_N)
    if force_N is None:
        return _untold(by_eye, "no reading while it slid was given")
    shaking = BudgetRow("shaking pointer", by_eye.half_division_N / math.sqrt(3))
    return measured_from(force_N, [*_rows(by_eye, force_N, u_gain), shaking])


def _above_rest(by_eye: ByEye, reading_N: float | None) -> float | None:
    return None if reading_N is None or by_eye.rest_N is None else reading_N - by_eye.rest_N


def _untold(by_eye: ByEye, why: str) -> Measured:
    return Measured.cannot_tell(NO_REST if by_eye.rest_N is None else why, unit="N")


def _noticed(by_eye: ByEye) -> list[Seen]:
    if by_eye.rest_N is None:
        return [seen(1.0, "no rest reading", "The scale's reading at rest was not given.",
                     "Let the string hang loose and type what the scale shows.")]  # fmt: skip
    least_N = min(force - by_eye.rest_N for force in (by_eye.static_N, by_eye.kinetic_N) if force is not None)
    if least_N <= 2 * by_eye.half_division_N:
        return [seen(1.0, "nothing to read", f"The pull is {least_N:g} N, no more than a division of the scale.",
                     "Add tins, or take a finer scale.")]  # fmt: skip
    sentence = f"Read by eye to {by_eye.half_division_N:g} N either way, and the top goes by too fast."
    return [seen(0.03, "read by eye", sentence, "Pull slower still, and read just before it goes.")]
