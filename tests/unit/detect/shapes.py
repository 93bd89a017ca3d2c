"""Forces drawn by hand: corners of a polygon, noise, knocks.  (Not a test module.)"""

import numpy as np

from pullbench.detect import windows
from pullbench.model import Chunk

PULL = [(0.0, 0.0), (1.2, 1.0), (1.25, 0.75), (3.2, 0.75), (3.35, 0.0)]
"""One pull of height 1: loads for 1.2 s, breaks away, slides for 2 s, is let go (s, N)."""


def corners(*pieces):
    """Return the corners of pieces laid end to end; each piece begins at its own 0 s."""
    out, now_s = [], 0.0
    for piece in pieces:
        out += [(now_s + t, f) for t, f in piece]
        now_s = out[-1][0]
    return out


def rest(duration_s, level_N=0.0):
    """Return a stretch at one level."""
    return [(0.0, level_N), (duration_s, level_N)]


def drawn(points, *, rate_Hz=100.0, noise_N=0.0, seed=0, offset_N=0.0):
    """Return time_s and force_N sampled from a polygon, with white noise."""
    at_s, level_N = np.array(points).T
    time_s = np.arange(int(at_s[-1] * rate_Hz) + 1) / rate_Hz
    noise = np.random.default_rng(seed).normal(0.0, 1.0, time_s.size)
    return time_s, np.interp(time_s, at_s, level_N) + offset_N + noise_N * noise


def caught(time_s, force_N, *, chunk=1000, flaws=()):
    """Return the windows of a recording fed in chunks; the flaws come with the first."""
    chunks = [
        Chunk(time_s=time_s[a : a + chunk], force_N=force_N[a : a + chunk], flaws=flaws if a == 0 else ())
        for a in range(0, time_s.size, chunk)
    ]
    return list(windows(chunks))


def spans(found):
    """Return (start, end, direction) of windows."""
    return [(window.start_s, window.end_s, window.direction) for window in found]
