"""Moments moved by hand: the break where a person sees it, the sliding stretch that a person chooses."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from pullbench.analysis.breakaway import Break
from pullbench.analysis.plateau import SHORTEST_S, Level, level_between
from pullbench.analysis.shape import Shape
from pullbench.errors import ConditionsError
from pullbench.model import PullWindow

_RAMP_S = 0.15  # of loading before the mark shows how fast it was loaded


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """Moments in seconds of the recording's own time; None where the analysis's own holds."""

    breakaway_s: float | None = None
    sliding_s: tuple[float, float] | None = None


def refuse_outside(window: PullWindow, by_hand: ByHand) -> None:
    """Raise ConditionsError for a moment outside the pull or a stretch too short to tell a level."""
    moments = [] if by_hand.breakaway_s is None else [by_hand.breakaway_s]
    moments += by_hand.sliding_s or ()
    for moment in moments:
        if not window.start_s <= moment <= window.end_s:
            raise ConditionsError(
                "mark-outside-pull", f"The mark is at {moment:.3f} s.",
                f"The pull lasts from {window.start_s:.3f} s to {window.end_s:.3f} s.", "Set the mark inside the pull.",
            )  # fmt: skip
    if by_hand.sliding_s is not None and by_hand.sliding_s[1] - by_hand.sliding_s[0] < SHORTEST_S:
        raise ConditionsError(
            "stretch-too-short", f"The sliding stretch is {by_hand.sliding_s[1] - by_hand.sliding_s[0]:.2f} s long.",
            f"It must be {SHORTEST_S:g} s or longer.", "Move its ends apart.",
        )  # fmt: skip


def break_at(shape: Shape, found: Break | None, time_s: float) -> Break:
    """Return the break at a moment set by hand: the force there, as well as the samples about it tell.

    u: noise of the smoothed force, and half a sample of the loading ramp.
    """
    t = shape.time_s
    i = int(np.clip(np.searchsorted(t, time_s), shape.onset + 1, max(shape.release, shape.onset + 1)))
    first = max(min(int(np.searchsorted(t, time_s - _RAMP_S)), i - 3), 0)
    ramp_t, ramp_N = t[first : i + 1], shape.smooth_N[first : i + 1]
    slope = float(np.polyfit(ramp_t - time_s, ramp_N, 1)[0]) if ramp_t.size > 2 else 0.0
    static_N = float(np.interp(time_s, t, shape.smooth_N))
    u_static_N = math.hypot(shape.u_smooth_N, 0.5 * abs(slope) * shape.step_s)
    moved = Break(
        time_s=time_s, u_time_s=0.5 * shape.step_s, static_N=static_N, u_static_N=u_static_N,
        excess_N=max(static_N - shape.level_N, 0.0), u_excess_N=u_static_N, top=i, fall_s=4 * shape.step_s,
        slope_N_s=max(slope, 0.0), swing=0.0, samples_in_fall=4.0, log_odds=0.0, before_burst_N=None, surprise=1.0,
    )  # fmt: skip
    if found is None:
        return moved
    return replace(moved, fall_s=found.fall_s, samples_in_fall=max(found.samples_in_fall, 4.0))


def level_over(shape: Shape, found: Break | None, sliding_s: tuple[float, float]) -> Level | None:
    """Return the level over a stretch chosen by hand, its doubt reckoned as for any other."""
    start, end = (int(np.searchsorted(shape.time_s, moment)) for moment in sliding_s)
    return level_between(shape, found, start, min(end, shape.time_s.size - 1))
