"""Days with pulls at several loads, drawn from a law that is known.  (Not a test module.)"""

from __future__ import annotations

import numpy as np

from live.benches import chunks_of
from unit.detect.shapes import PULL, corners, drawn, rest

G_M_S2 = 9.80665
MU = 0.1  # light pulls: a polygon drawn much higher breaks away more sharply than any sled does
KINETIC_OVER_STATIC = PULL[2][1] / PULL[1][1]  # the drawn pull keeps its shape: both grow with its height
WOBBLE = (0.012, -0.02, 0.008, -0.011, 0.016, -0.006, 0.003)


def heights_N(loads_kg, *, mu=MU, sled_kg=0.35):
    """Return the height of a pull at each load, by the law, with a little scatter from pull to pull."""
    return [mu * (kg + sled_kg) * G_M_S2 * (1 + WOBBLE[k % len(WOBBLE)]) for k, kg in enumerate(loads_kg)]


def trace_of(heights, *, rate_Hz=200.0, before_s=3.0, after_s=4.0, seed=1):
    """Return time and force of plain pulls of these heights with rest about each."""
    pieces = [rest(before_s)]
    for height in heights:
        pieces += [[(t, height * f) for t, f in PULL], rest(after_s)]
    return drawn(corners(*pieces), rate_Hz=rate_Hz, noise_N=0.004, seed=seed, offset_N=0.1)


def pulls_of(heights, *, size=40, **more):
    """Return the deliveries of plain pulls of these heights."""
    return chunks_of(*trace_of(heights, **more), size=size)


def one_by_one(heights, between, *, size=20, seed=1):
    """Return deliveries in which between(k) is called in the rest before pull k, at one sample's time for all."""
    time_s, force_N = trace_of(heights, seed=seed)
    length_s = PULL[-1][0] + 4.0
    starts_s = [3.0 + k * length_s for k in range(len(heights))]
    deliveries, done = [], 0
    for k, start_s in enumerate(starts_s):
        at = int(np.searchsorted(time_s, start_s - 1.0))
        deliveries += chunks_of(time_s[done:at], force_N[done:at], size)
        deliveries.append(lambda k=k: between(k))
        done = at
    return [*deliveries, *chunks_of(time_s[done:], force_N[done:], size)]
