"""Two pulls side by side: how much more one took than the other, as far as these two tell."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from pullbench.model import Measured
from pullbench.render.card import Card
from pullbench.render.told import NEWTONS, Told, told

THESE_TWO = "Of these two pulls alone: repeats of one pull scatter too."
_NAMES = {"breakaway": "static maximum", "kinetic": "kinetic level"}


class DifferenceCard(msgspec.Struct, frozen=True, kw_only=True):
    """A later pull less the first one: in words, with the pieces of its number."""

    quantity: str
    pull: int
    less: int
    sentence: str
    told: Told


def differences(cards: Sequence[Card]) -> tuple[DifferenceCard, ...]:
    """Return how the second and further pulls differ from the first, in both forces.

    Limits are combined in quadrature: each pull has rest readings of its own, so their doubts are independent;
    what both share (the force scale) is a far smaller share of a small difference.
    """
    first, *others = cards
    return tuple(_one(first, other, name) for other in others for name in _NAMES)


def _one(first: Card, other: Card, name: str) -> DifferenceCard:
    was: Told = getattr(first, name)
    now: Told = getattr(other, name)
    shown = told(_difference(was, now), scale=NEWTONS)
    words = f"{_NAMES[name]}: pull {other.number} − pull {first.number}"
    if shown.value is None or shown.low is None or shown.high is None:
        sentence = f"{words} cannot be told: {shown.reason}."
    elif shown.low > 0 or shown.high < 0:
        sentence = (
            f"{words} = {shown.whole}: pull {other.number if shown.low > 0 else first.number} took more."
        )
    else:
        sentence = f"{words} = {shown.whole}: they cannot be told apart."
    return DifferenceCard(quantity=name, pull=other.number, less=first.number, sentence=sentence, told=shown)


def _difference(was: Told, now: Told) -> Measured:
    both = (was, now)
    if any(one.kind != "value" or one.value is None or one.low is None or one.high is None for one in both):
        return Measured.cannot_tell("one of them has no value", unit="N")
    difference_N = (now.value or 0.0) - (was.value or 0.0)
    half_N = math.hypot(*(((one.high or 0.0) - (one.low or 0.0)) / 2 for one in both))
    return Measured(
        kind="value", value=difference_N, standard_uncertainty=half_N / 1.96,
        limits=(difference_N - half_N, difference_N + half_N), unit="N",
    )  # fmt: skip
