"""A load ladder from its pulls: both lines, the diagnoses, and a hidden load read back from the line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from pullbench.analysis.lines.diagnose import diagnose
from pullbench.analysis.lines.fit import NO_SHARED_DOUBT, Scales, averaged, load_line, points_of
from pullbench.analysis.lines.ratio import ratio_limits
from pullbench.analysis.lines.weighted import Fit
from pullbench.errors import ConditionsError
from pullbench.model import Ladder, LoadedPull, LoadLine, Measured, MysteryLoad, Series
from pullbench.physics import STANDARD_GRAVITY_M_S2

BOTH: tuple[Series, Series] = ("static", "kinetic")
MOST_PULLS = 1000  # more readings than that are samples of a pull, not pulls
HIGHEST_COEFFICIENT, LOWEST_COEFFICIENT = 3.0, 0.01  # beyond them a unit is mistaken more often than not


def ladder(
    pulls: Sequence[LoadedPull],
    *,
    mystery: Sequence[LoadedPull] = (),
    scales: Scales = NO_SHARED_DOUBT,
    g_m_s2: float = STANDARD_GRAVITY_M_S2,
    sure: bool = False,
) -> Ladder:
    """Return the load lines of pulls in the order pulled, with diagnoses.

    mystery: pulls of one hidden load (their normal force is not looked at).  sure: take a coefficient above 3
    or below 0.01 as it is.  Raises ConditionsError, each kind with its own code, for fewer than two
    loads, for more than 1000 pulls and for a coefficient that has to be asked about.
    """
    _check_count(pulls)
    fits = _fits(pulls)
    if not fits:
        raise _no_two_loads(pulls)
    if not sure:
        _ask_about_coefficients(fits)
    lines = {series: load_line(found, series, scales) for series, found in fits.items()}
    return Ladder(
        pulls=tuple(pulls),
        static=lines.get("static"),
        kinetic=lines.get("kinetic"),
        diagnoses=diagnose(pulls, fits, tuple(lines.values()), g_m_s2),
        with_aside=_with_aside(pulls, scales),
        mystery=_mystery(mystery, fits) if mystery else None,
        g_m_s2=g_m_s2,
    )


def _fits(pulls: Sequence[LoadedPull]) -> dict[Series, Fit]:
    points = {series: points_of(pulls, series) for series in BOTH}
    return averaged({series: told for series, told in points.items() if told is not None})


def _with_aside(pulls: Sequence[LoadedPull], scales: Scales) -> tuple[LoadLine, ...]:
    aside = [pull for pull in pulls if pull.set_aside is not None]
    if not any(pull.force_N(series) is not None for pull in aside for series in BOTH):
        return ()
    everything = _fits([replace(pull, set_aside=None) for pull in pulls])
    return tuple(load_line(found, series, scales) for series, found in everything.items())


def _mystery(hidden: Sequence[LoadedPull], fits: dict[Series, Fit]) -> MysteryLoad:
    told = {series: _hidden_load(hidden, found, series) for series, found in fits.items()}
    return MysteryLoad(static=told.get("static"), kinetic=told.get("kinetic"), pulls=len(hidden))


def _hidden_load(hidden: Sequence[LoadedPull], found: Fit, series: Series) -> Measured | None:
    """Return the normal force behind a force, by the line: (force - intercept) / slope, Fieller's limits.

    The hidden pulls scatter as the ladder's do; a shared error of the force scale cancels.
    """
    told = [
        (force, pull.u_force_N(series))
        for pull in hidden
        if pull.set_aside is None and (force := pull.force_N(series)) is not None
    ]
    if not told:
        return None
    if found.dof < 1:
        return Measured.cannot_tell("the ladder has too few pulls to read a load back", unit="N")
    force = float(np.mean([one for one, _ in told]))
    own = math.sqrt(sum(u**2 for _, u in told)) / len(told)
    line = found.line
    var_above = line.var_intercept + own**2 + ((found.scatter * force) ** 2 + found.scatter_N**2) / len(told)
    return ratio_limits(
        force - line.intercept, line.slope, var_above, line.var_slope, -line.covariance, found.dof, unit="N"
    )


def _check_count(pulls: Sequence[LoadedPull]) -> None:
    if len(pulls) > MOST_PULLS:
        raise ConditionsError(
            "ladder-too-long", f"The ladder has {len(pulls)} pulls.",
            f"It can have up to {MOST_PULLS}, one row a pull.",
            "If these are samples of a recording, read it with pullbench read.",
        )  # fmt: skip


def _no_two_loads(pulls: Sequence[LoadedPull]) -> ConditionsError:
    loads = {pull.normal_N for pull in pulls if pull.set_aside is None}
    told = [pull for pull in pulls if pull.static_N is not None or pull.kinetic_N is not None]
    aside = [pull.set_aside for pull in pulls if pull.set_aside is not None]
    if aside and len(loads) < 2:
        return ConditionsError(
            "pulls-set-aside",
            f"Of {len(pulls)} pulls, {len(aside)} are set aside ({aside[0]}); loads left: {len(loads)}.",
            "A line needs at least two different loads with a pull that counts.", "Pull those loads again.",
        )  # fmt: skip
    if len(loads) >= 2 and len(told) < len(pulls):
        return ConditionsError(
            "ladder-not-told", f"Of {len(pulls)} pulls, {len(told)} tell a force, at fewer than two loads.",
            "A line needs a force at two different loads at least.", "Pull again where no force could be told.",
        )  # fmt: skip
    if len(loads) == 1 and len(pulls) > 1:
        return ConditionsError(
            "loads-equal", f"All {len(pulls)} pulls have the same load of {loads.pop():.4g} N.",
            "A line needs at least two different loads, better five from light to five times as heavy.",
            "Add tins and pull again; for repeats of one load use pullbench read --load.",
        )  # fmt: skip
    return ConditionsError(
        "one-load-only", "There is one load only." if loads else "There is no pull with a load.",
        "A line needs at least two different loads, better five from light to five times as heavy.",
        "Add a load and pull again.",
    )  # fmt: skip


def _ask_about_coefficients(fits: dict[Series, Fit]) -> None:
    for series, found in fits.items():
        pressed = found.points.normal_N > 0
        share = float(np.median(found.points.force_N[pressed] / found.points.normal_N[pressed]))
        if not LOWEST_COEFFICIENT <= share <= HIGHEST_COEFFICIENT:
            raise ConditionsError(
                "coefficient-doubtful", f"The {series} force is {share:.3g} times the load: is that so?",
                f"From {LOWEST_COEFFICIENT:g} to {HIGHEST_COEFFICIENT:g} is usual, with loads in kg and forces in N.",
                "Mend the unit, or say --sure if the surfaces are that odd.",
            )  # fmt: skip
