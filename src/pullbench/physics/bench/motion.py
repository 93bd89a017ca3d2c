"""The sled's history while it is being made: stick and slip in turn on a grid of times."""

from __future__ import annotations

import math
from collections.abc import Callable, MutableSequence
from dataclasses import dataclass, field

import numpy as np

from pullbench.model import FloatArray
from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.instants import asked_singly
from pullbench.physics.bench.kernel import Kernel
from pullbench.physics.bench.rider import AT_REST, Motion, Pair
from pullbench.physics.bench.rig import Bench, law_numbers, patches, sled_numbers
from pullbench.physics.bench.roots import crossing
from pullbench.physics.bench.step import patch_at, step, tension_N
from pullbench.physics.bench.truth import Slip
from pullbench.physics.plane import pull_needed_N

_BLOCK = 4096  # grid points of sticking looked at together


def simulation_of(
    bench: Bench, hand: Hand, end: int, h: float, rng: np.random.Generator | None, kernel: Kernel
) -> Simulation:
    """Return a simulation of end steps of h seconds, ready to run."""
    positions_m, speeds_m_s = hand.motion_on_grid(0.5 * h, 2 * end + 1)
    factors, spacing_m = patches(bench, 1.5 * float(np.ptp(positions_m)) + 0.05, rng)
    return Simulation(
        bench=bench,
        hand_at=asked_singly(hand),
        end=end,
        h=h,
        hand_m=positions_m,
        hand_m_s=speeds_m_s,
        hand_row=kernel.row(positions_m),
        hand_speed_row=kernel.row(speeds_m_s),
        kernel=kernel,
        patch_factors=kernel.row(factors),
        patch_spacing_m=spacing_m,
        xs=kernel.row(np.zeros(end + 1)),
        vs=kernel.row(np.zeros(end + 1)),
        states=kernel.row(np.full(end + 1, bench.law.fresh)),
    )


@dataclass(slots=True, kw_only=True)
class Simulation:
    """The sled's history while it is being made, on a time grid i·h with i = 0 … end."""

    bench: Bench
    hand_at: Callable[[float], tuple[float, float]]
    end: int
    h: float
    hand_m: FloatArray
    hand_m_s: FloatArray
    kernel: Kernel
    hand_row: MutableSequence[float]  # the same as the kernel likes it
    hand_speed_row: MutableSequence[float]
    patch_factors: MutableSequence[float]
    patch_spacing_m: float
    xs: MutableSequence[float]
    vs: MutableSequence[float]
    states: MutableSequence[float]
    slips: list[Slip] = field(default_factory=list)
    rider_slips: list[tuple[float, float]] = field(default_factory=list)
    rider_extra_N: dict[int, float] = field(default_factory=dict)  # by grid point, where a rider slides

    def run(self) -> None:
        """Stick and slip in turn until the end of the grid."""
        x, state, t, i, contact_s = 0.0, self.bench.law.fresh, 0.0, 1, self.bench.contact_s
        while i <= self.end:
            found = self._stick(x, state, t, i, contact_s)
            if found is None:
                return
            began_s, i, pull_N, direction = found
            state = self.bench.law.after_rest(contact_s + began_s - t, state)
            if self.bench.rider is None:
                t, x, state, i = self._slip(x, state, began_s, i, direction)
                self.slips.append(Slip(began_s, t, pull_N, direction))
            else:
                t, x, i = self._slip_with_rider(x, began_s, i, pull_N, direction)
            contact_s = 0.0

    def _slip_with_rider(
        self, x: float, began_s: float, i: int, pull_N: float, direction: float
    ) -> tuple[float, float, int]:
        """Move sled and rider until both rest; returns the moment, the sled's place, the next grid point."""
        patches, spacing_m = self.patch_factors, self.patch_spacing_m
        law = self.bench.law
        pair = Pair(
            bench=self.bench, hand_at=self._hand_on_grid, holding=law.holding(0.0, law.fresh),
            patch=lambda place: patch_at(place, patches, spacing_m),
        )  # fmt: skip
        motion = Motion(x, 0.0, 0.0, 0.0)
        mode = pair.begin(began_s, motion, direction)
        pair.slips[0] = (began_s, math.inf, pull_N, direction)
        t = began_s
        while i <= self.end and mode != AT_REST:
            motion, mode = pair.through(t, motion, mode, i * self.h)
            self.xs[i], self.vs[i], t = motion.x, motion.v, i * self.h
            self.rider_extra_N[i] = pair.extra_N(mode)
            i += 1
        self.slips += [Slip(*slip) for slip in pair.slips]
        self.rider_slips += pair.rider_slips
        return t, motion.x, i

    def _hand_on_grid(self, t: float) -> tuple[float, float]:
        """Return the hand's position and speed: from the grid where t lies on it, since that is quicker."""
        halves = t / (0.5 * self.h)
        nearest = round(halves)
        if abs(halves - nearest) < 1e-9:
            return self.hand_row[nearest], self.hand_speed_row[nearest]
        return self.hand_at(t)

    def _slip(
        self, x: float, state: float, began_s: float, i: int, direction: float
    ) -> tuple[float, float, float, int]:
        """Slip from x at began_s (grid point i is the next) until the sled stops or the grid ends.

        Returns the moment it stopped (infinite if it did not), place, state and the next grid point.
        """
        # First the rest of the step in which it broke away, then whole steps.
        first = self._leap(began_s, x, 0.0, state, i * self.h - began_s, direction)
        if first[1] * direction <= 0:
            # It broke and stopped within one step: too little motion to resolve, but a real break.
            self.xs[i], self.states[i] = x, state
            return i * self.h, x, state, i + 1
        self.xs[i], self.vs[i], self.states[i] = first
        last = self._slide_on(i, *first, direction)
        if last == self.end:
            return math.inf, x, state, self.end + 1
        return (*self._stop(last, direction), last + 1)

    def _slide_on(self, i: int, x: float, v: float, state: float, direction: float) -> int:
        """Slide from grid point i and return the last one before the sled turns (see `step.slide`)."""
        return self.kernel.slide(
            i,
            self.end,
            x,
            v,
            state,
            self.h,
            direction,
            self.hand_row,
            self.hand_speed_row,
            self.patch_factors,
            self.patch_spacing_m,
            sled_numbers(self.bench),
            law_numbers(self.bench.law),
            self.xs,
            self.vs,
            self.states,
        )

    def _stick(
        self, x: float, state: float, t: float, i: int, contact_s: float
    ) -> tuple[float, int, float, float] | None:
        """Rest at x from time t (grid point i is the next) until the static limit gives way.

        Returns the moment, the grid point after it, the pull then and the direction; None if it stays.
        """
        for begin in range(i, self.end + 1, _BLOCK):
            stop = min(begin + _BLOCK, self.end + 1)
            first = self._first_over(x, state, t, begin, stop, contact_s)
            self.xs[begin:first] = [x] * (first - begin)
            self.states[begin:first] = [state] * (first - begin)
            if first < stop:
                before_s = t if first == i else (first - 1) * self.h
                moment_s = self._break(x, state, t, before_s, first * self.h, contact_s)
                return moment_s, first, *self._limit(moment_s, x, state, contact_s + moment_s - t)
        return None

    def _first_over(self, x: float, state: float, t: float, begin: int, stop: int, contact_s: float) -> int:
        """Return the first of grid points begin … stop-1 where the needed friction exceeds the limit, or stop."""
        _, stiffness, damping, along, lift, pressing, downhill = sled_numbers(self.bench)
        stretch_m = self.hand_m[2 * begin : 2 * stop : 2] - x * along
        pulls_N = stiffness * stretch_m + damping * self.hand_m_s[2 * begin : 2 * stop : 2]
        pulls_N = np.where(stretch_m > 0, np.maximum(pulls_N, 0.0), 0.0)
        holding, patch = self.bench.law.holding, patch_at(x, self.patch_factors, self.patch_spacing_m)
        needed_N, pressing_N = np.abs(pulls_N * along - downhill), pressing - pulls_N * lift
        # A static limit never falls while the sled rests: only what exceeds its first value can break it.
        least_mu = holding(contact_s + begin * self.h - t, state)
        for over in np.flatnonzero(needed_N > patch * least_mu * pressing_N).tolist():
            mu = holding(contact_s + (begin + over) * self.h - t, state)
            if needed_N[over] - patch * mu * pressing_N[over] > 0:
                return begin + int(over)
        return stop

    def _need(self, moment_s: float, x: float) -> tuple[float, float]:
        """Return the pull at one moment of rest, and the friction needed to stay (N)."""
        _, stiffness, damping, along, _, _, downhill = sled_numbers(self.bench)
        position_m, speed_m_s = self.hand_at(moment_s)
        pull_N = tension_N(position_m - x * along, speed_m_s, stiffness, damping)
        return pull_N, pull_N * along - downhill

    def _limit(self, moment_s: float, x: float, state: float, rested_s: float) -> tuple[float, float]:
        """Return the pull at which it gives way at this moment, and the direction of motion.

        A damped string that snaps taut jumps past the limit at once; the limit itself is what broke.
        """
        pull_N, need_N = self._need(moment_s, x)
        if need_N < 0:
            return pull_N, -1.0
        mu = self.bench.law.holding(rested_s, state)
        patch = patch_at(x, self.patch_factors, self.patch_spacing_m)
        angles = {"string_deg": self.bench.string_deg, "tilt_deg": self.bench.tilt_deg}
        return min(pull_N, pull_needed_N(patch * mu, self.bench.weight_N, **angles)), 1.0

    def _break(self, x: float, state: float, t: float, low: float, high: float, contact_s: float) -> float:
        """Return the moment in [low, high] at which the static limit is exceeded."""
        _, _, _, _, lift, pressing, _ = sled_numbers(self.bench)
        patch = patch_at(x, self.patch_factors, self.patch_spacing_m)

        def excess(moment_s: float) -> float:
            pull_N, need_N = self._need(moment_s, x)
            mu = self.bench.law.holding(contact_s + moment_s - t, state)
            return abs(need_N) - patch * mu * (pressing - pull_N * lift)

        at_low, at_high = excess(low), excess(high)
        if at_low > 0 or at_high <= 0:  # cannot rest at all, or a tie at the last digit
            return low if at_low > 0 else high
        return crossing(excess, low, high, at_low=at_low, at_high=at_high)

    def _leap(
        self, t: float, x: float, v: float, state: float, length_s: float, direction: float
    ) -> tuple[float, float, float]:
        """Return the sled one Runge-Kutta step of any length after time t, off the grid."""
        at = self.hand_at
        hands = (*at(t), *at(t + 0.5 * length_s), *at(t + length_s))
        patch = patch_at(x + 0.5 * length_s * v, self.patch_factors, self.patch_spacing_m)
        sled, law = sled_numbers(self.bench), law_numbers(self.bench.law)
        return step(x, v, state, length_s, hands, direction, patch, sled, law)

    def _stop(self, last: int, direction: float) -> tuple[float, float, float]:
        """Return the moment, place and state in which the sled stops, in the step after grid point last."""
        began_s, x, v, state = last * self.h, self.xs[last], self.vs[last], self.states[last]

        def speed(length_s: float) -> float:
            return -direction * self._leap(began_s, x, v, state, length_s, direction)[1]

        # Nearly always it still moves backward at the end of the step; after a brief stop only earlier.
        tried_s = [self.h, *(self.h * part / 16 for part in range(1, 16))]
        length_s = next((length for length in tried_s if speed(length) > 0), self.h)
        at_high = speed(length_s)
        if at_high > 0:
            length_s = crossing(speed, 0.0, length_s, at_low=-direction * v, at_high=at_high)
        x, _, state = self._leap(began_s, x, v, state, length_s, direction)
        return began_s + length_s, x, state
