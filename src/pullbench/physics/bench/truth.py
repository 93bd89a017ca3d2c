"""From the simulated motion to the forces and the truth about the pull."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.physics.bench.rig import Bench, law_numbers, sled_numbers
from pullbench.physics.bench.run import PullTruth, Run
from pullbench.physics.bench.step import patch_at, sliding_coefficient
from pullbench.physics.bench.tipping import refuse_tipping
from pullbench.physics.plane import pull_needed_N


class Slip(NamedTuple):
    """One slip: when it began and ended (infinite if it outlasts the run), the pull at its start."""

    start_s: float
    end_s: float
    pull_N: float
    direction: float


def not_a_number(name: str, from_s: float) -> BenchError:
    """Return the error about a simulation that ran away from all numbers."""
    return BenchError(
        "not-a-number",
        f"The {name} is no number from {from_s:.3f} s on.",
        "Every force, place and speed must stay finite.",
        "Look for a size that is out of all proportion to the others.",
    )


def _refuse_not_finite(name: str, history: FloatArray, time_s: FloatArray) -> None:
    if not np.all(np.isfinite(history)):
        raise not_a_number(name, float(time_s[np.argmin(np.isfinite(history))]))


def run_from_motion(
    bench: Bench,
    hand: str,
    *,
    time_s: FloatArray,
    hands_m: FloatArray,
    hand_speeds_m_s: FloatArray,
    positions_m: FloatArray,
    velocities_m_s: FloatArray,
    states: FloatArray,
    slips: list[Slip],
    rider_slips: tuple[tuple[float, float], ...],
    rider_extra_N: Mapping[int, float],
    patch_factors: FloatArray,
    patch_spacing_m: float,
    every: int,
) -> Run:
    """Return the run on every `every`-th point of the grid, with the truth from all of it."""
    _, stiffness, damping, along, lift, pressing, downhill = sled_numbers(bench)
    stretch_m = hands_m - positions_m * along
    pulls_N = stiffness * stretch_m + damping * (hand_speeds_m_s - velocities_m_s * along)
    pulls_N = np.where(stretch_m > 0, np.maximum(pulls_N, 0.0), 0.0)
    for name, history in (("place", positions_m), ("speed", velocities_m_s), ("pull", pulls_N)):
        _refuse_not_finite(name, history, time_s)
    normals_N = pressing - pulls_N * lift
    if not np.all(normals_N > 0):
        raise BenchError(
            "sled-lifts-off",
            f"At {time_s[np.argmin(normals_N)]:.2f} s the pull of {pulls_N.max():.3g} N lifts the sled off.",
            "The normal force must stay above 0 N.",
            "Lower the string angle, or pull less hard.",
        )
    sliding, direction = _sliding(time_s, slips)
    friction_N = pulls_N * along - downhill
    mus = _coefficients(bench, positions_m, velocities_m_s, states, sliding, direction)
    if patch_factors.size > 1:
        factors = patch_factors.tolist()
        mus[sliding] *= [patch_at(x, factors, patch_spacing_m) for x in positions_m[sliding].tolist()]
    for i, extra_N in rider_extra_N.items():
        friction_N[i] += extra_N
    friction_N[sliding] = (direction * mus * normals_N)[sliding]
    _refuse_not_finite("friction", friction_N, time_s)
    refuse_tipping(bench, time_s, pulls_N, friction_N)
    truth = _truth(bench, hand, time_s, pulls_N, friction_N, sliding, slips, even=patch_factors.size == 1)
    truth = replace(truth, rider_slips=rider_slips)
    return Run(
        time_s=time_s[::every],
        pull_N=pulls_N[::every],
        friction_N=friction_N[::every],
        velocity_m_s=velocities_m_s[::every],
        position_m=positions_m[::every],
        hand_m=hands_m[::every],
        sliding=sliding[::every],
        truths=(truth,),
    )


def _sliding(time_s: FloatArray, slips: list[Slip]) -> tuple[npt.NDArray[np.bool_], FloatArray]:
    """Return where on the grid the sled slides, and in which direction (0 at rest)."""
    direction = np.zeros(time_s.size)
    h = time_s[1] - time_s[0]
    for slip in slips:
        # A grid point belongs to the slip when it lies strictly inside it.
        first = int(np.floor(slip.start_s / h)) + 1
        last = time_s.size if math.isinf(slip.end_s) else int(np.ceil(slip.end_s / h))
        direction[first:last] = slip.direction
    return direction != 0, direction


def _coefficients(
    bench: Bench,
    positions_m: FloatArray,
    velocities_m_s: FloatArray,
    states: FloatArray,
    sliding: npt.NDArray[np.bool_],
    direction: FloatArray,
) -> FloatArray:
    """Return the kinetic coefficient of an even surface at every point that slides (else 0)."""
    mus = np.zeros(positions_m.size)
    if bench.law.constant is not None:
        mus[sliding] = bench.law.constant
        return mus
    law, speeds = law_numbers(bench.law), (velocities_m_s * direction)[sliding]
    pairs = zip(speeds.tolist(), states[sliding].tolist(), strict=True)
    mus[sliding] = [sliding_coefficient(speed, state, law) for speed, state in pairs]
    return mus


def _truth(
    bench: Bench,
    hand: str,
    time_s: FloatArray,
    pulls_N: FloatArray,
    friction_N: FloatArray,
    sliding: npt.NDArray[np.bool_],
    slips: list[Slip],
    *,
    even: bool,
) -> PullTruth:
    taut = np.flatnonzero(pulls_N > 0)
    first, last = (int(taut[0]), int(taut[-1])) if taut.size else (0, 0)
    end_s = float(time_s[-1])
    return PullTruth(
        hand=hand,
        start_s=float(time_s[max(0, first - 1)]),
        end_s=float(time_s[min(time_s.size - 1, last + 1)]) if taut.size else 0.0,
        breakaway_time_s=slips[0].start_s if slips else None,
        breakaway_force_N=slips[0].pull_N if slips else None,
        kinetic_N=_kinetic_N(bench, friction_N[sliding], even=even) if slips else None,
        stick_intervals=_rests(slips, end_s),
    )


def _kinetic_N(bench: Bench, friction_N: FloatArray, *, even: bool) -> float:
    """Return the pull that keeps the sled sliding steadily."""
    if bench.law.constant is not None and even:
        angles = {"string_deg": bench.string_deg, "tilt_deg": bench.tilt_deg}
        return pull_needed_N(bench.law.constant, bench.weight_N, **angles)
    _, _, _, along, _, _, downhill = sled_numbers(bench)
    mean_N = float(np.mean(friction_N)) if friction_N.size else math.nan
    return (mean_N + downhill) / along


def _rests(slips: list[Slip], end_s: float) -> tuple[tuple[float, float], ...]:
    """Return the spans between the slips, from 0 to end_s."""
    starts = [0.0, *(slip.end_s for slip in slips)]
    ends = [*(slip.start_s for slip in slips), end_s]
    return tuple((a, b) for a, b in zip(starts, ends, strict=True) if a < b)
