"""Every moment of a held-up pull as forces on the sled, and what each of them rests on."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from pullbench.model.arrays import FloatArray
from pullbench.model.measured import Measured

StageName = Literal["rest", "loading", "settling", "sliding", "stick-slip", "let go"]
Motion = Literal["at rest", "slides", "cannot tell"]


@dataclass(frozen=True, slots=True)
class BodyStage:
    """A stretch of the pull in which the sled rests, slides, or nobody can tell which."""

    name: StageName
    start_s: float
    end_s: float
    motion: Motion


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FreeBody:
    """The forces on the sled at n moments, all arrays of shape (n,), NaN where they cannot be told.

    pull_N: of the string, rest reading off, never below nought.  friction_N: along the board, positive when it
    points against the pull.  limit_N: the most that static friction can be then.  normal_N: from the board.
    net_N: along the board, positive in the direction of the pull; acceleration_m_s2 with it.  *_half: half of
    the 95 % limits.  stage: index into `stages` of every moment.

    static_limit, kinetic: the friction at breakaway and while sliding, as measured on this pull.  weight,
    mass_kg: None without a load.  rider_kg: a loose rider on the sled, part of mass_kg; rider_N: the friction on
    it that its motion asks for, positive in the direction of the pull.
    """

    time_s: FloatArray
    pull_N: FloatArray
    pull_half_N: FloatArray
    friction_N: FloatArray
    friction_half_N: FloatArray
    limit_N: FloatArray
    limit_half_N: FloatArray
    normal_N: FloatArray
    normal_half_N: FloatArray
    net_N: FloatArray
    net_half_N: FloatArray
    acceleration_m_s2: FloatArray
    acceleration_half_m_s2: FloatArray
    stage: FloatArray
    stages: tuple[BodyStage, ...]
    breakaway_s: float | None
    static_limit: Measured
    kinetic: Measured
    weight: Measured | None = None
    mass_kg: float | None = None
    tilt_deg: float = 0.0
    string_deg: float = 0.0
    rider_kg: float | None = None
    rider_N: FloatArray | None = None
    rider_half_N: FloatArray | None = None

    def at(self, moments: npt.NDArray[np.int_]) -> FreeBody:
        """Return some of the moments alone, by their indices."""
        told: dict[str, Any] = {field.name: getattr(self, field.name) for field in fields(self)}
        columns = {name: one[moments] for name, one in told.items() if isinstance(one, np.ndarray)}
        return FreeBody(**{**told, **columns})
