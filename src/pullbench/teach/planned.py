"""A planned lesson as values: loads, what to expect of them, advice.  All of it is simulated."""

from __future__ import annotations

from dataclasses import dataclass

from pullbench.teach.kit import Coefficients, Kit


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One load: its mass (sled and tins), the forces to be expected from lowest to highest coefficient.

    highest_N: with a strong pull of the scatter, overshoot included.  static_told, kinetic_told: share of
    the trials that told a value, None for a load that clips.
    """

    mass_kg: float
    static_N: tuple[float, float]
    kinetic_N: tuple[float, float]
    highest_N: float
    clips: bool
    static_told: float | None
    kinetic_told: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """A coefficient in the middle of its range, with the 95 % limits to expect; no limits if it stays hidden.

    half_width: relative.  readings: how many pulls tell a value.  scatter: of one reading, relative.
    """

    value: float
    half_width: float | None
    readings: int
    scatter: float | None

    @property
    def limits(self) -> tuple[float, float] | None:
        """Return the limits, or None."""
        if self.half_width is None:
            return None
        return self.value * (1 - self.half_width), self.value * (1 + self.half_width)


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to know or to change: a name and a sentence."""

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A planned lesson; all of it simulated.

    loads: lightest first, those that clip at the end.  pulls: with each load that does not clip.
    """

    kit: Kit
    coefficients: Coefficients
    loads: tuple[Load, ...]
    pulls: int
    static: Expected
    kinetic: Expected
    advice: tuple[Advice, ...]

    @property
    def used(self) -> tuple[Load, ...]:
        """Return the loads to use."""
        return tuple(load for load in self.loads if not load.clips)
