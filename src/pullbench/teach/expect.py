"""How sure a coefficient will be after so many pulls."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from pullbench.analysis import coverage_factor
from pullbench.model import Measured
from pullbench.teach.kit import Kit
from pullbench.teach.planned import Expected
from pullbench.teach.trial import Trial, errors, mean_doubt, share_told

MOSTLY_HIDDEN = 0.5  # share of trials that tell a value


def expected(trials: Sequence[Trial], told: Sequence[Measured], mu: float, count: int, kit: Kit) -> Expected:
    """Return the limits to expect when `count` pulls on a pair with this mu are taken together (Student's t).

    told: what the analysis told of each trial.  The scatter of one reading is that between pulls, which is
    known, and the reading's own error, which the trials sampled.  As in the analysis, the pulls' own doubt
    counts where it is larger.  Where fewer than half of the trials tell a value there are no limits: the
    few that do are not a fair sample.
    """
    readings, off = round(count * share_told(told)), errors(trials, told, mu)
    if readings < 2 or share_told(told) < MOSTLY_HIDDEN or len(off) < 2:
        return Expected(value=mu, half_width=None, readings=readings, scatter=None)
    scatter = math.hypot(kit.between_pulls, float(np.std(off, ddof=1)))
    u = max(scatter * mean_of_sd(readings), mean_doubt(told, mu))
    half_width = coverage_factor(readings - 1) * u / math.sqrt(readings)
    return Expected(value=mu, half_width=half_width, readings=readings, scatter=scatter)


def pulls_needed(half_width: float, scatter: float) -> int:
    """Return how many readings bring the limits to ± half_width, both relative (Student's t)."""
    enough = (
        count
        for count in range(2, 1000)
        if coverage_factor(count - 1) * scatter * mean_of_sd(count) <= half_width * math.sqrt(count)
    )
    return next(enough, 1000)


def mean_of_sd(count: int) -> float:
    """Return the mean of a sample's standard deviation over the true one, for a normal scatter (c4)."""
    return math.sqrt(2 / (count - 1)) * math.exp(math.lgamma(count / 2) - math.lgamma((count - 1) / 2))
