"""One cell of a table: a number, a clock time, a sign for "missing", or mere text."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from pullbench.sources.units import Unit, glued_unit_of

CellKind = Literal["number", "clock", "missing", "text"]
DecimalMark = Literal[".", ","]

_WORDS = """nan -nan +nan n/a na null none nil err error err. #n/a #err! ? * x ol overload overflow inf -inf
+inf infinity missing lost 1.#qnan -1.#ind"""
MISSING_WORDS = frozenset(("", *_WORDS.split()))
_DASHES = re.compile(r"[-–—_.]+$")
_EXPONENT = r"(?:[eE][+-]?\d+)?"
# Groups of three are parted by the other mark, an apostrophe or a (narrow, fixed) blank.
_NUMBER = {
    mark: re.compile(
        rf"([+-]?)([1-9]\d{{0,2}}(?:(?P<group>{other}|['’\u00a0\u202f\u2009 ])\d{{3}})"
        rf"(?:(?P=group)\d{{3}})*(?!\d)|\d+|(?={point}\d))(?:{point}(\d*))?({_EXPONENT})(.*)",
        re.DOTALL,
    )
    for mark, point, other in ((".", r"\.", ","), (",", ",", r"\."))
}
_DATE = r"(?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4})"
_CLOCK = re.compile(
    rf"(?:{_DATE}[T ,]\s*)?(?:(\d{{1,2}}):)?(\d{{1,2}}):(\d{{1,2}})(?:[.,](\d{{1,9}}))?"
    r"\s*([aApP]\.?[mM]\.?)?(?:Z|\s*[+-]\d{2}:?\d{2})?"
)
_GROUP_MARKS = str.maketrans("", "", ",.'’\u00a0\u202f\u2009 ")


@dataclass(frozen=True, slots=True)
class Cell:
    """What a cell says: value in its own unit (NaN when missing or text), and a unit glued to it."""

    kind: CellKind
    value: float = math.nan
    unit: Unit | None = None


MISSING, TEXT = Cell("missing"), Cell("text")


def bare(cell: str) -> str:
    """Return a cell without quotes, blanks around it, and with a plain minus sign."""
    cell = cell.strip().strip("\"'").strip()
    return cell.replace("\u2212", "-") if "\u2212" in cell else cell


def read_cell(cell: str, decimal: DecimalMark) -> Cell:
    """Return what a cell says, for a known decimal mark.

    Clock times come in seconds since midnight; a date before one is passed over (see `Clock` for midnight).
    """
    text = bare(cell)
    match = _NUMBER[decimal].fullmatch(text)
    if match is not None:
        found = _as_number(match)
        if found is not None:
            return found
    if text.lower() in MISSING_WORDS or _DASHES.fullmatch(text):
        return MISSING
    seconds = clock_seconds(text)
    return TEXT if seconds is None else Cell("clock", seconds)


def _as_number(match: re.Match[str]) -> Cell | None:
    sign, whole, _, fraction, exponent, tail = match.groups()
    unit = None
    if tail.strip():
        unit = glued_unit_of(tail.strip())
        if unit is None:
            return None
    value = float(
        f"{sign}{whole.translate(_GROUP_MARKS)}.{fraction or ''}{exponent}" if whole or fraction else "nan"
    )
    return Cell("number", value, unit) if math.isfinite(value) else MISSING


def clock_seconds(text: str) -> float | None:
    """Return the seconds since midnight of HH:MM:SS(.fff) or MM:SS(.fff), a date before it allowed."""
    match = _CLOCK.fullmatch(text)
    if match is None:
        return None
    hours, minutes, seconds, fraction, half = match.groups()
    if int(minutes) > 59 or int(seconds) > 60 or int(hours or 0) > 24:
        return None
    hour = int(hours or 0)
    if half:
        hour = hour % 12 + (12 if half[0] in "pP" else 0)
    return float(f"{hour * 3600 + int(minutes) * 60 + int(seconds)}.{fraction or 0}")


def decimal_evidence(cell: str) -> Literal[".", ",", "either", "none"]:
    """Say which decimal mark a cell proves.

    "1,234" and "1.234" prove nothing (groups of three never begin with a nought, so "0,123" proves the
    comma); "1,234.5" proves the point.
    """
    text = bare(cell)
    marks: tuple[DecimalMark, ...] = (".", ",")
    fits = [mark for mark in marks if read_cell(text, mark).kind == "number"]
    has_mark = "," in text or "." in text
    if not has_mark or not fits:
        return "none"
    if len(fits) == 2:
        return "either"
    return "." if fits == ["."] else ","
