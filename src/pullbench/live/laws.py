"""From the pulls of a day to its laws: load ladder, surfaces side by side, tilt against pull, pools.

Pulls set aside or to be pulled again stay in sight: they are handed on with their reason and counted, never used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from pullbench.analysis import Batch, Scales, compare, ladder, tilt_check
from pullbench.analysis.compare import mean_of
from pullbench.analysis.repeats import Repeats
from pullbench.analysis.surfaces import told
from pullbench.errors import ConditionsError
from pullbench.live.settings import known_surfaces, the_surface
from pullbench.model import (
    Comparison,
    DayPull,
    Ladder,
    LoadedPull,
    Measured,
    Quantity,
    Setting,
    Surface,
    SurfacePull,
    TiltCheck,
    TiltReading,
)
from pullbench.physics import STANDARD_GRAVITY_M_S2

QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")
NO_LOAD, NO_SLED = "its load was not said", "the sled's mass was not said"
NO_SURFACE, OTHER_LOAD = "its surface was not said", "its load and its sled were not said"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A pull that does not count, and why."""

    number: int
    why: str


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
    static, kinetic = _number(pull.static), _number(pull.kinetic)
    return LoadedPull(
        normal_N=mass_kg * g_m_s2, u_normal_N=setting.u_load_kg * g_m_s2, static_N=static, kinetic_N=kinetic,
        u_static_N=pull.own_u_N(pull.static) if static is not None else 0.0,
        u_kinetic_N=pull.own_u_N(pull.kinetic) if kinetic is not None else 0.0,
        name=f"pull {pull.number}", set_aside=pull.left_out, number=pull.number,
    )  # fmt: skip


def _number(force: Measured) -> float | None:
    """Return a value; a bound is not one to fill a law with."""
    return force.value if force.kind == "value" else None


def surface_name(pull: DayPull) -> str:
    """Return the surface a pull was on, "" when nobody said one."""
    return "" if pull.setting is None else pull.setting.surface


def _newest_surface(pulls: Sequence[DayPull]) -> str:
    return next((surface_name(pull) for pull in reversed(pulls) if surface_name(pull)), "")


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBySide:
    """A day's surfaces: coefficients where sled and load are known, else newtons under one load.

    u_scale: relative doubt that all values share.
    """

    surfaces: tuple[Surface, ...]
    greyed: tuple[LeftOut, ...]
    u_scale: float


def surfaces_of(
    pulls: Sequence[DayPull], *, g_m_s2: float = STANDARD_GRAVITY_M_S2, quantity: Quantity | None = None
) -> SideBySide:
    """Return a day's surfaces with their pulls in the order pulled.

    quantity: one alone, or None for both.  Raises ConditionsError when the pulls cannot be set side by side.
    """
    named = [pull for pull in pulls if surface_name(pull)]
    pressing = {p.setting.pressing_kg for p in named if p.left_out is None and p.setting is not None}
    coefficients = bool(pressing) and None not in pressing and 0.0 not in pressing
    if not coefficients and len({p.setting.load_kg for p in named if p.left_out is None and p.setting}) > 1:
        raise ConditionsError(
            "loads-differ", "The pulls are at different loads, and the sled's mass is not known.",
            "Coefficients need both, load and sled.", "Say the sled's mass, such as: sled 0.35.",
        )  # fmt: skip
    rested = _rests(named)
    found: dict[str, list[SurfacePull]] = {}
    for pull in named:
        weight_N = _weight_N(pull, g_m_s2) if coefficients else 1.0
        if weight_N is not None:
            found.setdefault(surface_name(pull), []).append(
                _one(pull, weight_N, rested[pull.number], quantity)
            )
    greyed = [LeftOut(number=p.number, why=NO_SURFACE) for p in pulls if not surface_name(p)]
    greyed += [LeftOut(number=p.number, why=p.left_out) for p in named if p.left_out is not None]
    unit = "1" if coefficients else "N"
    return SideBySide(
        surfaces=tuple(Surface(name=name, pulls=tuple(some), unit=unit) for name, some in found.items()),
        greyed=tuple(sorted(greyed, key=lambda one: one.number)), u_scale=_shared(named, coefficients),
    )  # fmt: skip


def comparison_of(side: SideBySide, *, margin: float | None = None, sure: bool = False) -> Comparison:
    """Return the surfaces compared.  Raises ConditionsError while there are not two."""
    if len(side.surfaces) < 2:
        only = f"only {side.surfaces[0].name}" if side.surfaces else "no surface"
        raise ConditionsError(
            "one-surface-only", f"There is {only} to compare.", "A comparison needs pulls on two surfaces or more.",
            "Change the sole and say so, such as: surface felt.",
        )  # fmt: skip
    return compare(side.surfaces, margin=margin, u_scale=side.u_scale, unlikely=sure)


def _weight_N(pull: DayPull, g_m_s2: float) -> float | None:
    mass_kg = None if pull.setting is None else pull.setting.pressing_kg
    return mass_kg * g_m_s2 if mass_kg else None


def _shared(pulls: Sequence[DayPull], coefficients: bool) -> float:
    used = [pull for pull in pulls if pull.left_out is None and pull.setting is not None]
    gain = max((pull.u_gain for pull in used), default=0.0)
    if not coefficients:
        return gain
    loads = [p.setting.u_load_kg / p.setting.pressing_kg for p in used if p.setting and p.setting.pressing_kg]
    return float((gain**2 + max(loads, default=0.0) ** 2) ** 0.5)


def _rests(pulls: Sequence[DayPull]) -> dict[int, float | None]:
    """Return how long the sled stood before each pull, where it stood on the same under the same."""
    rests: dict[int, float | None] = {pull.number: None for pull in pulls}
    for before, pull in pairwise(pulls):
        if before.setting == pull.setting:
            rests[pull.number] = max(pull.start_s - before.end_s, 0.0)
    return rests


def _one(pull: DayPull, weight_N: float, rested_s: float | None, quantity: Quantity | None) -> SurfacePull:
    static, kinetic = (
        None if quantity not in (None, name) else _number(force)
        for name, force in (("static", pull.static), ("kinetic", pull.kinetic))
    )
    return SurfacePull(
        label=f"pull {pull.number}", number=pull.number, set_aside=pull.left_out, rested_s=rested_s,
        static=None if static is None else static / weight_N,
        kinetic=None if kinetic is None else kinetic / weight_N,
        u_static=pull.own_u_N(pull.static) / weight_N if static is not None else 0.0,
        u_kinetic=pull.own_u_N(pull.kinetic) / weight_N if kinetic is not None else 0.0,
        loading_s=None if pull.break_s is None else pull.break_s - pull.start_s,
    )  # fmt: skip


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
    found = next((name for name in known if name.lower() == surface.strip().lower()), None)
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
    if not used or any(_weight_N(pull, g_m_s2) is None for pull in used):
        return Level({}, ())
    values = Surface(
        name=surface or "pulls",
        pulls=tuple(_one(pull, _weight_N(pull, g_m_s2) or 1.0, None, None) for pull in used),
    )
    share = _shared(used, coefficients=True)
    means = {q: mean_of(Repeats.of(*told(values, q)), "1", share) for q in QUANTITIES}
    return Level(means, tuple(pull.number for pull in used))


def on_surface(pull: DayPull, surface: str) -> DayPull:
    """Return a pull as if it had been said to be on a surface."""
    return replace(pull, setting=replace(pull.setting or Setting(), surface=surface))


def batch_of(name: str, surface: Surface, quantity: Quantity) -> Batch:
    """Return one quantity of a surface's pulls as a group to be pooled."""
    pairs = [
        (p.static, p.u_static, p.set_aside) if quantity == "static" else (p.kinetic, p.u_kinetic, p.set_aside)
        for p in surface.pulls
    ]
    kept = [(v, u) for v, u, why in pairs if v is not None and why is None]
    return Batch(
        name=name, values=tuple(v for v, _ in kept), own_u=tuple(u for _, u in kept),
        aside=tuple((v, u) for v, u, why in pairs if v is not None and why is not None),
        untold=sum(v is None for v, _, _ in pairs),
    )  # fmt: skip
