"""The words around the items in English, in one place; a translation replaces this module."""

from __future__ import annotations

RIGHT = "Right."
OTHER = "Not yet. Think of this:"
OTHER_BARE = "Not yet. Write down each force with its direction, then their sum."
UNCLEAR = "More than one way of reckoning gives this number. Look at each step of yours again."
BEFORE = "Asked before:"
ANSWER = "Answer:"
NUMBER_ALONE = "Give the number alone, in {unit}."
NUMBER_ONLY = "Give the number; it has no unit."
FEEDBACK_TITLE = "Answer looked at"
LABELLED = "The coefficients are {label}."
LANGUAGE = "en"


def how_to_answer(unit: str) -> str:
    """Return how the number is to be typed."""
    return NUMBER_ONLY if unit == "1" else NUMBER_ALONE.format(unit=unit)
