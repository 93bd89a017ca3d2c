"""Typed answers read: a number with its unit as people write it, or the option of a choice."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Quantity = Literal[
    "force", "mass", "angle", "acceleration", "speed", "length", "time", "work", "power", "no unit"
]
Fault = Literal["", "empty", "not a number", "not a unit", "not an option"]

G0_M_S2 = 9.80665  # standard gravity, for kgf and gf (SI brochure, 9th edition, gives it exactly)
LONGEST = 60  # characters of a typed answer that can still be a number with its unit
OPTION_LETTERS = "ABCDEFGHIJ"

# size of each unit in the SI unit of its quantity; written without blanks, dots and capital letters that say nothing
UNITS: dict[str, tuple[Quantity, float]] = {
    "N": ("force", 1.0), "newton": ("force", 1.0), "mN": ("force", 1e-3), "kN": ("force", 1e3),
    "kgf": ("force", G0_M_S2), "kp": ("force", G0_M_S2), "gf": ("force", G0_M_S2 / 1000),
    "lbf": ("force", 4.4482216152605), "kgm/s²": ("force", 1.0),
    "kg": ("mass", 1.0), "kilogram": ("mass", 1.0), "g": ("mass", 1e-3), "gram": ("mass", 1e-3), "t": ("mass", 1e3),
    "°": ("angle", 1.0), "degree": ("angle", 1.0), "deg": ("angle", 1.0), "rad": ("angle", math.degrees(1.0)),
    "m/s²": ("acceleration", 1.0), "N/kg": ("acceleration", 1.0), "cm/s²": ("acceleration", 1e-2),
    "m/s": ("speed", 1.0), "km/h": ("speed", 1 / 3.6), "kmh": ("speed", 1 / 3.6), "cm/s": ("speed", 1e-2),
    "mm/s": ("speed", 1e-3),
    "m": ("length", 1.0), "metre": ("length", 1.0), "meter": ("length", 1.0), "cm": ("length", 1e-2),
    "mm": ("length", 1e-3), "km": ("length", 1e3),
    "s": ("time", 1.0), "sec": ("time", 1.0), "second": ("time", 1.0), "ms": ("time", 1e-3), "min": ("time", 60.0),
    "J": ("work", 1.0), "joule": ("work", 1.0), "Nm": ("work", 1.0), "mJ": ("work", 1e-3), "kJ": ("work", 1e3),
    "Ws": ("work", 1.0),
    "W": ("power", 1.0), "watt": ("power", 1.0), "mW": ("power", 1e-3), "kW": ("power", 1e3), "J/s": ("power", 1.0),
    "Nm/s": ("power", 1.0),
    "1": ("no unit", 1.0), "%": ("no unit", 1e-2),
}  # fmt: skip

_SAME = {"º": "°", "˚": "°"}
_POWERS = ((re.compile(r"s(?:\^|\*\*)?2$"), "s²"), (re.compile(r"/s/s$"), "/s²"))
_PER = (
    (re.compile(r"s\^?[-−⁻](?:2|²)$"), "/s²"),
    (re.compile(r"s\^?[-−⁻](?:1|¹)$"), "/s"),
    (re.compile(r"kg\^?[-−⁻](?:1|¹)$"), "/kg"),
    (re.compile(r"h\^?[-−⁻](?:1|¹)$"), "/h"),
)
_NAME = re.compile(r"^(?:[A-Za-zμµθαΔ_0-9]{0,8}\s*=|about|ca\.?|~|≈|=)\s*", re.I)
_SPREAD = re.compile(r"\s*(?:±|\+/-|\+-)\s*[\d.,]+")
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_NUMBER = re.compile(
    r"(?P<sign>[-+−–]?)\s*(?P<digits>\d[\d.,\u00a0\u2009\u202f ]*|[.,]\d+)"
    r"(?:\s*(?:[eE](?P<exp>[-+−]?\d{1,3})|[·×x*]\s*10(?:\^|\*\*)?\s*\(?(?P<ten>[-+−]?\d{1,3}|[⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)\)?))?"
    r"(?P<unit>.*)",
    re.S,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """A typed answer, read as far as it can be.

    numbers: what the digits may mean, the likelier first ("1,500" is 1.5, or 1500); empty with a fault.
    figures: fewest and most significant figures they show ("40" shows 1 or 2).  unit: as typed, "" without one.
    quantity, size: what the unit measures and its size in SI; "no unit" and 1 without one.  fault: why not.
    """

    text: str
    numbers: tuple[float, ...] = ()
    figures: tuple[int, int] = (0, 0)
    unit: str = ""
    quantity: Quantity = "no unit"
    size: float = 1.0
    fault: Fault = ""


def typed_number(text: str) -> Typed:
    """Return a number with its unit as it was typed, such as "4.2 N", "1,5", "F = 4.2newtons", "1.5·10^3 m/s^2"."""
    bare = _SPREAD.sub("", _NAME.sub("", text.strip(), count=1)).strip()
    if not bare:
        return Typed(text=text, fault="empty")
    match = _NUMBER.fullmatch(bare) if len(bare) <= LONGEST else None
    readings = _readings(match["digits"]) if match else ()
    sign = -1 if match and match["sign"] in ("-", "−", "–") else 1
    scale = sign * _power_of_ten(match["exp"] or match["ten"] or "0") if match else 1.0
    if match is None or not readings or not math.isfinite(scale * float(readings[-1])):
        return Typed(text=text, fault="not a number")
    unit = match["unit"].strip()
    known = _unit(unit)
    return Typed(
        text=text, unit=unit, fault="" if known else "not a unit", quantity=known[0] if known else "no unit",
        size=known[1] if known else 1.0, numbers=tuple(scale * float(digits) for digits in readings),
        figures=_figures(readings[0]),
    )  # fmt: skip


def quantity_of(unit: str) -> tuple[Quantity, float]:
    """Return what a unit of ours measures, and its size in SI.  Raises KeyError for one that is not in the table."""
    return UNITS[unit]


def typed_option(text: str, options: Sequence[str]) -> int | None:
    """Return the index of the option meant by a letter, its words, or its number from 1; None when none is."""
    bare = text.strip().strip("().:\"'`").strip()
    if len(bare) == 1 and bare.upper() in OPTION_LETTERS[: len(options)]:
        return OPTION_LETTERS.index(bare.upper())
    words = [_plain(option) for option in options]
    told = _plain(re.sub(r"^[A-Ja-j]\s*[).:,]\s+", "", bare))
    if told and words.count(told) == 1:
        return words.index(told)
    starts = [at for at, option in enumerate(words) if len(told) >= 3 and option.startswith(told)]
    if len(starts) == 1:
        return starts[0]
    number = int(bare) if bare.isascii() and bare.isdigit() and len(bare) < 3 else 0
    return number - 1 if 1 <= number <= len(options) else None


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[^\w°/²+-]+", " ", text).lower().split())


def _readings(digits: str) -> tuple[str, ...]:
    """Return what a run of digits, points, commas and blanks may mean, as decimals with a point."""
    text = re.sub(r"[\u00a0\u2009\u202f ]+", " ", digits.strip()).rstrip(".,")
    if " " in text:
        if not re.fullmatch(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?", text):
            return ()
        text = text.replace(" ", "")
    marks = [mark for mark in text if mark in ".,"]
    if not marks:
        return (text,)
    if len(marks) == 1:
        decimal = text.replace(",", ".")
        whole, _, rest = decimal.partition(".")
        grouped = len(rest) == 3 and 1 <= len(whole) <= 3 and not whole.startswith("0")
        return (decimal, whole + rest) if grouped else (decimal,)
    last = marks[-1]
    group = last if set(marks) == {last} else ({".", ","} - {last}).pop()
    whole, _, rest = (text, "", "") if group == last else text.rpartition(last)
    if not re.fullmatch(rf"\d{{1,3}}(?:\{group}\d{{3}})+", whole):
        return ()
    return (whole.replace(group, "") + (f".{rest}" if rest else ""),)


def _power_of_ten(text: str) -> float:
    return float(f"1e{text.translate(_RAISED).replace('−', '-')}")


def _figures(digits: str) -> tuple[int, int]:
    """Return the fewest and the most significant figures that a decimal shows."""
    whole, point, rest = digits.partition(".")
    shown = (whole + rest).lstrip("0")
    if not shown:
        return (1, max(1, len(rest)))
    return (len(shown), len(shown)) if point else (max(1, len(shown.rstrip("0"))), len(shown))


def _unit(text: str) -> tuple[Quantity, float] | None:
    """Return quantity and size of a typed unit, ("no unit", 1) for none, None for one that is not known."""
    if not text.strip(" .;,"):
        return ("no unit", 1.0)
    bare = re.sub(r"\s+per\s+", "/", text.strip(" .;,()[]"))
    for pattern, written in _PER:
        bare = pattern.sub(written, bare)
    bare = re.sub(r"[\s·⋅*.]+", "", bare.replace("**", "^"))
    for old, new in _SAME.items():
        bare = bare.replace(old, new)
    for pattern, written in _POWERS:
        bare = pattern.sub(written, bare)
    for name in (bare, bare.lower(), bare.lower().removesuffix("s"), _capital(bare)):
        if name in UNITS and name != "1":
            return UNITS[name]
    return _spelt(bare.lower())


def _capital(text: str) -> str:
    """Return a unit named after a person with its capital: "n" is meant as N, "nm" as Nm."""
    return {"n": "N", "j": "J", "w": "W", "nm": "Nm", "kn": "kN", "n/kg": "N/kg", "kj": "kJ", "kw": "kW"}.get(
        text.lower(), text
    )


def _spelt(text: str) -> tuple[Quantity, float] | None:
    """Return a unit in words: "metres/secondsquared", "kilometres/hour", "newtonmetres"."""
    words = text.replace("meter", "metre").replace("squared", "²").replace("seconds", "second")
    short = {
        "kilometres/hour": "km/h", "kilometre/hour": "km/h", "kph": "km/h", "metres/second": "m/s",
        "metre/second": "m/s", "metres/second²": "m/s²", "metre/second²": "m/s²", "newtons/kilogram": "N/kg",
        "newton/kilogram": "N/kg", "newtonmetres": "Nm", "newtonmetre": "Nm", "centimetres": "cm", "centimetre": "cm",
        "millimetres": "mm", "kilograms": "kg", "kilos": "kg", "kilo": "kg", "kilonewtons": "kN", "percent": "%",
        "metres": "m", "mps": "m/s",
    }.get(words)  # fmt: skip
    return UNITS[short] if short else None
