"""Units of a table's columns: which are forces, which are times, which are neither."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from pullbench.model import FloatArray

Quantity = Literal["force", "mass", "time", "raw", "other"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = column value * times / over (N for forces, kg for masses, s for times).

    Two whole numbers instead of one factor, so that 20 mN and 0.02 N give the same float.
    """

    symbol: str
    quantity: Quantity
    times: float = 1.0
    over: float = 1.0

    def to_SI(self, values: FloatArray) -> FloatArray:
        """Return values of this unit in N, kg or s, same shape."""
        if self.times != 1.0:
            values = values * self.times
        return values / self.over if self.over != 1.0 else values


# Pound-force and kilogram-force: NIST SP 811 (2008), appendix B.8; the kip is 1000 lbf (same table).
# The ounce-force is a sixteenth of the pound-force, the dyne 1e-5 N.
_LBF_N = 4.4482216152605
_KGF_N = 9.80665
_UNITS: tuple[tuple[Unit, str], ...] = (
    (Unit("N", "force"), "N newton newtons Newton Newtons NEWTON"),
    (Unit("mN", "force", over=1e3), "mN millinewton millinewtons"),
    (Unit("µN", "force", over=1e6), "µN uN micronewton micronewtons"),
    (Unit("cN", "force", over=1e2), "cN centinewton"),
    (Unit("daN", "force", times=10.0), "daN decanewton"),
    (Unit("kN", "force", times=1e3), "kN KN kilonewton kilonewtons"),
    (Unit("dyn", "force", over=1e5), "dyn dyne dynes"),
    (Unit("gf", "force", times=_KGF_N, over=1e3), "gf GF gram-force gramforce pond"),
    (Unit("kgf", "force", times=_KGF_N), "kgf KGF Kgf kp kilogram-force kilopond"),
    (Unit("lbf", "force", times=_LBF_N), "lbf lb lbs LB LBS Lb Lbs LBF pound pounds pound-force"),
    (Unit("ozf", "force", times=_LBF_N, over=16.0), "ozf oz OZ ounce ounces"),
    (Unit("kip", "force", times=1e3 * _LBF_N), "kip kips kipf KIP"),
    (Unit("g", "mass", over=1e3), "g gram grams gramm gramme grammes grammi gramo gramos"),
    (Unit("kg", "mass"), "kg Kg KG kilogram kilograms kilogramm kilogramme kilo"),
    (Unit("s", "time"), "s S sec secs Sec second seconds Seconds sekunden sekunde seconde secondes segundos"),
    (Unit("ms", "time", over=1e3), "ms msec msecs mS millis millisecond milliseconds Millisekunden"),
    (Unit("µs", "time", over=1e6), "µs us usec µsec micros microsecond microseconds"),
    (Unit("ns", "time", over=1e9), "ns nsec nanosecond nanoseconds"),
    (Unit("min", "time", times=60.0), "min mins minute minutes minuten minuti minutos"),
)
_RAW = "V mV µV uV mV/V V/V µV/V counts digits adc ADC LSB raw"
_OTHER = (
    "m cm mm µm um km in inch ft m/s mm/s cm/s µm/s km/h in/s ft/s m/s² m/s^2 m/s2 mm/s² mm/s^2 m·s⁻² m/s/s "
    "m/s**2 rad rad/s ° deg °/s deg/s °C degC °F K C % bar mbar Pa hPa kPa MPa psi A mA W Hz kHz rpm 1/min "
    "1/s Nm N·m N*m N.m Nmm N/m N/mm kN/m N/kg J mJ Ω ohm kΩ dB dBm h"
)
_BY_WORD: dict[str, Unit] = {word: unit for unit, words in _UNITS for word in words.split()}
_BY_WORD |= {word: Unit(word, "raw") for word in _RAW.split()}
_BY_WORD |= {word: Unit(word, "other") for word in _OTHER.split()}
_BRACKETS = re.compile(r"[\[\](){}<>\"']+")
_CELL_TAG = re.compile(r"\s*[#_]?\d{1,2}$")


def unit_of(text: str) -> Unit | None:
    """Return the unit that a text such as "N", "[mN]" or "m/s²" names, or None."""
    word = _BRACKETS.sub("", text).strip().replace("μ", "µ")  # Greek mu to the micro sign
    return _BY_WORD.get(word) or _BY_WORD.get(word.replace(" ", ""))


@lru_cache(maxsize=256)
def glued_unit_of(text: str) -> Unit | None:
    """Return the unit glued to a number: "N" of "0.02 N", and of "0.02 N1" where 1 counts the cell."""
    return unit_of(text) or unit_of(_CELL_TAG.sub("", text))


def symbols(*quantities: Quantity) -> str:
    """Return the units of some quantities as one text for a person, such as "s, ms, µs"."""
    raw = ["mV/V", "mV", "V", "counts"] if "raw" in quantities else []
    return ", ".join([*dict.fromkeys(unit.symbol for unit, _ in _UNITS if unit.quantity in quantities), *raw])
