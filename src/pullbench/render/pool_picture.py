"""The Class pool: every group's result on one ruler, all together under them, and where the next will lie."""

from __future__ import annotations

from collections.abc import Sequence

from pullbench.model import Measured, Pool, PoolGroup, Quantity
from pullbench.render.pool_text import next_can_be_told, pool_colleague, pool_sentences
from pullbench.render.rounding import fixed
from pullbench.render.ruler import Kind, RulerRow, ruler_svg
from pullbench.render.tokens import RoomName

MOST_GROUPS = 24  # a picture of more is a list: they are counted in its last row
WELL_KNOWN = 1.96
QUANTITIES: tuple[Quantity, ...] = ("static", "kinetic")


def pool_svg(
    pools: Sequence[Pool],
    *,
    title: str = "",
    room: RoomName = "light",
    label: str | None = None,
    comma: bool = False,
) -> str:
    """Return pools, one above the other, as an SVG that needs nothing beside it.

    label: where the numbers come from ("simulated").  The same arguments give the same bytes.
    """
    rows: list[RulerRow] = []
    said: list[str] = []
    for one in pools:
        rows += _rows(one, comma)
        room_said = pool_sentences(one, comma=comma)
        said += room_said if one is pools[-1] else room_said[:-1]  # what it holds for is said once
        said.append(pool_colleague(one, comma=comma))
    name = f"Class pool, {title}" if title else "Class pool"
    return ruler_svg(rows, said, title=name, room=room, label=label, comma=comma)


def _rows(one: Pool, comma: bool) -> list[RulerRow]:
    kind: Kind = "all"
    for name in QUANTITIES:
        kind = name if one.quantity.startswith(name) else kind
    rows = [_group(group, kind, one.mean.unit, comma) for group in one.groups[:MOST_GROUPS]]
    more = len(one.groups) - MOST_GROUPS
    if more > 0:
        untold = Measured.cannot_tell("they are in the text", unit=one.mean.unit)
        rows.append(RulerRow(name=f"and {more} more", kind=kind, told=untold, text="in the text"))
    rows.append(RulerRow(name=f"all: {one.quantity}", kind="all", told=one.mean))
    if next_can_be_told(one):
        rows.append(RulerRow(name=f"the next {one.next_is}", kind="all", told=one.next_result))
    return rows


def _group(group: PoolGroup, kind: Kind, unit: str, comma: bool) -> RulerRow:
    """Return a group's own result; its limits are from its own u alone, taken as known well (normal)."""
    u = group.u if group.u > 0 else None
    half = 0.0 if u is None else WELL_KNOWN * u
    told = Measured(
        kind="value", value=group.value, standard_uncertainty=u, limits=(group.value - half, group.value + half),
        unit=unit,
    )  # fmt: skip
    text = None if u is not None else f"{fixed(group.value, 4, comma=comma)}, u not known"
    return RulerRow(name=group.name, kind=kind, told=told, text=text)
