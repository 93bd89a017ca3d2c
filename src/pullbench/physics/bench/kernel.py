"""The inner loop of the bench, interpreted or compiled.

Both are the same source, `step.slide`: the extra `fast` brings numba, which turns it into machine code.
They agree to rounding, but the last digit may differ from machine to machine: so the bench takes
the interpreted loop unless it is handed `compiled()`, and an invented day has the same digits everywhere.

How much faster (`python -m benchmarks.kernel`, one machine): 60 times where the coefficient is constant, 15-22
times where it depends on speed.  There a step of 1.7 µs would have to take 34 ns for 50 times, but its four
stages ask for an exponential (8.7 ns) or a logarithm (10.2 ns) each, every one of which waits for the stage before:
35-50 ns in machine code already.  An exponential written into the loop instead of called was no faster.
"""

from __future__ import annotations

from collections.abc import Callable, MutableSequence
from functools import cache
from typing import Any, NamedTuple

from pullbench.model import FloatArray
from pullbench.physics.bench import step

# Fused products and no care for NaN (inputs are checked): last digits only, no reordered sums.
_ROUNDING_ONLY = {"contract", "nnan", "ninf", "nsz", "arcp"}


class Kernel(NamedTuple):
    """The loop, and the kind of row it works on (lists when interpreted: twice as fast as arrays there)."""

    name: str
    slide: Callable[..., int]
    row: Callable[[FloatArray], MutableSequence[float]]


def _as_list(values: FloatArray) -> MutableSequence[float]:
    row: list[float] = values.tolist()
    return row


def _as_array(values: FloatArray) -> Any:
    return values


INTERPRETED = Kernel("interpreted", step.slide, _as_list)
"""The loop as Python runs it: always there."""


@cache
def compiled() -> Kernel | None:
    """Return the compiled loop, or None where numba is missing.  The first call on a machine takes seconds."""
    try:
        from numba import njit
        from numba.extending import register_jitable
    except ImportError:
        return None
    for called in (
        step.tension_N, step.remembered, step.at_speed, step.acceleration, step.next_state, step.step, step.patch_at,
    ):  # fmt: skip
        register_jitable(called)
    options: dict[str, Any] = {"error_model": "numpy", "fastmath": _ROUNDING_ONLY}
    try:
        slide = njit(cache=True, **options)(step.slide)
    except RuntimeError:  # nowhere to keep the compiled code: compile it anew every time
        slide = njit(**options)(step.slide)
    return Kernel("compiled", slide, _as_array)


def fastest() -> Kernel:
    """Return the compiled loop where there is one, else the interpreted one: for thousands of pulls."""
    return compiled() or INTERPRETED
