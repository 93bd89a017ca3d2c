"""What comes from a sensor: samples, and what was wrong with their delivery."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pullbench.model.arrays import FloatArray, frozen

FlawKind = Literal[
    "gap", "missing values", "repeated times", "backward times", "unreadable lines", "evenly spaced"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """Damage in the delivery of samples, from start_s to end_s of the recording's own time.

    count: lines or samples concerned.  sentence: what was seen and what was done about it.
    """

    kind: FlawKind
    start_s: float
    end_s: float
    count: int
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chunk:
    """A piece of a recording as it arrives.

    time_s: shape (n,), seconds, strictly increasing, also from chunk to chunk.  force_N: shape (n,),
    newtons, finite, the sensor's own sign and offset.  flaws: damage met while this piece was read.
    """

    time_s: FloatArray
    force_N: FloatArray
    flaws: tuple[Flaw, ...] = ()

    def __post_init__(self) -> None:
        _freeze_samples(self)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trace:
    """A stretch of one recording held in memory: time_s and force_N of shape (n,), and its flaws."""

    time_s: FloatArray
    force_N: FloatArray
    flaws: tuple[Flaw, ...] = ()

    def __post_init__(self) -> None:
        _freeze_samples(self)


def _freeze_samples(samples: Chunk | Trace) -> None:
    """Make the arrays of a frozen value read-only, and refuse lengths that differ."""
    object.__setattr__(samples, "time_s", frozen(samples.time_s))
    object.__setattr__(samples, "force_N", frozen(samples.force_N))
    if samples.time_s.shape != samples.force_N.shape or samples.time_s.ndim != 1:
        raise ValueError(f"time {samples.time_s.shape} and force {samples.force_N.shape} must be one length")
