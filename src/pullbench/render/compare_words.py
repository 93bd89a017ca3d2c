"""Sentences about surfaces side by side: one a fourteen-year-old reads, one for the colleague with the statistics."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.model import (
    Comparison,
    Difference,
    Equivalence,
    Growth,
    Measured,
    More,
    Quantity,
    StaticKinetic,
)
from pullbench.render.rounding import figures_of, fixed, plus_minus

HOLDS_FOR_SHORT = "this sled, this string, this wait"
HOLDS_FOR = "All this holds for this sled, this string and this wait."
TO_MOVE: dict[Quantity, str] = {"static": "to start", "kinetic": "to keep going"}
USUAL = "if repeats scatter by the usual 4 %"
LIMITS_OF_PAIRS = "Limits are 95 % of each pair by itself, Student's t, scatter between pulls included."
MOST_LISTED = 3


def room_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return what the room hears, the most useful first, ended by what it holds for."""
    together = together_sentences(comparison, comma=comma)
    return [*together, *pair_sentences(comparison, comma=comma), *other_sentences(comparison, comma=comma)]


def together_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return one sentence a quantity on three surfaces or more, none on two: a pair speaks for itself."""
    if len(comparison.surfaces) < 3:
        return []
    told = []
    for quantity in dict.fromkeys(one.quantity for one in comparison.differences):
        words = (
            _order_words(comparison, quantity)
            if comparison.margin is None
            else _sorted_words(comparison, quantity, comma)
        )
        told.append(f"{TO_MOVE[quantity].capitalize()}: {words}")
    return told


def pair_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return a sentence a pair of surfaces: their difference, or whether they are the same within the margin."""
    if comparison.margin is None:
        return [difference_words(one, comma=comma) for one in comparison.differences]
    pairs = zip(comparison.differences, comparison.equivalences, strict=True)
    return [sameness_words(same, one, comma=comma) for one, same in pairs]


def other_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return what is said besides the pairs: of single surfaces, what was set aside, what all holds for."""
    told = [
        f"{level.surface}: no pull that counts told how much it needs {TO_MOVE[level.quantity]}."
        for level in comparison.levels
        if level.pulls == 0
    ]
    for one in comparison.paired:
        told += [
            paired_words(one, comma=comma),
            *(growth_words(g, one.surface, comma=comma) for g in one.growths),
        ]
    told += list(_aside_words(comparison, comma))
    return [*(sentence for sentence in told if sentence), HOLDS_FOR]


def _order_words(comparison: Comparison, quantity: Quantity) -> str:
    """Return which surface needs least and which most, as far as all pairs tell it, and what is not told apart."""
    pairs = [one for one in comparison.differences if one.quantity == quantity]
    less = [
        (one.first, one.second) if one.larger else (one.second, one.first)
        for one in pairs
        if one.larger is not None
    ]
    beaten = {name: sum(more == name for _, more in less) for name in (s.name for s in comparison.surfaces)}
    names = sorted(beaten, key=lambda name: beaten[name])
    open_pairs = [one for one in pairs if one.larger is None]
    if not open_pairs and sorted(beaten.values()) == list(range(len(names))):
        least, *between, most = names
        return f"{least} needs least, then {', '.join([*between, f'{most} most'])}."
    said = [f"{_listed([f'{name} needs less than {more}' for name, more in less])}."] if less else []
    if open_pairs:
        apart = _listed([f"{one.first} and {one.second}" for one in open_pairs])
        said.append(
            f"{'cannot' if not less else 'Cannot'} tell apart {apart}. {_settle(_most(open_pairs))}".rstrip()
        )
    return " ".join(said)


def _sorted_words(comparison: Comparison, quantity: Quantity, comma: bool) -> str:
    """Return which pairs are the same within the margin, which differ and which cannot be told yet."""
    margin = _margin(comparison.margin or 0.0, comparison.unit, comma)
    words = {
        "same within the margin": f"{{}} are the same within {margin}", "different": "{} differ",
        "cannot tell yet": "cannot tell yet of {}",
    }  # fmt: skip
    said = []
    for answer, form in words.items():
        here = [one for one in comparison.equivalences if (one.quantity, one.answer) == (quantity, answer)]
        if here:
            said.append(form.format(_listed([f"{one.first} and {one.second}" for one in here])))
    return f"{'; '.join(said)}."


def _listed(pieces: list[str]) -> str:
    """Return pieces with commas, at most MOST_LISTED of them and how many more there are."""
    rest = f" and {len(pieces) - MOST_LISTED} more" if len(pieces) > MOST_LISTED else ""
    return f"{', '.join(pieces[:MOST_LISTED])}{rest}"


def _most(pairs: list[Difference]) -> More | None:
    """Return what would settle all of these pairs; None when they do not all say a number."""
    needed = [one.more for one in pairs if one.more is not None and one.more.of_each is not None]
    return max(needed, key=lambda more: more.of_each or 0) if len(needed) == len(pairs) else None


def difference_words(one: Difference, *, comma: bool = False) -> str:
    """Return which of two grips more, or that these pulls cannot tell, and how many more would."""
    name, noun = TO_MOVE[one.quantity], _noun(one.quantity, one.difference)
    if one.larger is None:
        return f"{name.capitalize()}: {_cannot(one.first, one.second, one.difference, one.more, comma)}"
    more = "more" if one.larger else "less"
    size = plus_minus(_positive(one.difference), comma=comma)
    times = plus_minus(one.ratio, comma=comma)
    return (
        f"{name.capitalize()}, {one.second} needs {more} than {one.first}: its {noun} is "
        f"{'larger' if one.larger else 'smaller'} by {size}. {one.second} ÷ {one.first} = {times}."
    )


def sameness_words(same: Equivalence, one: Difference, *, comma: bool = False) -> str:
    """Return one of three answers against the margin chosen beforehand."""
    name, margin = TO_MOVE[same.quantity].capitalize(), _margin(same.margin, one.difference.unit, comma)
    both = f"{same.first} and {same.second}"
    if same.answer == "same within the margin":
        return (
            f"{name}, {both} are the same within the margin chosen beforehand, {margin}: {_seen(one, comma)}."
        )
    if same.answer == "different":
        how = "and by more than" if same.beyond else "but whether by more than"
        end = "" if same.beyond else " cannot be told yet"
        return f"{name}, {both} differ ({_seen(one, comma)}), {how} the margin of {margin}{end}."
    return f"{name}, {both}: cannot tell yet whether they are the same within {margin}. {_settle(same.more)}".rstrip()


def paired_words(one: StaticKinetic, *, comma: bool = False) -> str:
    """Return static against kinetic of one surface, within the same pulls."""
    if one.difference.value is None:
        return f"{one.surface}, static against kinetic: cannot tell ({one.difference.reason})."
    shown = one.p is not None and one.p < 0.05
    if not shown:
        return (
            f"{one.surface}: starting and keeping going cannot be told apart, static − kinetic = "
            f"{plus_minus(one.difference, comma=comma)}."
        )
    harder = "harder" if one.difference.value > 0 else "easier"
    return (
        f"{one.surface} is {harder} to start than to keep going: static − kinetic = "
        f"{plus_minus(one.difference, comma=comma)}, static ÷ kinetic = {plus_minus(one.ratio, comma=comma)}, in "
        f"the same {_pulls(one.pulls)}."
    )


def growth_words(one: Growth, surface: str, *, comma: bool = False) -> str:
    """Return how static friction goes with waiting or with a quicker start; nothing when it was not tried."""
    if one.slope.value is None or one.span_s is None:
        return (
            f"{surface}, {one.against}: {one.slope.reason}."
            if "went up and down" in (one.slope.reason or "")
            else ""
        )
    what = "standing longer" if one.against == "rest time" else "pulling up more slowly"
    low, high = (figures_of(s, comma=comma) for s in one.span_s)
    span = f"({one.pulls} pulls, {low} s to {high} s)"
    if not one.shown:
        size = plus_minus(one.slope, comma=comma)
        return (
            f"{surface}: these pulls do not show that {what} matters; the static peak changes by {size} for "
            f"every tenfold time {span}."
        )
    way = "raises" if one.slope.value > 0 else "lowers"
    size = plus_minus(_positive(one.slope), comma=comma)
    return f"{surface}: {what} {way} the static peak by {size} for every tenfold time {span}."


def colleague_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return the statistics: tests, degrees of freedom, p values, what was corrected for."""
    pairs = colleague_pair_sentences(comparison, comma=comma)
    others = colleague_other_sentences(comparison, comma=comma)
    if not pairs and not others:
        return ["No test: without repeats there is no scatter to test against."]
    return [*pairs, *others, LIMITS_OF_PAIRS]


def colleague_pair_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return the tests of each pair of surfaces."""
    told = []
    pairs = len({(d.first, d.second) for d in comparison.differences})
    for one in comparison.differences:
        if one.p is None or one.t is None or one.dof is None:
            continue
        corrected = f", Holm over {pairs} pairs {p_words(one.adjusted_p, comma=comma)}" if pairs > 1 else ""
        told.append(
            f"{one.quantity}, {one.second} − {one.first}: {plus_minus(one.difference, comma=comma)}, Welch "
            f"t({fixed(one.dof, 1, comma=comma)}) = {fixed(one.t, 2, comma=comma)}, "
            f"{p_words(one.p, comma=comma)}{corrected}."
        )
    return told + [_tost_words(same, pairs, comma) for same in comparison.equivalences if same.p is not None]


def colleague_other_sentences(comparison: Comparison, *, comma: bool = False) -> list[str]:
    """Return the tests of all surfaces together, and of static against kinetic."""
    together = [
        f"{quantity}, all surfaces: one-way F({several.between_dof}, {several.within_dof}) = "
        f"{fixed(several.f, 2, comma=comma)}, {p_words(several.p, comma=comma)}, scatter inside a surface "
        f"{figures_of(several.pooled_sd, comma=comma)}."
        for quantity, several in comparison.together
    ]
    paired = [
        f"{pair.surface}, static − kinetic: {plus_minus(pair.difference, comma=comma)}, paired t on "
        f"{pair.pulls - 1} degrees of freedom, {p_words(pair.p, comma=comma)}."
        for pair in comparison.paired
        if pair.p is not None
    ]
    return together + paired


def p_words(p: float | None, *, comma: bool = False) -> str:
    """Return a p value: two figures, and no false precision below 0.001."""
    if p is None:
        return "p unknown"
    return f"p < {fixed(0.001, 3, comma=comma)}" if p < 0.001 else f"p = {figures_of(p, comma=comma)}"


def _tost_words(same: Equivalence, pairs: int, comma: bool) -> str:
    low, high = same.limits_90 or (0.0, 0.0)
    decimals = max(0, 2 - int(f"{max(abs(low), abs(high), same.margin):e}".split("e")[1]))
    corrected = f", Holm over {pairs} pairs {p_words(same.adjusted_p, comma=comma)}" if pairs > 1 else ""
    return (
        f"{same.quantity}, {same.second} − {same.first} against ±{_plain(same.margin, comma)}: two one-sided tests "
        f"{p_words(same.p_lower, comma=comma)} and {p_words(same.p_upper, comma=comma)}{corrected}; 90 % limits "
        f"{fixed(low, decimals, comma=comma)} to {fixed(high, decimals, comma=comma)}."
    )


def _cannot(first: str, second: str, difference: Measured, more: More | None, comma: bool) -> str:
    seen = (
        f"{second} − {first} = {plus_minus(difference, comma=comma)}"
        if difference.value is not None
        else difference.reason
    )
    return f"cannot tell {first} and {second} apart with these pulls ({seen}). {_settle(more)}".rstrip()


def _settle(more: More | None) -> str:
    """Return what would settle it."""
    if more is None:
        return ""
    condition = f", {USUAL}" if more.usual_scatter else ", if they go on as they began"
    if more.of_each is None:
        return f"Not even a lesson full of pulls would{condition}."
    return f"About {more.of_each} more of each would{condition}."


def _aside_words(comparison: Comparison, comma: bool) -> Iterator[str]:
    """Yield how many pulls were set aside and why, and what each mean would be with them."""
    aside = [(s.name, p.label, p.set_aside) for s in comparison.surfaces for p in s.pulls if p.set_aside]
    if not aside or comparison.with_aside is None:
        return
    reasons = "; ".join(f"{label} of {name}: {why}" for name, label, why in aside[:4])
    rest = f"; and {len(aside) - 4} more" if len(aside) > 4 else ""
    yield f"{_pulls(len(aside))} set aside: {reasons}{rest}."
    for now, then in zip(comparison.levels, comparison.with_aside.levels, strict=True):
        if now.pulls != then.pulls and (now.mean.value, then.mean.value) != (None, None):
            means = [plus_minus(level.mean, comma=comma) for level in (now, then)]
            yield f"{now.surface}, {now.quantity}: {means[0]}; with what was set aside {means[1]}."


def _seen(one: Difference, comma: bool) -> str:
    return f"{one.second} − {one.first} = {plus_minus(one.difference, comma=comma)}"


def _positive(measured: Measured) -> Measured:
    """Return a result turned to the positive side, limits with it."""
    if measured.value is None or measured.value >= 0 or measured.limits is None:
        return measured
    low, high = measured.limits
    return Measured(
        kind=measured.kind, value=-measured.value, standard_uncertainty=measured.standard_uncertainty,
        limits=(None if high is None else -high, None if low is None else -low), unit=measured.unit,
        reason=measured.reason,
    )  # fmt: skip


def _noun(quantity: Quantity, measured: Measured) -> str:
    return f"{quantity} coefficient" if measured.unit == "1" else f"{quantity} friction"


def _margin(margin: float, unit: str, comma: bool) -> str:
    return _plain(margin, comma) + ("" if unit == "1" else f" {unit}")


def _plain(number: float, comma: bool) -> str:
    text = f"{number:.4g}"
    return text.replace(".", ",") if comma else text


def _pulls(count: int) -> str:
    return "1 pull" if count == 1 else f"{count} pulls"
