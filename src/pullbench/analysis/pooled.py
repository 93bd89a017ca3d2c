"""Repeats, days and groups pooled by random effects, with where the next pull will lie.

Each result scatters by its own doubt u and, besides, from group to group by τ. τ² is Paule and Mandel's
(J. Res. Natl. Bur. Stand. 87 (1982) 377), the limits Hartung and Knapp's (Stat. Med. 20 (2001) 1771).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pullbench.analysis.repeats import Repeats, within
from pullbench.analysis.student import chi_square_upper_p
from pullbench.analysis.surfaces import check_names, check_value
from pullbench.errors import ConditionsError
from pullbench.model import BudgetRow, FloatArray, Measured, Pool, PoolGroup

TOO_ALIKE = 0.99  # results that agree better than 99 in 100 would by chance were rounded to the same step
MOST_STEPS = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """The values of one group, day or recording, and their own standard uncertainties (0: not known).

    aside: values set aside with their u.  untold: how many pulls gave none.
    """

    name: str
    values: tuple[float, ...]
    own_u: tuple[float, ...]
    aside: tuple[tuple[float, float], ...] = ()
    untold: int = 0


@dataclass(frozen=True, slots=True)
class Inside:
    """The variance of one pull inside a group, pooled over groups, and its degrees of freedom."""

    variance: float
    dof: int


def paule_mandel(values: FloatArray, u: FloatArray) -> float:
    """Return the between-group variance τ², 0 when the groups differ no more than their own u explain.

    values, u: shape (k,), k >= 2, u > 0.  Solves Σ (y − m)²/(u² + τ²) = k − 1 by Newton's rule, which comes
    from the left on a falling convex curve and so never passes the root (DerSimonian and Kacker,
    Contemp. Clin. Trials 28 (2007) 105).
    """
    tau2 = 0.0
    for _ in range(MOST_STEPS):
        w = 1 / (u**2 + tau2)
        left = values - (w @ values) / w.sum()
        excess = float(w @ left**2) - (values.size - 1)
        step = excess / float((w * left) @ (w * left)) if excess > 0 else 0.0
        tau2 += step
        if step <= 1e-14 * tau2:
            break
    return tau2


def pooled_mean(values: FloatArray, u: FloatArray, tau2: float) -> tuple[float, float]:
    """Return the weighted mean and its Hartung–Knapp standard uncertainty, on k − 1 degrees of freedom."""
    w = 1 / (u**2 + tau2)
    mean = float(w @ values / w.sum())
    return mean, math.sqrt(float(w @ (values - mean) ** 2) / (values.size - 1) / float(w.sum()))


def pool(
    groups: Sequence[PoolGroup],
    *,
    quantity: str,
    unit: str = "1",
    inside: Inside | None = None,
    next_is_pull: bool = False,
    u_scale: float = 0.0,
) -> Pool:
    """Return results pooled.  All u may be 0 (not known): then τ holds everything that scatters.

    inside: scatter of one pull in a group, when groups are means of pulls; the next pull then carries it.
    u_scale: relative standard uncertainty shared by all.  Raises ConditionsError.
    """
    _check(groups)
    values = np.array([group.value for group in groups])
    u = np.array([group.u for group in groups])
    if values.size < 2 or (not u.any() and not np.ptp(values)):
        why = (
            "one result only: how results scatter is not known"
            if values.size < 2
            else "all results are alike"
        )
        untold = Measured.cannot_tell(why, unit=unit)
        return _told(groups, quantity, untold, None, None, untold, next_is_pull)
    known = bool(u.any())
    tau2 = paule_mandel(values, u) if known else float(np.var(values, ddof=1))
    q = _heterogeneity(values, u) if known else None
    mean, u_mean = pooled_mean(values, u, tau2)
    if q is not None and chi_square_upper_p(q, values.size - 1) > TOO_ALIKE:
        u_mean = max(u_mean, 1 / math.sqrt(float((1 / u**2).sum())))
    dof = values.size - 1
    shared = BudgetRow("shared by all", abs(mean) * u_scale)
    mean_told = within(mean, (BudgetRow("scatter of the results", u_mean, dof), shared), unit)
    own = float(np.mean(u**2))
    rows = [BudgetRow("from group to group", math.sqrt(tau2 + own + u_mean**2), dof), shared]
    if inside is not None:
        rows.append(BudgetRow("pull to pull", math.sqrt(max(0.0, inside.variance - own)), inside.dof))
    following = within(mean, rows, unit)
    return _told(
        groups, quantity, mean_told, math.sqrt(tau2), q, following, next_is_pull or inside is not None
    )


def pool_batches(
    batches: Sequence[Batch], *, quantity: str, unit: str = "1", u_scale: float = 0.0, unlikely: bool = False
) -> Pool:
    """Return batches pooled, and beside it the pool with the values that were set aside.

    One batch: each of its pulls is a result.  Several: each batch is one, with the scatter inside batches
    pooled over them all, because a few pulls alone tell their scatter badly.  Raises ConditionsError.
    """
    check_names([batch.name for batch in batches], "group")
    for batch in batches:
        for value in (*batch.values, *(v for v, _ in batch.aside)):
            check_value(value, f"{quantity} of {batch.name}", unit, unlikely=unlikely)
    plain = _pooled(batches, quantity, unit, u_scale)
    aside = [batch.name for batch in batches for _ in batch.aside]
    untold = sum(batch.untold for batch in batches)
    everything = None
    if aside:
        whole = [
            Batch(
                name=b.name, values=(*b.values, *(v for v, _ in b.aside)), own_u=(*b.own_u, *(u for _, u in b.aside))
            )
            for b in batches
        ]  # fmt: skip
        everything = _pooled(whole, quantity, unit, u_scale)
    return Pool(
        quantity=quantity, groups=plain.groups, mean=plain.mean, between_sd=plain.between_sd, q=plain.q,
        q_p=plain.q_p, next_result=plain.next_result, next_is=plain.next_is, aside=tuple(aside), untold=untold,
        with_aside=everything,
    )  # fmt: skip


def _pooled(batches: Sequence[Batch], quantity: str, unit: str, u_scale: float) -> Pool:
    filled = [batch for batch in batches if batch.values]
    if len(filled) == 1 and len(filled[0].values) > 1:
        one = filled[0]
        singles = [
            PoolGroup(name=f"{one.name} {n}", value=v, u=u, pulls=1)
            for n, (v, u) in enumerate(zip(one.values, one.own_u, strict=True), 1)
        ]
        return pool(singles, quantity=quantity, unit=unit, next_is_pull=True, u_scale=u_scale)
    inside = _inside(filled)
    groups = [
        PoolGroup(
            name=b.name, value=sum(b.values) / len(b.values), pulls=len(b.values),
            u=b.own_u[0] if inside is None else math.sqrt(inside.variance / len(b.values)),
        )
        for b in filled
    ]  # fmt: skip
    if not groups:
        untold = Measured.cannot_tell("no pull told it", unit=unit)
        return _told((), quantity, untold, None, None, untold, True)
    return pool(groups, quantity=quantity, unit=unit, inside=inside, u_scale=u_scale)


def _inside(batches: Sequence[Batch]) -> Inside | None:
    """Return the scatter inside batches, at least the pulls' own doubt; None when no batch has repeats."""
    repeats = [Repeats.of(batch.values) for batch in batches]
    dof = sum(r.n - 1 for r in repeats)
    if dof == 0:
        return None
    squares = sum((r.variance or 0.0) * (r.n - 1) for r in repeats)
    own = float(np.mean([u**2 for batch in batches for u in batch.own_u]))
    variance = max(squares / dof, own)
    return Inside(variance, dof) if variance > 0 else None


def _heterogeneity(values: FloatArray, u: FloatArray) -> float:
    """Return Cochran's Q: how much more results differ than their own u explain; about k − 1 when not."""
    w = 1 / u**2
    return float(w @ (values - w @ values / w.sum()) ** 2)


def _told(
    groups: Sequence[PoolGroup],
    quantity: str,
    mean: Measured,
    between_sd: float | None,
    q: float | None,
    following: Measured,
    pull_next: bool,
) -> Pool:
    return Pool(
        quantity=quantity, groups=tuple(groups), mean=mean, between_sd=between_sd, q=q,
        q_p=None if q is None else chi_square_upper_p(q, len(groups) - 1), next_result=following,
        next_is="pull" if pull_next else "result",
    )  # fmt: skip


def _check(groups: Sequence[PoolGroup]) -> None:
    for group in groups:
        if not math.isfinite(group.value) or not 0 <= group.u < math.inf:
            raise ConditionsError(
                "result-impossible", f"{group.name} is {group.value:g} with u {group.u:g}.",
                "Both must be finite numbers, and u not negative.", "Mend that row.",
            )  # fmt: skip
    nought = [group.name for group in groups if group.u == 0]
    if nought and len(nought) < len(groups):
        raise ConditionsError(
            "u-missing", f"{nought[0]} has no standard uncertainty, and others have one.",
            "Either every result has its u, or none.", "Fill in u, or leave the column out.",
        )  # fmt: skip
