"""The sentences of a load ladder: the law for the room, the statistics for a colleague, what is wrong and its fix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pullbench.model import Diagnosis, DiagnosisName, Ladder, LoadLine, Measured
from pullbench.render.rounding import Scale, figures_of, fixed, percent, plus_minus

PERCENT = Scale("%", 1.0)
AS_RIVAL: dict[DiagnosisName, str] = {
    "sled mass left out": "a mass left out of the load",
    "rest reading offset": "an offset of the rest reading",
    "not proportional": "a friction that does not grow in proportion",
    "a load that does not belong": "one load that does not belong",
    "drifts with the order of pulls": "a drift with the order of pulls",
}
FIX: dict[DiagnosisName, str] = {
    "sled mass left out": "Weigh the empty sled with its sole and hook, and add it to every load.",
    "rest reading offset": "Let the sensor rest lying as it will pull, null it, and pull one load again.",
    "not proportional": "Pull the lightest and the heaviest again and a load between; "
    "until then give the coefficient with its range of loads.",
    "a load that does not belong": "Weigh that load again and pull it twice more.",
    "drifts with the order of pulls": "Wipe the track, then pull the loads up and down again.",
    "loads too close to tell": "Spread the loads, the heaviest five times the lightest.",
    "too few pulls to tell": "Pull again, best at a load that is still missing.",
}


def law_sentence(ladder: Ladder, *, comma: bool = False) -> str:
    """Return the law in words that a 14-year-old reads, each number with its plus or minus."""
    told = {line.series: line for line in ladder.lines if line.slope.kind == "value"}
    if not told:
        return "Two pulls always lie on a line, so the law cannot be told yet."
    ends = {"static": "to start", "kinetic": "to keep going"}
    needs = [f"{_per_newton(line.slope, comma)} more {ends[series]}" for series, line in told.items()]
    return f"Press 1 N harder on the floor: the sled needs {' and '.join(needs)}."


def statistics_sentence(ladder: Ladder, *, comma: bool = False) -> str:
    """Return how the lines were found, for a colleague who knows statistics."""
    lines = ladder.lines
    counts = list(dict.fromkeys(_counts(line) for line in lines))
    each = " each" if len(lines) > len(counts) else ""
    scatter = _by_line(lines, [scatter_words(line, comma=comma) for line in lines])
    kind = "Weighted lines" if len(lines) > 1 else "Weighted line"
    text = f"{kind} (York): {'; '.join(counts)}{each}; scatter {scatter}; 95 % limits, Student's t."
    fit = [line for line in lines if line.lack_of_fit_p is not None]
    if fit:
        chances = [_chance(line.lack_of_fit_p or 0.0, comma) for line in fit]
        return f"{text} Lack of fit: {_by_line(fit, chances, always=len(lines) > 1)}."
    return f"{text} No load was pulled twice, so a bend and the scatter cannot be told apart."


def aside_sentence(ladder: Ladder, *, comma: bool = False) -> str:
    """Return which pulls are set aside, why, and the coefficients with them; empty without any."""
    aside = [pull for pull in ladder.pulls if pull.set_aside is not None]
    if not aside:
        return ""
    names = ", ".join(
        f"{pull.name} ({pull.set_aside})" if pull.name else f"{pull.set_aside}" for pull in aside
    )
    head = f"Set aside, {len(aside)} of {len(ladder.pulls)} pulls: {names}."
    if not ladder.with_aside:
        return head
    told = " and ".join(f"{line.series} {plus_minus(line.slope, comma=comma)}" for line in ladder.with_aside)
    return f"{head} With {'it' if len(aside) == 1 else 'them'} it would be {told}."


def untold_sentences(ladder: Ladder) -> list[str]:
    """Return how many pulls that count tell no static or no kinetic force, where others do."""
    counted = [pull for pull in ladder.pulls if pull.set_aside is None]
    untold = {line.series: len(counted) - line.pulls for line in ladder.lines}
    return [
        f"{count} of {len(counted)} pulls {'tells' if count == 1 else 'tell'} no {series} force."
        for series, count in untold.items()
        if count
    ]


def mystery_sentences(ladder: Ladder, *, sled_kg: float = 0.0, comma: bool = False) -> list[str]:
    """Return the hidden load by each line, in kilograms and newtons.

    sled_kg: the part of it that is known, taken off the kilograms.
    """
    hidden = ladder.mystery
    if hidden is None:
        return []
    sentences = []
    for series, force in (("static", hidden.static), ("kinetic", hidden.kinetic)):
        if force is None:
            continue
        if force.value is None:
            sentences.append(f"Hidden load by the {series} line: cannot tell ({force.reason}).")
            continue
        mass = plus_minus(in_kilograms(force, ladder.g_m_s2, sled_kg), comma=comma)
        besides = " besides the sled" if sled_kg else ""
        sentences.append(
            f"Hidden load by the {series} line: {mass}{besides}; in all {plus_minus(force, comma=comma)} press."
        )
    return sentences


def in_kilograms(force: Measured, g_m_s2: float, less_kg: float = 0.0) -> Measured:
    """Return a weight as a mass, less what is known of it; what cannot be told stays untold."""
    if force.value is None or force.limits is None:
        return replace(force, unit="kg")
    low, high = (None if limit is None else limit / g_m_s2 - less_kg for limit in force.limits)
    u = None if force.standard_uncertainty is None else force.standard_uncertainty / g_m_s2
    return Measured(
        kind=force.kind, value=force.value / g_m_s2 - less_kg, standard_uncertainty=u, limits=(low, high),
        unit="kg", reason=force.reason,
    )  # fmt: skip


def diagnosis_sentence(one: Diagnosis, ladder: Ladder, *, comma: bool = False) -> str:
    """Return what a diagnosis saw, with its size; other causes that fit as well are named."""
    said = _seen(one, ladder, comma)
    if not one.rivals:
        return said
    rivals = [AS_RIVAL[name] for name in one.rivals if name in AS_RIVAL]
    others = " or ".join([", ".join(rivals[:-1]), rivals[-1]] if len(rivals) > 1 else rivals)
    return f"{said} Cannot tell which: {others} fits nearly as well."


def fix_sentence(one: Diagnosis) -> str:
    """Return the one thing to do about it."""
    return FIX[one.name]


def _seen(one: Diagnosis, ladder: Ladder, comma: bool) -> str:
    meet = "Both lines meet the edge" if len(one.series) > 1 else f"The {one.series[0]} line meets the edge"
    size = "some" if one.size.value is None else plus_minus(_upright(one.size), comma=comma)
    less = (one.size.value or 0.0) < 0
    share = plus_minus(_upright(one.size), comma=comma, scale=PERCENT) if "%" in one.size.unit else ""
    if one.name == "sled mass left out":
        if one.told_by == "a load of nought":
            about = "how much cannot be told" if one.size.value is None else size
            return f"A load of nought cannot press: the sled's own mass is left out of the load ({about})."
        mass = "some mass" if one.size.value is None else size
        return f"{meet} above nought, as if {mass} were missing from the load."
    if one.name == "rest reading offset":
        side, end = ("below", "low") if less else ("above", "high")
        return f"{meet} {side} nought, as if every force read {size} too {end}."
    if one.name == "not proportional":
        return (
            "Friction does not grow in proportion to the load: from the lightest load to the heaviest its share of "
            f"the load {'falls' if less else 'rises'} by {share}."
        )
    if one.name == "a load that does not belong":
        load = load_words(one.at_N or 0.0, ladder.g_m_s2, comma=comma)
        return f"At {load} the force is {share} {'lower' if less else 'higher'} than the other loads say."
    if one.name == "drifts with the order of pulls":
        return f"From pull to pull the force {'falls' if less else 'rises'} by {share}."
    return _cannot(one, ladder, comma)


def _cannot(one: Diagnosis, ladder: Ladder, comma: bool) -> str:
    pulls, loads = max(line.pulls for line in ladder.lines), max(line.loads for line in ladder.lines)
    if one.name == "loads too close to tell":
        widths = ", ".join(f"{line.series} {plus_minus(line.slope, comma=comma)}" for line in ladder.lines)
        times = fixed(one.size.value or 0.0, 1, comma=comma)
        return f"The heaviest load is only {times} times the lightest, so the coefficient is known poorly ({widths})."
    if loads < 3 <= pulls:
        return f"{pulls} pulls at {loads} loads: any two loads lie on a line, so nothing shows whether the law is one."
    return f"{pulls} pulls at {loads} loads are too few to judge a line by."


def load_words(normal_N: float, g_m_s2: float, *, comma: bool = False) -> str:
    """Return a load as its mass, to a gram at most ("1.5 kg")."""
    text = f"{float(f'{normal_N / g_m_s2:.4g}'):.3f}".rstrip("0").rstrip(".")
    return f"{text.replace('.', ',') if comma else text} kg"


def _per_newton(slope: Measured, comma: bool) -> str:
    return plus_minus(replace(slope, unit="N"), comma=comma, short=True, scale=Scale("N", 1.0))


def _upright(size: Measured) -> Measured:
    """Return a size without its sign, limits turned with it."""
    if size.value is None or size.value >= 0 or size.limits is None:
        return size
    low, high = (None if limit is None else -limit for limit in size.limits)
    return replace(size, value=-size.value, limits=(high, low))


def _counts(line: LoadLine) -> str:
    freedom = "1 degree" if line.dof == 1 else f"{line.dof} degrees"
    return f"{line.pulls} pulls, {line.loads} loads, {freedom} of freedom"


def scatter_words(line: LoadLine, *, comma: bool = False) -> str:
    """Return the scatter between pulls: "4 %", "0.05 N", "3 % and 0.02 N", or that it is not seen or unknown."""
    if line.dof < 1:
        return "cannot tell"
    told = [percent(line.scatter)] if line.scatter else []
    told += [f"{figures_of(line.scatter_N, comma=comma)} N"] if line.scatter_N else []
    return " and ".join(told) or "under each pull's own doubt"


def _chance(p: float, comma: bool) -> str:
    return (
        "p under 0.0001".replace(".", "," if comma else ".")
        if p < 1e-4
        else f"p = {figures_of(p, comma=comma)}"
    )


def _by_line(lines: Sequence[LoadLine], words: Sequence[str], *, always: bool = False) -> str:
    """Return words once if they are the same for all lines, else (or always) each with its line's name."""
    if len(set(words)) == 1 and not always:
        return words[0]
    return ", ".join(f"{one} ({line.series})" for line, one in zip(lines, words, strict=True))
