"""A day's tilted board beside its pulls: two roads to one coefficient."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.analysis import tilt_check
from pullbench.analysis.compare import mean_of
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.surfaces import told
from pullbench.errors import ConditionsError
from pullbench.live.day_pulls import surface_name
from pullbench.live.settings import name_among
from pullbench.live.side_by_side import pressing_N, shared_u, surface_pull
from pullbench.model import DayPull, Measured, Quantity, Surface, TiltCheck, TiltReading
from pullbench.physics import STANDARD_GRAVITY_M_S2

QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoRoads:
    """A tilt check, the surface it is about, and the pulls beside it."""

    surface: str
    surfaces: tuple[str, ...]
    check: TiltCheck
    pulls: tuple[int, ...]


def tilt_of(
    readings: Sequence[TiltReading], pulls: Sequence[DayPull], surface: str | None = None, *,
    g_m_s2: float = STANDARD_GRAVITY_M_S2, u_angle_deg: float | None = None, margin: float | None = None,
    sure: bool = False,
) -> TwoRoads:  # fmt: skip
    """Return the coefficients of a day's tilted board beside those of its pulls on the same surface.

    surface: None takes that of the newest reading.  Raises ConditionsError while there is none.
    """
    known = tuple(dict.fromkeys(one.surface for one in readings if one.surface))
    chosen = _tilted_surface(readings, known, surface)
    kept = [one for one in readings if one.aside is None and one.surface == chosen]
    if not kept:
        aside = sum(one.surface == chosen for one in readings)
        raise ConditionsError(
            "no-angle", f"All {aside} angles are left out." if aside else "There is no angle yet.",
            "A tilt check needs angles at which the sled slid, or held.", "Tilt the board, such as: tilt 17.5 slid.",
        )  # fmt: skip
    slides = [one.angle_deg for one in kept if one.kind == "slid"]
    holds = [one.angle_deg for one in kept if one.kind == "held"]
    runs = [(one.angle_deg, one.acceleration_m_s2) for one in kept if one.acceleration_m_s2 is not None]
    level = _on_the_level(pulls, chosen, g_m_s2)
    if not slides and not holds:
        # A sled that slides down has slid: its tilt is above the one at which it would have begun.
        raise ConditionsError(
            "no-angle", "There are accelerations and no angle at which the sled slid off, or held.",
            "A tilt check begins with the static coefficient.", "Tilt slowly until it slides: tilt 17.5 slid.",
        )  # fmt: skip
    more = {} if u_angle_deg is None else {"u_angle_deg": u_angle_deg}
    check = tilt_check(
        slides, holds, accelerations_m_s2=[a for _, a in runs], accelerated_at_deg=[angle for angle, _ in runs],
        g_m_s2=g_m_s2, pull={q: m for q, m in level.means.items() if q == "static" or runs}, margin=margin,
        unlikely=sure, **more,
    )  # fmt: skip
    return TwoRoads(surface=chosen, surfaces=known, check=check, pulls=level.pulls)


def _tilted_surface(readings: Sequence[TiltReading], known: Sequence[str], surface: str | None) -> str:
    if not surface:
        return readings[-1].surface if readings else ""
    found = name_among(known, surface)
    if found is None:
        raise ConditionsError(
            "surface-unknown", f"No angle of the day is on {surface.strip()!r}.",
            f"Those there are: {', '.join(known)}." if known else "There is none on a named surface.",
            "Name one of them." if known else "Say it with the angle.",
        )  # fmt: skip
    return found


@dataclass(frozen=True, slots=True)
class Level:
    """The mean coefficients of the pulls on the level."""

    means: dict[Quantity, Measured]
    pulls: tuple[int, ...]


def _on_the_level(pulls: Sequence[DayPull], surface: str, g_m_s2: float) -> Level:
    """Return the coefficients by pull, where sled and load of every pull that counts are known."""
    here = [pull for pull in pulls if surface_name(pull) == surface]
    used = [pull for pull in here if pull.left_out is None]
    if not used or any(pressing_N(pull, g_m_s2) is None for pull in used):
        return Level({}, ())
    values = Surface(
        name=surface or "pulls",
        pulls=tuple(surface_pull(pull, pressing_N(pull, g_m_s2) or 1.0, None, None) for pull in used),
    )
    share = shared_u(used, coefficients=True)
    means = {q: mean_of(Repeats.of(*told(values, q)), "1", share) for q in QUANTITIES}
    return Level(means, tuple(pull.number for pull in used))
