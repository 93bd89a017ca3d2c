"""A hand asked for one instant at a time: what the search for a break or a stop needs, without arrays."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable

import numpy as np

from pullbench.physics.bench.hands import Hand


def asked_singly(hand: Hand) -> Callable[[float], tuple[float, float]]:
    """Return `hand.at`, twenty times as fast: position (m) and speed (m/s) at a time (s).

    The same sums in the same order as `Hand.motion` on plain numbers; agrees with it to rounding.
    """
    times_s, speeds_m_s = hand.knot_s.tolist(), hand.knot_m_s.tolist()
    steps_s = np.diff(hand.knot_s)
    slopes = (np.diff(hand.knot_m_s) / steps_s).tolist()
    areas_m = 0.5 * (hand.knot_m_s[1:] + hand.knot_m_s[:-1]) * steps_s
    places_m = (hand.start_m + np.concatenate([[0.0], np.cumsum(areas_m)])).tolist()
    omegas = (2 * math.pi * hand.wave_Hz).tolist()
    waves = list(zip(omegas, hand.wave_m.tolist(), hand.wave_rad.tolist(), strict=True))
    last = len(slopes) - 1

    def at(time_s: float) -> tuple[float, float]:
        inside_s = min(max(time_s, 0.0), times_s[-1])
        left = min(bisect_right(times_s, inside_s) - 1, last)
        since_s = inside_s - times_s[left]
        speed = speeds_m_s[left] + slopes[left] * since_s
        position = places_m[left] + since_s * (speeds_m_s[left] + 0.5 * slopes[left] * since_s)
        for omega, amplitude_m, phase in waves:
            angle = omega * time_s + phase
            position += amplitude_m * math.sin(angle)
            speed += omega * amplitude_m * math.cos(angle)
        return position, speed

    return at
