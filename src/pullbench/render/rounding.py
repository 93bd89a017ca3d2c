"""The only place that rounds: a result as people read it, with its plus or minus.

The rule: the half-width of the 95 % limits keeps one significant figure, or two when the first is a 1; the
value is rounded to the same decimal. JCGM 100:2008 (GUM), 7.2.6: an uncertainty to at most two significant
digits, an estimate "consistent with" its uncertainty, and an uncertainty may be rounded up rather than to
the nearest digit. Where the nearest digit would make the promise more than a tenth narrower than it is,
it is rounded up here. One figure rather than always two is the common practice of school laboratories.
Standard uncertainties in a budget keep two figures. Rounding is decimal, half to even (GUM and ISO 80000-1
annex B), done on the shortest decimal that stands for the float, so no float residue can show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from pullbench.model import Measured

MINUS = "\u2212"
FIGURES_WITHOUT_U = 3  # a bound that comes without an uncertainty
RESIDUE_FIGURES = 12  # 3.1999999999999997 is 3.2 before it may be rounded down
ASYMMETRY = 0.1  # limits off centre by more than this share of their half-width are both written


@dataclass(frozen=True, slots=True)
class Scale:
    """A unit as it is written, and its size in the unit of the result (mN: 0.001)."""

    unit: str
    size: float


def fixed(value: float, decimals: int, *, comma: bool = False, rounding: str = ROUND_HALF_EVEN) -> str:
    """Return value with so many decimals (below 0: tens, hundreds), a true minus and no minus before 0."""
    exact = Decimal(f"{value:.{RESIDUE_FIGURES}g}")
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), rounding=rounding)
    text = f"{abs(rounded):f}"
    sign = MINUS if rounded < 0 else ""
    return sign + (text.replace(".", ",") if comma else text)


def rounded_half_width(half_width: float, *, figures: int | None = None) -> tuple[Decimal, int]:
    """Return a half-width rounded by the rule of this module, and the decimals it then has.

    half_width: above 0.  figures: significant figures, when not the rule's one or two.
    """
    exact = Decimal(f"{half_width:.{RESIDUE_FIGURES}g}")
    leading = exact.as_tuple().digits[0]
    places = (figures or (2 if leading == 1 else 1)) - 1 - exact.adjusted()
    step = Decimal(1).scaleb(-places)
    rounded = exact.quantize(step, rounding=ROUND_HALF_EVEN)
    if rounded < exact * Decimal("0.9"):
        rounded = exact.quantize(step, rounding=ROUND_CEILING)
    # 0.0199 is 0.02 and 0.0098 is 0.01: rounded up past a figure's end, one figure is enough again
    past_its_end = rounded >= step * (20 if leading == 1 else 10)
    return rounded, places - 1 if figures is None and past_its_end else places


def half_width(measured: Measured) -> float | None:
    """Return half the distance between the 95 % limits, or None when one is open or there is no number."""
    low, high = measured.limits or (None, None)
    return None if low is None or high is None else (high - low) / 2


def scale_for(*measured: Measured) -> Scale:
    """Return the one scale in which all these forces read well: mN, N or kN; other units stay as they are.

    kN from 1000 N, if the uncertainty leaves it three decimals or fewer; mN below 0.1 N, if the uncertainty
    needs three decimals of a newton or more. So 3e-15 N ± 0.01 N stays in newtons.
    """
    unit = measured[0].unit if measured else "N"
    told = [m for m in measured if m.value is not None and m.unit == "N"]
    if not told:
        return Scale("" if unit == "1" else unit, 1.0)
    largest = max(abs(m.value or 0.0) for m in told)
    decimals = max(_decimals(m) for m in told)
    if largest >= 1000.0 and decimals <= 0:
        return Scale("kN", 1000.0)
    if largest < 0.1 and decimals >= 3:
        return Scale("mN", 0.001)
    return Scale("N", 1.0)


def plus_minus(
    measured: Measured, *, comma: bool = False, short: bool = False, scale: Scale | None = None
) -> str:
    """Return the result as people read it.

    "2.87 N ± 0.03 N" (short: "2.87 N ± 0.03"), "0.31 ± 0.02", "2.87 N, between 2.80 and 2.99" when the
    value is not in the middle of its limits, "at least 3.21 N", "at most 0.4 N", "cannot tell". A bound is
    rounded to its own safe side: at least 3.219 is at least 3.21.
    scale: from scale_for, when several results share one.  comma: decimal comma.
    """
    if measured.value is None:
        return "cannot tell"
    scale = scale or scale_for(measured)
    low, high = measured.limits or (None, None)
    if measured.kind == "value" and low is not None and high is not None:
        return _two_sided(measured.value, low, high, scale, comma, short)
    if measured.kind == "upper bound" or (measured.kind == "value" and low is None):
        return f"at most {_bound(measured, high, ROUND_CEILING, scale, comma)}"
    return f"at least {_bound(measured, low, ROUND_FLOOR, scale, comma)}"


def half_width_text(measured: Measured, *, comma: bool = False, scale: Scale | None = None) -> str:
    """Return the plus or minus alone, "± 0.03 N", or "bound" or "cannot tell" where there is none."""
    half = half_width(measured)
    if half is None:
        return "cannot tell" if measured.value is None else "bound"
    scale = scale or scale_for(measured)
    if half <= 0:
        return _with_unit("± 0", scale)
    rounded, decimals = rounded_half_width(half / scale.size)
    return _with_unit(f"± {fixed(float(rounded), decimals, comma=comma)}", scale)


def doubt(u: float, *, comma: bool = False, scale: Scale) -> str:
    """Return a standard uncertainty of a budget to two significant figures, with its unit ("0.022 N")."""
    return _with_unit(figures_of(u / scale.size, comma=comma), scale)


def doubts(us: Sequence[float], *, comma: bool = False, scale: Scale) -> list[str]:
    """Return the standard uncertainties of one budget to the same decimal: two figures for the largest.

    One that would then read as nothing keeps a figure of its own.
    """
    sizes = [u / scale.size for u in us]
    largest = max(sizes, default=0.0)
    if not 0 < largest < math.inf:
        return [_with_unit("0", scale) for _ in us]
    places = 1 - Decimal(f"{largest:.1e}").adjusted()
    texts = []
    for size in sizes:
        own = -math.floor(math.log10(size)) if size > 0 else places
        decimals = max(places, own) if size < 0.5 * 10.0**-places else places
        texts.append(_with_unit(fixed(size, decimals, comma=comma), scale))
    return texts


def figures_of(number: float, *, comma: bool = False) -> str:
    """Return a number of 0 or more to two significant figures."""
    if not 0 < number < math.inf:
        return "0"
    exact = Decimal(f"{number:.1e}")
    return fixed(float(exact), 1 - exact.adjusted(), comma=comma)


def percent(share: float) -> str:
    """Return a share of 1 in whole percent; "under 1 %" where it would read as nothing."""
    if 0 < share < 0.005:
        return "under 1 %"
    return f"{fixed(100 * share, 0)} %"


def seconds(time_s: float, decimals: int = 2, *, comma: bool = False) -> str:
    """Return a time or a duration with its unit."""
    return f"{fixed(time_s, decimals, comma=comma)} s"


def _two_sided(value: float, low: float, high: float, scale: Scale, comma: bool, short: bool) -> str:
    half = (high - low) / 2 / scale.size
    if half <= 0:
        return f"{_with_unit(_plain(value / scale.size, comma), scale)} ± 0"
    if abs(value - (low + high) / 2) > ASYMMETRY * (high - low) / 2:
        leading = Decimal(f"{half:.{RESIDUE_FIGURES}g}").as_tuple().digits[0]
        _, decimals = rounded_half_width(half, figures=2 if leading == 1 else 1)
        written = fixed(value / scale.size, decimals, comma=comma)
        floor = fixed(low / scale.size, decimals, comma=comma, rounding=ROUND_FLOOR)
        ceiling = fixed(high / scale.size, decimals, comma=comma, rounding=ROUND_CEILING)
        return f"{_with_unit(written, scale)}, between {floor} and {ceiling}"
    rounded, decimals = rounded_half_width(half)
    written = _with_unit(fixed(value / scale.size, decimals, comma=comma), scale)
    plus = fixed(float(rounded), decimals, comma=comma)
    return f"{written} ± {plus}" if short else f"{written} ± {_with_unit(plus, scale)}"


def _bound(measured: Measured, bound: float | None, rounding: str, scale: Scale, comma: bool) -> str:
    number = (measured.value or 0.0) if bound is None else bound
    decimals = _decimals(measured) + round(math.log10(scale.size))
    return _with_unit(fixed(number / scale.size, decimals, comma=comma, rounding=rounding), scale)


def _decimals(measured: Measured) -> int:
    """Return the decimals, in the result's own unit, that its uncertainty allows."""
    half = half_width(measured)
    if half is None and measured.standard_uncertainty:
        half = 2 * measured.standard_uncertainty
    if half is not None and half > 0:
        return rounded_half_width(half)[1]
    size = abs(measured.value or 0.0)
    return FIGURES_WITHOUT_U - 1 - math.floor(math.log10(size)) if size > 0 else 0


def _plain(value: float, comma: bool) -> str:
    size = Decimal(f"{value:.6g}").normalize()
    exponent = size.as_tuple().exponent
    return fixed(value, max(0, -int(exponent)), comma=comma)


def _with_unit(text: str, scale: Scale) -> str:
    return f"{text} {scale.unit}" if scale.unit else text
