"""A result cut into the pieces that a page sets in type: number, plus or minus, unit, and the whole wording."""

from __future__ import annotations

import msgspec

from pullbench.model import Measured
from pullbench.render.rounding import MINUS, Scale, half_width_text, plus_minus, scale_for

NEWTONS = Scale("N", 1.0)


class Told(msgspec.Struct, frozen=True, kw_only=True):
    """A result as people read it.

    text: the number, a bound's number for a bound, None when it cannot be told.  plus_minus: None unless the
    limits lie evenly about the value.  value, low, high: SI, unrounded.  whole: the finished wording.
    """

    kind: str
    text: str | None
    plus_minus: str | None
    unit: str
    value: float | None
    low: float | None
    high: float | None
    reason: str | None
    whole: str


def told(measured: Measured, *, scale: Scale | None = None) -> Told:
    """Return the pieces of a result, rounded by the one rule there is."""
    scale = scale or scale_for(measured)
    whole = plus_minus(measured, scale=scale, short=True)
    low, high = measured.limits or (None, None)
    text = None if measured.value is None else _number(whole, scale)
    even = text is not None and measured.kind == "value" and "±" in whole
    return Told(
        kind=measured.kind,
        text=text,
        plus_minus=_number(half_width_text(measured, scale=scale), scale).removeprefix("± ")
        if even
        else None,
        unit=scale.unit,
        value=_plain(measured.value),
        low=_plain(low),
        high=_plain(high),
        reason=measured.reason,
        whole=whole,
    )


def _number(whole: str, scale: Scale) -> str:
    """Return the number at the head of a wording, without its bound words, its unit and what follows."""
    head = whole.removeprefix("at least ").removeprefix("at most ")
    head = head.split(", between")[0]
    if not head.startswith("±"):
        head = head.split(" ±")[0]
    return head.removesuffix(f" {scale.unit}") if scale.unit else head


def _plain(value: float | None) -> float | None:
    return None if value is None else float(value) + 0.0


def spoken_number(text: str) -> str:
    """Return a written number as a voice should say it: a true minus sign is not read out by all voices."""
    return text.replace(MINUS, "minus ")
