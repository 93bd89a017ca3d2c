"""The words of the sheets in English, in one place; a translation replaces this module."""

from __future__ import annotations

import re

LABELS = {
    "sheet": "Friction problems",
    "key": "Key to the friction problems",
    "lab": "Our own measurement",
    "seat": "Seat",
    "answer": "Answer",
    "accept": "Accept",
    "worked": "Worked out for seat 1",
    "hints": "Hints to give",
    "wrong": "What a wrong answer may show",
    "all": "All answers",
    "pulls": "The pulls that were kept",
    "mean": "Mean of the pulls' own coefficients",
    "read off": "What do you read from it?",
}
NOT_SAID = "not said"
NO_NAMES = "No name on this sheet: the code and the seat number are enough."
SHOW_WORK = "Show how you got there. Give each answer with its unit and a sensible number of figures."
TABLES_DIFFER = "Tables differ from one another: they are a guide to a pair of surfaces, not its measurement."
PAPER_ONLY = (
    "These are problems for paper. Try nothing without the person in charge: loads low and away from the edge, "
    "fingers and feet clear of the sled."
)
NOT_ON_THE_ROAD = "Nothing here is to be tried in or with a moving vehicle."
_ON_THE_ROAD = re.compile(
    r"\b(brak\w*|cars?|vans?|bus(?:es)?|trucks?|lorr(?:y|ies)|vehicles?|trams?|trains?)\b", re.I
)

LAB_PROMPTS = (
    "How does the trace show when the sled broke away, and when it slid steadily?",
    "Which needed more pull: to start it or to keep it going? By how much?",
    "What would the pull be with no load at all? What would it mean if the line missed nought?",
    "Repeats differ. Are the two coefficients different beyond their plus or minus?",
)
MORE_DECIMALS = "Half of the last figure, or 2 % of the answer when that is more, is accepted."
ONE_FIGURE = "Two wrong ideas can give the same number: ask for the working before you name one."


def sheet_foot(code: str, seat: int, label: str | None) -> str:
    """Return the foot of a student's pages."""
    return f"Set {code}, seat {seat}{simulated(label)}"


def key_foot(code: str, label: str | None) -> str:
    """Return the foot of the key's pages."""
    return f"Key to set {code}{simulated(label)}"


def lab_foot(day: str, label: str | None) -> str:
    """Return the foot of the lab sheet."""
    return f"Measured on {day}{simulated(label)}"


def while_it_holds(number: int) -> str:
    """Return what stands over the forces half way to the break."""
    return f"The forces in pull {number} while the sled still stands, half way to its break:"


def while_it_slides(number: int) -> str:
    """Return what stands over the forces in mid-slide."""
    return f"The forces in pull {number} while it slides:"


def simulated(label: str | None) -> str:
    """Return what must stand beside numbers that no sensor in this room measured."""
    return f" ({label} numbers)" if label else ""


def made_with(coefficients: str, label: str | None, source: str) -> str:
    """Return where a sheet's coefficients come from; source: today or handbook."""
    head = "Measured in class" if source == "today" and not label else "Coefficients"
    guide = f" {TABLES_DIFFER}" if source == "handbook" else ""
    return f"{head}{simulated(label)}: {coefficients}.{guide}"


def caution(texts: list[str]) -> str:
    """Return the caution of a sheet; a problem about the road adds a sentence."""
    road = any(_ON_THE_ROAD.search(text) for text in texts)
    return f"{PAPER_ONLY} {NOT_ON_THE_ROAD}" if road else PAPER_ONLY
