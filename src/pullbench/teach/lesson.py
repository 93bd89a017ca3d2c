"""Today's coefficients for the next problems: from a day's kept pulls, or from the handbook."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.analysis import from_repeats
from pullbench.errors import ConditionsError
from pullbench.model import LoadedPull, Measured, Pull, Verdict
from pullbench.model.problem import PairFriction
from pullbench.teach.handbook import Entry, Range
from pullbench.teach.kit import Coefficients

FIGURES = 2  # significant figures a coefficient is printed with, and so is used with
SOLE, FLOOR = "today's sole", "today's floor"  # until the bench is told what slides on what


@dataclass(frozen=True, slots=True, kw_only=True)
class TodaysPull:
    """One kept pull of the day: its number, the pull, what slid on what, and "simulated" or such, or None.

    load_kg: sled and all that lay on it, None when it was not said.
    """

    number: int
    pull: Pull
    sole: str = SOLE
    floor: str = FLOOR
    label: str | None = None
    load_kg: float | None = None

    @property
    def tells(self) -> bool:
        """Return whether it gives both coefficients as values."""
        both = self.pull.static_coefficient, self.pull.kinetic_coefficient
        usable = self.pull.verdict is not Verdict.PULL_AGAIN
        return usable and all(one is not None and one.kind == "value" for one in both)

    def loaded(self) -> LoadedPull | None:
        """Return its forces with what pressed, as a ladder takes them; None when no normal force is known.

        The normal force is the one its coefficient was made with: force over coefficient.
        """
        static, kinetic = self.pull.breakaway.force, self.pull.plateau.force
        for force, mu in ((kinetic, self.pull.kinetic_coefficient), (static, self.pull.static_coefficient)):
            if mu is not None and mu.value and force.value:
                return LoadedPull(
                    normal_N=abs(force.value / mu.value), name=f"pull {self.number}",
                    static_N=static.value if static.kind == "value" else None,
                    kinetic_N=kinetic.value if kinetic.kind == "value" else None,
                    u_static_N=static.standard_uncertainty or 0.0,
                    u_kinetic_N=kinetic.standard_uncertainty or 0.0,
                )  # fmt: skip
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """What the next problems are made with.

    static, kinetic: the coefficients with their limits when they were measured, None from the handbook.
    note: one sentence when the handbook stands in for a day, else "".
    """

    pair: PairFriction
    static: Measured | None = None
    kinetic: Measured | None = None
    note: str = ""


def pair_from(pulls: Sequence[TodaysPull], *, day: str) -> Lesson:
    """Return the lesson of the pair of surfaces with most pulls that tell (the later one among equals).

    Repeats are pooled; their scatter is in the limits.  A coefficient is rounded to two figures, as it will be
    printed.  Raises ConditionsError no-usable-pull, and coefficient-includes-nought when 95 % limits of a
    coefficient reach nought: no sensible number follows from such a one.
    """
    groups: dict[tuple[str, str], list[TodaysPull]] = {}
    for one in pulls:
        if one.tells:
            groups.setdefault((one.sole, one.floor), []).append(one)
    if not groups:
        raise ConditionsError(
            "no-usable-pull", f"{day} has no pull that tells both coefficients.",
            "It takes a usable pull with a known load.", "Pull with --load given, or use --day none.",
        )  # fmt: skip
    chosen = max(reversed(groups.values()), key=len)
    static, kinetic = (
        _pooled([mu for mu in coefficients if mu is not None], name, day)
        for name, coefficients in (
            ("static", [one.pull.static_coefficient for one in chosen]),
            ("kinetic", [one.pull.kinetic_coefficient for one in chosen]),
        )
    )
    labels = sorted({one.label for one in chosen if one.label})
    pair = PairFriction(
        sole=chosen[0].sole, floor=chosen[0].floor, source="today", label=", ".join(labels) or None,
        mu_s=_as_printed(static), mu_k=_as_printed(kinetic),
        u_mu_s=static.standard_uncertainty or 0.0, u_mu_k=kinetic.standard_uncertainty or 0.0,
        told=f"{len(chosen)} {'pull' if len(chosen) == 1 else 'pulls'} of {day}",
    )  # fmt: skip
    return Lesson(pair=pair, static=static, kinetic=kinetic)


def pair_of_handbook(entry: Entry, note: str = "") -> Lesson:
    """Return the lesson of a handbook entry: the first source that prints both values, as it prints them.

    Where no source has both, the middle of what the sources span.  The standard uncertainty is that of a value
    anywhere in the span of the sources, or within half of the last figure printed (JCGM 100:2008, 4.3.7).
    Raises ConditionsError.
    """
    spanned = Coefficients.from_ranges(entry.static, entry.kinetic, "handbook")
    both = [row for row in entry.rows if row.static and row.kinetic]
    mu_s, mu_k = (
        (_middle(both[0].static), _middle(both[0].kinetic)) if both
        else (_middle(spanned.static), _middle(spanned.kinetic))
    )  # fmt: skip
    rows = both[:1] or entry.rows[:1]
    pair = PairFriction(
        sole=rows[0].first, floor=rows[0].second, source="handbook",
        mu_s=_rounded(mu_s), mu_k=_rounded(mu_k), u_mu_s=_spread(spanned.static), u_mu_k=_spread(spanned.kinetic),
        told=f"the handbook, {rows[0].pair}: {rows[0].source}",
    )  # fmt: skip
    return Lesson(pair=pair, note=note)


def _pooled(coefficients: list[Measured], name: str, day: str) -> Measured:
    mean = coefficients[0] if len(coefficients) == 1 else from_repeats(coefficients)
    low, high = mean.limits or (None, None)
    if low is None or high is None or low <= 0:
        raise ConditionsError(
            "coefficient-includes-nought",
            f"The {name} coefficient of {day} is {mean.value:.2g}, with limits from {low:.2g} to {high:.2g}."
            if low is not None and high is not None
            else f"The {name} coefficient of {day} has no limits.",
            "Problems need a coefficient whose limits stay above nought.",
            "Pull a few more times, with more load, or use --day none.",
        )
    return mean


def _as_printed(measured: Measured) -> float:
    return _rounded(measured.value or 0.0)


def _rounded(value: float) -> float:
    return float(f"{value:.{FIGURES}g}")


def _middle(span: Range | None) -> float:
    return 0.0 if span is None else (span[0] + span[1]) / 2


def _spread(span: Range) -> float:
    middle = _middle(span)
    half_figure = 0.5 * 10.0 ** (math.floor(math.log10(middle)) - FIGURES + 1)
    return max((span[1] - span[0]) / 2, half_figure) / math.sqrt(3)
