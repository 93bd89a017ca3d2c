"""The sentences of a sheet review in English, in one place; a translation replaces this module."""

from __future__ import annotations

from pullbench.teach.answers import Fault, Quantity, Typed

UNCLEAR = "More than one way of reckoning gives this number: show the working."
WRONG = "No way of reckoning that is known here gives this: show the working."
WRONG_OPTION = "This option is not right: tell why you took it."
OTHER_SIGN = "The size is right, the sign is not: say which way counts as forward."

_QUANTITIES: dict[Quantity, str] = {
    "force": "a force", "mass": "a mass", "angle": "an angle", "acceleration": "an acceleration",
    "speed": "a speed", "length": "a length", "time": "a time", "work": "a work", "power": "a power",
    "no unit": "a number without a unit",
}  # fmt: skip


def follows(key: str) -> str:
    """Return what is said of an answer that is right from an earlier one's slip."""
    return f"This follows from your answer to {key}: counted as right."


def may_be(idea: str) -> str:
    """Return what is said of an idea that has no sentence of its own."""
    return f"This number comes from: {idea}."


def unit_missing(unit: str) -> str:
    """Return what is asked of a number without its unit."""
    return f"Add the unit: {unit}."


def unit_other(typed: Typed, unit: str) -> str:
    """Return what is said of a right answer in another unit of the same quantity."""
    return f"Given in {typed.unit}, asked for in {unit}; converted here."


def unit_wrong(typed: Typed, quantity: Quantity, unit: str) -> str:
    """Return what is said of a right number with a unit of another quantity."""
    asked = "" if unit == "1" else f", in {unit}"
    return (
        f"The number is right, but {typed.unit} is a unit of {_QUANTITIES[typed.quantity].split(' ', 1)[1]}; "
        f"asked is {_QUANTITIES[quantity]}{asked}."
    )


def figures(digits: int) -> str:
    """Return how many figures to give."""
    return f"Give {digits} significant figures: the given values carry no more, and no fewer are enough."


def unreadable(typed: Typed) -> str:
    """Return why a typed answer could not be read, and what would be right."""
    shown = typed.text.strip()[:40]
    told: dict[Fault, str] = {
        "not a number": f"{shown!r} does not begin with a number. Type it as 4.2 N or 4,2 N.",
        "not a unit": f"{typed.unit[:40]!r} is no unit known here. Type N, kg, g, m/s², m/s, km/h, m, s, J, W or °.",
        "not an option": f"{shown!r} is none of the options. Type the letter, such as B.",
        "empty": "There is no answer. Type a number with its unit, or the letter of an option.",
        "": "",
    }
    return told[typed.fault]
