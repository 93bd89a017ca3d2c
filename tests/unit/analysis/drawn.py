"""Pulls drawn with a ruler: every number of theirs is known.  (Not a test module.)"""

import numpy as np

from pullbench.model import Flaw, PullWindow, Trace

BREAK_S, STATIC_N, KINETIC_N = 4.0, 3.0, 2.0


def drawn(
    *, rate_Hz=200.0, static_N=STATIC_N, kinetic_N=KINETIC_N, rest_s=2.0, load_s=2.0, slide_s=3.0,
    after_s=2.0, noise_N=0.004, offset_N=0.3, drift_N_s=0.0, seed=5, swing_Hz=5.0, fades_s=0.15,
):  # fmt: skip
    """Return time and force: rest, straight ramp, damped swing about the level, let go, rest."""
    stops_s = rest_s + load_s + slide_s
    time_s = np.arange(0, stops_s + 0.1 + after_s, 1 / rate_Hz)
    since_s = np.maximum(time_s - rest_s - load_s, 0)
    swing = np.exp(-since_s / fades_s) * np.cos(2 * np.pi * swing_Hz * since_s)
    pull = np.select(
        [time_s < rest_s, time_s < rest_s + load_s, time_s < stops_s, time_s < stops_s + 0.1],
        [0.0, static_N * (time_s - rest_s) / load_s, kinetic_N + (static_N - kinetic_N) * swing,
         kinetic_N * (stops_s + 0.1 - time_s) / 0.1],
    )  # fmt: skip
    noise = np.random.default_rng(seed).normal(0, noise_N, time_s.size)
    return time_s, pull + offset_N + drift_N_s * time_s + noise


def window_of(time_s, force_N, *, start_s=2.0, end_s=7.1, flaws=(), **more) -> PullWindow:
    """Return the window that the watch would cut from a drawn pull of the usual lengths."""
    trace = Trace(time_s=time_s, force_N=force_N, flaws=flaws)
    return PullWindow(trace=trace, start_s=start_s, end_s=end_s, direction=more.pop("direction", 1), **more)


def gap(start_s: float, end_s: float) -> Flaw:
    """Return a flaw that says samples are missing between two times."""
    return Flaw(kind="gap", start_s=start_s, end_s=end_s, count=1, sentence="Samples are missing.")
