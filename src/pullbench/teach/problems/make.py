"""Kind + seed + today's coefficients → a problem with its key; versions for a class that share no answers."""

from __future__ import annotations

import math
import string
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from pullbench.errors import ConditionsError
from pullbench.model.problem import Given, PairFriction, Part, Problem, Step, WrongAnswer
from pullbench.teach.problems.kind import Asked, Kind, Texts
from pullbench.teach.problems.kinds.which import Which

DRAWS = 200  # tries at numbers that make sense
PATIENCE = 40  # sensible draws after which the one that loses the fewest wrong answers is taken
IN_VAIN = 600  # problems in a row that share an answer with another seat: then there are no more
APART = 0.05  # right and wrong answers differ by at least this share, so that each can be told from the other
HALF_WIDTH = 1.96  # of 95 % limits, in standard uncertainties
TOLERANCE = 0.02  # share of the answer that is accepted, or half its last figure when that is more


def make(kind: Kind, words: Texts, pair: PairFriction, seed: int) -> Problem:
    """Return the problem of this kind, pair and seed; the same three always give the same problem.

    Raises ConditionsError static-not-above-kinetic and coefficient-includes-nought for coefficients that no kind
    with numbers can use, and problem-impossible when no sensible numbers were found for this kind.
    """
    if not isinstance(kind, Which):  # a question without numbers asks the same of every pair
        _refuse_useless(pair)
    draw = np.random.default_rng([seed, *kind.name.encode()])  # noqa: TID251 (the seed is passed in)
    best: tuple[int, tuple[Given, ...]] | None = None
    sane = 0
    for _ in range(DRAWS):
        given = kind.draw(draw, pair)
        numbers = {one.symbol: one.value for one in given}
        if not kind.sane(numbers):
            continue
        sane += 1
        lost = _lost(kind, numbers)
        if lost is not None and (best is None or lost < best[0]):
            best = (lost, given)
        if best is not None and (best[0] == 0 or sane >= PATIENCE):
            break
    if best is not None:  # with μs close to μk, say, what cannot be told from the right answer is left out
        return _written(kind, words, pair, seed, best[1], draw)
    raise ConditionsError(
        "problem-impossible",
        f"No sensible numbers for {kind.name} with μs {pair.mu_s:g} and μk {pair.mu_k:g}.",
        "The coefficients must allow the situation the problem is about.",
        "Leave this kind out, or take another pair of surfaces.",
    )


def _refuse_useless(pair: PairFriction) -> None:
    """Raise ConditionsError unless static is above kinetic and the 95 % limits of both stay above nought."""
    surfaces = f"{pair.sole} on {pair.floor}"
    if not pair.mu_s > pair.mu_k:
        raise ConditionsError(
            "static-not-above-kinetic",
            f"The static coefficient {pair.mu_s:g} of {surfaces} is not above the kinetic one {pair.mu_k:g}.",
            "Problems about starting and sliding need one that is.",
            "Take another pair of surfaces, or questions without numbers.",
        )
    for name, value, u in (("static", pair.mu_s, pair.u_mu_s), ("kinetic", pair.mu_k, pair.u_mu_k)):
        if not value > HALF_WIDTH * u:
            raise ConditionsError(
                "coefficient-includes-nought",
                f"The {name} coefficient of {surfaces} is {value:g} ± {HALF_WIDTH * u:.2g}: its limits reach nought.",
                "Problems need a coefficient whose limits stay above nought.",
                "Pull a few more times, with more load, or use the handbook.",
            )


def _lost(kind: Kind, numbers: Mapping[str, float]) -> int | None:
    """Return how many wrong answers cannot be told from the right one or from another; None if a part loses all."""
    right = kind.solve(numbers, {})
    lost = 0
    for part in kind.asked(numbers):
        told = _told_apart(part, right[part.key])
        if part.wrong and not told:
            return None
        lost += len(part.wrong) - len(told)
    return lost


def _told_apart(part: Asked, right: float) -> dict[str, float]:
    """Return the wrong answers that can be told from the right one and from the wrong ones before them."""
    told: dict[str, float] = {}
    for idea, value in part.wrong.items():
        others = (right, *told.values())
        near = (
            (round(value) == round(other) for other in others)
            if part.options
            else (math.isclose(value, other, rel_tol=APART) for other in others)
        )
        if not any(near):
            told[idea] = value
    return told


def _written(
    kind: Kind,
    words: Texts,
    pair: PairFriction,
    seed: int,
    given: tuple[Given, ...],
    draw: np.random.Generator,
) -> Problem:
    numbers = {one.symbol: one.value for one in given}
    worded = [_worded(part, words) for part in kind.asked(numbers)]
    answers, parts = _shuffled(worded, kind.solve(numbers, {}), draw)
    slots = {one.symbol: quantity(one.value, one.unit, one.digits) for one in given}
    slots |= {"sole": pair.sole, "floor": pair.floor}
    with_answers = slots | {
        part.key: filled(part.options[round(answers[part.key])], slots) if part.options
        else quantity(answers[part.key], part.unit, part.digits + 1)
        for part in parts
    }  # fmt: skip
    return Problem(
        kind=kind.name, level=kind.level, seed=seed, title=words.title, text=filled(words.text, slots),
        given=given, pair=pair, figure=kind.figure(numbers, solved=False),
        key_figure=kind.figure(numbers, solved=True),
        parts=tuple(_part(part, words, answers[part.key], slots, with_answers) for part in parts),
    )  # fmt: skip


def _part(
    part: Asked, words: Texts, answer: float, slots: Mapping[str, str], with_answers: Mapping[str, str]
) -> Part:
    options = tuple(filled(option, slots) for option in part.options)
    last_figure = 10.0 ** (math.floor(math.log10(abs(answer))) - part.digits + 1) if answer else 0.0
    return Part(
        key=part.key, ask=filled(words.ask[part.key], slots), form="choice" if options else "number",
        answer=answer, unit=part.unit, digits=part.digits, options=options,
        tolerance=0.0 if options else max(TOLERANCE * abs(answer), 0.5 * last_figure, part.reading),
        wrong=tuple(
            WrongAnswer(idea=idea, option=round(value)) if options else WrongAnswer(idea=idea, value=value)
            for idea, value in _told_apart(part, answer).items()
        ),
        hints=tuple(filled(hint, slots) for hint in words.hints.get(part.key, ())),
        solution=tuple(
            Step(filled(step.words, with_answers), filled(step.formula, with_answers))
            for step in words.solution[part.key]
        ),
        uses=part.uses,
    )  # fmt: skip


def _worded(part: Asked, words: Texts) -> Asked:
    """Return a part with the words of its options."""
    return replace(part, options=words.options.get(part.key, part.options))


def _shuffled(
    parts: Sequence[Asked], answers: Mapping[str, float], draw: np.random.Generator
) -> tuple[dict[str, float], tuple[Asked, ...]]:
    """Return answers and parts after the options of every part that allows it were put in an order of their own."""
    moved, after = dict(answers), []
    for part in parts:
        if not part.shuffled:
            after.append(part)
            continue
        order = [int(at) for at in draw.permutation(len(part.options))]
        moved[part.key] = order.index(round(answers[part.key]))
        wrong = {idea: order.index(round(value)) for idea, value in part.wrong.items()}
        after.append(replace(part, options=tuple(part.options[at] for at in order), wrong=wrong))
    return moved, tuple(after)


def filled(text: str, slots: Mapping[str, str]) -> str:
    """Return a text with its {slots} filled.  A slot without a value is a mistake of ours and raises KeyError."""
    return string.Formatter().vformat(text, (), slots)


def quantity(value: float, unit: str, digits: int) -> str:
    """Return a number with its unit as formulas take it: "6.20 N" in double quotes, 0.42 bare without a unit."""
    number = significant(value, digits)
    return number if unit == "1" else f'"{number}{"" if unit == "°" else " "}{unit}"'


def significant(value: float, digits: int) -> str:
    """Return a number with so many significant figures, never in powers of ten between 0.001 and 1e6."""
    if value == 0:
        return "0"
    decimals = digits - 1 - math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def versions(
    kinds: Sequence[tuple[Kind, Texts]], pair: PairFriction, seed: int, seats: int
) -> tuple[tuple[Problem, ...], ...]:
    """Return one set of problems a seat; no two seats share a number, as the key prints it, as the answer to a part.

    Deterministic: seat k takes the first seeds from seed × 1000 + k onward whose answers are still free.
    Raises ConditionsError.
    """
    columns = [_column(kind, words, pair, seed, seats) for kind, words in kinds]
    return tuple(zip(*columns, strict=True)) if columns else ((),) * seats


def _column(kind: Kind, words: Texts, pair: PairFriction, seed: int, seats: int) -> list[Problem]:
    """Return a problem a seat; answers differ as a class writes them or, where a kind has no more of those, as the
    key prints them, with one figure more.
    """
    made: list[Problem] = []
    number = seed * 1000
    for spare in (0, 1):
        taken = {answer for problem in made for answer in _answers(problem, spare)}
        in_vain = 0
        while len(made) < seats and in_vain < IN_VAIN:
            problem, number, in_vain = make(kind, words, pair, number), number + 1, in_vain + 1
            answers = _answers(problem, spare)
            if not answers & taken:
                taken |= answers
                made.append(problem)
                in_vain = 0
    if len(made) < seats:
        raise ConditionsError(
            "seats-too-many", f"{kind.name} has no {seats} versions with different answers.",
            f"It has {len(made)}.", "Ask for fewer seats, or leave this kind out.",
        )  # fmt: skip
    return made


def _answers(problem: Problem, spare: int) -> set[tuple[str, str]]:
    """Return the numbers that are answers, by part, with so many figures more than a good answer shows."""
    return {
        (part.key, significant(part.answer, part.digits + spare))
        for part in problem.parts
        if part.form == "number"
    }
