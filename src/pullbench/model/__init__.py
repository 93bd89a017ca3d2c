"""Frozen values of the trade; SI inside, and nothing impossible gets in."""

from pullbench.model.arrays import FloatArray
from pullbench.model.measured import BudgetRow, Kind, Measured, UncertaintyBudget
from pullbench.model.pull import (
    BreakawayForce,
    Finding,
    Phase,
    PhaseName,
    PlateauForce,
    Pull,
    PullWindow,
    StickSlip,
    Verdict,
    WatchState,
)
from pullbench.model.recording import Chunk, Flaw, FlawKind, Trace

__all__ = [
    "BreakawayForce",
    "BudgetRow",
    "Chunk",
    "Finding",
    "Flaw",
    "FlawKind",
    "FloatArray",
    "Kind",
    "Measured",
    "Phase",
    "PhaseName",
    "PlateauForce",
    "Pull",
    "PullWindow",
    "StickSlip",
    "Trace",
    "UncertaintyBudget",
    "Verdict",
    "WatchState",
]
