"""Where a falling function meets a target."""

from __future__ import annotations

from collections.abc import Callable


def falls_to(falling: Callable[[float], float], target: float, low: float, high: float) -> float:
    """Return where a falling, hollow function meets the target: its inverse is nearly straight (secant)."""
    for _ in range(100):
        at_low, at_high = 1 / falling(low), 1 / falling(high)
        between = low + (high - low) * (1 / target - at_low) / (at_high - at_low)
        if not low < between < high:
            between = (low + high) / 2
        value = falling(between)
        if abs(value / target - 1) < 1e-13 or high - low < 1e-14 * high:
            return between
        low, high = (between, high) if value > target else (low, between)
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > target else (low, middle)
    return (low + high) / 2
