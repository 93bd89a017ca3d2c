"""The forces of one pull: value and budget, a bound with its reason, or why it cannot be told."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.breakaway import Break
from pullbench.analysis.plateau import Level
from pullbench.analysis.rest import RestLine
from pullbench.analysis.shape import Shape, smoothed
from pullbench.analysis.stick_slip import MOST_REGULAR, Saw
from pullbench.analysis.student import coverage_factor
from pullbench.model import (
    BreakawayForce,
    BudgetRow,
    FloatArray,
    Measured,
    PlateauForce,
    PullWindow,
    StickSlip,
    UncertaintyBudget,
)

TOO_DOUBTFUL = 0.15  # a standard uncertainty above this share of the value is no value
SLOPE_TOO_STEEP = 0.25  # of the level, along the stretch: no plateau
SWUNG = (
    0.02  # doubt from the momentum, of the level: more is a finding, and no level if it may have stuck too
)
STILL = 1e-3  # doubt from the momentum, of the level: under it nothing shows that the sled moved at all
HELD_S = 0.3  # a force counts as held when it lasted so long: crests of noise and tremor do not
COARSE = 0.008  # of the force, between two samples of the ramp: then the top may have been missed
MODEL_DOF = 15.0  # the slip filter's own doubt is known to about a fifth (GUM G.4.2: 1/2 · 0.18⁻² = 15)
NOISE_TELLS_S = 1 / 30  # between samples: with closer ones, two seconds of rest show averaging by their noise
HIDDEN = 0.9  # of the fall seen: a mean over longer leaves nothing of the sled's own fall to judge by
SLOW = 0.5  # of the fall: letting go that takes as long may be the sensor's slowness, and so may the fall
LAG_KNOWN, BLUNTING = 0.5, 0.9  # of the lag, and more by the share of the fall averaged over (virtual bench)
STUCK_DOUBT = 0.08  # of the static excess, while tops come back to it: found on the virtual bench


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


def measured_from(value_N: float, rows: list[BudgetRow]) -> Measured:
    """Return a force with its budget, largest row first, and its 95 % limits (GUM G.4)."""
    budget = UncertaintyBudget(tuple(sorted((row for row in rows if row.u > 0), key=lambda row: -row.u)))
    k, u = coverage_factor(budget.effective_dof), budget.combined
    return Measured(
        kind="value", value=value_N, standard_uncertainty=u, limits=(value_N - k * u, value_N + k * u),
        unit="N", budget=budget,
    )  # fmt: skip


def at_least(value_N: float, u_N: float, reason: str, budget: UncertaintyBudget) -> Measured:
    """Return a lower bound, with the reason why it is no more."""
    low = value_N - coverage_factor(math.inf, 0.9) * u_N  # one-sided 95 %
    return Measured(
        kind="lower bound", value=value_N, standard_uncertainty=u_N, limits=(low, None), unit="N",
        reason=reason, budget=budget,
    )  # fmt: skip


def rest_reading(reading: Reading) -> Measured:
    """Return what the sensor read at rest, when it broke away."""
    rest = reading.rest
    if rest.sides == "none":
        return Measured.cannot_tell("no rest was recorded before or after the pull", unit="N")
    when = reading.window.start_s if reading.found is None else reading.found.time_s
    value = rest.level_N + rest.slope_N_s * (when - rest.reference_s)
    return measured_from(value, _rest_rows(rest, when))


def _rest_rows(rest: RestLine, when_s: float) -> list[BudgetRow]:
    return [
        BudgetRow("rest reading", math.hypot(rest.u_level_N, rest.u_wander_N)),
        BudgetRow("drift of the rest", rest.u_slope_N_s * rest.lever_s(when_s)),
    ]


def breakaway_force(reading: Reading) -> BreakawayForce:
    """Return the static maximum: a value, a lower bound with its reason, or why it cannot be told."""
    rest, shape, found, window = reading.rest, reading.shape, reading.found, reading.window
    if rest.sides == "none":
        return _untold("no rest was recorded, so nought is not known")
    if found is None:
        if window.cut_start:
            between = "it followed another pull with no rest between"
            return _untold(between if rest.sides == "earlier" else "the recording begins after it broke away")
        return _held(reading)
    if _gap_over(reading, found):
        return _at_least(reading, found, "samples are missing where it broke away")
    if clipped(reading):
        return _at_least(reading, found, "the force ran off the sensor's scale")
    if found.before_burst_N == 0:
        return _untold("it was jerked from rest: the force rose to its top as fast as the sled can swing")
    if found.before_burst_N is not None:
        u = math.hypot(0.01 * found.before_burst_N, rest.u_at(found.time_s))
        budget = UncertaintyBudget((BudgetRow("when it broke away", u),))
        reason = "the force jumped just before the break, so where in the jump it let go cannot be told"
        return BreakawayForce(force=at_least(found.before_burst_N, u, reason, budget), time_s=found.time_s)
    if rest.averaging_s > HIDDEN * found.fall_s:
        return _at_least(
            reading, found, f"the sensor averages over {rest.averaging_s:.2g} s, which blunts the peak"
        )
    slow_s = max(SLOW * found.fall_s, 2.5 * shape.step_s)
    if shape.step_s > NOISE_TELLS_S and _letting_go_s(reading) > slow_s:
        return _at_least(
            reading, found, "sampled too coarsely, by a sensor that may average: letting go looks as slow"
        )
    # A mean of the last conversions trails the ramp by half of them.
    lag_N = found.slope_N_s * rest.averaging_s / 2
    rows = [
        *_rest_rows(rest, found.time_s),
        BudgetRow("sensor's averaging", lag_N * (LAG_KNOWN + BLUNTING * rest.averaging_s / found.fall_s)),
        BudgetRow("when it broke away", found.u_static_N, MODEL_DOF),
        BudgetRow("resolution", rest.step_N / math.sqrt(12)),
        BudgetRow("force scale, by masses", reading.u_gain * found.static_N),
    ]
    if found.u_static_N > TOO_DOUBTFUL * found.static_N:
        return _untold("the force jumped at the break, so the moment cannot be placed")
    if found.samples_in_fall < 3 and found.slope_N_s * shape.step_s > COARSE * found.static_N:
        return _at_least(reading, found, "sampled too coarsely to hold the peak")
    return BreakawayForce(force=measured_from(found.static_N + lag_N, rows), time_s=found.time_s)


def _letting_go_s(reading: Reading) -> float:
    """Return how long the force took from 0.9 to 0.1 of its level when the hand let go; 0 if that is not seen.

    A string goes slack at once, so this is the sensor's own slowness, if not the hand's.
    """
    shape, level = reading.shape, reading.level
    if reading.window.cut_end or level is None:
        return 0.0
    pull_N, at = shape.pull_N, shape.release
    high, low = (
        np.flatnonzero(pull_N[:at] > 0.9 * level.mean_N),
        np.flatnonzero(pull_N[at:] < 0.1 * level.mean_N),
    )
    if not (high.size and low.size):
        return 0.0
    return float(shape.time_s[at + low[0]] - shape.time_s[high[-1]])


def _untold(reason: str) -> BreakawayForce:
    return BreakawayForce(force=Measured.cannot_tell(reason, unit="N"), time_s=None)


def _at_least(reading: Reading, found: Break, reason: str) -> BreakawayForce:
    missed = 0.5 * found.slope_N_s * reading.shape.step_s
    u = math.hypot(found.u_static_N, missed, reading.rest.u_at(found.time_s))
    budget = UncertaintyBudget(
        (BudgetRow("when it broke away", found.u_static_N), BudgetRow("sampling", missed))
    )
    return BreakawayForce(force=at_least(found.static_N, u, reason, budget), time_s=found.time_s)


def _held(reading: Reading) -> BreakawayForce:
    """Return the highest force that was held for a moment, as a lower bound."""
    shape, rest = reading.shape, reading.rest
    if shape.level_N <= 0:
        return _untold("nothing stands above the rest reading")
    inside = slice(shape.onset, shape.release + 1)
    held = smoothed(shape.pull_N[inside], HELD_S / shape.step_s / 3)
    highest = float(np.max(held))
    when = float(shape.time_s[shape.onset + int(np.argmax(held))])
    u = math.hypot(rest.u_at(when), 2 * shape.u_smooth_N)
    budget = UncertaintyBudget(
        (BudgetRow("rest reading", rest.u_at(when)), BudgetRow("noise", 2 * shape.u_smooth_N))
    )
    return BreakawayForce(
        force=at_least(highest, u, "nothing shows that it slid before it was let go", budget), time_s=None
    )


def plateau_force(reading: Reading) -> PlateauForce:
    """Return the kinetic level over the settled stretch, or why it cannot be told."""
    rest, level, found, saw = reading.rest, reading.level, reading.found, reading.saw

    def untold(reason: str) -> PlateauForce:
        stretch = (None, None) if level is None else (level.start_s, level.end_s)
        return PlateauForce(
            force=Measured.cannot_tell(reason, unit="N"), start_s=stretch[0], end_s=stretch[1]
        )

    if rest.sides == "none":
        return untold("no rest was recorded, so nought is not known")
    if found is None and not reading.window.cut_start:
        return untold("nothing shows that it broke away, so this may be a held force")
    if level is None:
        return untold("it slid too short a time to settle")
    if found is None and level.u_momentum_N < STILL * level.mean_N:
        return untold("no break was recorded and the force is so still that it may have been held")
    if saw is not None and saw.is_stick_slip:
        return untold("it kept sticking and slipping, so there is no steady level")
    if saw is not None and saw.stuck_again:
        return untold("it stuck again while it slid")
    if found is not None and _held_again(reading.shape, found, level):
        return untold("it slipped once and may have been held again: nothing moves in this level")
    may_have_stuck = level.slowest is not None and level.slowest <= 0
    if may_have_stuck and level.u_momentum_N > SWUNG * level.mean_N:
        return untold("the force swung so much that it may have stuck again while it slid")
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
    told = measured_from(level.mean_N, rows)
    if told.standard_uncertainty is not None and told.standard_uncertainty > TOO_DOUBTFUL * level.mean_N:
        return untold("the force swung too much to tell a level")
    return PlateauForce(force=told, start_s=level.start_s, end_s=level.end_s)


def _held_again(shape: Shape, found: Break, level: Level) -> bool:
    """Tell a sled that slipped once and stuck: its force stays where the fall ended, and nothing moves in it."""
    after = shape.smooth_N[found.top : int(np.searchsorted(shape.time_s, level.start_s)) + 1]
    top, trough = float(shape.smooth_N[found.top]), float(after.min())
    dead_stop = level.mean_N - trough < 0.08 * (top - trough) and found.samples_in_fall > 3
    return dead_stop and level.mean_N < 0.7 * found.static_N and level.u_momentum_N < STILL * level.mean_N


def _u_stuck(reading: Reading) -> float:
    """Return the doubt from a sled that may have stuck now and then: its tops came back to the static maximum."""
    saw, found, level = reading.saw, reading.found, reading.level
    if saw is None or found is None or level is None or not saw.highs_N:
        return 0.0
    return STUCK_DOUBT * saw.share * max(found.static_N - level.mean_N, 0.0)


def stick_slip(reading: Reading) -> StickSlip | None:
    """Return highs, lows, mean, count and rhythm of a sawtooth, or None when there is none."""
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
        mean=measured_from(
            middle, [BudgetRow("rest reading", u_rest), BudgetRow("sled's own momentum", u_mean)]
        ),
        count=len(highs),
        rhythm_Hz=float(1 / np.median(gaps)) if gaps.size else 0.0,
        mean_is_kinetic=regular,
    )


def _typical(values_N: FloatArray, u_rest_N: float) -> Measured:
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
    return measured_from(float(np.median(values_N)), rows)


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


def clipped(reading: Reading) -> bool:
    """Tell whether the force ran off the scale: readings pile up at the very extreme.

    A smooth top in steps dwells on its highest step 1/(√2 − 1) = 2.4 times as long as on the next; a
    ceiling holds everything above it.
    """
    raw = reading.window.direction * reading.window.trace.force_N
    top, grain = float(raw.max()), max(reading.rest.step_N, reading.rest.noise_N)
    at_top = int(np.count_nonzero(raw >= top - 1e-9 * abs(top)))
    next_below = int(np.count_nonzero((raw >= top - 1.01 * grain) & (raw < top - 1e-9 * abs(top))))
    return at_top >= 5 and at_top > 5 * next_below
