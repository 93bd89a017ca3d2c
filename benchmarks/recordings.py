"""Long invented recordings as text, written piece by piece so that making them needs no memory either."""

from pathlib import Path

import numpy as np

PERIOD_S, REST_S, LOAD_S, SLIDE_S = 30.0, 20.0, 2.0, 5.0
PIECE = 100_000


def long_recording(path: Path, samples: int, *, rate_Hz: float = 10_000.0, seed: int = 7) -> int:
    """Write time and force of a pull every half minute; return how many pulls are in it.

    Invented: rest, a ramp to 3 N, a damped fall to a level of 2 N, let go; white noise of 0.01 N.
    """
    rng = np.random.default_rng(seed)
    with path.open("w", encoding="ascii") as file:
        file.write("time (s),force (N)\n")
        for first in range(0, samples, PIECE):
            index = np.arange(first, min(first + PIECE, samples))
            force_N = _pull(index / rate_Hz) + rng.normal(0, 0.01, index.size)
            np.savetxt(file, np.column_stack([index / rate_Hz, force_N]), fmt=("%.4f", "%.4f"), delimiter=",")
    whole_s = samples / rate_Hz
    return int(whole_s // PERIOD_S) + int(whole_s % PERIOD_S > REST_S + LOAD_S + SLIDE_S + 1)


def _pull(time_s: np.ndarray) -> np.ndarray:
    """Return the pull at each time, in newtons."""
    since_s = time_s % PERIOD_S - REST_S
    sliding_s = since_s - LOAD_S
    slide = 2 + np.exp(-np.maximum(sliding_s, 0) / 0.08) * np.cos(2 * np.pi * np.maximum(sliding_s, 0) / 0.25)
    ends_s = LOAD_S + SLIDE_S
    return np.select(
        [since_s < 0, since_s < LOAD_S, since_s < ends_s, since_s < ends_s + 0.2],
        [0.0, 3 * since_s / LOAD_S, slide, 2 * (ends_s + 0.2 - since_s) / 0.2],
    )
