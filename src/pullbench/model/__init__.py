"""Frozen values of the trade; SI inside, and nothing impossible gets in."""

from pullbench.model.arrays import FloatArray
from pullbench.model.delivery import Delivery, Ended, News, NewsKind
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
    "Delivery",
    "Ended",
    "Finding",
    "Flaw",
    "FlawKind",
    "FloatArray",
    "Kind",
    "Measured",
    "News",
    "NewsKind",
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
