"""Simulate a pull: exact while the sled sticks, Runge-Kutta while it slips, events to the last digit."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.rig import Bench, law_numbers, patches, sled_numbers
from pullbench.physics.bench.roots import crossing
from pullbench.physics.bench.run import Run
from pullbench.physics.bench.step import patch_at, slide, step, tension_N
from pullbench.physics.bench.truth import Slip, run_from_motion
from pullbench.physics.friction import RateState
from pullbench.physics.plane import pull_needed_N

_FINEST_PHASE = 0.05  # ω·step: the Runge-Kutta error of a swing is then about 1e-8 of it
_BLOCK = 4096  # grid points of sticking looked at together


def simulate(
    bench: Bench,
    hand: Hand,
    *,
    duration_s: float | None = None,
    step_s: float = 5e-4,
    rng: np.random.Generator | None = None,
) -> Run:
    """Return what happens when this hand pulls the sled of this bench.

    duration_s: default, the hand's own.  step_s: spacing of the returned samples; slips are integrated
    in as many equal parts of it as the stiffness needs.  rng: only for a patchy surface.

    At rest the pull follows the hand exactly; the moments of breakaway and re-stick are found by root
    finding to about 1e-15 of the time.  Deterministic.  Raises BenchError when the sled would be lifted
    off, or the duration, step or law cannot be simulated.
    """
    duration_s = hand.duration_s if duration_s is None else duration_s
    if not 0 < step_s <= duration_s < math.inf:
        raise BenchError(
            "duration-impossible",
            f"Duration is {duration_s:g} s with a step of {step_s:g} s.",
            "Both must be finite, above 0 s, and the step not longer than the duration.",
            "Give the duration in seconds; a step of 0.0005 s suits most benches.",
        )
    parts = max(1, math.ceil(bench.omega_rad_s * step_s / _FINEST_PHASE))
    _refuse_stiff_creep(bench, step_s / parts)
    simulation = _simulation(bench, hand, round(duration_s / step_s) * parts, step_s / parts, rng)
    simulation.run()
    return run_from_motion(
        bench,
        hand,
        time_s=np.asarray(np.arange(simulation.end + 1) * simulation.h, dtype=np.float64),
        positions_m=np.array(simulation.xs),
        velocities_m_s=np.array(simulation.vs),
        states=np.array(simulation.states),
        slips=simulation.slips,
        patch_factors=np.array(simulation.patch_factors),
        patch_spacing_m=simulation.patch_spacing_m,
        every=parts,
    )


def _refuse_stiff_creep(bench: Bench, h: float) -> None:
    """Refuse a rate-and-state creep speed so low that its direct effect outruns the step."""
    if isinstance(bench.law, RateState):
        least_m_s = bench.law.a * bench.g_m_s2 * h
        if bench.law.creep_m_s < least_m_s:
            raise BenchError(
                "creep-too-slow",
                f"Creep speed is {bench.law.creep_m_s:g} m/s with a step of {h:g} s.",
                f"On this bench it must be at least {least_m_s:.2g} m/s.",
                "Set creep_m_s of the law higher, or take a shorter step.",
            )


def _simulation(bench: Bench, hand: Hand, end: int, h: float, rng: np.random.Generator | None) -> _Simulation:
    halves_s = np.asarray(np.arange(2 * end + 1) * (0.5 * h), dtype=np.float64)
    positions_m, speeds_m_s = hand.motion(halves_s)
    factors, spacing_m = patches(bench, 1.5 * float(np.ptp(positions_m)) + 0.05, rng)
    return _Simulation(
        bench=bench,
        hand=hand,
        end=end,
        h=h,
        hand_m=positions_m,
        hand_m_s=speeds_m_s,
        hand_list=positions_m.tolist(),
        hand_speed_list=speeds_m_s.tolist(),
        patch_factors=factors.tolist(),
        patch_spacing_m=spacing_m,
        xs=[0.0] * (end + 1),
        vs=[0.0] * (end + 1),
        states=[bench.law.fresh] * (end + 1),
    )


@dataclass(slots=True, kw_only=True)
class _Simulation:
    """The sled's history while it is being made, on a time grid i·h with i = 0 … end."""

    bench: Bench
    hand: Hand
    end: int
    h: float
    hand_m: FloatArray
    hand_m_s: FloatArray
    hand_list: list[float]  # the same as plain floats: twice as fast in the inner step
    hand_speed_list: list[float]
    patch_factors: list[float]
    patch_spacing_m: float
    xs: list[float]
    vs: list[float]
    states: list[float]
    slips: list[Slip] = field(default_factory=list)

    def run(self) -> None:
        """Stick and slip in turn until the end of the grid."""
        x, state, t, i, contact_s = 0.0, self.bench.law.fresh, 0.0, 1, self.bench.contact_s
        while i <= self.end:
            found = self._stick(x, state, t, i, contact_s)
            if found is None:
                return
            began_s, i, pull_N, direction = found
            state = self.bench.law.after_rest(contact_s + began_s - t, state)
            t, x, state, i = self._slip(x, state, began_s, i, direction)
            self.slips.append(Slip(began_s, t, pull_N, direction))
            contact_s = 0.0

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
        return slide(
            i,
            self.end,
            x,
            v,
            state,
            self.h,
            direction,
            self.hand_list,
            self.hand_speed_list,
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
            over = self._excess_on_grid(x, state, t, begin, stop, contact_s) > 0
            first = begin + int(np.argmax(over)) if over.any() else stop
            self.xs[begin:first] = [x] * (first - begin)
            self.states[begin:first] = [state] * (first - begin)
            if first < stop:
                before_s = t if first == i else (first - 1) * self.h
                moment_s = self._break(x, state, t, before_s, first * self.h, contact_s)
                return moment_s, first, *self._limit(moment_s, x, state, contact_s + moment_s - t)
        return None

    def _excess_on_grid(
        self, x: float, state: float, t: float, begin: int, stop: int, contact_s: float
    ) -> FloatArray:
        """Return, for grid points begin … stop-1, by how much the needed friction exceeds the limit (N)."""
        _, stiffness, damping, along, lift, pressing, downhill = sled_numbers(self.bench)
        stretch_m = self.hand_m[2 * begin : 2 * stop : 2] - x * along
        pulls_N = stiffness * stretch_m + damping * self.hand_m_s[2 * begin : 2 * stop : 2]
        pulls_N = np.where(stretch_m > 0, np.maximum(pulls_N, 0.0), 0.0)
        law, patch = self.bench.law, patch_at(x, self.patch_factors, self.patch_spacing_m)
        # A static limit never falls while the sled rests: its value at the ends settles most blocks.
        rested_s = contact_s + np.array([begin, stop - 1]) * self.h - t
        first_mu, last_mu = (law.holding(float(rest), state) for rest in rested_s)
        if first_mu == last_mu:
            mu: FloatArray | float = first_mu
        else:
            rests_s = contact_s + np.arange(begin, stop) * self.h - t
            mu = np.array([law.holding(rest, state) for rest in rests_s.tolist()])
        excess: FloatArray = np.abs(pulls_N * along - downhill) - patch * mu * (pressing - pulls_N * lift)
        return excess

    def _need(self, moment_s: float, x: float) -> tuple[float, float]:
        """Return the pull at one moment of rest, and the friction needed to stay (N)."""
        _, stiffness, damping, along, _, _, downhill = sled_numbers(self.bench)
        position_m, speed_m_s = self.hand.at(moment_s)
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
        at = self.hand.at
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
