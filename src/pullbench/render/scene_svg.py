"""A figure as SVG: bodies with their forces, or a trace to be read off; for sheets, items and the page."""

from __future__ import annotations

import math
from xml.sax.saxutils import escape

from pullbench.model.scene import Figure, Scene
from pullbench.render.labels import Box
from pullbench.render.lettering import clean, font_faces
from pullbench.render.scene.rooms import FigureRoom, room_named
from pullbench.render.scene.stage import drawn_scene
from pullbench.render.scene.trace import drawn_trace

AIR = 20.0
LEAST_WIDE = 480.0  # so that words are of about one size from figure to figure


def scene_svg(
    figure: Figure, *, room: FigureRoom = "light", comma: bool = False, carry_fonts: bool = True
) -> str:
    """Return a figure as a whole SVG picture; the same figure always gives the same text.

    room: light or dark on paper, or "print": black on white without a ground.  comma: decimal comma.
    carry_fonts: put the fonts into the file; leave it out where the page or the printer has them (font family
    Commissioner).  The size is the figure's own (viewBox, at least 480 units wide; words are 26 units tall).
    """
    colours = room_named(room)
    ground = colours.paper
    if isinstance(figure, Scene):
        sketch = drawn_scene(figure, colours, ground, comma=comma)
        title = "Forces" if any(body.forces for body in figure.bodies) else "Scene"
    else:
        sketch = drawn_trace(figure, colours, ground, comma=comma)
        title = f"{figure.y_words} against {figure.x_words}"
    reach = sketch.reach or Box(0, 0, 0, 0)
    more = max(0.0, LEAST_WIDE - 2 * AIR - (reach.x1 - reach.x0)) / 2
    x, y = math.floor(reach.x0 - more - AIR), math.floor(reach.y0 - AIR)
    wide, high = math.ceil(reach.x1 + more + AIR) - x, math.ceil(reach.y1 + AIR) - y
    sheet = (
        "" if room == "print" else f'<rect fill="{ground}" x="{x}" y="{y}" width="{wide}" height="{high}"/>'
    )
    style = f"<style>{font_faces()}</style>" if carry_fonts else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img" '
        f'font-family="Commissioner, system-ui, sans-serif">'
        f"<title>{escape(clean(title).replace('`', ''))}</title><desc>{escape(clean(figure.described))}</desc>{style}"
        f'<g transform="translate({-x} {-y})">{sheet}{"".join([*sketch.shapes, *sketch.words])}</g></svg>'
    )
