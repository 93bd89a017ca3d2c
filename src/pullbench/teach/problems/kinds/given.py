"""Given values whose printed form is the value used, and the coefficients every kind starts from."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, PairFriction

GRAVITY = Given("g", 9.81, "N/kg", 3)


def exact(symbol: str, value: float, unit: str, *, decimals: int = 0) -> Given:
    """Return a given value with as many figures as it has, at least two, and at least so many decimals."""
    mantissa, power = f"{value:.10e}".split("e")
    figures = mantissa.replace(".", "").lstrip("-").rstrip("0")
    return Given(symbol, value, unit, max(2, len(figures), int(power) + 1 + decimals if decimals else 0))


def drawn(draw: np.random.Generator, symbol: str, low: float, high: float, step: float, unit: str) -> Given:
    """Return a given value between low and high in whole steps, such as 0.05 kg."""
    steps = int(draw.integers(round(low / step), round(high / step) + 1))
    return exact(symbol, round(steps * step, 6), unit)


def coefficients(pair: PairFriction) -> tuple[Given, Given]:
    """Return both coefficients of a pair as they are printed."""
    return exact("mu_s", pair.mu_s, "1"), exact("mu_k", pair.mu_k, "1")
