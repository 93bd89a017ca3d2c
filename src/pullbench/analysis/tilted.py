"""Tilt check: coefficients from a tilted board, and whether they agree with the pull's."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pullbench.analysis.equivalence import answer, two_one_sided
from pullbench.analysis.repeats import Repeats, within
from pullbench.analysis.surfaces import check_value
from pullbench.analysis.welch import Welch
from pullbench.errors import ConditionsError
from pullbench.model import Agreement, BudgetRow, Finding, Measured, Quantity, TiltCheck
from pullbench.physics import (
    STANDARD_GRAVITY_M_S2,
    acceleration_down_m_s2,
    coefficient_from_acceleration,
    coefficient_from_tilt,
)

U_ANGLE_DEG = 0.3  # a gauge read and set within half a degree: 0.5/√3
AGREE_WITHIN = (
    0.10  # of the pull's coefficient, when the room chose no margin: two tables differ by twice that
)
ONE_SIDED_95 = 1.645


def tilt_check(
    slides_deg: Sequence[float],
    holds_deg: Sequence[float] = (),
    *,
    accelerations_m_s2: Sequence[float] = (),
    accelerated_at_deg: float | Sequence[float] | None = None,
    u_angle_deg: float = U_ANGLE_DEG,
    g_m_s2: float = STANDARD_GRAVITY_M_S2,
    pull: dict[Quantity, Measured] | None = None,
    margin: float | None = None,
    unlikely: bool = False,
) -> TiltCheck:
    """Return the coefficients of a tilted board and, given those from pulls, whether they agree.

    slides_deg: angles at which the sled slid off, one a trial.  holds_deg: angles at which it stayed; as
    many as slides and each below its slide: then the slip lies between the two.  accelerations_m_s2: down
    the board, tilted by accelerated_at_deg, one for all or one each (else by the slide of the same trial, or the
    mean slide).
    u_angle_deg: of the gauge, shared by all.  pull: coefficients to compare with.  margin: what counts as
    agreement, 10 % of the pull's when None.  Raises ConditionsError.
    """
    _check(slides_deg, holds_deg, accelerations_m_s2, u_angle_deg, margin, unlikely)
    static = _static(slides_deg, holds_deg, u_angle_deg)
    kinetic = None
    if accelerations_m_s2:
        kinetic = _kinetic(accelerations_m_s2, slides_deg, accelerated_at_deg, u_angle_deg, g_m_s2)
    roads: dict[Quantity, Measured | None] = {"static": static, "kinetic": kinetic}
    return TiltCheck(
        slides_deg=tuple(slides_deg), holds_deg=tuple(holds_deg), static=static, kinetic=kinetic,
        agreements=tuple(
            agreement(name, tilted, from_pull, margin)
            for name, from_pull in (pull or {}).items()
            if (tilted := roads[name]) is not None
        ),
        findings=tuple(_findings(slides_deg, holds_deg)),
    )  # fmt: skip


def agreement(quantity: Quantity, tilted: Measured, pull: Measured, margin: float | None = None) -> Agreement:
    """Return whether two roads lead to the same coefficient, within a margin: two one-sided tests.

    Agree only when the difference is surely smaller than the margin; disagree when it is surely not
    nought and not surely smaller; else it cannot be told.
    """
    width = margin if margin is not None else AGREE_WITHIN * (pull.value or math.nan)
    u_tilt, u_pull = tilted.standard_uncertainty, pull.standard_uncertainty
    if tilted.kind != "value" or pull.kind != "value" or not u_tilt or not u_pull:
        why = next(m.reason for m in (tilted, pull) if m.kind != "value") or "there are no limits"
        untold = Measured.cannot_tell(why, unit="1")
        return Agreement(quantity=quantity, pull=pull, difference=untold, margin=width, p=None, same=None)
    rows = (
        BudgetRow("the tilt", u_tilt, tilted.budget.effective_dof),
        BudgetRow("the pull", u_pull, pull.budget.effective_dof),
    )
    difference = within((tilted.value or 0.0) - (pull.value or 0.0), rows, "1")
    test = Welch(difference.value or 0.0, difference.budget.combined, difference.budget.effective_dof)
    p = max(two_one_sided(test, width))
    same = {"same within the margin": True, "different": False, "cannot tell yet": None}[answer(p, test.p)]
    return Agreement(quantity=quantity, pull=pull, difference=difference, margin=width, p=p, same=same)


def _static(slides_deg: Sequence[float], holds_deg: Sequence[float], u_angle_deg: float) -> Measured:
    if not slides_deg:
        steepest, per_degree = coefficient_from_tilt(max(holds_deg))
        low = steepest - ONE_SIDED_95 * per_degree * u_angle_deg
        return Measured(
            kind="lower bound", value=steepest, standard_uncertainty=per_degree * u_angle_deg, limits=(low, None),
            unit="1", reason="it never slid",
        )  # fmt: skip
    steps = _steps(slides_deg, holds_deg)
    told = [coefficient_from_tilt(slide - step / 2) for slide, step in zip(slides_deg, steps, strict=True)]
    own = [slope * step / math.sqrt(12) for (_, slope), step in zip(told, steps, strict=True)]
    repeats = Repeats.of([mu for mu, _ in told], own)
    if not repeats.variance:
        why = (
            "one slide only" if repeats.n < 2 else "every slide at the same angle: the steps were too coarse"
        )
        return Measured.cannot_tell(f"{why}, so how slides scatter is not known", unit="1")
    per_degree = coefficient_from_tilt(math.degrees(math.atan(repeats.mean)))[1]
    gauge = BudgetRow("the angle gauge", per_degree * u_angle_deg)
    return within(repeats.mean, (repeats.row("scatter between slides"), gauge), "1")


def _steps(slides_deg: Sequence[float], holds_deg: Sequence[float]) -> list[float]:
    """Return how far each slip may lie below its slide: to the hold of the same trial, 0 without one."""
    pairs = list(zip(slides_deg, holds_deg, strict=False))
    if len(slides_deg) != len(holds_deg) or any(hold >= slide for slide, hold in pairs):
        return [0.0] * len(slides_deg)
    return [slide - hold for slide, hold in pairs]


def _kinetic(
    accelerations: Sequence[float],
    slides_deg: Sequence[float],
    at_deg: float | Sequence[float] | None,
    u_angle_deg: float,
    g_m_s2: float,
) -> Measured:
    """Return μk = tan θ − a/(g cos θ) with the scatter of the accelerations and the shared angle's doubt."""
    angles, u_mean_deg = _angles(accelerations, slides_deg, at_deg)
    for a, angle_deg in zip(accelerations, angles, strict=True):
        if a >= (freely := acceleration_down_m_s2(0.0, angle_deg, g_m_s2=g_m_s2)):
            raise ConditionsError(
                "acceleration-too-large", f"The acceleration is {a:g} m/s² at {angle_deg:.3g}°.",
                f"Without any friction it would be {freely:.3g} m/s²; it must be below.",
                "Check the angle (--at) and the unit, m/s².",
            )  # fmt: skip
    repeats = Repeats.of(
        [
            coefficient_from_acceleration(a, d, g_m_s2=g_m_s2)
            for a, d in zip(accelerations, angles, strict=True)
        ]
    )
    if not repeats.variance:
        why = "one run only" if repeats.n < 2 else "every run alike"
        return Measured.cannot_tell(f"{why}, so how accelerations scatter is not known", unit="1")
    theta = math.radians(sum(angles) / len(angles))
    mean_a = sum(accelerations) / len(accelerations)
    slope = math.radians(1.0) * (1 - mean_a * math.sin(theta) / g_m_s2) / math.cos(theta) ** 2
    rows = (
        repeats.row("scatter between runs"),
        BudgetRow("the angle gauge", slope * u_angle_deg),
        BudgetRow("the angle of the runs", slope * u_mean_deg, max(1, len(slides_deg) - 1)),
    )
    return within(repeats.mean, rows, "1")


def _angles(
    accelerations: Sequence[float],
    slides_deg: Sequence[float],
    at_deg: float | Sequence[float] | None,
) -> tuple[list[float], float]:
    """Return the angle of each run and the doubt of a mean angle (degrees)."""
    if isinstance(at_deg, Sequence):
        return list(at_deg), 0.0
    if at_deg is not None:
        return [at_deg] * len(accelerations), 0.0
    if len(slides_deg) == len(accelerations):
        return list(slides_deg), 0.0
    mean = Repeats.of(slides_deg)
    if mean.u is None:
        raise ConditionsError(
            "angle-missing", f"There are {len(accelerations)} accelerations and {mean.n} slides.",
            "Each acceleration needs the tilt at which it was measured.", "Give it with --at, such as --at 20.",
        )  # fmt: skip
    return [mean.mean] * len(accelerations), mean.u


def _check(
    slides_deg: Sequence[float],
    holds_deg: Sequence[float],
    accelerations: Sequence[float],
    u_angle_deg: float,
    margin: float | None,
    unlikely: bool,
) -> None:
    if not slides_deg and not holds_deg:
        raise ConditionsError(
            "no-angle", "There is no angle.", "A tilt check needs angles at which the sled slid, or held.",
            "Give --slides 17.2,16.8,17.5 or --holds 16,16.5, or both.",
        )  # fmt: skip
    for name, angles in (("slide", slides_deg), ("hold", holds_deg)):
        for angle_deg in angles:
            if not 0 < angle_deg < 90:
                raise ConditionsError(
                    "tilt-out-of-range", f"A {name} is at {angle_deg:g}°.", "It must lie between 0° and 90°.",
                    "Measure the tilt from level, in degrees.",
                )  # fmt: skip
            if name == "slide":
                check_value(
                    coefficient_from_tilt(angle_deg)[0],
                    f"static coefficient ({angle_deg:g}°)",
                    "1",
                    unlikely=unlikely,
                )
    for what, number, lowest in (("angle gauge's doubt", u_angle_deg, 0.0), ("margin", margin, 1e-9)):
        if number is not None and not lowest <= number < math.inf:
            raise ConditionsError(
                "width-impossible",
                f"The {what} is {number:g}.",
                "It must be a finite number above nought.",
                "Mend it.",
            )
    if not all(map(math.isfinite, accelerations)):
        raise ConditionsError(
            "acceleration-not-finite",
            "An acceleration is no number.",
            "It must be finite, in m/s².",
            "Mend it.",
        )


def _findings(slides_deg: Sequence[float], holds_deg: Sequence[float]) -> Iterator[Finding]:
    if slides_deg and holds_deg and max(holds_deg) >= max(slides_deg):
        yield Finding(
            "held steeper than it slid",
            f"It held at {max(holds_deg):g}° although it slid at {max(slides_deg):g}° at the latest.",
            "Start each trial from the same mark with the same wait, and raise the board without a jolt.",
        )
