"""Where a function of one variable crosses zero, to the last digits of a float."""

from __future__ import annotations

from collections.abc import Callable

_MOST_STEPS = 200  # bisection alone needs about 60


def crossing(
    function: Callable[[float], float], low: float, high: float, *, at_low: float, at_high: float
) -> float:
    """Return the first float at or after the sign change of function in [low, high].

    at_low, at_high: the known values at both ends, of opposite sign (at_low may be 0).
    False position with the Illinois weighting (Dowell and Jarratt 1971, BIT 11, 168), kept from
    stalling by a bisection every fourth step.  The result has the sign of at_high, or is high.
    """
    weight_low, weight_high, kept = at_low, at_high, 0
    for step in range(_MOST_STEPS):
        middle = 0.5 * (low + high)
        if not low < middle < high or high - low <= 4e-16 * abs(high):
            break
        guess = high - weight_high * (high - low) / (weight_high - weight_low)
        guess = guess if low < guess < high and step % 4 < 3 else middle
        value = function(guess)
        if value == 0:
            return guess
        if (value > 0) == (at_high > 0):
            high, weight_high = guess, value
            weight_low = 0.5 * weight_low if kept == 1 else weight_low
            kept = 1
        else:
            low, weight_low = guess, value
            weight_high = 0.5 * weight_high if kept == -1 else weight_high
            kept = -1
    return high
