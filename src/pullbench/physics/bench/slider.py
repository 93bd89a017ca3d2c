"""Simulate a pull: exact while the sled sticks, Runge-Kutta while it slips, events to the last digit."""

from __future__ import annotations

import math

import numpy as np

from pullbench.errors import BenchError
from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.kernel import INTERPRETED, Kernel
from pullbench.physics.bench.motion import simulation_of
from pullbench.physics.bench.rig import Bench
from pullbench.physics.bench.run import Run
from pullbench.physics.bench.truth import not_a_number, run_from_motion
from pullbench.physics.friction import RateState, Stribeck

_FINEST_PHASE = 0.05  # ω·step: the Runge-Kutta error of a swing is then about 1e-8 of it
_FINEST_FADE = 0.5  # of a viscous decay in one step: well inside the stable range of Runge-Kutta
_MOST_POINTS = 20_000_000  # of the grid: a gigabyte of history
_LONGEST_STEP_S = 0.01  # a hand trembles at 11 Hz: sampled more slowly the pull would be aliased


def simulate(
    bench: Bench,
    hand: Hand,
    *,
    duration_s: float | None = None,
    step_s: float = 5e-4,
    rng: np.random.Generator | None = None,
    kernel: Kernel = INTERPRETED,
) -> Run:
    """Return what happens when this hand pulls the sled of this bench.

    duration_s: default, the hand's own.  step_s: spacing of the returned samples; slips are integrated
    in as many equal parts of it as the stiffness needs.  rng: only for a patchy surface.  kernel:
    `fastest()` for many pulls; the digits then agree to 1e-9.

    At rest the pull follows the hand exactly; the moments of breakaway and re-stick are found by root
    finding to about 1e-15 of the time.  Deterministic.  Raises BenchError when the sled would be lifted
    off or tipped over, or the duration, step or law cannot be simulated.
    """
    duration_s = hand.duration_s if duration_s is None else duration_s
    _refuse_durations(duration_s, step_s)
    finer = max(bench.omega_rad_s * step_s / _FINEST_PHASE, _fading_per_s(bench) * step_s / _FINEST_FADE)
    _refuse_too_many(duration_s, step_s / max(1.0, finer))
    parts = max(1, math.ceil(finer))
    _refuse_stiff_creep(bench, step_s / parts)
    simulation = simulation_of(bench, hand, round(duration_s / step_s) * parts, step_s / parts, rng, kernel)
    try:
        simulation.run()
    except (ArithmeticError, ValueError) as fault:
        if isinstance(fault, BenchError):
            raise
        raise not_a_number("motion", 0.0) from fault
    return run_from_motion(
        bench,
        hand.name,
        time_s=np.asarray(np.arange(simulation.end + 1) * simulation.h, dtype=np.float64),
        hands_m=simulation.hand_m[::2],
        hand_speeds_m_s=simulation.hand_m_s[::2],
        positions_m=np.array(simulation.xs),
        velocities_m_s=np.array(simulation.vs),
        states=np.array(simulation.states),
        slips=simulation.slips,
        rider_slips=tuple(simulation.rider_slips),
        rider_extra_N=simulation.rider_extra_N,
        patch_factors=np.array(simulation.patch_factors),
        patch_spacing_m=simulation.patch_spacing_m,
        every=parts,
    )


def _fading_per_s(bench: Bench) -> float:
    """Return how fast viscous forces can slow the sled down, per second."""
    viscous_s_m = bench.law.viscous_s_m if isinstance(bench.law, Stribeck) else 0.0
    return bench.damping_N_s_m / bench.mass_kg + viscous_s_m * bench.g_m_s2


def _refuse_durations(duration_s: float, step_s: float) -> None:
    if not 0 < step_s <= duration_s < math.inf:
        raise BenchError(
            "duration-impossible",
            f"Duration is {duration_s:g} s with a step of {step_s:g} s.",
            "Both must be finite, above 0 s, and the step not longer than the duration.",
            "Give the duration in seconds; a step of 0.0005 s suits most benches.",
        )
    if step_s > _LONGEST_STEP_S:
        raise BenchError(
            "step-too-long",
            f"The step is {step_s:g} s.",
            f"It must be {_LONGEST_STEP_S:g} s or less: a hand trembles too fast for more.",
            "Leave it out; 0.0005 s suits most benches.",
        )


def _refuse_too_many(duration_s: float, h: float) -> None:
    if duration_s / h > _MOST_POINTS:
        raise BenchError(
            "too-many-steps",
            f"{duration_s:g} s in steps of {h:.2g} s are {duration_s / h:.3g} steps.",
            f"At most {_MOST_POINTS:.0e} are allowed; a stiff string on a light sled needs finer ones.",
            "Simulate less time, or make the string less stiff or the sled heavier.",
        )


def _refuse_stiff_creep(bench: Bench, h: float) -> None:
    """Refuse a rate-and-state creep speed so low that its direct effect outruns the step."""
    if isinstance(bench.law, RateState):
        least_m_s = bench.law.a * bench.g_m_s2 * h
        if bench.law.creep_m_s < least_m_s:
            raise BenchError(
                "creep-too-slow",
                f"Creep speed is {bench.law.creep_m_s:g} m/s with a step of {h:g} s.",
                f"On this bench it must be at least {least_m_s:.2g} m/s.",
                "Set creep_m_s of the law higher, or take a shorter step.",
            )
