"""Pictures for paper: a problem's figure in black on white, and the room's pictures without their warm paper."""

from __future__ import annotations

from pullbench.model.scene import Figure
from pullbench.render.scene_svg import scene_svg
from pullbench.render.sheets.blocks import Picture
from pullbench.render.tokens import LIGHT

_WHITE, _GREYS = "#FFFFFF", {LIGHT.grid: "#E6E6E6", LIGHT.grid_strong: "#C4C4C4", LIGHT.texture: "#767676"}
_ON_WHITE = {LIGHT.paper: _WHITE, LIGHT.table: _WHITE, LIGHT.ink: "#000000", LIGHT.edge: "#767676", **_GREYS}


def figure_picture(figure: Figure, *, comma: bool) -> Picture:
    """Return a problem's figure for paper."""
    svg = scene_svg(figure, room="print", comma=comma, carry_fonts=False)
    return Picture(svg=svg, described=figure.described)


def on_white(svg: str) -> str:
    """Return a picture of the light room on white paper, its greys without a tint."""
    for warm, white in _ON_WHITE.items():
        svg = svg.replace(warm, white)
    return svg
