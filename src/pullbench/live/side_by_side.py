"""The pulls of a day surface by surface: coefficients where sled and load are known, else newtons; compared, pooled.

Pulls set aside or to be pulled again stay in sight: they are handed on with their reason and counted, never used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pullbench.analysis import Batch, compare
from pullbench.errors import ConditionsError
from pullbench.live.day_pulls import NO_SURFACE, LeftOut, number_of, surface_name
from pullbench.model import Comparison, DayPull, Quantity, Surface, SurfacePull
from pullbench.physics import STANDARD_GRAVITY_M_S2


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
        weight_N = pressing_N(pull, g_m_s2) if coefficients else 1.0
        if weight_N is not None:
            found.setdefault(surface_name(pull), []).append(
                surface_pull(pull, weight_N, rested[pull.number], quantity)
            )
    greyed = [LeftOut(number=p.number, why=NO_SURFACE) for p in pulls if not surface_name(p)]
    greyed += [LeftOut(number=p.number, why=p.left_out) for p in named if p.left_out is not None]
    unit = "1" if coefficients else "N"
    return SideBySide(
        surfaces=tuple(Surface(name=name, pulls=tuple(some), unit=unit) for name, some in found.items()),
        greyed=tuple(sorted(greyed, key=lambda one: one.number)), u_scale=shared_u(named, coefficients),
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


def pressing_N(pull: DayPull, g_m_s2: float) -> float | None:
    """Return what pressed under a pull, None where load or sled is not known."""
    mass_kg = None if pull.setting is None else pull.setting.pressing_kg
    return mass_kg * g_m_s2 if mass_kg else None


def shared_u(pulls: Sequence[DayPull], coefficients: bool) -> float:
    """Return the relative doubt that all these pulls share: of the force scale and, in coefficients, of the load."""
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


def surface_pull(
    pull: DayPull, weight_N: float, rested_s: float | None, quantity: Quantity | None
) -> SurfacePull:
    """Return a pull as one of its surface's, its forces over weight_N.  quantity: one alone, or None for both."""
    static, kinetic = (
        None if quantity not in (None, name) else number_of(force)
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
