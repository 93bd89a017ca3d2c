"""What the person may fix about a text table; everything left open is found out."""

from __future__ import annotations

import codecs
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from pullbench.errors import RecordingError
from pullbench.sources.units import Quantity, Unit, symbols, unit_of

SEPARATORS = {
    "comma": ",",
    "semicolon": ";",
    "tab": "\t",
    "\\t": "\t",
    "bar": "|",
    "blank": " ",
    "space": " ",
    **{mark: mark for mark in ",;\t| "},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TableChoices:
    """Choices about one table; None means "find out".

    rate_Hz: samples a second, replaces a time column.  column, time_column: header name or number
    from 1.  time_unit, force_unit: a unit's symbol.  scale_N: newtons per unit of the force column.
    separator: the character or its name.  g_m_s2: turns a scale's grams into newtons.
    """

    rate_Hz: float | None = None
    column: str | None = None
    time_column: str | None = None
    time_unit: str | None = None
    force_unit: str | None = None
    scale_N: float | None = None
    decimal: Literal[".", ","] | None = None
    separator: str | None = None
    encoding: str | None = None
    g_m_s2: float = 9.80665


def check_choices(choices: TableChoices) -> None:
    """Refuse impossible choices with a RecordingError each; returns nothing."""
    _check_positive("rate-not-positive", "The rate", choices.rate_Hz, "Hz", "--rate")
    _check_positive("scale-not-positive", "The scale", choices.scale_N, "N per unit", "--scale")
    _check_positive("gravity-not-positive", "The gravity", choices.g_m_s2, "m/s²", "--g")
    time_unit(choices), force_unit(choices), separator(choices)
    if choices.decimal not in (None, ".", ","):
        raise RecordingError(
            "decimal-unknown",
            f"The decimal mark {choices.decimal!r} is not known.",
            'It can be "." or ",".',
            "Give --decimal one of the two, or leave it out.",
        )
    if choices.encoding is not None:
        _check_encoding(choices.encoding)
    if choices.rate_Hz is not None and choices.time_column is not None:
        raise RecordingError(
            "rate-and-time-column",
            f"Both a rate ({choices.rate_Hz:g} Hz) and a time column ({choices.time_column!r}) are given.",
            "Times come from one of the two.",
            "Leave out --rate or --time-column.",
        )


def time_unit(choices: TableChoices) -> Unit | None:
    """Return the chosen unit of time, or None when none was chosen."""
    return _chosen_unit("time", choices.time_unit, ("time",), "--time-unit")


def force_unit(choices: TableChoices) -> Unit | None:
    """Return the chosen unit of force, or None when none was chosen."""
    unit = _chosen_unit("force", choices.force_unit, ("force", "mass", "raw"), "--force-unit")
    if unit is not None and choices.scale_N is not None and unit.quantity != "raw":
        raise RecordingError(
            "scale-and-unit",
            f"Both a scale ({choices.scale_N:g} N per unit) and the unit {unit.symbol} are given.",
            "A scale belongs to a raw signal such as mV/V, mV or counts.",
            "Leave out --scale or --force-unit.",
        )
    return unit


def separator(choices: TableChoices) -> str | None:
    """Return the chosen separator as one character, or None when none was chosen."""
    if choices.separator is None:
        return None
    mark = SEPARATORS.get(choices.separator) or SEPARATORS.get(choices.separator.strip().lower())
    if mark is None:
        raise RecordingError(
            "separator-unknown",
            f"The separator {choices.separator!r} is not known.",
            "It can be comma, semicolon, tab, bar or blank.",
            "Give --separator one of these names, or leave it out.",
        )
    return mark


def _chosen_unit(what: str, text: str | None, allowed: tuple[Quantity, ...], option: str) -> Unit | None:
    if text is None:
        return None
    unit = unit_of(text)
    if unit is None or unit.quantity not in allowed:
        raise RecordingError(
            "unit-unknown",
            f"{text!r} is not a unit of {what} that is known here.",
            f"Known are {symbols(*allowed)}.",
            f"Give {option} one of them.",
        )
    return unit


def _check_positive(code: str, what: str, value: float | None, unit: str, option: str) -> None:
    if value is None or 0 < value < math.inf:  # written so that NaN is refused too
        return
    raise RecordingError(
        code, f"{what} is {value:g} {unit}.", "It must be a finite number above nought.", f"Mend {option}."
    )


def _check_encoding(name: str) -> None:
    try:
        works = "0".encode(name).decode(name) == "0"
    except (LookupError, ValueError, TypeError):  # UnicodeError is a ValueError
        works = False
    if not works:
        raise RecordingError(
            "encoding-unknown",
            f"The text encoding {name!r} is not known.",
            "It can be utf-8, utf-16, latin-1, cp1252 or another name that Python knows.",
            "Mend --encoding, or leave it out.",
        )


@lru_cache(maxsize=16)
def is_plain_ascii_superset(name: str) -> bool:
    """Say whether an encoding writes digits and separators as single ASCII bytes, so bytes can be cut."""
    canon = codecs.lookup(name).name
    return canon.startswith(("utf-8", "ascii", "iso8859", "cp125", "mac-"))
