"""One pull: from the rest before it to the rest after it, and what was found in it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from pullbench.model.measured import Measured
from pullbench.model.recording import Trace


class WatchState(StrEnum):
    """What the room sees live."""

    QUIET = "quiet"
    LOADING = "loading"
    BREAKAWAY = "breakaway"
    SETTLING = "settling"
    SLIDING = "sliding"
    STICK_SLIP = "stick-slip"
    LET_GO = "let go"


class Verdict(StrEnum):
    """What a pull is good for."""

    USABLE = "usable"
    USABLE_WITH_A_NOTE = "usable with a note"
    PULL_AGAIN = "pull again"


@dataclass(frozen=True, slots=True, kw_only=True)
class ByEye:
    """One pull as a person read it off a spring scale, in newtons, the rest reading not yet taken off.

    rest_N: the last reading at rest, None if none was given.  static_N: the highest reading before it moved.
    kinetic_N: the steady level; one of both may be None.  half_division_N: half the scale's smallest division,
    within which each reading is known.  text: as it was typed.
    """

    rest_N: float | None
    static_N: float | None
    kinetic_N: float | None
    half_division_N: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PullWindow:
    """A stretch of a recording that holds one pull, with the rest before and after it.

    trace: all its samples, rests included.  start_s, end_s: the pull leaves and regains the rest line.
    direction: sign of the force.  cut_start, cut_end: the recording began or ended during the pull, or
    the pull before or after it left no rest between.  earlier_rest_N, u_earlier_rest_N: what the watch last
    took for rest, and its noise, for a window that holds no rest of its own.  by_eye: readings of a spring
    scale; the trace then holds nothing but these numbers, in the order they were read.
    """

    trace: Trace
    start_s: float
    end_s: float
    direction: Literal[1, -1]
    cut_start: bool = False
    cut_end: bool = False
    earlier_rest_N: float | None = None
    u_earlier_rest_N: float = 0.0
    by_eye: ByEye | None = None


PhaseName = Literal["rest", "loading", "transition", "kinetic", "release"]


@dataclass(frozen=True, slots=True)
class Phase:
    """A span of an analysed pull, in seconds of the recording's own time."""

    name: PhaseName
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Finding:
    """Something seen in a pull: its name, what was seen with its number and why it matters, what to do."""

    name: str
    sentence: str
    fix: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakawayForce:
    """Where motion started, and the pull then: the static maximum, in newtons above the rest line."""

    force: Measured
    time_s: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateauForce:
    """The kinetic level, in newtons above the rest line, and the settled stretch it comes from."""

    force: Measured
    start_s: float | None
    end_s: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StickSlip:
    """A sawtooth: typical high and low, time mean (N), slips counted, and their rhythm (per second).

    mean_is_kinetic: the time mean equals the kinetic friction, as in the Coulomb limit under a steady hand.
    """

    high: Measured
    low: Measured
    mean: Measured
    count: int
    rhythm_Hz: float
    mean_is_kinetic: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """One analysed pull.

    rest_reading: the sensor's reading at rest (N, its own sign and offset), at the breakaway or mid-pull.
    chosen: sentences that say how the moment and the stretch were chosen.
    """

    window: PullWindow
    rest_reading: Measured
    breakaway: BreakawayForce
    plateau: PlateauForce
    stick_slip: StickSlip | None
    phases: tuple[Phase, ...]
    findings: tuple[Finding, ...]
    verdict: Verdict
    chosen: tuple[str, ...] = ()
    static_coefficient: Measured | None = None
    kinetic_coefficient: Measured | None = None
