"""A pull that was caught, before its rest after is complete."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(slots=True)
class Caught:
    """A pull that was caught, as beat numbers.

    start: last beat at rest (or the first of the recording).  near: first beat back near rest (or the
    first that is cut off); it moves when the let-go turns out to have another step.  rest_N: before.
    """

    start: int
    near: int
    side: int
    rest_N: float
    noise_N: float
    height_N: float
    cut_start: bool
    cut_end: bool
