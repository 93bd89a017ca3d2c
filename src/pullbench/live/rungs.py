"""The pulls of a day on one surface as the rungs of a load ladder, and the ladder.

Pulls set aside or to be pulled again stay in sight: they are handed on with their reason and counted, never used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.analysis import Scales, ladder
from pullbench.errors import ConditionsError
from pullbench.live.day_pulls import NO_SURFACE, LeftOut, number_of, surface_name
from pullbench.live.settings import known_surfaces, the_surface
from pullbench.model import DayPull, Ladder, LoadedPull
from pullbench.physics import STANDARD_GRAVITY_M_S2

NO_LOAD, NO_SLED = "its load was not said", "the sled's mass was not said"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rungs:
    """What a ladder is drawn of: pulls on one surface, those that count, those that do not and why.

    over_load_alone: the sled's mass is not known, so that it is not in the loads.
    """

    surface: str
    surfaces: tuple[str, ...]
    loaded: tuple[LoadedPull, ...]
    counted: tuple[int, ...]
    greyed: tuple[LeftOut, ...]
    scales: Scales
    over_load_alone: bool
    sled_kg: float | None


def rungs_of(
    pulls: Sequence[DayPull], surface: str | None = None, *, g_m_s2: float = STANDARD_GRAVITY_M_S2
) -> Rungs:
    """Return a day's pulls on one surface as the pulls of a ladder.

    surface: None takes the one that was pulled on last.  Raises ConditionsError for a surface the day has not.
    """
    known = known_surfaces(pulls)
    chosen = the_surface(pulls, surface) if surface else _newest_surface(pulls)
    here = [pull for pull in pulls if surface_name(pull) in (chosen, "")] if chosen else list(pulls)
    # Without its surface a pull belongs to a ladder only where nobody ever said one.
    weighed = any(pull.setting is not None and pull.setting.sled_kg is not None for pull in here)
    loaded, greyed = [], []
    for pull in here:
        why = _why_not_on_ladder(pull, chosen, weighed=weighed)
        if why is not None:
            greyed.append(LeftOut(number=pull.number, why=why))
        elif pull.left_out is not None:
            greyed.append(LeftOut(number=pull.number, why=pull.left_out))
        if why is None:
            loaded.append(_loaded(pull, g_m_s2, weighed=weighed))
    counts = tuple(one.number for one in loaded if one.set_aside is None and one.number is not None)
    used = [pull for pull in here if pull.number in counts]
    return Rungs(
        surface=chosen, surfaces=known, loaded=tuple(loaded), counted=counts, greyed=tuple(greyed),
        scales=Scales(u_force=max((pull.u_gain for pull in used), default=0.0)), over_load_alone=not weighed,
        sled_kg=next((p.setting.sled_kg for p in reversed(used) if p.setting and p.setting.sled_kg), None),
    )  # fmt: skip


def ladder_of(
    rungs: Rungs,
    *,
    mystery: Sequence[LoadedPull] = (),
    g_m_s2: float = STANDARD_GRAVITY_M_S2,
    sure: bool = False,
) -> Ladder:
    """Return the load lines of a day's pulls.  Raises ConditionsError while there is no line."""
    loads = {one.normal_N for one in rungs.loaded if one.set_aside is None}
    if len(loads) < 2:
        raise _no_line(rungs, len(loads))
    return ladder(rungs.loaded, mystery=mystery, scales=rungs.scales, g_m_s2=g_m_s2, sure=sure)


def _no_line(rungs: Rungs, loads: int) -> ConditionsError:
    unsaid = sum(one.why in (NO_LOAD, NO_SLED) for one in rungs.greyed)
    where = f" on {rungs.surface}" if rungs.surface else ""
    if not rungs.loaded and not rungs.greyed:
        what = f"There is no pull{where} yet."
    elif unsaid and not loads:
        what = f"{unsaid} pull{'s' if unsaid > 1 else ''}{where} {'have' if unsaid > 1 else 'has'} no load."
    else:
        count = len(rungs.counted)
        kept = "1 pull counts" if count == 1 else f"{count} pulls count"
        what = f"{kept}{where}, at {'one load' if loads == 1 else 'no load'}."
    step = "Say the load, such as: load 0.5." if unsaid and not loads else "Add a tin and pull: next load."
    return ConditionsError("one-load-only", what, "A line needs pulls at two different loads at least.", step)


def _why_not_on_ladder(pull: DayPull, surface: str, *, weighed: bool) -> str | None:
    """Return why a pull has no place on a ladder at all."""
    setting = pull.setting
    if setting is None or setting.load_kg is None:
        return NO_LOAD
    if weighed and setting.sled_kg is None:
        return NO_SLED
    return NO_SURFACE if surface and not setting.surface else None


def _loaded(pull: DayPull, g_m_s2: float, *, weighed: bool) -> LoadedPull:
    setting = pull.setting
    assert setting is not None
    mass_kg = (setting.load_kg or 0.0) + ((setting.sled_kg or 0.0) if weighed else 0.0)
    static, kinetic = number_of(pull.static), number_of(pull.kinetic)
    return LoadedPull(
        normal_N=mass_kg * g_m_s2, u_normal_N=setting.u_load_kg * g_m_s2, static_N=static, kinetic_N=kinetic,
        u_static_N=pull.own_u_N(pull.static) if static is not None else 0.0,
        u_kinetic_N=pull.own_u_N(pull.kinetic) if kinetic is not None else 0.0,
        name=f"pull {pull.number}", set_aside=pull.left_out, number=pull.number,
    )  # fmt: skip


def _newest_surface(pulls: Sequence[DayPull]) -> str:
    return next((surface_name(pull) for pull in reversed(pulls) if surface_name(pull)), "")
