"""The rest reading now: what is taken off the force that is shown, followed while nobody pulls."""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass

import numpy as np

from pullbench.analysis import correlation_factor, resolution_step, robust_sd
from pullbench.model import BudgetRow, Chunk, FloatArray, Measured, UncertaintyBudget, WatchState

LOOK_S = 3.0
"""Rest that is averaged."""
FRESH_S = 0.3
"""The newest samples are left out: the first of a pull are still called quiet."""
LEAST_S = 0.5
EVERY_S = 0.2
SHOWN_S = 0.15  # of newest samples make the force that is shown
_OUTLIER = 5.0


@dataclass(frozen=True, slots=True)
class RestNow:
    """The rest reading in use: rest_N with its u_N, noise_N of one sample, from at_s of the recording on.

    noise_factor: n over the effective number of samples.  settled: False while no rest was seen yet and the
    first samples stand in for it.
    """

    rest_N: float
    u_N: float
    noise_N: float
    noise_factor: float
    step_N: float
    at_s: float
    settled: bool


class Null:
    """Follows the rest reading of one recording.  look_s: how much rest is averaged."""

    def __init__(self, look_s: float = LOOK_S) -> None:
        self._look_s = look_s
        self.now: RestNow | None = None
        self._pieces: deque[tuple[FloatArray, FloatArray]] = deque()
        self._newest: deque[tuple[FloatArray, FloatArray]] = deque()
        self._quiet_since_s: float | None = None
        self._looked_s = -math.inf
        self._count_N = (
            math.inf
        )  # smallest change ever seen: the step of a sensor that shows two values at rest

    def see(self, chunk: Chunk, state: WatchState) -> bool:
        """Take samples and the state after them; return whether the rest reading was taken anew."""
        if not chunk.time_s.size:
            return False
        time_s = float(chunk.time_s[-1])
        before_N = self._newest[-1][1][-1:] if self._newest else chunk.force_N[:1]
        changes_N = np.abs(np.diff(chunk.force_N, prepend=before_N))
        self._count_N = min(self._count_N, float(np.min(changes_N, where=changes_N > 0, initial=math.inf)))
        self._newest.append((chunk.time_s, chunk.force_N))
        while len(self._newest) > 1 and self._newest[1][0][0] < time_s - SHOWN_S:
            self._newest.popleft()
        if state is not WatchState.QUIET:
            self._pieces.clear()
            self._quiet_since_s = None
            return self._stand_in(chunk)
        if self._quiet_since_s is None:
            self._quiet_since_s = float(chunk.time_s[0])
        self._pieces.append((chunk.time_s, chunk.force_N))
        while len(self._pieces) > 1 and self._pieces[0][0][-1] < time_s - self._look_s - FRESH_S:
            self._pieces.popleft()
        if time_s - self._looked_s < EVERY_S:
            return self._stand_in(chunk)
        self._looked_s = time_s
        return self._take() or self._stand_in(chunk)

    def renew(self) -> None:
        """Forget the rest seen so far; the next half second of quiet gives a new one."""
        self._pieces.clear()
        self._quiet_since_s = None

    def quiet_trace(self) -> tuple[FloatArray, FloatArray]:
        """Return the rest that is held, without its newest moment: times and forces, shape (n,)."""
        times = np.concatenate([np.empty(0), *(piece[0] for piece in self._pieces)])
        forces = np.concatenate([np.empty(0), *(piece[1] for piece in self._pieces)])
        sure = times <= (times[-1] - FRESH_S if times.size else 0.0)
        return times[sure], forces[sure]

    def force(self, u_gain: float = 0.0) -> Measured | None:
        """Return the force now: the mean of the newest samples less the rest reading; None before any sample.

        u: rest reading, noise of the mean, resolution, force scale; 95 % limits. While the force moves fast
        this is the mean over SHOWN_S.
        """
        if self.now is None or not self._newest:
            return None
        newest_s = float(self._newest[-1][0][-1])
        times = np.concatenate([piece[0] for piece in self._newest])
        forces = np.concatenate([piece[1] for piece in self._newest])[times > newest_s - SHOWN_S]
        rest = self.now
        value = float(forces.mean()) - rest.rest_N
        effective = max(forces.size / rest.noise_factor, 1.0)
        rows = (
            BudgetRow("rest reading", rest.u_N),
            BudgetRow("noise", rest.noise_N / math.sqrt(effective)),
            BudgetRow("resolution", rest.step_N / math.sqrt(12) if rest.step_N > 3 * rest.noise_N else 0.0),
            BudgetRow("force scale, by masses", abs(value) * u_gain),
        )
        budget = UncertaintyBudget(tuple(row for row in rows if row.u > 0))
        half = 1.96 * budget.combined
        return Measured(
            kind="value", value=value, standard_uncertainty=budget.combined, limits=(value - half, value + half),
            unit="N", budget=budget,
        )  # fmt: skip

    def _stand_in(self, chunk: Chunk) -> bool:
        """Use the first samples until a rest was seen: a strip needs a line to start from."""
        if self.now is not None:
            return False
        level = float(np.median(chunk.force_N))
        spread = robust_sd(chunk.force_N)
        self.now = RestNow(level, spread, spread, 1.0, 0.0, float(chunk.time_s[0]), settled=False)
        return True

    def _take(self) -> bool:
        times, forces = self.quiet_trace()
        if times.size < 4 or times[-1] - times[0] < LEAST_S:
            return False
        middle, spread = float(np.median(forces)), robust_sd(forces)
        if spread > 0:
            forces = forces[np.abs(forces - middle) <= _OUTLIER * spread]
        step_N = resolution_step(forces)
        if np.unique(forces).size <= 2 and math.isfinite(self._count_N):
            step_N = self._count_N
        level = float(forces.mean())
        noise_N = max(robust_sd(forces), step_N / math.sqrt(12))
        left = forces - level
        factor = correlation_factor(left) if float(np.std(left)) > 0.3 * step_N else 1.0
        u_N = noise_N * math.sqrt(factor / forces.size)
        if step_N > 3 * robust_sd(forces):
            u_N = max(u_N, step_N / math.sqrt(12))
        self.now = RestNow(level, u_N, noise_N, factor, step_N, float(times[-1]), settled=True)
        return True
