"""Numbers with units as a person types them: 1.35kg, 13.2N, 5deg."""

from __future__ import annotations

import math
import re

from pullbench.errors import ConditionsError
from pullbench.physics import STANDARD_GRAVITY_M_S2

MASSES_KG = {"kg": 1.0, "g": 1e-3, "lb": 0.45359237}
FORCES_N = {"N": 1.0, "mN": 1e-3, "kN": 1e3, "kgf": 9.80665, "gf": 9.80665e-3, "lbf": 4.4482216152605}


def number_and_unit(text: str, option: str, example: str) -> tuple[float, str]:
    """Return value and unit of a text such as "1,35 kg"; a decimal comma is a decimal point.

    Raises ConditionsError when there is no finite number.
    """
    match = re.fullmatch(r"\s*([-+−]?[0-9]*[.,]?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*([A-Za-z°µ]*)\s*", text)
    value = math.nan if match is None else float(match[1].replace(",", ".").replace("−", "-"))
    if match is None or not math.isfinite(value):
        raise ConditionsError(
            "quantity-unreadable",
            f"{option} is {text!r}.",
            f"It must be one number and its unit, such as {example}.",
            f"Mend {option}.",
        )
    return value, match[2]


def load(text: str, g_m_s2: float) -> float:
    """Return the weight in newtons of a load given in kg, g, lb or in newtons and the like.

    Raises ConditionsError for an unknown unit or a load that is not above nought.
    """
    value, unit = number_and_unit(text, "--load", "1.35kg or 13.2N")
    if value <= 0:
        raise ConditionsError(
            "load-not-positive",
            f"The load is {value:g} {unit or 'kg'}.",
            "It must be above nought: sled and tins together.",
            "Mend --load.",
        )
    if unit in MASSES_KG:
        return value * MASSES_KG[unit] * g_m_s2
    if unit in FORCES_N:
        return value * FORCES_N[unit]
    known = ", ".join([*MASSES_KG, *FORCES_N])
    raise ConditionsError(
        "load-unit-unknown",
        f"The load is {text!r}.",
        f"Its unit must be one of {known}.",
        "Mend --load, such as 1.35kg.",
    )


def gravity(g_m_s2: float | None) -> float:
    """Return what --g says in m/s², or standard gravity.  Raises ConditionsError."""
    if g_m_s2 is None:
        return STANDARD_GRAVITY_M_S2
    if not 0.1 < g_m_s2 < 100:
        raise ConditionsError(
            "gravity-out-of-range", f"Gravity is {g_m_s2:g} m/s².", "It must lie from 0.1 to 100 m/s².", "Mend --g.",
        )  # fmt: skip
    return g_m_s2


def angle(text: str, option: str) -> float:
    """Return an angle in degrees between −90 and 90, both excluded.

    Raises ConditionsError otherwise.
    """
    value, unit = number_and_unit(text, option, "5deg")
    if unit not in ("", "deg", "°"):
        raise ConditionsError(
            "angle-unit-unknown",
            f"{option} is {text!r}.",
            "Angles are in degrees.",
            f"Mend {option}, such as 5deg.",
        )
    if not -90 < value < 90:
        raise ConditionsError(
            "angle-out-of-range",
            f"{option} is {value:g}°.",
            "It must lie between −90° and 90°.",
            f"Mend {option}: 0 is along the surface.",
        )
    return value


def size(
    text: str, option: str, units: dict[str, float], example: str, *, bare: float | None = None
) -> float:
    """Return a size above nought in the unit that `units` turns into 1.

    bare: what a number without a unit is multiplied by; None refuses it.  Raises ConditionsError.
    """
    # The unit is whatever follows the last digit: it may hold a slash, which `number_and_unit` does not take.
    number = re.sub(r"[^0-9.,]+$", "", text)
    unit = text[len(number) :].strip()
    value, _ = number_and_unit(number or text, option, example)
    factor = units.get(unit) if unit else bare
    if factor is None:
        raise ConditionsError(
            "unit-unknown",
            f"{option} is {text!r}.",
            f"Its unit must be one of {', '.join(units)}.",
            f"Mend {option}, such as {example}.",
        )
    if value <= 0:
        raise ConditionsError(
            "size-not-positive",
            f"{option} is {text!r}.",
            "It must be above nought.",
            f"Mend {option}, such as {example}.",
        )
    return value * factor


def sizes(text: str, option: str, units: dict[str, float], example: str) -> tuple[float, ...]:
    """Return several sizes, separated by commas (decimal points only).  Raises ConditionsError."""
    return tuple(size(part, option, units, example) for part in text.split(",") if part.strip())


def span(text: str, option: str, example: str) -> tuple[float, float]:
    """Return lowest and highest of a range of plain numbers, such as 0.2-0.5; one number is both.

    Raises ConditionsError unless both are above nought and in order.
    """
    parts = re.split(r"\s*(?:[-–−]|to)\s*", text.strip())
    told = [number_and_unit(part or text, option, example) for part in parts]
    if len(told) > 2 or any(unit for _, unit in told) or not 0 < told[0][0] <= told[-1][0]:
        raise ConditionsError(
            "range-unreadable",
            f"{option} is {text!r}.",
            f"It must be a range of two plain numbers above nought, the lower one first, such as {example}.",
            f"Mend {option}.",
        )
    return told[0][0], told[-1][0]
