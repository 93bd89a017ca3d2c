"""Numbers with units as a person types them: 1.35kg, 13.2N, 5deg."""

from __future__ import annotations

import math
import re

from pullbench.errors import ConditionsError

MASSES_KG = {"kg": 1.0, "g": 1e-3, "lb": 0.45359237}
FORCES_N = {"N": 1.0, "mN": 1e-3, "kN": 1e3, "kgf": 9.80665, "gf": 9.80665e-3, "lbf": 4.4482216152605}


def number_and_unit(text: str, option: str, example: str) -> tuple[float, str]:
    """Return value and unit of a text such as "1,35 kg"; a decimal comma is a decimal point.

    Raises ConditionsError when there is no finite number.
    """
    match = re.fullmatch(r"\s*([-+−]?[0-9]*[.,]?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*([A-Za-z°µ]*)\s*", text)
    if match is None or not math.isfinite(float(match[1].replace(",", ".").replace("−", "-"))):
        raise ConditionsError(
            "quantity-unreadable",
            f"{option} is {text!r}.",
            f"It must be one number and its unit, such as {example}.",
            f"Mend {option}.",
        )
    return float(match[1].replace(",", ".").replace("−", "-")), match[2]


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
