"""The Tilt check: what the tilted board says beside what the pulls say, on one ruler."""

from __future__ import annotations

from pullbench.model import TiltCheck
from pullbench.physics import coefficient_from_tilt
from pullbench.render.ruler import RulerRow, ruler_svg
from pullbench.render.tilt_text import tilt_sentences
from pullbench.render.tokens import RoomName


def tilt_svg(
    check: TiltCheck, *, title: str = "", room: RoomName = "light", label: str | None = None, comma: bool = False,
    in_page: bool = False, narrow: bool = False,
) -> str:  # fmt: skip
    """Return the coefficients by tilt and by pull as an SVG that needs nothing beside it.

    Every slide is a small point under its row, every hold an open one.  title: the surface.  label: where the
    numbers come from ("simulated").  in_page: the page has the fonts.
    narrow: for a phone.  The same arguments give the same bytes.
    """
    slides = tuple(coefficient_from_tilt(angle)[0] for angle in check.slides_deg)
    holds = tuple(coefficient_from_tilt(angle)[0] for angle in check.holds_deg)
    rows = [RulerRow(name="static, by tilt", kind="static", told=check.static, trials=slides, holds=holds)]
    pulled = {one.quantity: one.pull for one in check.agreements}
    if "static" in pulled:
        rows.append(RulerRow(name="static, by pull", kind="static", told=pulled["static"]))
    if check.kinetic is not None:
        rows.append(RulerRow(name="kinetic, by tilt", kind="kinetic", told=check.kinetic))
    if "kinetic" in pulled:
        rows.append(RulerRow(name="kinetic, by pull", kind="kinetic", told=pulled["kinetic"]))
    name = f"Tilt check, {title}" if title else "Tilt check"
    said = tilt_sentences(check, comma=comma)
    return ruler_svg(
        rows, said, title=name, room=room, label=label, comma=comma, in_page=in_page, narrow=narrow
    )
