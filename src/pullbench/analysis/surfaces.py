"""What may be compared: surfaces with names of their own, finite values, coefficients a pair can have."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pullbench.errors import ConditionsError
from pullbench.model import Quantity, Surface, SurfacePull

LOWEST_MU, HIGHEST_MU = 0.01, 3.0  # outside, a unit or a load is wrong far more often than the pair is rare
QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")


def check_surfaces(surfaces: Sequence[Surface], *, margin: float | None, unlikely: bool) -> None:
    """Refuse what cannot be compared, with a ConditionsError each; returns nothing.

    unlikely: coefficients below 0.01 or above 3 are meant.
    """
    if len(surfaces) < 2:
        raise ConditionsError(
            "one-surface-only", f"There is only {_names(surfaces) or 'no surface'} to compare.",
            "A comparison needs two surfaces or more.", "Add another, such as felt=c.csv.",
        )  # fmt: skip
    check_names([s.name for s in surfaces], "surface")
    if len({s.unit for s in surfaces}) > 1:
        raise ConditionsError(
            "units-mixed", "Some surfaces are in newtons and some are coefficients.",
            "All must be one or the other.", "Give --load, so that forces become coefficients.",
        )  # fmt: skip
    if not any(told(s, quantity)[0] for s in surfaces for quantity in QUANTITIES):
        raise ConditionsError(
            "no-value", "No pull gave a value that counts.", "Each surface needs pulls that broke away or slid.",
            "See with pullbench read why these did not.",
        )  # fmt: skip
    for surface in surfaces:
        for quantity in QUANTITIES:
            for value in told(surface, quantity, with_aside=True)[0]:
                check_value(value, f"{quantity} of {surface.name}", surface.unit, unlikely=unlikely)
    if margin is not None:
        check_margin(margin, surfaces)


def check_names(names: Sequence[str], what: str) -> None:
    """Refuse two of one name, or none at all, with a ConditionsError."""
    double = (
        next((n for n in names if list(names).count(n) > 1), None) if len(set(names)) < len(names) else None
    )
    if double is not None:
        raise ConditionsError(
            "names-equal", f"Two have the name {double!r}.", f"Each {what} needs a name of its own.",
            "Rename one of them, or put its pulls into the other.",
        )  # fmt: skip
    if not all(name.strip() for name in names):
        raise ConditionsError(
            "name-missing", f"A {what} has no name.", f"Each {what} needs a name of its own.", "Write one."
        )


def check_value(value: float, what: str, unit: str, *, unlikely: bool) -> None:
    """Refuse a value that is not finite or above nought, and ask about a coefficient hardly any pair has."""
    if not math.isfinite(value) or value <= 0:
        raise ConditionsError(
            "value-not-positive", f"A {what} is {value:g}{'' if unit == '1' else ' ' + unit}.",
            "It must be a finite number above nought.", "Leave it blank where a pull did not tell it.",
        )  # fmt: skip
    if unit == "1" and not unlikely and not LOWEST_MU <= value <= HIGHEST_MU:
        raise ConditionsError(
            "coefficient-doubtful", f"A {what} is {value:.3g}.",
            f"Coefficients lie between {LOWEST_MU:g} and {HIGHEST_MU:g} for nearly every pair.",
            "Is the load in kilograms, sled included, and the force in newtons? If it is meant, add --sure.",
        )  # fmt: skip


def check_margin(margin: float, surfaces: Sequence[Surface]) -> None:
    """Refuse a margin that is no width, or one in which any two surfaces would be the same."""
    if not 0 < margin < math.inf:
        raise ConditionsError(
            "margin-not-positive", f"The margin is {margin:g}.", "It must be a finite number above nought.",
            "Choose beforehand which difference would not matter, such as --margin 0.02.",
        )  # fmt: skip
    means = [sum(v) / len(v) for s in surfaces for q in QUANTITIES if (v := told(s, q)[0])]
    if means and margin >= min(means):
        raise ConditionsError(
            "margin-too-wide", f"The margin is {margin:g}, and the smallest mean is {min(means):.3g}.",
            "A margin must be well below what is compared: here everything would be the same.",
            "Choose a smaller --margin, in the same unit as the values.",
        )  # fmt: skip


def told(
    surface: Surface, quantity: Quantity, *, with_aside: bool = False
) -> tuple[list[float], list[float]]:
    """Return the values of one quantity that count, and their own standard uncertainties."""
    pairs = [_one(pull, quantity) for pull in counted(surface, with_aside=with_aside)]
    known = [(value, u) for value, u in pairs if value is not None]
    return [value for value, _ in known], [u for _, u in known]


def counted(surface: Surface, *, with_aside: bool = False) -> Iterator[SurfacePull]:
    """Yield the pulls that count: all but those set aside, or all."""
    yield from (pull for pull in surface.pulls if with_aside or pull.set_aside is None)


def _one(pull: SurfacePull, quantity: Quantity) -> tuple[float | None, float]:
    return (pull.static, pull.u_static) if quantity == "static" else (pull.kinetic, pull.u_kinetic)


def _names(surfaces: Sequence[Surface]) -> str:
    return ", ".join(repr(surface.name) for surface in surfaces)
