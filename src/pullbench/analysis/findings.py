"""What was wrong with a pull, in words: what was seen, why it matters, the one thing to do.

Each finding is a test in numbers on what the analysis saw. They come sorted by how much harm they do, the
worst first, because a teacher hears one fix at a time.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from pullbench.analysis.breakaway import Break
from pullbench.analysis.forces import Reading, clipped
from pullbench.analysis.plateau import Level
from pullbench.model import BreakawayForce, Finding, PlateauForce, Verdict

USUAL_SCATTER = 0.04  # repeats of a pull scatter 3–5 %: common practice, no published source
FAST_START = 0.3  # β from which the highest point visibly overshoots (derived: √(1+β²) − 1 = 4 %)
SURE = 4.2  # standard uncertainties: less than one false alarm in twenty days of pulls


@dataclass(frozen=True, slots=True)
class Seen:
    """A finding with the harm it does, as a share of the force it touches."""

    harm: float
    finding: Finding


def seen(harm: float, name: str, sentence: str, fix: str) -> Seen:
    """Return one finding with its harm."""
    return Seen(harm, Finding(name, sentence, fix))


def worst_first(findings: Iterable[Seen]) -> tuple[Finding, ...]:
    """Return the findings, most harmful first."""
    return tuple(item.finding for item in sorted(findings, key=lambda item: -item.harm))


def percent(share: float) -> str:
    """Return a share as a percentage in words for a sentence: whole numbers from 10 up, else one digit."""
    return f"{100 * share:.0f} %" if share >= 0.0995 else f"{100 * share:.1g} %"


def seconds(span_s: float) -> str:
    """Return a span for a sentence."""
    return f"{span_s:.2f} s" if span_s < 1 else f"{span_s:.1f} s"


def notice(reading: Reading, breakaway: BreakawayForce, plateau: PlateauForce) -> Iterator[Seen]:
    """Yield what was seen that a person should hear about."""
    window, rest, shape, found, level, saw = (
        reading.window, reading.rest, reading.shape, reading.found, reading.level, reading.saw,
    )  # fmt: skip
    reference = shape.level_N if level is None else level.mean_N
    reference = max(abs(reference), 1e-30)
    if window.cut_start and rest.sides == "earlier":
        yield seen(0.05, "no rest between", "It followed another pull with no rest between, so its start is not known.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    elif window.cut_start or window.cut_end:
        end = "began during the pull" if window.cut_start else "ended during the pull"
        yield seen(0.2, "recording cut", f"The recording {end}, so part of the pull is missing.",
                   "Give a second of rest at both ends.")  # fmt: skip
    if rest.sides == "none":
        yield seen(1.0, "rest too short", "No rest was recorded before or after, so nought is not known.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    else:
        yield from _notice_rest(reading, reference)
    if clipped(reading):
        yield seen(0.5, "off the scale", "The force ran off the sensor's scale and its top is flat.",
                   "Take one tin off.")  # fmt: skip
    if rest.step_N > 0.02 * reference:
        yield seen(0.02 + rest.step_N / reference / 2, "resolution too coarse",
                   f"One step of the sensor is {percent(rest.step_N / reference)} of the level.",
                   "Add tins until a pull is a hundred steps high.")  # fmt: skip
    if found is None and not window.cut_start and rest.sides != "none":
        yield seen(0.6, "held but never slid",
                   "No break stands out, so it may only have been held: the static limit is at least this high.",
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
    elif (
        (found is not None or window.cut_start)
        and plateau.force.kind == "cannot tell"
        and rest.sides != "none"
    ):
        yield seen(0.3, "not settled", f"No level can be told: {plateau.force.reason}.",
                   "When it lets go, keep the same slow hand for two seconds.")  # fmt: skip
    elif level is not None and plateau.force.kind == "value":
        yield from _notice_slide(reading, level, reference)


def _notice_rest(reading: Reading, reference: float) -> Iterator[Seen]:
    rest = reading.rest
    doubt = rest.u_at((reading.window.start_s + reading.window.end_s) / 2) / reference
    if rest.sides == "earlier" and not reading.window.cut_start:
        yield seen(max(doubt, 0.02), "rest too short", "No rest right before or after: the rest seen earlier was used.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    elif rest.sides != "both" and doubt > USUAL_SCATTER / 3:
        yield seen(doubt, "rest too short", f"Rest was seen only {rest.sides} the pull: {percent(doubt)} of doubt.",
                   "Let the string hang loose for two seconds before and after each pull.")  # fmt: skip
    elif doubt > USUAL_SCATTER / 3:
        yield seen(doubt, "rest too short", f"The rest was too short or restless: {percent(doubt)} of doubt.",
                   "Let the string hang loose for two seconds before each pull.")  # fmt: skip
    if rest.before_N and rest.after_N:
        step = rest.after_N[0] - rest.before_N[0]
        u = math.hypot(rest.before_N[1], rest.after_N[1])
        if abs(step) > SURE * u and abs(step) > 0.1 * reference:
            yield seen(abs(step) / reference / 4, "rest shifted",
                       f"The rest reading moved by {percent(abs(step) / reference)} of the pull from before to after.",
                       "Hold the sensor the same way up before, during and after.")  # fmt: skip


def _notice_start(reading: Reading, breakaway: BreakawayForce, found: Break) -> Iterator[Seen]:
    loading_s = found.time_s - reading.window.start_s
    harm = found.u_static_N / max(found.static_N, 1e-30)
    if found.before_burst_N == 0:
        yield seen(0.15, "started too fast", f"Loaded in {seconds(loading_s)}: static cannot be told.",
                   "Take a slow count of three to reach the break.")  # fmt: skip
    elif found.before_burst_N is not None:
        yield seen(0.12, "jerked at the break", "The force jumped just before it broke away: static is at least this.",
                   "Keep the pull growing evenly right through the break.")  # fmt: skip
    elif found.swing > FAST_START or loading_s < 0.25:
        yield seen(max(harm, 0.012), "started too fast", f"Loaded in {seconds(loading_s)}: the break is hard to place.",
                   "Take a slow count of three to reach the break.")  # fmt: skip
    elif breakaway.force.kind == "cannot tell" and reading.rest.sides != "none":
        yield seen(0.3, "break not clear", "The force jumped around at the break, so its moment cannot be placed.",
                   "Lift the slack out first, wait one breath, then pull evenly.")  # fmt: skip
    if breakaway.force.kind == "lower bound" and "coarse" in (breakaway.force.reason or ""):
        yield seen(0.02, "sampled too coarsely", f"Samples {seconds(reading.shape.step_s)} apart: none caught the top.",
                   "Count to four on the ramp, or set the sensor to a faster rate.")  # fmt: skip
    if breakaway.force.kind == "lower bound" and "averages" in (breakaway.force.reason or ""):
        yield seen(0.02, "sampled too coarsely",
                   f"The sensor averages over {seconds(reading.rest.averaging_s)}: that blunts the top.",
                   "Set the sensor to a faster rate, or add tins: a heavier sled falls off more slowly.")  # fmt: skip
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


def _notice_slide(reading: Reading, level: Level, reference: float) -> Iterator[Seen]:
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


def verdict(noticed: list[Seen]) -> Verdict:
    """Return what the pull is good for: harm under a third of the usual scatter between pulls is not heard."""
    worst = max((item.harm for item in noticed), default=0.0)
    if worst >= 0.1:
        return Verdict.PULL_AGAIN
    return Verdict.USABLE_WITH_A_NOTE if worst >= USUAL_SCATTER / 3 else Verdict.USABLE
