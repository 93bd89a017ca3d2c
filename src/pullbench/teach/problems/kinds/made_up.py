"""Readings of a made-up pull near the pair's own coefficients, so that each version has its own answer."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from pullbench.model.problem import Given, PairFriction
from pullbench.teach.problems.kinds.given import GRAVITY, drawn, exact

TOLD_APART = 0.06  # a little more than the maker asks for
SPREAD = 0.12  # half width: about what another hand, floor or day changes


def near(
    draw: np.random.Generator, symbol: str, value: float, unit: str, spread: float = SPREAD, figures: int = 3
) -> Given:
    """Return a value within a share of another, with so many significant figures as a reading has."""
    reading = float(f"{value * draw.uniform(1 - spread, 1 + spread):.{figures - 1}e}")
    return exact(symbol, reading, unit)


def apart(right: float, wrong: Mapping[str, float]) -> dict[str, float]:
    """Return the wrong answers that can be told from the right one with these numbers.

    Left out here, such as N = m g on a board that is hardly tilted, they do not drive the draws to other numbers.
    """
    return {
        idea: value for idea, value in wrong.items() if not math.isclose(value, right, rel_tol=TOLD_APART)
    }


def loaded_sled(draw: np.random.Generator) -> tuple[Given, Given]:
    """Return a sled of 0.30 to 0.90 kg and a load of 0.6 to 3.0 kg, weighed to ten grams."""
    return drawn(draw, "m_sled", 0.30, 0.90, 0.01, "kg"), drawn(draw, "m_load", 0.60, 3.00, 0.01, "kg")


def breakaway(draw: np.random.Generator, pair: PairFriction, mass_kg: float, symbol: str) -> Given:
    """Return the reading of a breakaway pull on the level, near that of the pair."""
    return near(draw, symbol, pair.mu_s * mass_kg * GRAVITY.value, "N")
