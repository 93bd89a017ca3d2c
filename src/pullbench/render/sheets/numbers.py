"""Numbers of a problem as pages print them."""

from __future__ import annotations

from pullbench.model.problem import Given, Part, WrongAnswer
from pullbench.render.rounding import MINUS
from pullbench.teach.problems.make import significant

OPTION_LETTERS = "ABCDEFGHIJ"


def with_unit(number: str, unit: str) -> str:
    """Return a number with its unit; a degree sign stands close."""
    number = number.replace("-", MINUS)
    return number if unit == "1" else f"{number}{'' if unit == '°' else ' '}{unit}"


def given_told(one: Given) -> str:
    """Return a given value as it is printed."""
    return with_unit(significant(one.value, one.digits), one.unit)


def answer_told(part: Part) -> str:
    """Return the right answer: with the figures a good answer shows, or the letter of the option."""
    if part.form == "choice":
        return OPTION_LETTERS[round(part.answer)]
    return with_unit(significant(part.answer, part.digits), part.unit)


def accepted_told(part: Part) -> str:
    """Return the answers that are accepted, from the lowest to the highest, or the letter."""
    if part.form == "choice":
        return OPTION_LETTERS[round(part.answer)]
    low, high = (significant(part.answer + way * part.tolerance, part.digits + 1) for way in (-1, 1))
    return f"{with_unit(low, '1')} to {with_unit(high, part.unit)}"


def wrong_told(part: Part, wrong: WrongAnswer) -> str:
    """Return a wrong answer as a learner would write it."""
    if wrong.option is not None:
        return OPTION_LETTERS[wrong.option]
    return with_unit(significant(wrong.value or 0.0, part.digits), "1")
