"""From one window to one pull: rest line, break, level, findings, verdict. The order below is the flow."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.breakaway import Break, find_break
from pullbench.analysis.findings import USUAL_SCATTER, Seen, percent, seconds, seen, worst_first
from pullbench.analysis.plateau import Level, level_after, slide_end
from pullbench.analysis.rest import RestLine, rest_line
from pullbench.analysis.shape import Shape, shape_of
from pullbench.analysis.stick_slip import MOST_REGULAR, Saw, saw_in
from pullbench.analysis.student import coverage_factor
from pullbench.model import (
    BreakawayForce,
    BudgetRow,
    Measured,
    Phase,
    PlateauForce,
    Pull,
    PullWindow,
    StickSlip,
    UncertaintyBudget,
    Verdict,
)

START_DOUBT = 0.05  # friction just after the break is within this share of the settled level (judgement)
FAST_START = 0.3  # β from which the highest point visibly overshoots (derived: √(1+β²) − 1 = 4 %)
TOO_DOUBTFUL = 0.15  # a standard uncertainty above this share of the value is no value
SLOPE_TOO_STEEP = 0.25  # of the level, along the stretch: no plateau


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Everything the steps of the analysis saw in one window."""

    window: PullWindow
    rest: RestLine
    shape: Shape
    found: Break | None
    level: Level | None
    saw: Saw | None
    u_gain: float


def analyse(window: PullWindow, *, u_gain: float = 0.0) -> Pull:
    """Return the analysed pull of one window.

    u_gain: relative standard uncertainty of the force scale, when the sensor was verified with masses
    (0 leaves the scale out of the budget: forces are then as true as the sensor's own calibration).
    Never raises for a window the watch made: what cannot be told says so.
    """
    rest = rest_line(window)
    shape = shape_of(window, rest)
    found = find_break(shape, kinetic_N=shape.level_N, u_kinetic_N=START_DOUBT * abs(shape.level_N))
    if window.cut_start and found is not None and shape.pull_N[0] > 0.5 * shape.level_N:
        found = None  # the recording began while it slid: the first top is not a break
    level = saw = None
    if found is not None:
        end = slide_end(shape, found.top)
        level = level_after(shape, found, start=found.top, end=end)
        saw = _saw(shape, found, level, end)
    elif window.cut_start:
        level = level_after(shape, None, start=shape.onset, end=slide_end(shape, shape.onset))
        saw = None if level is None else _saw_without_break(shape, level)
    reading = Reading(window=window, rest=rest, shape=shape, found=found, level=level, saw=saw, u_gain=u_gain)
    breakaway, plateau = _breakaway(reading), _plateau(reading)
    noticed = list(_notice(reading, breakaway, plateau))
    return Pull(
        window=window,
        rest_reading=_rest_reading(reading),
        breakaway=breakaway,
        plateau=plateau,
        stick_slip=_stick_slip(reading),
        phases=_phases(reading, plateau),
        findings=worst_first(noticed),
        verdict=_verdict(noticed),
        chosen=tuple(_chosen(reading)),
    )


def _saw(shape: Shape, found: Break, level: Level | None, end: int) -> Saw | None:
    middle = shape.level_N if level is None else level.mean_N
    return saw_in(
        shape,
        start_s=float(shape.time_s[found.top]),
        end_s=float(shape.time_s[end]),
        kinetic_N=middle,
        excess_N=max(found.static_N - middle, 0.02 * abs(middle)),
    )


def _saw_without_break(shape: Shape, level: Level) -> Saw:
    """Look for a saw in a slide whose break was not recorded: its own tops stand in for the static maximum."""
    inside = (shape.time_s > level.start_s) & (shape.time_s < level.end_s)
    high = float(np.quantile(shape.smooth_N[inside], 0.98))
    return saw_in(
        shape, start_s=level.start_s, end_s=level.end_s, kinetic_N=level.mean_N,
        excess_N=max(0.8 * (high - level.mean_N), 0.02 * abs(level.mean_N)),
    )  # fmt: skip


def _measured(value_N: float, rows: list[BudgetRow]) -> Measured:
    budget = UncertaintyBudget(tuple(sorted((row for row in rows if row.u > 0), key=lambda row: -row.u)))
    k, u = coverage_factor(budget.effective_dof), budget.combined
    return Measured(
        kind="value", value=value_N, standard_uncertainty=u, limits=(value_N - k * u, value_N + k * u),
        unit="N", budget=budget,
    )  # fmt: skip


def _bound(value_N: float, u_N: float, reason: str, budget: UncertaintyBudget) -> Measured:
    low = value_N - coverage_factor(math.inf, 0.9) * u_N  # one-sided 95 %
    return Measured(
        kind="lower bound", value=value_N, standard_uncertainty=u_N, limits=(low, None), unit="N",
        reason=reason, budget=budget,
    )  # fmt: skip


def _rest_reading(reading: Reading) -> Measured:
    rest = reading.rest
    if rest.sides == "none":
        return Measured.cannot_tell("no rest was recorded before or after the pull", unit="N")
    when = reading.window.start_s if reading.found is None else reading.found.time_s
    value = rest.level_N + rest.slope_N_s * (when - rest.reference_s)
    return _measured(value, _rest_rows(rest, when))


def _rest_rows(rest: RestLine, when_s: float) -> list[BudgetRow]:
    lever = abs(rest.slope_N_s and when_s - rest.reference_s)
    return [
        BudgetRow("rest reading", math.hypot(rest.u_level_N, rest.u_wander_N)),
        BudgetRow("drift of the rest", rest.u_slope_N_s * (lever or abs(when_s - rest.reference_s))),
    ]


def _breakaway(reading: Reading) -> BreakawayForce:
    rest, shape, found, window = reading.rest, reading.shape, reading.found, reading.window
    if rest.sides == "none":
        return _untold("no rest was recorded, so nought is not known")
    if found is None:
        if window.cut_start:
            return _untold("the recording begins after it broke away")
        return _held(reading)
    if _gap_over(reading, found):
        return _at_least(reading, found, "samples are missing where it broke away")
    if _clipped(reading):
        return _at_least(reading, found, "the force ran off the sensor's scale")
    rows = [
        *_rest_rows(rest, found.time_s),
        BudgetRow("when it broke away", found.u_static_N),
        BudgetRow("resolution", rest.step_N / math.sqrt(12)),
        BudgetRow("force scale, by masses", reading.u_gain * found.static_N),
    ]
    if found.u_static_N > TOO_DOUBTFUL * found.static_N:
        return _untold("the force jumped at the break, so the moment cannot be placed")
    if found.samples_in_fall < 3 and found.slope_N_s * shape.step_s > 0.004 * found.static_N:
        return _at_least(reading, found, "sampled too coarsely to hold the peak")
    return BreakawayForce(force=_measured(found.static_N, rows), time_s=found.time_s)


def _untold(reason: str) -> BreakawayForce:
    return BreakawayForce(force=Measured.cannot_tell(reason, unit="N"), time_s=None)


def _at_least(reading: Reading, found: Break, reason: str) -> BreakawayForce:
    u = math.hypot(found.u_static_N, reading.rest.u_at(found.time_s))
    budget = UncertaintyBudget((BudgetRow("when it broke away", found.u_static_N),))
    return BreakawayForce(force=_bound(found.static_N, u, reason, budget), time_s=found.time_s)


def _held(reading: Reading) -> BreakawayForce:
    """Return the highest held force as a lower bound: a tremor's crest was held too, but noise was not."""
    shape, rest = reading.shape, reading.rest
    inside = slice(shape.onset, shape.release + 1)
    highest = float(np.max(shape.smooth_N[inside]))
    when = float(shape.time_s[shape.onset + int(np.argmax(shape.smooth_N[inside]))])
    u = math.hypot(rest.u_at(when), 2 * shape.u_smooth_N)
    budget = UncertaintyBudget(
        (BudgetRow("rest reading", rest.u_at(when)), BudgetRow("noise", 2 * shape.u_smooth_N))
    )
    return BreakawayForce(
        force=_bound(highest, u, "it was held and let go without sliding", budget), time_s=None
    )


def _plateau(reading: Reading) -> PlateauForce:
    rest, level, found, saw = reading.rest, reading.level, reading.found, reading.saw

    def untold(reason: str) -> PlateauForce:
        stretch = (None, None) if level is None else (level.start_s, level.end_s)
        return PlateauForce(
            force=Measured.cannot_tell(reason, unit="N"), start_s=stretch[0], end_s=stretch[1]
        )

    if rest.sides == "none":
        return untold("no rest was recorded, so nought is not known")
    if found is None and not reading.window.cut_start:
        return untold("it never broke away, so a level here would be a held force")
    if level is None:
        return untold("it slid too short a time to settle")
    if saw is not None and saw.is_stick_slip:
        return untold("it kept sticking and slipping, so there is no steady level")
    trend = abs(level.slope_N_s) * (level.end_s - level.start_s)
    if trend > SLOPE_TOO_STEEP * level.mean_N and level.mean_N > 0:
        return untold("the force did not settle to a level")
    if level.mean_N <= 0:
        return untold("no pull is left once the rest reading is taken off")
    middle = (level.start_s + level.end_s) / 2
    rows = [
        *_rest_rows(rest, middle),
        BudgetRow("noise", level.u_scatter_N),
        BudgetRow("sled's own momentum", level.u_momentum_N),
        BudgetRow("sled may have stuck", _u_stuck(reading)),
        BudgetRow("resolution", rest.step_N / math.sqrt(12) if rest.step_N > 3 * rest.noise_N else 0.0),
        BudgetRow("force scale, by masses", reading.u_gain * level.mean_N),
    ]
    told = _measured(level.mean_N, rows)
    if told.standard_uncertainty is not None and told.standard_uncertainty > TOO_DOUBTFUL * level.mean_N:
        return untold("the force swung too much to tell a level")
    return PlateauForce(force=told, start_s=level.start_s, end_s=level.end_s)


def _u_stuck(reading: Reading) -> float:
    """Return the doubt from a sled that may have stuck now and then: its tops came back to the static maximum."""
    saw, found, level = reading.saw, reading.found, reading.level
    if saw is None or found is None or level is None or not saw.highs_N:
        return 0.0
    return 0.08 * saw.share * max(found.static_N - level.mean_N, 0.0)


def _stick_slip(reading: Reading) -> StickSlip | None:
    saw, level = reading.saw, reading.level
    if saw is None or not saw.is_stick_slip:
        return None
    highs, lows = np.array(saw.highs_N), np.array(saw.lows_N)
    u_rest = reading.rest.u_at(saw.times_s[0]) if reading.rest.sides != "none" else 0.0
    middle = level.mean_N if level is not None else float((highs.mean() + lows.mean()) / 2)
    u_mean = math.hypot(level.u_momentum_N, 0.02 * level.mean_N) if level is not None else 0.05 * abs(middle)
    gaps = np.diff(saw.times_s)
    excess = float(np.median(highs)) - middle
    regular = float(np.std(highs)) < MOST_REGULAR * excess and len(highs) >= 4
    return StickSlip(
        high=_typical(highs, u_rest),
        low=_typical(lows, u_rest),
        mean=_measured(middle, [BudgetRow("rest reading", u_rest), BudgetRow("sled's own momentum", u_mean)]),
        count=len(highs),
        rhythm_Hz=float(1 / np.median(gaps)) if gaps.size else 0.0,
        mean_is_kinetic=regular,
    )


def _typical(values_N: np.ndarray, u_rest_N: float) -> Measured:  # type: ignore[type-arg]
    spread = (
        float(np.std(values_N, ddof=1)) / math.sqrt(values_N.size)
        if values_N.size > 1
        else abs(float(values_N[0])) * 0.05
    )
    rows = [
        BudgetRow(
            "scatter of the slips", max(spread, 1e-9 * abs(float(values_N.mean()))), max(values_N.size - 1, 1)
        ),
        BudgetRow("rest reading", u_rest_N),
    ]
    return _measured(float(np.median(values_N)), rows)


def _phases(reading: Reading, plateau: PlateauForce) -> tuple[Phase, ...]:
    t, window, found = reading.shape.time_s, reading.window, reading.found
    spans = [Phase("rest", float(t[0]), window.start_s)]
    let_go = float(t[reading.shape.release])
    if found is None:
        spans.append(Phase("loading", window.start_s, let_go))
    else:
        spans.append(Phase("loading", window.start_s, found.time_s))
        if plateau.start_s is not None and plateau.end_s is not None:
            spans.append(Phase("transition", found.time_s, plateau.start_s))
            spans.append(Phase("kinetic", plateau.start_s, plateau.end_s))
            let_go = plateau.end_s
        else:
            spans.append(Phase("transition", found.time_s, let_go))
    spans.append(Phase("release", let_go, window.end_s))
    spans.append(Phase("rest", window.end_s, float(t[-1])))
    return tuple(span for span in spans if span.end_s > span.start_s)


def _gap_over(reading: Reading, found: Break) -> bool:
    t = reading.shape.time_s
    near = (t > found.time_s - 3 * reading.shape.step_s) & (
        t < found.time_s + max(found.fall_s, 3 * reading.shape.step_s)
    )
    index = np.flatnonzero(near)
    if index.size < 2:
        return False
    steps = np.diff(t[max(index[0] - 1, 0) : index[-1] + 2])
    return bool(
        steps.max() > 3.5 * reading.shape.step_s and steps.max() * found.slope_N_s > 0.01 * found.static_N
    )


def _clipped(reading: Reading) -> bool:
    """Tell whether the force ran off the scale: the extreme is repeated while its neighbours still climb."""
    raw = reading.window.direction * reading.window.trace.force_N
    top = float(raw.max())
    at_top = np.flatnonzero(raw >= top - 1e-9 * abs(top))
    if at_top.size < 3:
        return False
    runs = np.split(at_top, np.flatnonzero(np.diff(at_top) > 1) + 1)
    longest = max(runs, key=len)
    if longest.size < 3 or longest[0] < 3 or longest[-1] > raw.size - 4:
        return False
    climb = raw[longest[0]] - raw[longest[0] - 2]
    fall = raw[longest[-1]] - raw[longest[-1] + 2]
    return bool(min(climb, fall) > 4 * max(reading.rest.noise_N, reading.rest.step_N))


def _notice(reading: Reading, breakaway: BreakawayForce, plateau: PlateauForce):  # type: ignore[no-untyped-def]
    """Yield what was seen that a person should hear about."""
    window, rest, shape, found, level, saw = (
        reading.window, reading.rest, reading.shape, reading.found, reading.level, reading.saw,
    )  # fmt: skip
    reference = shape.level_N if level is None else level.mean_N
    reference = max(abs(reference), 1e-30)
    if window.cut_start or window.cut_end:
        end = "began during the pull" if window.cut_start else "ended during the pull"
        yield seen(0.2, "recording cut", f"The recording {end}, so part of the pull is missing.",
                   "Give a second of rest at both ends.")  # fmt: skip
    if rest.sides == "none":
        yield seen(1.0, "rest too short", "No rest was recorded before or after, so nought is not known.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    else:
        yield from _notice_rest(reading, reference)
    if _clipped(reading):
        yield seen(0.5, "off the scale", "The force ran off the sensor's scale and its top is flat.",
                   "Take one tin off.")  # fmt: skip
    if rest.step_N > 0.02 * reference:
        yield seen(0.02 + rest.step_N / reference / 2, "resolution too coarse",
                   f"One step of the sensor is {percent(rest.step_N / reference)} of the level.",
                   "Add tins until a pull is a hundred steps high.")  # fmt: skip
    if found is None and not window.cut_start and rest.sides != "none":
        yield seen(0.6, "held but never slid",
                   "The pull was held and let go, and it never slid: the static limit is at least this high.",
                   "Pull on until it goes, or take a tin off.")  # fmt: skip
    if found is not None:
        yield from _notice_start(reading, breakaway, found)
    for flaw in window.trace.flaws:
        if (
            flaw.kind in ("gap", "missing values")
            and flaw.start_s < window.end_s
            and flaw.end_s > window.start_s
        ):
            yield seen(0.015, "samples missing", flaw.sentence, "Bring the receiver closer and pull again.")
    if saw is not None and saw.is_stick_slip:
        yield seen(0.025, "stick-slip",
                   f"It stuck and slipped {len(saw.highs_N)} times, so a steady kinetic level cannot be told.",
                   "Shorten the string or pull faster.")  # fmt: skip
    elif found is not None and plateau.force.kind == "cannot tell" and rest.sides != "none":
        yield seen(0.3, "not settled", f"After the break no level can be told: {plateau.force.reason}.",
                   "When it lets go, keep the same slow hand for two seconds.")  # fmt: skip
    elif level is not None and plateau.force.kind == "value":
        yield from _notice_slide(reading, level, reference)


def _notice_rest(reading: Reading, reference: float):  # type: ignore[no-untyped-def]
    rest = reading.rest
    doubt = rest.u_at((reading.window.start_s + reading.window.end_s) / 2) / reference
    if rest.sides != "both" and doubt > USUAL_SCATTER / 3:
        yield seen(doubt, "rest too short", f"Rest was seen only {rest.sides} the pull, which leaves {percent(doubt)} of doubt.",
                   "Let the string hang loose for two seconds before and after each pull.")  # fmt: skip
    elif doubt > USUAL_SCATTER / 3:
        yield seen(doubt, "rest too short", f"The rest was too short or too restless: it leaves {percent(doubt)} of doubt.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    if rest.before_N and rest.after_N:
        step = rest.after_N[0] - rest.before_N[0]
        u = math.hypot(rest.before_N[1], rest.after_N[1])
        if abs(step) > 4.2 * u and abs(step) > 0.1 * reference:
            yield seen(abs(step) / reference / 4, "rest shifted",
                       f"The rest reading moved by {percent(abs(step) / reference)} of the pull from before to after.",
                       "Hold the sensor the same way up before, during and after.")  # fmt: skip


def _notice_start(reading: Reading, breakaway: BreakawayForce, found: Break):  # type: ignore[no-untyped-def]
    loading_s = found.time_s - reading.window.start_s
    harm = found.u_static_N / max(found.static_N, 1e-30)
    if found.swing > FAST_START or loading_s < 0.25:
        yield seen(max(harm, 0.012), "started too fast", f"It was loaded in {seconds(max(loading_s, 0.01))}, so the break is hard to place.",
                   "Take a slow count of three to reach the break.")  # fmt: skip
    elif breakaway.force.kind == "cannot tell" and reading.rest.sides != "none":
        yield seen(0.3, "break not clear", "The force jumped around at the break, so its moment cannot be placed.",
                   "Lift the slack out first, wait one breath, then pull evenly.")  # fmt: skip
    if breakaway.force.kind == "lower bound" and "coarse" in (breakaway.force.reason or ""):
        yield seen(0.02, "sampled too coarsely", f"Samples came every {seconds(reading.shape.step_s)}: nobody saw the very top.",
                   "Count to four on the ramp, or set the sensor to a faster rate.")  # fmt: skip
    if breakaway.force.kind == "lower bound" and "missing" in (breakaway.force.reason or ""):
        yield seen(
            0.1,
            "samples missing",
            "Samples are missing where it broke away.",
            "Pull again, with the receiver closer.",
        )
    excess = found.excess_N / max(found.u_excess_N, 1e-30)
    if excess < 2 and found.excess_N < 0.05 * found.static_N:
        yield seen(0.013, "no static peak", "It began to slide without a peak that stands out of the level.",
                   "Let the sled stand ten seconds, then pull slowly.")  # fmt: skip


def _notice_slide(reading: Reading, level: Level, reference: float):  # type: ignore[no-untyped-def]
    length_s = level.end_s - level.start_s
    trend = level.slope_N_s * length_s / reference
    if abs(trend) > 0.08:
        yield seen(abs(trend) / math.sqrt(12), "speeding up or surface changing",
                   f"The level {'climbs' if trend > 0 else 'sinks'} by {percent(abs(trend))} along the slide.",
                   "Slide at a crawl, a hand's breadth a second, and start every pull from the same mark.")  # fmt: skip
    if level.u_momentum_N > USUAL_SCATTER / 2 * reference:
        yield seen(level.u_momentum_N / reference, "not settled",
                   f"The sled kept speeding up and slowing down: {percent(level.u_momentum_N / reference)} of doubt.",
                   "When it lets go, keep the same slow hand, two seconds longer.")  # fmt: skip


def _verdict(noticed: list[Seen]) -> Verdict:
    worst = max((item.harm for item in noticed), default=0.0)
    if worst >= 0.1:
        return Verdict.PULL_AGAIN
    return Verdict.USABLE_WITH_A_NOTE if worst >= USUAL_SCATTER / 3 else Verdict.USABLE


def _chosen(reading: Reading):  # type: ignore[no-untyped-def]
    found, level, shape = reading.found, reading.level, reading.shape
    if found is not None:
        yield (
            f"Breakaway at {found.time_s:.3f} s ± {2 * found.u_time_s:.3f} s: the first top from which the samples "
            f"say that the sled slid rather than that the hand rippled (log odds {found.log_odds:.0f}); the top itself "
            f"came {1000 * (float(shape.time_s[found.top]) - found.time_s):.0f} ms later."
        )
    if level is not None:
        yield (
            f"Sliding from {level.start_s:.2f} s to {level.end_s:.2f} s: from where the force has settled to before "
            f"the hand stopped; {level.samples} samples under a bell-shaped weight, so that the momentum cancels."
        )
