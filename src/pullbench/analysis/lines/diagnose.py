"""What is wrong with a ladder, if anything: at most two causes, rivals named, and whether it can tell at all."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pullbench.analysis.lines.causes import LEFT_OVER, Cause, Evidence, View, causes, tried, view_of
from pullbench.analysis.lines.ratio import ratio_limits
from pullbench.analysis.lines.weighted import Fit
from pullbench.analysis.student import coverage_factor
from pullbench.model import Diagnosis, DiagnosisName, LoadedPull, LoadLine, Measured, Series

# Chances of a false word on a clean ladder, per test; together at most one ladder in twenty (the tests of the
# intercept and of a bend overlap, the loads share theirs).
CHANCE: dict[DiagnosisName, float] = {
    "sled mass left out": 0.011,
    "rest reading offset": 0.011,
    "not proportional": 0.006,
    "a load that does not belong": 0.012,
    "drifts with the order of pulls": 0.008,
}
SECOND = 0.5  # of those chances, for a second cause beside the first
RIVAL = 3.84  # twice the log likelihood: a cause that fits no worse than this cannot be ruled out (chi², 5 %)
AT_NOUGHT: frozenset[DiagnosisName] = frozenset({"sled mass left out", "rest reading offset"})
FEWEST_PULLS, FEWEST_LOADS = 4, 3
CLOSE, VERY_CLOSE = 0.6, 0.4  # spread of the loads as a share of their middle
WIDE, RATHER_WIDE = 0.25, 0.10  # half-width of the slope's limits that goes with each


def diagnose(
    pulls: Sequence[LoadedPull], fits: dict[Series, Fit], lines: Sequence[LoadLine], g_m_s2: float
) -> tuple[Diagnosis, ...]:
    """Return the diagnoses, most telling first.

    fits, lines: of the series that have a line.  Causes are looked for only where they can be told; what keeps them
    from being told is a diagnosis of its own.
    """
    found = [*_left_out_by_typing(pulls, fits, g_m_s2)]
    too_few = _too_few(lines)
    if not too_few:
        known = [one.name for one in found]
        found += [one for one in _seen(pulls, fits, g_m_s2) if not (known and one.name in AT_NOUGHT)]
    return (*found, *too_few, *([] if too_few else _too_close(lines)))


def _seen(pulls: Sequence[LoadedPull], fits: dict[Series, Fit], g_m_s2: float) -> list[Diagnosis]:
    views = _views(pulls, fits)
    found: list[Diagnosis] = []
    known: list[Cause] = []
    named: set[DiagnosisName] = set()
    for share in (1.0, SECOND):
        evidence = [
            one for view in views for cause in causes(view)
            if cause.name not in named and (one := tried(view, cause, _on(view, known))) is not None
            and possible(one)
        ]  # fmt: skip
        first = _best(evidence, share / len(views))
        if first is None:
            break
        rivals = [] if found else _rivals(first, evidence)
        for one in (first, *rivals):
            others = tuple(other.cause.name for other in (first, *rivals) if other is not one)
            found.append(_diagnosis(one, others, views, g_m_s2))
        known.append(first.cause)
        named |= {one.cause.name for one in (first, *rivals)}
        if first.cause.name in AT_NOUGHT:
            named |= AT_NOUGHT
        if first.cause.name == "not proportional" or rivals:
            break
    return found


def _views(pulls: Sequence[LoadedPull], fits: dict[Series, Fit]) -> list[View]:
    """Return both series together if enough pulls tell both, else each series alone."""
    if len(fits) == 2:
        both = view_of(pulls, fits["kinetic"], "kinetic", paired=True)
        most = max(found.points.force_N.size for found in fits.values())
        if both is not None and both.force_N.size >= max(3 + LEFT_OVER, 0.6 * most):
            return [both]
    alone = (view_of(pulls, found, series, paired=False) for series, found in fits.items())
    return [view for view in alone if view is not None]


def _on(view: View, known: Sequence[Cause]) -> list[Cause]:
    """Return the known causes as they look in a view: a column belongs to the view it was made for."""
    mine = list(causes(view))
    return [
        next((one for one in mine if (one.name, one.rung) == (cause.name, cause.rung)), mine[0])
        for cause in known
    ]


def possible(one: Evidence) -> bool:
    """Return whether the cause can have that sign: a mass can be left out, but not be less than nothing."""
    return one.cause.name != "sled mass left out" or one.effect > 0


def _best(evidence: Sequence[Evidence], share: float) -> Evidence | None:
    odd = max((one.view.rungs_N.size for one in evidence), default=1)

    def passes(one: Evidence) -> bool:
        tests = odd if one.cause.rung is not None else 1
        return one.p <= CHANCE[one.cause.name] * share / tests

    return max(filter(passes, evidence), key=lambda one: one.gain, default=None)


def _rivals(first: Evidence, evidence: Sequence[Evidence]) -> list[Evidence]:
    """Return the other causes that fit nearly as well, the best of each name."""
    rivals: dict[DiagnosisName, Evidence] = {}
    for one in sorted(evidence, key=lambda one: -one.gain):
        near = one.view is first.view and first.gain - one.gain < RIVAL
        if near and one.cause.name != first.cause.name:
            rivals.setdefault(one.cause.name, one)
    return list(rivals.values())


def _diagnosis(
    one: Evidence, rivals: tuple[DiagnosisName, ...], views: Sequence[View], g_m_s2: float
) -> Diagnosis:
    view = one.view
    series: tuple[Series, ...] = ("static", "kinetic") if view.other_N is not None else (view.series,)
    at_N = None if one.cause.rung is None else float(view.rungs_N[one.cause.rung])
    return Diagnosis(name=one.cause.name, size=_size(one, g_m_s2), series=series, rivals=rivals, at_N=at_N)


def _size(one: Evidence, g_m_s2: float) -> Measured:
    name, view = one.cause.name, one.view
    if name == "sled mass left out":
        return ratio_limits(
            one.effect, one.slope, one.u**2, one.u_slope**2, one.covariance, one.dof, unit="kg", over=g_m_s2
        )
    if name == "rest reading offset":
        return _plain(one.effect, one.u, one.dof, "N")
    if name == "not proportional":
        share = one.cause.column_N / view.normal_N
        ends = share[view.rung == view.rungs_N.size - 1][0] - share[view.rung == 0][0]
        change = 100 * float(ends) / one.slope
        return _plain(one.effect * change, one.u * abs(change), one.dof, "%")
    return _plain(100 * one.effect, 100 * one.u, one.dof, "%" if one.cause.rung is not None else "% per pull")


def _plain(value: float, u: float, dof: int, unit: str) -> Measured:
    half = coverage_factor(dof) * u
    return Measured(
        kind="value", value=value, standard_uncertainty=u, limits=(value - half, value + half), unit=unit
    )


def _left_out_by_typing(
    pulls: Sequence[LoadedPull], fits: dict[Series, Fit], g_m_s2: float
) -> list[Diagnosis]:
    """Return the mass left out when a load of nought was typed: what slides cannot weigh nothing."""
    if not any(pull.normal_N == 0 and pull.set_aside is None for pull in pulls):
        return []
    sizes = {series: _meets_edge(found, g_m_s2) for series, found in fits.items()}
    best = min(sizes, key=lambda series: _width(sizes[series]))
    return [
        Diagnosis(
            name="sled mass left out", size=sizes[best], series=tuple(sizes), told_by="a load of nought"
        )
    ]


def _meets_edge(found: Fit, g_m_s2: float) -> Measured:
    line = found.line
    if found.dof < 1:
        return Measured.cannot_tell("two pulls always lie on a line", unit="kg")
    return ratio_limits(
        line.intercept, line.slope, line.var_intercept, line.var_slope, line.covariance, found.dof,
        unit="kg", over=g_m_s2,
    )  # fmt: skip


def _width(size: Measured) -> float:
    low, high = size.limits or (None, None)
    return math.inf if low is None or high is None else high - low


def _too_few(lines: Sequence[LoadLine]) -> list[Diagnosis]:
    most_pulls, most_loads = max(line.pulls for line in lines), max(line.loads for line in lines)
    if most_pulls >= FEWEST_PULLS and most_loads >= FEWEST_LOADS:
        return []
    missing = float(max(FEWEST_PULLS - most_pulls, FEWEST_LOADS - most_loads, 1))
    return [Diagnosis(name="too few pulls to tell", size=_count(missing, "pulls"), series=_names(lines))]


def _too_close(lines: Sequence[LoadLine]) -> list[Diagnosis]:
    low, high = min(line.lowest_N for line in lines), max(line.highest_N for line in lines)
    spread = (high - low) / ((high + low) / 2)
    width = min(_share(line) for line in lines)
    if (spread < CLOSE and width > WIDE) or (spread < VERY_CLOSE and width > RATHER_WIDE):
        ratio = high / low if low > 0 else math.inf
        return [Diagnosis(name="loads too close to tell", size=_count(ratio, "times"), series=_names(lines))]
    return []


def _share(line: LoadLine) -> float:
    """Return half the width of the slope's limits as a share of the slope."""
    low, high = line.slope.limits or (None, None)
    if low is None or high is None or not line.slope.value:
        return math.inf
    return (high - low) / 2 / abs(line.slope.value)


def _count(number: float, unit: str) -> Measured:
    return Measured(kind="value", value=number, standard_uncertainty=None, limits=(None, None), unit=unit)


def _names(lines: Sequence[LoadLine]) -> tuple[Series, ...]:
    return tuple(line.series for line in lines)
