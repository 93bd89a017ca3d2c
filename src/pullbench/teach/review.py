"""Typed answers checked against a problem's key: right, following from an earlier slip, or showing a known idea.

Figures and units are noted and never marked wrong by themselves.  Where two ways of reckoning give the same number,
neither is named.  Everything is a proposal; the teacher approves it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from pullbench.model.problem import Part, Problem
from pullbench.model.review import Flag, PartReview, Review
from pullbench.teach import review_words as words
from pullbench.teach.answers import UNITS, Typed, quantity_of, typed_number, typed_option
from pullbench.teach.ideas import IDEAS
from pullbench.teach.problems.kind import Kind

CLOSE = 0.02  # share of a wrong answer within which its idea is named, as for right answers in problems.make
MOST_SHORT = 0.1  # a figure too few is let pass when the number is off by no more than this share
SPARE_FIGURES = 1  # one figure more than asked for says nothing
UNIT_ON_COEFFICIENT = "unit on a coefficient"
GRAMS_LEFT_IN = "grams left in"


def review(
    problem: Problem, kind: Kind, answers: Mapping[str, str], *, ideas: Mapping[str, str] | None = None
) -> Review:
    """Return what came of the answers to one problem, as typed, by key of the part; a proposal.

    kind: the kind the problem was made by.  ideas: the sentence behind each idea, by name, when not those of
    teach.ideas.  Answers to parts the
    problem does not have are left out, and so are empty ones.  The same arguments always give the same review.
    """
    done: list[PartReview] = []
    sentences = _sentences() if ideas is None else ideas
    for part in problem.parts:
        typed = answers.get(part.key, "")
        if not typed.strip():
            continue
        expected, uses = _carried_on(problem, kind, part, done)
        made = (
            _option(part, typed, expected)
            if part.form == "choice"
            else _number(problem, part, typed, expected)
        )
        done.append(_told(made, uses, sentences))
    return Review(kind=problem.kind, seed=problem.seed, parts=tuple(done))


def _sentences() -> dict[str, str]:
    return {name: idea.sentence for name, idea in IDEAS.items()}


def _carried_on(
    problem: Problem, kind: Kind, part: Part, done: list[PartReview]
) -> tuple[float | None, PartReview | None]:
    """Return the answer that follows from the earlier ones as typed, and the first of them that is not right."""
    given = {one.symbol: one.value for one in problem.given}
    own = {one.key: one for one in done if one.key in part.uses and one.value is not None}
    numbers = {other.key for other in problem.parts if other.form == "number"}
    carried = {key: one.value for key, one in own.items() if key in numbers and one.value is not None}
    shuffled = any(asked.shuffled for asked in kind.asked(given) if asked.key == part.key)
    if not carried or shuffled:  # the order of shuffled options is the problem's own, not the kind's
        return None, None
    try:
        expected = kind.solve(given, carried)[part.key]
    except (ArithmeticError, ValueError):  # such as a root of what cannot be: nothing follows from it
        return None, None
    slip = next((own[key] for key in part.uses if key in carried and own[key].outcome != "right"), None)
    return (expected if math.isfinite(expected) else None), slip


def _option(part: Part, text: str, expected: float | None) -> PartReview:
    chosen = typed_option(text, part.options)
    if chosen is None:
        told = words.unreadable(Typed(text=text, fault="not an option"))
        return PartReview(key=part.key, typed=text, outcome="unreadable", told=(told,))
    made = PartReview(key=part.key, typed=text, outcome="right", value=float(chosen))
    if chosen == round(part.answer):
        return made
    if expected is not None and chosen == round(expected):
        return replace(made, outcome="follows")
    idea = next((wrong.idea for wrong in part.wrong if wrong.option == chosen), None)
    why = () if idea is not None else (words.WRONG_OPTION,)
    return replace(made, outcome="wrong" if idea is None else "idea", idea=idea, told=why)


def accepted(part: Part, target: float) -> float:
    """Return within how much of a number an answer to this part is taken for it, in the part's unit.

    For the right answer the part's own tolerance; for others a share of them or half of their last figure.  A part
    with more tolerance than that, such as a value read off a graph, has as much around every number.
    """
    usual = _share(part.answer, part.digits)
    if target in (part.answer, 0) or part.tolerance > usual * (1 + 1e-6):
        return max(part.tolerance, _share(target, part.digits) if target != part.answer else 0.0)
    return _share(target, part.digits)


def _share(target: float, digits: int) -> float:
    last_figure = 10.0 ** (math.floor(math.log10(abs(target))) - digits + 1) if target else 0.0
    return max(CLOSE * abs(target), 0.5 * last_figure)


@dataclass(frozen=True, slots=True)
class _Reading:
    """One meaning of a typed number: number × size is its value in the part's unit."""

    number: float
    size: float
    figures: tuple[int, int]
    part: Part

    @property
    def value(self) -> float:
        return self.number * self.size

    def rounded_from(self, target: float) -> bool:
        """Return whether it is the target, rounded to as many figures as were typed."""
        low, high = self.figures
        return any(
            math.isclose(float(f"{target / self.size:.{figures - 1}e}"), self.number, rel_tol=1e-9)
            for figures in range(low, min(high, 15) + 1)
        )

    def short(self, target: float) -> bool:
        """Return whether it is the target with one figure too few; "20" may be one figure or two."""
        few = self.part.digits - 1
        return few >= 1 and self.figures[0] <= few and replace(self, figures=(few, few)).rounded_from(target)

    def near(self, target: float) -> bool:
        """Return whether it is the target within what is accepted, or the target with one figure too few."""
        off = abs(self.value - target)
        short = off <= MOST_SHORT * abs(target) and self.short(target)
        return off <= accepted(self.part, target) * (1 + 1e-9) or short


def _number(problem: Problem, part: Part, text: str, expected: float | None) -> PartReview:
    typed = typed_number(text)
    if typed.fault:
        return PartReview(key=part.key, typed=text, outcome="unreadable", told=(words.unreadable(typed),))
    quantity, size = quantity_of(part.unit)
    same = not typed.unit or typed.quantity == quantity
    factor = typed.size / size if same and typed.unit else 1.0
    made = [
        _decided(part, text, _Reading(number, factor, typed.figures, part), expected)
        for number in typed.numbers
    ]
    best = next((one for one in made if one.counts), None) or next((one for one in made if one.idea), made[0])
    if not same:
        return _other_quantity(part, typed, best)
    if factor != 1.0 and best.outcome == "right" and _copied(typed, problem):
        kept = _decided(part, text, _Reading(typed.numbers[0], 1.0, typed.figures, part), None)
        if kept.outcome == "idea":  # such as 54 km/h where m/s is asked for: the conversion is the question
            return replace(kept, value=best.value)
    return _flagged(part, typed, best, other_unit=factor != 1.0)


def _copied(typed: Typed, problem: Problem) -> bool:
    """Return whether a given value was handed back as it is given."""
    return any(
        quantity_of(one.unit) == (typed.quantity, typed.size) and math.isclose(one.value, typed.numbers[0])
        for one in problem.given
        if one.unit in UNITS
    )


def _decided(part: Part, text: str, typed: _Reading, expected: float | None) -> PartReview:
    """Return what a number shows: right, following, one idea, more than one, or nothing known."""
    made = PartReview(key=part.key, typed=text, outcome="wrong", value=typed.value, told=(words.WRONG,))
    unclear = replace(made, outcome="unclear", told=(words.UNCLEAR,))
    hits = [
        wrong.idea for wrong in part.wrong if wrong.value is not None and _meant(typed, wrong.value, part)
    ]
    exact = [
        wrong.idea for wrong in part.wrong
        if wrong.idea in hits and wrong.value is not None and typed.rounded_from(abs(wrong.value))
    ]  # fmt: skip
    if typed.near(part.answer):
        sure = typed.rounded_from(part.answer) or not exact
        full = abs(typed.value - part.answer) <= part.tolerance * (1 + 1e-9)
        return replace(made, outcome="right", told=()) if sure and (full or not hits) else unclear
    if expected is not None and typed.near(expected):
        return replace(made, outcome="follows", told=())
    named = exact if len(hits) > 1 and len(exact) == 1 else hits
    if named and not typed.short(part.answer):
        return replace(made, outcome="idea", idea=named[0], told=()) if len(named) == 1 else unclear
    if named:
        return unclear
    if typed.short(part.answer):
        return replace(unclear, flags=("figures-few",), told=(words.figures(part.digits),))
    if replace(typed, size=typed.size / 1000).near(part.answer) and part.unit != "1":
        return replace(made, outcome="idea", idea=GRAMS_LEFT_IN, told=())
    turned = part.answer != 0 and replace(typed, number=-typed.number).near(part.answer)
    return replace(made, told=(words.OTHER_SIGN,)) if turned else made


def _meant(typed: _Reading, wrong: float, part: Part) -> bool:
    """Return whether a wrong answer is meant; a negative one may have lost its sign where none is expected."""
    return typed.near(wrong) or (wrong < 0 < part.answer and typed.near(-wrong))


def _other_quantity(part: Part, typed: Typed, made: PartReview) -> PartReview:
    """Return what a number with a unit of another quantity shows."""
    if not made.counts:
        return made
    if part.unit == "1":
        return replace(made, outcome="idea", idea=UNIT_ON_COEFFICIENT)
    told = words.unit_wrong(typed, quantity_of(part.unit)[0], part.unit)
    return replace(made, outcome="unit", told=(told,))


def _flagged(part: Part, typed: Typed, made: PartReview, *, other_unit: bool) -> PartReview:
    """Return a review with what is noted about unit and figures, and the sentences for it."""
    found: list[tuple[Flag, str]] = []
    if not typed.unit and part.unit != "1":
        found.append(("unit-missing", words.unit_missing(part.unit)))
    if other_unit:
        found.append(("unit-other", words.unit_other(typed, part.unit)))
    if made.counts and typed.figures[1] < part.digits:
        found.append(("figures-few", words.figures(part.digits)))
    if made.counts and typed.figures[0] > part.digits + SPARE_FIGURES:
        found.append(("figures-many", words.figures(part.digits)))
    flags = (*made.flags, *(flag for flag, _ in found))
    return replace(made, flags=flags, told=(*made.told, *(told for _, told in found)))


def _told(made: PartReview, slip: PartReview | None, ideas: Mapping[str, str]) -> PartReview:
    """Return a review with its first sentence; what follows from a right answer, rounded, is simply right."""
    if made.outcome == "follows":
        if slip is None:
            return replace(made, outcome="right")
        return replace(made, follows=slip.key, told=(words.follows(slip.key), *made.told))
    if made.outcome == "idea" and made.idea is not None:
        return replace(made, told=(ideas.get(made.idea, words.may_be(made.idea)), *made.told))
    return made
