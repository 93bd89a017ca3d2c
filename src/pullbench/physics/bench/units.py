"""Sizes with units, as a description of a bench writes them: "1.35 kg", "1,5 kN/m", "5 mm"."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

_SIZE = re.compile(r"\s*([-+−]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(\S.*?)?\s*")


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: its units with their size in SI, and an example of how it is written.

    plain: a bare number is allowed, and means SI.
    """

    units: Mapping[str, float]
    example: str
    plain: bool = False


def _of(example: str, units: dict[str, float], *, plain: bool = False) -> Dimension:
    return Dimension(MappingProxyType(units), example, plain)


MASS = _of("1.35 kg", {"kg": 1.0, "g": 1e-3, "lb": 0.45359237})
LENGTH = _of("5 mm", {"m": 1.0, "cm": 1e-2, "mm": 1e-3})
TIME = _of("2 s", {"s": 1.0, "ms": 1e-3, "min": 60.0})
FORCE = _of("50 N", {"N": 1.0, "mN": 1e-3, "kN": 1e3})
SPEED = _of("4 cm/s", {"m/s": 1.0, "cm/s": 1e-2, "mm/s": 1e-3})
STIFFNESS = _of("1.5 kN/m", {"N/m": 1.0, "kN/m": 1e3, "N/mm": 1e3, "N/cm": 1e2})
DAMPING = _of("12 N s/m", {"N s/m": 1.0, "N*s/m": 1.0, "N·s/m": 1.0, "Ns/m": 1.0})
ANGLE = _of("5 deg", {"deg": 1.0, "°": 1.0, "rad": math.degrees(1.0)})
ACCELERATION = _of("9.81 m/s²", {"m/s²": 1.0, "m/s2": 1.0, "m/s^2": 1.0})
RATE = _of("80 /s", {"/s": 1.0, "Hz": 1.0, "per second": 1.0, "1/s": 1.0})
FORCE_RATE = _of("0.2 mN/s", {"N/s": 1.0, "mN/s": 1e-3})
PER_SPEED = _of("0.1 s/m", {"s/m": 1.0})
PURE = _of("0.35", {"": 1.0, "%": 1e-2}, plain=True)


def size(value: object, dimension: Dimension) -> float:
    """Return a size in SI units (angles in degrees).

    value: a text with its unit, or a number where the dimension needs none.  Raises ValueError whose
    text says what is allowed.
    """
    known = ", ".join(unit or "no unit" for unit in dimension.units)
    allowed = f"It must be one number with a unit ({known}), such as {_quoted(dimension)}."
    if isinstance(value, int | float) and not isinstance(value, bool):
        if not dimension.plain:
            raise ValueError(allowed)
        number, unit = float(value), ""
    else:
        match = _SIZE.fullmatch(value) if isinstance(value, str) else None
        if match is None:
            raise ValueError(allowed)
        number, unit = float(match[1].replace(",", ".").replace("−", "-")), match[2] or ""
    if unit not in dimension.units or not math.isfinite(number):
        raise ValueError(allowed)
    return number * dimension.units[unit]


def _quoted(dimension: Dimension) -> str:
    return dimension.example if dimension.plain else f'"{dimension.example}"'
