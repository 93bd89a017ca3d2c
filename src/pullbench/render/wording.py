"""The sentences that text and pictures share: what happened, and the one thing to do next time."""

from __future__ import annotations

from pullbench.model import Finding, Pull
from pullbench.render.rounding import Scale, figures_of, plus_minus, scale_for, seconds

NOTHING_TO_CHANGE = "Nothing to change."


def what_happened(pull: Pull, *, comma: bool = False) -> str:
    """Return one sentence: the first finding's, else when the sled broke away and how long it slid."""
    if pull.findings:
        return pull.findings[0].sentence
    plateau, moment = pull.plateau, pull.breakaway.time_s
    broke = (
        "The sled did not break away" if moment is None else f"Broke away at {seconds(moment, comma=comma)}"
    )
    if plateau.start_s is None or plateau.end_s is None:
        return f"{broke}."
    slid_s = plateau.end_s - plateau.start_s
    length = seconds(slid_s, 1, comma=comma) if slid_s >= 1 else f"{figures_of(slid_s, comma=comma)} s"
    return f"{broke}, then {_slid(pull)} for {length}."


def what_the_room_saw(pull: Pull) -> str:
    """Return one sentence for a room: the first finding's, else both forces, as in "Broke away at 3.12 N ± 0.03"."""
    if pull.findings:
        return pull.findings[0].sentence
    scale = pull_scale(pull)
    static, kinetic = (
        plus_minus(force, short=True, scale=scale) for force in (pull.breakaway.force, pull.plateau.force)
    )
    broke = {"value": f"Broke away at {static}", "lower bound": f"Held {static}"}.get(
        pull.breakaway.force.kind, "Where it broke away cannot be told"
    )
    if pull.plateau.force.kind == "cannot tell":
        return f"{broke}; its level cannot be told."
    return f"{broke}, {_slid(pull)} at {kinetic}."


def _slid(pull: Pull) -> str:
    return "stuck and slipped" if pull.stick_slip else "slid"


def next_time(findings: tuple[Finding, ...]) -> str:
    """Return the one fix, that of the first finding ("Next time: lock your wrist.")."""
    fix = findings[0].fix.strip() if findings else ""
    if not fix:
        return NOTHING_TO_CHANGE
    if fix.startswith("Nothing"):
        return fix
    return f"Next time: {_lower_first(fix)}"


def static_words(pull: Pull, *, comma: bool = False, short: bool = True) -> str:
    """Return the static maximum with its name: "static maximum 3.12 N ± 0.03", "static: at least 3.2 N"."""
    force = pull.breakaway.force
    text = plus_minus(force, comma=comma, short=short, scale=pull_scale(pull))
    return f"static maximum {text}" if force.kind == "value" else f"static: {text}"


def kinetic_words(pull: Pull, *, comma: bool = False, short: bool = True) -> str:
    """Return the kinetic level with its name: "kinetic 2.24 N ± 0.02", "kinetic: cannot tell"."""
    force = pull.plateau.force
    text = plus_minus(force, comma=comma, short=short, scale=pull_scale(pull))
    return f"kinetic {text}" if force.kind == "value" else f"kinetic: {text}"


def stick_slip_words(pull: Pull, *, comma: bool = False) -> str:
    """Return what a stick-slip does: between which forces, how often; empty without one."""
    saw = pull.stick_slip
    if saw is None:
        return ""
    scale = scale_for(saw.high, saw.low)
    high = plus_minus(saw.high, comma=comma, short=True, scale=scale)
    low = plus_minus(saw.low, comma=comma, short=True, scale=scale)
    slips = "1 slip" if saw.count == 1 else f"{saw.count} slips"
    often = f", {figures_of(saw.rhythm_Hz, comma=comma)} a second" if saw.rhythm_Hz > 0 else ""
    return f"high {high}, low {low}; {slips}{often}"


def pull_scale(pull: Pull) -> Scale:
    """Return the one scale in which static and kinetic of a pull are written."""
    return scale_for(pull.breakaway.force, pull.plateau.force)


def _lower_first(sentence: str) -> str:
    """Return the sentence without its capital, unless that belongs to a word of capitals."""
    lowers = len(sentence) > 1 and sentence[1].islower()
    article = sentence[:2] == "A "
    return sentence[0].lower() + sentence[1:] if lowers or article else sentence
