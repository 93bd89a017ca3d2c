"""Which of two stretches is the stiller?  A hand is never as still as a sensor that nobody touches."""

from __future__ import annotations

import math
from collections.abc import Sequence

_LAGS = (1, 2, 4, 8)
"""In beats: tremor and catching show at the short ones, a hand that wanders at the long ones."""

_FEWEST = 3  # degrees of freedom: fewer say nothing
_MOST_SDS = 20.0
_NO_KNOCK = 0.85  # of the bends


def log_odds_stiller(early_N: Sequence[float], late_N: Sequence[float], rounding_N: float) -> float:
    """Return the log odds that the later beats stray less than the earlier; minus infinity when too few.

    rounding_N: what the sensor's counts alone may do to a beat.  Without other knowledge either may be
    the stiller, so the odds are those of the two tails of the ratio of variances.  From bends, not
    steps: a ramp has none.  Each bend counts as half a reading, for neighbours share beats.
    """
    told = sorted(_log_odds(early_N, late_N, lag, rounding_N) for lag in _LAGS)
    best = [log_odds for log_odds in told[-2:] if log_odds > -math.inf]
    # Where the hand shows most; by chance two lags seldom say the same.
    return sum(best) / len(best) if best else -math.inf


def _log_odds(early_N: Sequence[float], late_N: Sequence[float], lag: int, rounding_N: float) -> float:
    n, m = 0.5 * (len(early_N) - 2 * lag), 0.5 * (len(late_N) - 2 * lag)
    if min(n, m) < _FEWEST:
        return -math.inf
    early, late = (roughness(x, lag) ** 2 + rounding_N**2 for x in (early_N, late_N))
    if late <= 0 or early <= 0:
        return -math.inf
    root = (early / late) ** (1 / 3)  # Paulson (1942): nearly normal, for a ratio of two variances
    z = ((1 - 2 / (9 * m)) * root - (1 - 2 / (9 * n))) / math.sqrt(2 / (9 * m) * root**2 + 2 / (9 * n))
    z = min(max(z, -_MOST_SDS), _MOST_SDS)
    return math.log(math.erfc(-z / 2**0.5) / math.erfc(z / 2**0.5))


def roughness(levels_N: Sequence[float], lag: int) -> float:
    """Return how far a beat strays, from the bends a - 2b + c of the force but for the largest (knocks)."""
    bends = [
        (a - 2 * b + c) ** 2 for a, b, c in zip(levels_N, levels_N[lag:], levels_N[2 * lag :], strict=False)
    ]
    kept = sorted(bends)[: math.ceil(_NO_KNOCK * len(bends))]
    return (sum(kept) / (6 * len(kept))) ** 0.5 if kept else 0.0
