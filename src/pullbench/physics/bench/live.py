"""A sled that moves while its hand is still being steered: for the eye, a millisecond at a time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.rig import Bench, law_numbers, sled_numbers
from pullbench.physics.bench.step import step, tension_N

_STEP_S = 1e-3


@dataclass(slots=True)
class LiveSled:
    """Where a sled is and whether it slides, as far as its hand has come.

    Made for showing: breaks and stops fall on whole milliseconds, the surface is even, a rider does not
    slip.  What is read in the end comes from `simulate`.
    """

    bench: Bench
    time_s: float = 0.0
    position_m: float = 0.0
    velocity_m_s: float = 0.0
    direction: float = 0.0
    pull_N: float = 0.0
    stretch_m: float = 0.0

    @property
    def sliding(self) -> bool:
        """Return whether the sled slides."""
        return self.direction != 0

    def advance(self, hand: Hand, until_s: float) -> None:
        """Follow the hand until this time; its movement up to now must not have changed."""
        steps = int((until_s - self.time_s) / _STEP_S)
        if steps < 1:
            return
        halves_s = np.asarray(self.time_s + np.arange(2 * steps + 1) * (0.5 * _STEP_S), dtype=np.float64)
        places_m, speeds_m_s = (row.tolist() for row in hand.motion(halves_s))
        for i in range(0, 2 * steps, 2):
            self._one(
                (
                    places_m[i],
                    speeds_m_s[i],
                    places_m[i + 1],
                    speeds_m_s[i + 1],
                    places_m[i + 2],
                    speeds_m_s[i + 2],
                )
            )
        self.time_s += steps * _STEP_S
        along = sled_numbers(self.bench)[3]
        self.stretch_m = max(0.0, places_m[-1] - self.position_m * along)

    def _one(self, hands: tuple[float, float, float, float, float, float]) -> None:
        sled, law = sled_numbers(self.bench), law_numbers(self.bench.law)
        _, stiffness, damping, along, lift, pressing, downhill = sled
        if not self.direction:
            need_N = self.pull_N * along - downhill
            holding = self.bench.law.holding(self.bench.contact_s + self.time_s, self.bench.law.fresh)
            if abs(need_N) > holding * (pressing - self.pull_N * lift):
                self.direction = 1.0 if need_N > 0 else -1.0
        if self.direction:
            fresh = self.bench.law.fresh
            x, v, _ = step(
                self.position_m, self.velocity_m_s, fresh, _STEP_S, hands, self.direction, 1.0, sled, law
            )
            if v * self.direction > 0:
                self.position_m, self.velocity_m_s = x, v
            else:
                self.velocity_m_s = self.direction = 0.0
        stretch_m = hands[4] - self.position_m * along
        self.pull_N = tension_N(stretch_m, hands[5] - self.velocity_m_s * along, stiffness, damping)
