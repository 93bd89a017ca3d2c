"""Many pulls at several loads: the points of a ladder, the line through them, what is wrong with it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from pullbench.model.measured import Measured

Series = Literal["static", "kinetic"]
DiagnosisName = Literal[
    "sled mass left out",
    "rest reading offset",
    "not proportional",
    "a load that does not belong",
    "drifts with the order of pulls",
    "loads too close to tell",
    "too few pulls to tell",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedPull:
    """One pull of a ladder: what pressed, and what it took to start and to keep sliding (None: not told).

    normal_N: 0 or more; 0 is what people type who leave the sled out.  u_normal_N: shared by all pulls at
    this load, since they carry the same tins.  u_static_N, u_kinetic_N: this pull's own doubt, without the
    scatter between pulls.  set_aside: why the pull is left out of the fit, or None.  number: of a pull of the
    day, when it is one.
    """

    normal_N: float
    static_N: float | None = None
    kinetic_N: float | None = None
    u_normal_N: float = 0.0
    u_static_N: float = 0.0
    u_kinetic_N: float = 0.0
    name: str = ""
    set_aside: str | None = None
    number: int | None = None

    def __post_init__(self) -> None:
        numbers = (self.normal_N, self.u_normal_N, self.u_static_N, self.u_kinetic_N)
        if not all(0 <= number < math.inf for number in numbers):  # written so that NaN is refused too
            raise ValueError(f"a load or a doubt cannot be one of {numbers}")
        told = [force for force in (self.static_N, self.kinetic_N) if force is not None]
        if not all(math.isfinite(force) for force in told):
            raise ValueError(f"a force cannot be one of {told}")

    def force_N(self, series: Series) -> float | None:
        """Return the static maximum or the kinetic level."""
        return self.static_N if series == "static" else self.kinetic_N

    def u_force_N(self, series: Series) -> float:
        """Return that force's own standard uncertainty."""
        return self.u_static_N if series == "static" else self.u_kinetic_N


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadLine:
    """Friction against normal force: force = intercept + slope × normal force.

    slope: the coefficient.  covariance_N: of slope and intercept.  scatter, scatter_N: between pulls, as a
    share of the force and as newtons alike at every load.  u_own_N: root mean square of the pulls' own
    doubt.  dof: pulls less two.  pulls, loads: used.  lowest_N, highest_N: normal forces it was pulled at.
    lack_of_fit_p: chance of straying so far from a straight line if it is one; None when no load was pulled
    twice.
    """

    series: Series
    slope: Measured
    intercept: Measured
    covariance_N: float
    scatter: float
    scatter_N: float
    u_own_N: float
    dof: int
    pulls: int
    loads: int
    lowest_N: float
    highest_N: float
    lack_of_fit_p: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What keeps a ladder from being a plain law, as far as the pulls show it.

    size: how much, or why that cannot be told.  series: lines it was seen in.  rivals: other causes that
    fit nearly as well.  at_N: the load concerned, when it is one load.  told_by: what shows it.
    """

    name: DiagnosisName
    size: Measured
    series: tuple[Series, ...] = ()
    rivals: tuple[DiagnosisName, ...] = ()
    at_N: float | None = None
    told_by: Literal["pulls", "a load of nought"] = "pulls"


@dataclass(frozen=True, slots=True, kw_only=True)
class MysteryLoad:
    """A hidden load, or a hand pressing down, found from what it takes to pull: in newtons, by each line.

    pulls: of the hidden load.
    """

    static: Measured | None
    kinetic: Measured | None
    pulls: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """A load ladder: its pulls in the order pulled, both lines, the diagnoses, most telling first.

    with_aside: the lines as they would be with the pulls set aside, when there are any.  g_m_s2: between
    masses and normal forces.
    """

    pulls: tuple[LoadedPull, ...]
    static: LoadLine | None
    kinetic: LoadLine | None
    diagnoses: tuple[Diagnosis, ...]
    with_aside: tuple[LoadLine, ...] = ()
    mystery: MysteryLoad | None = None
    g_m_s2: float = 9.80665

    @property
    def lines(self) -> tuple[LoadLine, ...]:
        """Return the lines there are, static first."""
        return tuple(line for line in (self.static, self.kinetic) if line is not None)
