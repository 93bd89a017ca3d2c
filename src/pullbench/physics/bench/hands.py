"""Hands as data: how the end of the string moves while somebody pulls a sled.

A hand's position (m, along the string; 0 is just taut with the sled where it started) is the
integral of a speed that is linear between knots, plus a few dozen small sine waves for tremor.  So
position and speed are known exactly at every instant.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.model.arrays import frozen


@dataclass(frozen=True, slots=True, eq=False)
class Hand:
    """A movement: start_m, the knots of its speed (knot_s from 0, knot_m_s), and the waves on top.

    knot_s, knot_m_s: shape (n,), n >= 2, times strictly increasing.  wave_Hz, wave_m, wave_rad:
    shape (w,), frequency, amplitude and phase of each wave.  Before and after the knots it stands still.
    """

    name: str
    start_m: float
    knot_s: FloatArray
    knot_m_s: FloatArray
    wave_Hz: FloatArray
    wave_m: FloatArray
    wave_rad: FloatArray

    def __post_init__(self) -> None:
        for field in ("knot_s", "knot_m_s", "wave_Hz", "wave_m", "wave_rad"):
            array = frozen(getattr(self, field))
            object.__setattr__(self, field, array)
            if array.ndim != 1 or not np.all(np.isfinite(array)):
                raise _impossible(f"{field} of hand {self.name!r}", "a row of finite numbers")
        if self.knot_s.size < 2 or self.knot_s.size != self.knot_m_s.size:
            raise _impossible(f"hand {self.name!r}", "at least two knots, a speed for each time")
        if self.knot_s[0] != 0 or np.any(np.diff(self.knot_s) <= 0):
            raise _impossible(f"knot_s of hand {self.name!r}", "times that rise from 0 s")
        if not self.wave_Hz.size == self.wave_m.size == self.wave_rad.size:
            raise _impossible(f"waves of hand {self.name!r}", "a frequency, an amplitude and a phase each")

    @classmethod
    def through(
        cls, knots: Sequence[tuple[float, float]], *, name: str = "own", start_m: float = 0.0
    ) -> Hand:
        """Return a steady hand through these knots of (time in s, speed in m/s)."""
        times_s, speeds_m_s = np.array(knots, dtype=np.float64).reshape(-1, 2).T
        none = np.zeros(0)
        return cls(name, start_m, times_s, speeds_m_s, none, none, none)

    @classmethod
    def at_constant_speed(cls, speed_m_s: float, duration_s: float, *, start_m: float = 0.0) -> Hand:
        """Return a motor that has this speed from the first instant, with no rest and no letting go."""
        return cls.through(
            [(0.0, speed_m_s), (duration_s, speed_m_s)], name="constant speed", start_m=start_m
        )

    @property
    def duration_s(self) -> float:
        """Return the time of the last knot."""
        return float(self.knot_s[-1])

    def position_m(self, time_s: FloatArray) -> FloatArray:
        """Return the position at each time, same shape as time_s."""
        return self.motion(time_s)[0]

    def speed_m_s(self, time_s: FloatArray) -> FloatArray:
        """Return the speed at each time, same shape as time_s."""
        return self.motion(time_s)[1]

    def at(self, time_s: float) -> tuple[float, float]:
        """Return position (m) and speed (m/s) at one instant."""
        position_m, speed_m_s = self.motion(np.array([time_s]))
        return float(position_m[0]), float(speed_m_s[0])

    def motion(self, time_s: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return position and speed at each time, both of the shape of time_s."""
        position, speed = self._strokes(time_s)
        for frequency_Hz, amplitude_m, phase in zip(self.wave_Hz, self.wave_m, self.wave_rad, strict=True):
            angle = 2 * math.pi * frequency_Hz * time_s + phase
            position = position + amplitude_m * np.sin(angle)
            speed = speed + 2 * math.pi * frequency_Hz * amplitude_m * np.cos(angle)
        return position, speed

    def motion_on_grid(self, step_s: float, count: int) -> tuple[FloatArray, FloatArray]:
        """Return position and speed at count times, every step_s from 0: `motion`, ten times as fast.

        The waves are turned on by whole blocks, sin(ω (t_block + t)) by the sum of two angles: a
        few hundred sines stand for tens of thousands.  Agrees with `motion` to rounding.
        """
        time_s = np.asarray(np.arange(count) * step_s, dtype=np.float64)
        position, speed = self._strokes(time_s)
        if self.wave_Hz.size:
            block = math.isqrt(count) + 1
            omega = 2 * math.pi * self.wave_Hz
            starts_s = np.arange(-(-count // block)) * (block * step_s)
            turned = np.outer(starts_s, omega) + self.wave_rad
            sine, cosine = np.sin(turned) * self.wave_m, np.cos(turned) * self.wave_m
            within = np.outer(omega, np.arange(block) * step_s)
            inside = np.concatenate((np.cos(within), np.sin(within)))
            # einsum rather than @: a threaded product is slower where others use the same cores.
            sway = np.einsum("bw,wk->bk", np.hstack((sine, cosine)), inside)
            pace = np.einsum("bw,wk->bk", np.hstack((cosine * omega, -sine * omega)), inside)
            position, speed = position + sway.ravel()[:count], speed + pace.ravel()[:count]
        return position, speed

    def _strokes(self, time_s: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return position and speed without the waves."""
        # Summed at knots in the same order for one instant or many: the digits must not depend on it.
        steps_s = np.diff(self.knot_s)
        areas_m = 0.5 * (self.knot_m_s[1:] + self.knot_m_s[:-1]) * steps_s
        at_knots_m = self.start_m + np.concatenate([[0.0], np.cumsum(areas_m)])
        inside_s = np.clip(time_s, 0.0, self.knot_s[-1])
        left = np.clip(np.searchsorted(self.knot_s, inside_s, side="right") - 1, 0, steps_s.size - 1)
        since_s = inside_s - self.knot_s[left]
        slope = (np.diff(self.knot_m_s) / steps_s)[left]
        speed = self.knot_m_s[left] + slope * since_s
        position = at_knots_m[left] + since_s * (self.knot_m_s[left] + 0.5 * slope * since_s)
        return position, speed


def _impossible(what: str, allowed: str) -> BenchError:
    return BenchError(
        "hand-impossible",
        f"The {what} cannot be used.",
        f"It must be {allowed}.",
        "Check the times and speeds of the movement.",
    )
