"""Pulls laid side by side: surfaces compared, two roads to one number, many results pooled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pullbench.model.measured import Measured
from pullbench.model.pull import Finding

Quantity = Literal["static", "kinetic"]
Sameness = Literal["same within the margin", "different", "cannot tell yet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfacePull:
    """What one pull on a surface gave; None where it could not be told.

    static, kinetic: coefficients, or newtons under one load.  u_static, u_kinetic: the pull's own standard
    uncertainty, 0 when it is not known.  set_aside: why the pull is left out, None when it counts.
    rested_s: how long the sled stood before it.  loading_s: how long the string took to reach the break.
    number: of a pull of the day, when it is one.
    """

    label: str
    static: float | None = None
    kinetic: float | None = None
    u_static: float = 0.0
    u_kinetic: float = 0.0
    set_aside: str | None = None
    rested_s: float | None = None
    loading_s: float | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface and its pulls in the order pulled.  unit: "1" for coefficients, "N" for forces."""

    name: str
    pulls: tuple[SurfacePull, ...]
    unit: str = "1"


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceLevel:
    """The mean of one surface.  scatter: standard deviation from pull to pull, None without repeats.

    pulls: how many entered.  untold: how many gave no value.  aside: how many were set aside.
    """

    surface: str
    quantity: Quantity
    mean: Measured
    scatter: float | None
    pulls: int
    untold: int
    aside: int


@dataclass(frozen=True, slots=True, kw_only=True)
class More:
    """How many more pulls of each would probably settle it, if what was seen so far stays as it is.

    of_each: None when not even a long lesson would.  usual_scatter: the scatter is the usual one of hand
    pulls, because these pulls cannot show their own.
    """

    of_each: int | None
    usual_scatter: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """The second surface against the first, by Welch's test.

    difference: second − first.  ratio: second ÷ first.  p: two-sided, of this pair alone; adjusted_p: after
    Holm's correction for all pairs.  t, dof, p are None without repeats.  larger: the second is surely
    larger (True), smaller (False), or it cannot be told (None), with what would settle it in `more`.
    """

    first: str
    second: str
    quantity: Quantity
    difference: Measured
    ratio: Measured
    t: float | None
    dof: float | None
    p: float | None
    adjusted_p: float | None
    larger: bool | None
    more: More | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Equivalence:
    """Whether two surfaces are the same within a margin chosen beforehand (two one-sided tests).

    p_lower: against second − first ≤ −margin; p_upper: against ≥ +margin; p: the larger one.  adjusted_p:
    after Holm's correction.  limits_90: the limits that lie inside the margin exactly when p < 0.05.
    beyond: the 95 % limits of the difference lie wholly outside the margin.
    """

    first: str
    second: str
    quantity: Quantity
    margin: float
    p_lower: float | None
    p_upper: float | None
    p: float | None
    adjusted_p: float | None
    limits_90: tuple[float, float] | None
    answer: Sameness
    beyond: bool
    more: More | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay:
    """One-way analysis of variance of several surfaces; pooled_sd: the scatter inside a surface."""

    between_ss: float
    between_dof: int
    within_ss: float
    within_dof: int
    f: float
    p: float
    pooled_sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """How static friction goes with the logarithm of a time.

    against: "rest time" before the pull, or "loading time" up to the break.  slope: per tenfold time, or
    why it cannot be told.  shown: its 95 % limits exclude nought.  span_s: shortest and longest time.
    """

    against: Literal["rest time", "loading time"]
    slope: Measured
    shown: bool
    pulls: int
    span_s: tuple[float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StaticKinetic:
    """Static against kinetic inside the same pulls: difference (static − kinetic) and ratio with limits.

    p: two-sided, paired t; None without repeats.
    """

    surface: str
    difference: Measured
    ratio: Measured
    p: float | None
    pulls: int
    growths: tuple[Growth, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Surfaces side by side.

    together: one-way analysis of variance a quantity, from three surfaces on.  with_aside: the same with
    the pulls that were set aside, when there are any.
    """

    surfaces: tuple[Surface, ...]
    levels: tuple[SurfaceLevel, ...]
    differences: tuple[Difference, ...]
    equivalences: tuple[Equivalence, ...]
    together: tuple[tuple[Quantity, OneWay], ...]
    paired: tuple[StaticKinetic, ...]
    margin: float | None
    with_aside: Comparison | None = None

    @property
    def unit(self) -> str:
        """Return the unit of every value: "1" or "N"."""
        return self.surfaces[0].unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """Two roads to one coefficient.  difference: tilt − pull.  same: True agree, False disagree, None cannot tell.

    p: the larger of the two one-sided tests against the margin.
    """

    quantity: Quantity
    pull: Measured
    difference: Measured
    margin: float
    p: float | None
    same: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltCheck:
    """Coefficients from a tilted board.  kinetic: None when no acceleration was given.

    highest_hold_deg: the steepest angle at which it stayed.  findings: what does not fit, with a fix.
    """

    slides_deg: tuple[float, ...]
    holds_deg: tuple[float, ...]
    static: Measured
    kinetic: Measured | None
    agreements: tuple[Agreement, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoolGroup:
    """One result that is pooled: value ± u from so many pulls (0: not known)."""

    name: str
    value: float
    u: float
    pulls: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """Results of groups, days or pulls pooled by random effects.

    mean: with Hartung–Knapp limits.  between_sd: Paule–Mandel's τ.  q, q_p: Cochran's heterogeneity and its
    tail, on groups − 1 degrees of freedom.  next_result: where the next one will lie, 95 % (next_is: what
    that is).  aside: results set aside; untold: pulls without a value; with_aside: the pool with those set
    aside, when there are any.
    """

    quantity: str
    groups: tuple[PoolGroup, ...]
    mean: Measured
    between_sd: float | None
    q: float | None
    q_p: float | None
    next_result: Measured
    next_is: Literal["pull", "result"]
    aside: tuple[str, ...] = ()
    untold: int = 0
    with_aside: Pool | None = None
