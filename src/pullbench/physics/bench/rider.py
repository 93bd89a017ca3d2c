"""A loose rider on the sled: carried by static friction, left behind when more is asked than there is.

Two bodies, each held or sliding; classic Runge-Kutta in between, and every change of mode found by root
finding within its step.  Used only on benches with a rider; without one `slider` alone does the work.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple

from pullbench.physics.bench.rig import Bench, Rider, law_numbers, sled_numbers
from pullbench.physics.bench.roots import crossing
from pullbench.physics.bench.step import sliding_coefficient, tension_N

_MOST_EVENTS = 200  # in one step: more would be chatter below the last digit


class Motion(NamedTuple):
    """Place and speed of the sled, and of the rider, along the board."""

    x: float
    v: float
    rider_x: float
    rider_v: float


class Mode(NamedTuple):
    """How the sled moves on the board (direction, 0 at rest) and the rider on the sled.

    pushed: direction of the kinetic friction on the rider, 0 while it is carried.
    """

    sled: float
    pushed: float


AT_REST = Mode(0.0, 0.0)


@dataclass(slots=True, kw_only=True)
class Pair:
    """Sled and rider under one hand, from a breakaway until both rest again.

    hand_at: position (m) and speed (m/s) of the hand at a time.  holding: static coefficient of sled on
    board.  patch: local factor on both its coefficients at a place.
    """

    bench: Bench
    hand_at: Callable[[float], tuple[float, float]]
    holding: float
    patch: Callable[[float], float]
    slips: list[tuple[float, float, float, float]] = field(
        default_factory=list
    )  # start, end, pull, direction
    rider_slips: list[tuple[float, float]] = field(default_factory=list)

    @property
    def rider(self) -> Rider:
        """Return the rider of the bench."""
        assert self.bench.rider is not None  # without one `slider` never comes here
        return self.bench.rider

    def pull_N(self, t: float, motion: Motion) -> float:
        """Return the pull of the string."""
        _, stiffness, damping, along, _, _, _ = sled_numbers(self.bench)
        hand_m, hand_m_s = self.hand_at(t)
        return tension_N(hand_m - motion.x * along, hand_m_s - motion.v * along, stiffness, damping)

    def forces(self, t: float, motion: Motion, mode: Mode) -> tuple[float, float, float]:
        """Return the drive along the board without board friction, the normal force, and the friction on the rider."""
        rider = self.rider
        _, _, _, along, lift, pressing, _ = sled_numbers(self.bench)
        theta = math.radians(self.bench.tilt_deg)
        pull_N = self.pull_N(t, motion)
        on_rider_N = mode.pushed * rider.mu_k * rider.mass_kg * self.bench.g_m_s2 * math.cos(theta)
        carried_kg = self.bench.mass_kg - (rider.mass_kg if mode.pushed else 0.0)
        drive_N = pull_N * along - carried_kg * self.bench.g_m_s2 * math.sin(theta) - on_rider_N
        return drive_N, pressing - pull_N * lift, on_rider_N

    def accelerations(self, t: float, motion: Motion, mode: Mode) -> tuple[float, float]:
        """Return the accelerations of sled and rider."""
        rider = self.rider
        drive_N, normal_N, on_rider_N = self.forces(t, motion, mode)
        sled_m_s2 = 0.0
        if mode.sled:
            mu = self.patch(motion.x) * sliding_coefficient(
                motion.v * mode.sled, 0.0, law_numbers(self.bench.law)
            )
            moving_kg = self.bench.mass_kg - (rider.mass_kg if mode.pushed else 0.0)
            sled_m_s2 = (drive_N - mode.sled * mu * normal_N) / moving_kg
        if not mode.pushed:
            return sled_m_s2, sled_m_s2
        downhill = self.bench.g_m_s2 * math.sin(math.radians(self.bench.tilt_deg))
        return sled_m_s2, on_rider_N / rider.mass_kg - downhill

    def leap(self, t: float, motion: Motion, mode: Mode, h: float) -> Motion:
        """Return both bodies one Runge-Kutta step of length h later."""

        def rates(at_s: float, m: Motion) -> tuple[float, float, float, float]:
            sled, rider = self.accelerations(at_s, m, mode)
            return m.v, sled, m.rider_v, rider

        k1 = rates(t, motion)
        k2 = rates(t + h / 2, _on(motion, k1, h / 2))
        k3 = rates(t + h / 2, _on(motion, k2, h / 2))
        k4 = rates(t + h, _on(motion, k3, h))
        mean = tuple((a + 2 * (b + c) + d) / 6 for a, b, c, d in zip(k1, k2, k3, k4, strict=True))
        return _on(motion, mean, h)

    def ends(self, mode: Mode) -> list[Callable[[float, Motion], float]]:
        """Return the quantities that become positive when this mode ends."""
        watched: list[Callable[[float, Motion], float]] = []
        if mode.sled:
            watched.append(lambda t, m: -m.v * mode.sled)
        else:
            watched.append(lambda t, m: self._needed(t, m, mode))
        if mode.pushed:  # the push ends when the rider has caught up with the sled, or the sled with it
            watched.append(lambda t, m: (m.rider_v - m.v) * mode.pushed)
        else:
            watched.append(lambda t, m: abs(self._asked(t, m, mode)) - self._grip_m_s2)
        return watched

    def _needed(self, t: float, motion: Motion, mode: Mode) -> float:
        """Return by how much the friction needed to hold the sled exceeds the static limit."""
        drive_N, normal_N, _ = self.forces(t, motion, mode)
        return abs(drive_N) - self.patch(motion.x) * self.holding * normal_N

    def _asked(self, t: float, motion: Motion, mode: Mode) -> float:
        """Return the friction per mass that carrying the rider asks for."""
        downhill = self.bench.g_m_s2 * math.sin(math.radians(self.bench.tilt_deg))
        return self.accelerations(t, motion, mode)[0] + downhill

    def extra_N(self, mode: Mode) -> float:
        """Return what a sliding rider adds to the friction that a sled at rest needs, in newtons."""
        rider = self.rider
        if not mode.pushed:
            return 0.0
        theta = math.radians(self.bench.tilt_deg)
        weight_N = rider.mass_kg * self.bench.g_m_s2
        return weight_N * math.sin(theta) - mode.pushed * rider.mu_k * weight_N * math.cos(theta)

    def begin(self, t: float, motion: Motion, direction: float) -> Mode:
        """Return the mode in which the sled starts to move in this direction, and note the slip."""
        asked = self._asked(t, motion, Mode(direction, 0.0))
        mode = Mode(direction, math.copysign(1.0, asked) if abs(asked) > self._grip_m_s2 else 0.0)
        self.note(t, motion, AT_REST, mode)
        return mode

    @property
    def _grip_m_s2(self) -> float:
        """Return the friction per mass that can hold the rider."""
        return self.rider.mu_s * self.bench.g_m_s2 * math.cos(math.radians(self.bench.tilt_deg))

    def settle(self, t: float, motion: Motion, mode: Mode) -> Mode:
        """Return the mode that goes on from this instant: held where static friction is enough."""
        sled = mode.sled
        if sled and motion.v * sled <= 0:
            still = Mode(0.0, mode.pushed)
            sled = (
                0.0
                if self._needed(t, motion, still) <= 0
                else math.copysign(1.0, self.forces(t, motion, still)[0])
            )
        elif not sled and self._needed(t, motion, mode) > 0:
            sled = math.copysign(1.0, self.forces(t, motion, mode)[0])
        if mode.pushed and (motion.rider_v - motion.v) * mode.pushed < 0:
            return Mode(sled, mode.pushed)
        asked = self._asked(t, motion, Mode(sled, 0.0))
        return Mode(sled, math.copysign(1.0, asked) if abs(asked) > self._grip_m_s2 else 0.0)

    def through(self, t: float, motion: Motion, mode: Mode, until_s: float) -> tuple[Motion, Mode]:
        """Return motion and mode at until_s, one step after t, with all that happened in between noted."""
        for _ in range(_MOST_EVENTS):
            ahead = self.leap(t, motion, mode, until_s - t)
            watched = self.ends(mode)
            over = [end for end in watched if end(until_s, ahead) > 0]
            if not over:
                return ahead, mode
            at_s = min(self._moment(end, t, motion, mode, until_s) for end in over)
            motion = self.leap(t, motion, mode, at_s - t)
            motion = self._matched(motion, mode, watched, at_s)
            t, before, mode = at_s, mode, self.settle(at_s, motion, mode)
            self.note(t, motion, before, mode)
            if t >= until_s:
                break
        return motion, mode

    def _moment(
        self, end: Callable[[float, Motion], float], t: float, motion: Motion, mode: Mode, until_s: float
    ) -> float:
        def value(at_s: float) -> float:
            return end(at_s, self.leap(t, motion, mode, at_s - t))

        at_low, at_high = end(t, motion), value(until_s)
        return t if at_low > 0 else crossing(value, t, until_s, at_low=at_low, at_high=at_high)

    def _matched(
        self, motion: Motion, mode: Mode, watched: list[Callable[[float, Motion], float]], t: float
    ) -> Motion:
        """Return the motion without the last digit by which a speed overshot its end."""
        v, rider_v = motion.v, motion.rider_v
        if mode.sled and watched[0](t, motion) >= 0:
            v = 0.0
            rider_v = rider_v if mode.pushed else 0.0
        if mode.pushed and watched[1](t, motion) >= 0:
            rider_v = v
        return motion._replace(v=v, rider_v=rider_v)

    def note(self, t: float, motion: Motion, before: Mode, after: Mode) -> None:
        """Write down where slips of the sled and of the rider begin and end."""
        if after.sled != before.sled:
            if before.sled and self.slips:
                self.slips[-1] = (self.slips[-1][0], t, *self.slips[-1][2:])
            if after.sled:
                self.slips.append((t, math.inf, self.pull_N(t, motion), after.sled))
        if after.pushed != before.pushed:
            if before.pushed and self.rider_slips:
                self.rider_slips[-1] = (self.rider_slips[-1][0], t)
            if after.pushed:
                self.rider_slips.append((t, math.inf))


def _on(motion: Motion, rates: tuple[float, ...], h: float) -> Motion:
    return Motion(*(place + h * rate for place, rate in zip(motion, rates, strict=True)))
