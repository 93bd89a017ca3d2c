"""What else than a straight line through nought the pulls may follow, and how much better that fits.

Every cause adds one column to the line through nought: a mass left out and a rest offset add the same newtons
to every pull, a bend adds a share that changes with the load, a load that does not belong adds to one rung, a
drift adds a share that grows with the number of the pull.

Static and kinetic of one pull scatter together, so they are judged together, after C. R. Rao, "The theory of least
squares when the parameters are stochastic", Biometrika 52, 447 (1965): a mix of the two that the cause leaves
alone carries the scatter but not the cause, and goes into the fit of the other as one more column.  For
a cause that changes both in the same proportion (mass, bend, wrong load, drift) the mix is static ÷ ratio −
kinetic; for one that adds the same newtons (offset) it is static − kinetic.  The test of the column is then
Student's t, whatever the two have in common.  Both mixes span the same two forces, so without a cause they fit
alike and the gains of different causes can be compared.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from pullbench.analysis.lines.least_squares import least_squares, left_over
from pullbench.analysis.lines.weighted import LEAST_FORCE, Fit, rungs_of, sizes_N
from pullbench.analysis.student import two_sided_p
from pullbench.model import DiagnosisName, FloatArray, LoadedPull, Series

Change = Literal["share", "newtons"]  # what a cause adds alike to static and kinetic
# Between pulls of the same load, the upper end of what repeats usually show; it counts as much as so many more pulls,
# but only where fewer than FEW are left to tell the scatter by.
PRIOR_SCATTER, PRIOR_DOF, FEW = 0.05, 3, 6
LEAST_SCATTER = 0.001  # of the force: no pull is read better, however well static and kinetic go together
LEAST = (LEAST_SCATTER / PRIOR_SCATTER) ** 2
FEWEST_LOADS_FOR_ODD, FEWEST_PULLS_FOR_ODD = 4, 5  # with fewer any load can be the one that is off
FEWEST_PULLS_FOR_DRIFT = 6
FEWEST_LOADS_FOR_BEND = 3
STEEPEST_POWER = 0.8  # away from proportion: beyond it the force hardly knows the load
SAME = 1e-6  # of a column's squares: less is left when it is what is known already
LEFT_OVER = 2  # degrees of freedom below which static and kinetic are judged apart


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """The pulls that are judged, in the order pulled, shape (n,): both series if they are judged together.

    force_N: of `series`; other_N: of the other series or None; order: number of the pull,
    from the middle of them; rung: its load among rungs_N.  kinds: the standard deviations of force_N for each kind of
    scatter there may be, with its odds.
    """

    series: Series
    normal_N: FloatArray
    force_N: FloatArray
    other_N: FloatArray | None
    drawn_N: FloatArray
    kinds: tuple[tuple[FloatArray, float], ...]
    order: FloatArray
    rung: npt.NDArray[np.intp]
    rungs_N: FloatArray

    @property
    def ratio(self) -> float:
        """Return how many times the other force is as large as this one."""
        return 1.0 if self.other_N is None else float(self.other_N.sum() / self.force_N.sum())

    def mix(self, change: Change) -> FloatArray | None:
        """Return what of both forces a cause leaves alone, shape (n,), or None without the other force."""
        if self.other_N is None:
            return None
        return self.other_N / (self.ratio if change == "share" else 1.0) - self.force_N


@dataclass(frozen=True, slots=True, eq=False)
class Cause:
    """A column that may be added: shape (n,), newtons; the change it stands for; the rung it concerns.

    chosen_from: taken off the gain of a column that was itself picked with the pulls in sight: two for a fitted power
    (Akaike), twice the log of their number for one of so many loads.
    """

    name: DiagnosisName
    column_N: FloatArray
    change: Change
    rung: int | None = None
    chosen_from: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """A cause tried: p of its column by Student's t, twice the log of how much better the pulls are fitted.

    effect, u: of the column's factor, with its degrees of freedom; slope and covariance for ratios.
    """

    cause: Cause
    view: View
    p: float
    gain: float
    effect: float
    u: float
    slope: float
    u_slope: float
    covariance: float
    dof: int


def view_of(pulls: Sequence[LoadedPull], found: Fit, series: Series, *, paired: bool) -> View | None:
    """Return what is judged: the pulls with a force of this series, or with both when paired; None if too few.

    found: the fitted line of the series.  Pulls at a load of nought are left out: no share can be taken of it.
    """
    other: Series = "kinetic" if series == "static" else "static"
    kept = [
        (number, pull) for number, pull in enumerate(pulls)
        if pull.set_aside is None and pull.normal_N > 0 and pull.force_N(series) is not None
        and (not paired or pull.force_N(other) is not None)
    ]  # fmt: skip
    if len(kept) < 3:
        return None
    normal = np.array([pull.normal_N for _, pull in kept])
    rung, rungs = rungs_of(normal)
    if rungs.size < 2:
        return None
    force = np.array([pull.force_N(series) for _, pull in kept], dtype=np.float64)
    drawn = np.abs(found.line.intercept + found.line.slope * normal)
    drawn = np.maximum(drawn, LEAST_FORCE * drawn.max())
    own = np.maximum(np.array([pull.u_force_N(series) for _, pull in kept]), found.points.own_N.min())
    order = np.array([float(number) for number, _ in kept])
    return View(
        series=series, normal_N=normal, force_N=force,
        other_N=np.array([pull.force_N(other) for _, pull in kept], dtype=np.float64) if paired else None,
        drawn_N=drawn,
        kinds=tuple((np.hypot(own, PRIOR_SCATTER * sizes_N(drawn, even)), odds) for even, odds in found.kinds),
        order=order - order.mean(), rung=rung, rungs_N=rungs,
    )  # fmt: skip


def causes(view: View) -> Iterator[Cause]:
    """Yield the causes that these pulls could show."""
    normal, loads, n = view.normal_N, view.rungs_N.size, view.force_N.size
    same = np.ones(n)
    yield Cause("sled mass left out", same, "share")
    yield Cause("rest reading offset", same, "newtons")
    if loads >= FEWEST_LOADS_FOR_BEND:
        yield Cause("not proportional", normal * (normal / normal.mean() - 1), "share")
        yield Cause("not proportional", normal * _power(view), "share", chosen_from=2.0)
    if loads >= FEWEST_LOADS_FOR_ODD and n >= FEWEST_PULLS_FOR_ODD:
        for rung in range(loads):
            yield Cause(
                "a load that does not belong", np.where(view.rung == rung, view.drawn_N, 0.0), "share", rung,
                chosen_from=2 * math.log(loads),
            )  # fmt: skip
    if n >= FEWEST_PULLS_FOR_DRIFT:
        yield Cause("drifts with the order of pulls", view.drawn_N * view.order, "share")


def _power(view: View) -> FloatArray:
    """Return how a power of the load bends away from proportion: (N^p - 1) / p, or ln N where p is nought.

    p comes from the logarithms.
    """
    size = np.log(view.normal_N / view.normal_N.mean())
    away = size - size.mean()
    force = np.log(np.maximum(view.force_N, LEAST_FORCE * view.drawn_N))
    power = float(np.clip(away @ force / (away @ away) - 1, -STEEPEST_POWER, STEEPEST_POWER))
    bent: FloatArray = size if abs(power) < 1e-3 else np.expm1(power * size) / power
    return bent


def tried(view: View, cause: Cause, known: Sequence[Cause] = ()) -> Evidence | None:
    """Return how well a cause fits beside the line through nought and the causes already known.

    None when too few pulls are left to judge it by, or when its column is what is known already.  As the line is,
    it is averaged over the kinds of scatter by their odds: p and likelihoods as they are, variances by the law
    of total variance (see `averaged`).
    """
    told = [(_tried(view, cause, known, sd_N), odds) for sd_N, odds in view.kinds]
    kept = [(one, odds) for one, odds in told if one is not None]
    if not kept:
        return None
    share = np.array([odds for _, odds in kept])
    share /= share.sum()
    gains = np.array([one.gain for one, _ in kept])
    effects, slopes = (np.array([getattr(one, name) for one, _ in kept]) for name in ("effect", "slope"))
    effect, slope = float(share @ effects), float(share @ slopes)
    inside = share @ np.array([(one.p, one.u**2, one.u_slope**2, one.covariance) for one, _ in kept])
    return replace(
        kept[0][0], p=float(inside[0]), effect=effect, slope=slope,
        gain=float(gains.max() + 2 * np.log(share @ np.exp((gains - gains.max()) / 2))),
        u=math.sqrt(float(inside[1] + share @ (effects - effect) ** 2)),
        u_slope=math.sqrt(float(inside[2] + share @ (slopes - slope) ** 2)),
        covariance=float(inside[3] + share @ ((effects - effect) * (slopes - slope))),
    )  # fmt: skip


def _tried(view: View, cause: Cause, known: Sequence[Cause], sd_N: FloatArray) -> Evidence | None:
    """Return the evidence of a cause for one kind of scatter."""
    base = np.column_stack([view.normal_N, *(one.column_N for one in known)]) / sd_N[:, None]
    column = cause.column_N / sd_N
    force = view.force_N / sd_N
    mix = view.mix(cause.change)
    mix = None if mix is None else mix / sd_N
    if _squares(left_over(column, base)) < SAME * _squares(column):
        return None
    rest = None if mix is None else left_over(mix, base)
    in_step = rest is None or _squares(rest) < SAME**2 * _squares(force)  # one of the two says nothing more
    taken = base if rest is None or in_step else np.column_stack([base, rest])
    design = np.column_stack([taken, column])
    n, dof = force.size, force.size - design.shape[1]
    if dof < 1:
        return None
    solved = least_squares(design, force)
    squares, without = solved.squares, _squares(left_over(force, taken))
    prior = PRIOR_DOF if dof < FEW else 0
    cov = solved.cofactors * (max((squares + prior) / (dof + prior), LEAST))
    effect, u = float(solved.factors[-1]), math.sqrt(float(cov[-1, -1]))
    free = n - base.shape[1] - 1 + prior
    return Evidence(
        cause=cause, view=view, p=two_sided_p(effect / u, dof + prior),
        gain=free * math.log(max(without + prior, 1e-300) / max(squares + prior, 1e-300)) - cause.chosen_from,
        effect=effect, u=u, slope=float(solved.factors[0]), u_slope=math.sqrt(float(cov[0, 0])),
        covariance=float(cov[0, -1]), dof=dof + prior,
    )  # fmt: skip


def _squares(values: FloatArray) -> float:
    return float(values @ values)
