"""What the bench hands back: the motion, sample by sample, and the truth about every pull."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from pullbench.errors import BenchError
from pullbench.model import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class PullTruth:
    """What really happened in one simulated pull; times in the run's own seconds, forces as pulls (N).

    hand: its name.  start_s, end_s: the string first carries force, and last does.
    breakaway_time_s, breakaway_force_N: first motion and the pull then; None if it never moved.
    kinetic_N: the pull that keeps the sled sliding steadily (= μk N on a level board with a level
    string); for laws that depend on speed, from the friction averaged over the sliding time; None if
    it never moved.  stick_intervals: spans at rest, the first and last included.  rider_slips: spans in
    which a loose rider slid on the sled (infinite where it still did at the end).
    """

    hand: str
    start_s: float
    end_s: float
    breakaway_time_s: float | None
    breakaway_force_N: float | None
    kinetic_N: float | None
    stick_intervals: tuple[tuple[float, float], ...]
    rider_slips: tuple[tuple[float, float], ...] = ()

    @property
    def slid(self) -> bool:
        """Return whether the sled moved at all."""
        return self.breakaway_time_s is not None

    def later(self, delay_s: float) -> PullTruth:
        """Return the same truth with all times moved by delay_s."""
        breakaway_s = self.breakaway_time_s
        return replace(
            self,
            start_s=self.start_s + delay_s,
            end_s=self.end_s + delay_s,
            breakaway_time_s=None if breakaway_s is None else breakaway_s + delay_s,
            stick_intervals=tuple((a + delay_s, b + delay_s) for a, b in self.stick_intervals),
            rider_slips=tuple((a + delay_s, b + delay_s) for a, b in self.rider_slips),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """A simulated recording before any sensor has seen it.

    time_s (evenly spaced), pull_N (true pull of the string), friction_N (on the sled, along the
    board, positive against forward motion), velocity_m_s, position_m (of the sled along the board),
    hand_m (along the string; 0 is taut at the start of each pull) and sliding (bool): all of shape
    (n,), read-only.  truths: one for each pull, in order.
    """

    time_s: FloatArray
    pull_N: FloatArray
    friction_N: FloatArray
    velocity_m_s: FloatArray
    position_m: FloatArray
    hand_m: FloatArray
    sliding: npt.NDArray[np.bool_]
    truths: tuple[PullTruth, ...]

    def __post_init__(self) -> None:
        for array in self._arrays():
            array.setflags(write=False)

    def _arrays(self) -> tuple[npt.NDArray[np.generic], ...]:
        motion = (self.time_s, self.pull_N, self.friction_N, self.velocity_m_s, self.position_m, self.hand_m)
        return (*motion, self.sliding)

    @property
    def step_s(self) -> float:
        """Return the spacing of time_s."""
        return float(self.time_s[1] - self.time_s[0])

    @property
    def breakaway_time_s(self) -> float | None:
        """Return when the first pull broke away, or None."""
        return self.truths[0].breakaway_time_s

    @property
    def breakaway_force_N(self) -> float | None:
        """Return the pull at the first breakaway, or None."""
        return self.truths[0].breakaway_force_N

    @property
    def kinetic_N(self) -> float | None:
        """Return the kinetic level of the first pull, or None."""
        return self.truths[0].kinetic_N

    @property
    def stick_intervals(self) -> tuple[tuple[float, float], ...]:
        """Return the spans at rest of all pulls."""
        return tuple(span for truth in self.truths for span in truth.stick_intervals)


def in_a_row(runs: Sequence[Run]) -> Run:
    """Return one run that holds these pulls one after the other, as in one long recording.

    Every run must begin and end at rest with a slack string, so that nothing depends on where the
    sled stands.  All must share one time step.  Raises BenchError.
    """
    if not runs:
        raise BenchError(
            "no-runs", "No runs were given.", "At least one is needed.", "Simulate a pull first."
        )
    step_s = runs[0].step_s
    for run in runs:
        if abs(run.step_s - step_s) > 1e-9 * step_s:
            raise BenchError(
                "steps-differ",
                f"Runs have steps of {step_s:g} s and {run.step_s:g} s.",
                "All must share one time step.",
                "Simulate them with the same step_s.",
            )
        if run.pull_N[0] != 0 or run.pull_N[-1] != 0 or run.sliding[0] or run.sliding[-1]:
            raise BenchError(
                "run-not-at-rest",
                "A run begins or ends with a taut string or a moving sled.",
                "Each must begin and end at rest with the string slack.",
                "Give the hand a rest before and after.",
            )
    return _joined(runs, step_s)


def _joined(runs: Sequence[Run], step_s: float) -> Run:
    starts = np.cumsum([0, *(run.time_s.size for run in runs)])
    moved_m = np.cumsum([0.0, *(run.position_m[-1] for run in runs)])
    return Run(
        time_s=np.arange(starts[-1]) * step_s,
        pull_N=np.concatenate([run.pull_N for run in runs]),
        friction_N=np.concatenate([run.friction_N for run in runs]),
        velocity_m_s=np.concatenate([run.velocity_m_s for run in runs]),
        position_m=np.concatenate([run.position_m + x for run, x in zip(runs, moved_m, strict=False)]),
        hand_m=np.concatenate([run.hand_m for run in runs]),
        sliding=np.concatenate([run.sliding for run in runs]),
        truths=tuple(
            truth.later(float(start) * step_s)
            for run, start in zip(runs, starts, strict=False)
            for truth in run.truths
        ),
    )
