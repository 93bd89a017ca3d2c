"""A held-up pull as the free-body view takes it: the same numbers that its sheet shows."""

from __future__ import annotations

from pullbench.live import Sheet
from pullbench.model import (
    BreakawayForce,
    BudgetRow,
    Measured,
    Phase,
    PhaseName,
    PlateauForce,
    Pull,
    PullWindow,
    StickSlip,
    Trace,
    UncertaintyBudget,
    Verdict,
)
from pullbench.render import Budgets, Told

TWO_SIDED = 1.96
_PHASES: dict[str, PhaseName] = {
    "rest": "rest", "loading": "loading", "settling": "transition", "sliding": "kinetic", "stick-slip": "kinetic",
    "let go": "release",
}  # fmt: skip


def pull_of_sheet(sheet: Sheet) -> Pull:
    """Return a sheet as a pull again, in bench seconds; its trace has its rest reading off already."""
    card = sheet.card
    saw = card.stick_slip
    return Pull(
        window=PullWindow(
            trace=Trace(time_s=sheet.time_s, force_N=sheet.force_N), start_s=card.start_s, end_s=card.end_s,
            direction=1 if card.direction > 0 else -1,
        ),
        rest_reading=_centred(sheet.rest),
        breakaway=BreakawayForce(
            force=_measured(card.breakaway, sheet.budgets, "breakaway"), time_s=card.breakaway.at_s
        ),
        plateau=PlateauForce(
            force=_measured(card.kinetic, sheet.budgets, "kinetic"),
            start_s=card.kinetic.from_s, end_s=card.kinetic.to_s
        ),
        stick_slip=None if saw is None else StickSlip(
            high=_measured(saw.high), low=_measured(saw.low), mean=_measured(saw.mean), count=saw.count,
            rhythm_Hz=0.0, mean_is_kinetic=True,
        ),
        phases=tuple(Phase(_PHASES[phase.name], phase.from_s, phase.to_s) for phase in card.phases),
        findings=(), verdict=Verdict(card.verdict),
    )  # fmt: skip


def _measured(told: Told, budgets: Budgets | None = None, force: str = "") -> Measured:
    if told.value is None:
        return Measured.cannot_tell(told.reason or "it could not be read", unit="N")
    u = (told.high - told.low) / 2 / TWO_SIDED if told.low is not None and told.high is not None else None
    rows = () if budgets is None or u is None else getattr(budgets, force)
    return Measured(
        kind=told.kind, value=told.value, standard_uncertainty=u, limits=(told.low, told.high),  # type: ignore[arg-type]
        unit="N", reason=told.reason,
        budget=UncertaintyBudget(tuple(BudgetRow(row.source, row.share**0.5 * (u or 0.0)) for row in rows)),
    )  # fmt: skip


def _centred(rest: Told) -> Measured:
    """Return the rest reading of a trace from which it was taken: nought, with the doubt it had."""
    if rest.low is None or rest.high is None:
        return Measured.cannot_tell(rest.reason or "no rest was seen", unit="N")
    half = (rest.high - rest.low) / 2
    return Measured(
        kind="value", value=0.0, standard_uncertainty=half / TWO_SIDED, limits=(-half, half), unit="N"
    )
