"""Series from an integer recurrence: no random library, the same digits everywhere.  (Not a test module.)

Lehmer's generator x ← 16807 x mod 2³¹ − 1 (Park and Miller 1988); a near-normal value is the sum of twelve
uniform ones less six.
"""

import numpy as np


def near_normal(seed: int, count: int) -> np.ndarray:
    """Return `count` values of mean 0 and variance 1."""
    x, values = seed, []
    for _ in range(count):
        total = 0.0
        for _ in range(12):
            x = 16807 * x % 2147483647
            total += x / 2147483647
        values.append(total - 6.0)
    return np.array(values)


def settling(seed: int, n: int, phi: float, s: float, level: float, a: float, tau: float) -> np.ndarray:
    """Return level + a exp(−i/τ) + AR(1) noise of standard deviation s."""
    e = near_normal(seed, n)
    noise = np.empty(n)
    noise[0] = s * e[0]
    for i in range(1, n):
        noise[i] = phi * noise[i - 1] + np.sqrt(1 - phi * phi) * s * e[i]
    return level + a * np.exp(-np.arange(n) / tau) + noise


def loading_then_level(seed: int, n: int, k: int, rate: float, level: float, s: float) -> np.ndarray:
    """Return rate·i up to sample k, then the level, with noise of standard deviation s."""
    i = np.arange(n)
    return s * near_normal(seed, n) + np.where(i < k, rate * i, level)
