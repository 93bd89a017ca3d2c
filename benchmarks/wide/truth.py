"""The two forces that a reader should find, from what the bench knows; as in tests/simulated/pulls.py, and
for a tilted board and a string at an angle too."""

import math

import numpy as np

from pullbench.physics import RateState
from pullbench.physics.bench import Bench, Run


def static_moment_s(bench: Bench, run: Run) -> float | None:
    """Return when the contact bore its most before it gave way, or None if it never moved.

    With a true rest: first motion.  Rate and state creeps from the first newton on, and its strength peaks
    within micrometres of slip: there it is the highest friction up to the fastest of the first 0.3 s.
    """
    began_s = run.breakaway_time_s
    if began_s is None or not isinstance(bench.law, RateState):
        return began_s
    began = int(np.searchsorted(run.time_s, began_s))
    fastest = began + int(np.argmax(run.velocity_m_s[began : began + int(0.3 / run.step_s)]))
    return float(run.time_s[began + int(np.argmax(run.friction_N[began : fastest + 1]))])


def static_N(bench: Bench, run: Run) -> float | None:
    """Return the pull that balanced the friction then; None if it never moved."""
    moment_s = static_moment_s(bench, run)
    if moment_s is None or not isinstance(bench.law, RateState):
        return run.breakaway_force_N
    return _steady_pull_N(bench, float(run.friction_N[np.searchsorted(run.time_s, moment_s)]))


def kinetic_N(bench: Bench, run: Run) -> float | None:
    """Return the pull of a steady slide: exact for a constant coefficient, else from the mean friction.

    The mean is over the sliding samples in the middle of the slide (30-90 % of its time), which leaves out
    getting under way.  None if it slid for fewer than 20 steps of the bench.
    """
    slide = np.flatnonzero(run.sliding)
    if slide.size < 20:
        return None
    if bench.law.constant is not None:
        return run.kinetic_N
    first, last = int(slide[0]), int(slide[-1])
    middle = slice(first + 3 * (last - first) // 10, first + 9 * (last - first) // 10)
    sliding = run.sliding[middle]
    return _steady_pull_N(bench, float(run.friction_N[middle][sliding].mean())) if sliding.any() else None


def _steady_pull_N(bench: Bench, friction_N: float) -> float:
    """Return the pull that balances a friction along the board without acceleration."""
    downhill_N = bench.weight_N * math.sin(math.radians(bench.tilt_deg))
    return (friction_N + downhill_N) / math.cos(math.radians(bench.string_deg))
