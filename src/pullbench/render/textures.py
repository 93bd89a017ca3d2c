"""Textures: a phase, a plus or minus, or a pull set aside, told without colour."""

from __future__ import annotations

from pullbench.render.tokens import Room


def fill(room: Room, texture: str) -> str:
    """Return the fill that draws a texture; ids carry the room, so two pictures can share a page."""
    return f"url(#{room.name}-{texture})"


def textures(room: Room) -> str:
    """Return the patterns of one picture: put it in once, before what uses them."""
    line = f'fill="none" stroke="{room.texture}" stroke-width="2.5"'
    static = f'fill="none" stroke="{room.static}" stroke-width="2"'
    kinetic = f'fill="none" stroke="{room.kinetic}" stroke-width="2"'
    aside = f'fill="none" stroke="{room.aside}" stroke-width="1.5"'
    dots = "".join(f'<circle fill="{room.texture}" cx="{c}" cy="{c}" r="2.2"/>' for c in (3, 9))
    rising = 'patternTransform="rotate(45)"'
    drawn = [
        _pattern(room, "loading", 14, 14, f'<path {line} d="M7,0V14"/>', rising),
        _pattern(room, "settling", 12, 12, dots),
        _pattern(room, "sliding", 36, 22, f'<path {line} d="M0,5H24M18,16H36M0,16H6"/>'),
        _pattern(room, "stick-slip", 20, 18, f'<path {line} d="M0,14L14,4L14,14L20,9.7"/>'),
        _pattern(room, "aside", 12, 12, f'<path {aside} d="M0,0L12,12M12,0L0,12"/>'),
        _pattern(room, "static-band", 9, 9, f'<path {static} d="M4.5,0V9"/>', rising),
        _pattern(room, "kinetic-band", 22, 10, f'<path {kinetic} d="M0,2.5H14M11,7.5H22M0,7.5H3"/>'),
    ]
    return f"<defs>{''.join(drawn)}</defs>"


def _pattern(room: Room, name: str, width: int, height: int, drawing: str, turned: str = "") -> str:
    size = f'width="{width}" height="{height}" patternUnits="userSpaceOnUse"'
    return f'<pattern id="{room.name}-{name}" {size} {turned}>{drawing}</pattern>'
