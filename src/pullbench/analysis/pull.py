"""From one window to one pull: rest line, break, level, findings, verdict. The order below is the flow."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from pullbench.analysis.breakaway import Break, find_break
from pullbench.analysis.by_eye import pull_by_eye
from pullbench.analysis.by_hand import ByHand, break_at, level_over, refuse_outside
from pullbench.analysis.findings import notice, verdict, worst_first
from pullbench.analysis.forces import Reading, breakaway_force, plateau_force, rest_reading, stick_slip
from pullbench.analysis.plateau import Level, before_step, level_after, slide_end
from pullbench.analysis.rest import rest_line
from pullbench.analysis.shape import Shape, shape_of
from pullbench.analysis.stick_slip import Saw, saw_in
from pullbench.model import Phase, PlateauForce, Pull, PullWindow

START_DOUBT = 0.05  # friction just after the break is within this share of the settled level (judgement)


def analyse(window: PullWindow, *, u_gain: float = 0.0, by_hand: ByHand | None = None) -> Pull:
    """Return the analysed pull of one window.

    u_gain: relative standard uncertainty of the force scale, when the sensor was verified with masses
    (0 leaves the scale out of the budget: forces are then as true as the sensor's own calibration).
    by_hand: moments that a person has set; the rest follows from them.
    Never raises for a window the watch made: what cannot be told says so.  Raises ConditionsError for moments
    set outside the pull.
    """
    if window.by_eye is not None:
        return pull_by_eye(window, window.by_eye, u_gain)
    by_hand = by_hand or ByHand()
    refuse_outside(window, by_hand)
    rest = rest_line(window)
    shape = shape_of(window, rest)
    found = None
    # A recording that begins while the sled slides has no break: its first top is none.
    began_sliding = window.cut_start and shape.pull_N[0] > 0.5 * shape.level_N
    if shape.level_N > 3 * shape.u_smooth_N and not began_sliding:
        found = find_break(shape, kinetic_N=shape.level_N, u_kinetic_N=START_DOUBT * shape.level_N)
    if by_hand.breakaway_s is not None:
        found = break_at(shape, found, by_hand.breakaway_s)
    level = saw = None
    if found is not None:
        end = slide_end(shape, found.top)
        level = level_after(shape, found, start=found.top, end=end)
        saw = _saw(shape, found, level, end)
        if level is not None and saw is not None and not (saw.stuck_again or saw.is_stick_slip):
            level = _one_slide(shape, found, level, saw)
    elif window.cut_start:
        level = level_after(shape, None, start=shape.onset, end=slide_end(shape, shape.onset))
        saw = None if level is None else _saw_without_break(shape, level)
        if saw is not None and not saw.stuck_again:
            saw = None  # with no static maximum to compare with, only a clear saw counts
    if by_hand.sliding_s is not None:
        level = level_over(shape, found, by_hand.sliding_s)
    reading = Reading(window=window, rest=rest, shape=shape, found=found, level=level, saw=saw, u_gain=u_gain)
    breakaway, plateau = breakaway_force(reading), plateau_force(reading)
    noticed = list(notice(reading, breakaway, plateau))
    return Pull(
        window=window,
        rest_reading=rest_reading(reading),
        breakaway=breakaway,
        plateau=plateau,
        stick_slip=stick_slip(reading),
        phases=_phases(reading, plateau),
        findings=worst_first(noticed),
        verdict=verdict(noticed),
        chosen=tuple(_chosen(reading, by_hand)),
    )


def _saw(shape: Shape, found: Break, level: Level | None, end: int) -> Saw | None:
    middle = shape.level_N if level is None else level.mean_N
    return saw_in(
        shape,
        start_s=float(shape.time_s[found.top]),
        end_s=float(shape.time_s[end]),
        kinetic_N=middle,
        excess_N=max(found.static_N - middle, 0.02 * abs(middle)),
        slowest=None if level is None else level.slowest,
    )


def _one_slide(shape: Shape, found: Break, level: Level, saw: Saw) -> Level:
    """Return the level of one slide: up to where the hand stopped, or the longest between new breaks.

    A hand that stops and goes slides in pieces, with held forces between them.
    """
    t = shape.time_s
    first, last = (int(np.searchsorted(t, s)) for s in (level.start_s, level.end_s))
    stop = before_step(shape, first, last)
    if stop < last:
        level = level_after(shape, found, start=first, end=stop) or level
    marks = [level.start_s, *(s for s in saw.times_s if level.start_s < s < level.end_s), level.end_s]
    start_s, end_s = max(pairwise(marks), key=lambda span: span[1] - span[0])
    if (start_s, end_s) == (level.start_s, level.end_s):
        return level
    start = int(np.searchsorted(t, start_s + (2 * found.fall_s if start_s > level.start_s else 0.0)))
    last = int(np.searchsorted(t, end_s - (2 * found.fall_s if end_s < level.end_s else 0.0))) - 1
    if last <= start:
        return level
    shorter = level_after(shape, None, start=start, end=slide_end(shape, start, release=last))
    long_enough = shorter is not None and shorter.end_s - shorter.start_s >= 0.3 * (
        level.end_s - level.start_s
    )
    return shorter if shorter is not None and long_enough else level


def _saw_without_break(shape: Shape, level: Level) -> Saw:
    """Look for a saw in a slide whose break was not recorded: its own tops stand in for the static maximum."""
    inside = (shape.time_s > level.start_s) & (shape.time_s < level.end_s)
    high = float(np.quantile(shape.smooth_N[inside], 0.98))
    return saw_in(
        shape, start_s=level.start_s, end_s=level.end_s, kinetic_N=level.mean_N,
        excess_N=max(0.8 * (high - level.mean_N), 0.02 * abs(level.mean_N)), slowest=None,
    )  # fmt: skip


def _phases(reading: Reading, plateau: PlateauForce) -> tuple[Phase, ...]:
    t, window, found = reading.shape.time_s, reading.window, reading.found
    spans = [Phase("rest", float(t[0]), window.start_s)]
    let_go = float(t[reading.shape.release])
    began_s = window.start_s if found is None else found.time_s
    if found is not None:
        spans.append(Phase("loading", window.start_s, began_s))
    if plateau.start_s is not None and plateau.end_s is not None:
        # Without a break a level is only ever told of a slide that was under way when the recording began.
        spans.append(Phase("transition", began_s, plateau.start_s))
        spans.append(Phase("kinetic", plateau.start_s, plateau.end_s))
        let_go = plateau.end_s
    else:
        spans.append(Phase("loading" if found is None else "transition", began_s, let_go))
    spans.append(Phase("release", let_go, window.end_s))
    spans.append(Phase("rest", window.end_s, float(t[-1])))
    return tuple(span for span in spans if span.end_s > span.start_s)


def _chosen(reading: Reading, by_hand: ByHand) -> Iterator[str]:
    found, level, shape = reading.found, reading.level, reading.shape
    if found is not None and by_hand.breakaway_s is not None:
        yield f"Breakaway at {found.time_s:.3f} s: marked by hand."
    elif found is not None:
        yield (
            f"Breakaway at {found.time_s:.3f} s ± {2 * found.u_time_s:.3f} s: the first top from which the samples "
            f"say that the sled slid rather than that the hand rippled (log odds {found.log_odds:.0f}); the top itself "
            f"came {1000 * (float(shape.time_s[found.top]) - found.time_s):.0f} ms later."
        )
    if level is not None and by_hand.sliding_s is not None:
        yield f"Sliding from {level.start_s:.2f} s to {level.end_s:.2f} s: marked by hand."
    elif level is not None:
        yield (
            f"Sliding from {level.start_s:.2f} s to {level.end_s:.2f} s: from where the force has settled to before "
            f"the hand stopped; {level.samples} samples under a bell-shaped weight, so that the momentum cancels."
        )
