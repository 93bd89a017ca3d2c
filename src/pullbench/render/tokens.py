"""The design tokens: the only colours, sizes and line weights a picture may use.

Sizes are picture units; a sheet is laid out on 1280 by 720 and scaled whole. Nothing is written smaller
than DESK. Contrast on paper and on the room was measured when the colours were chosen: text 4.5 to 1 or
more, graphics that carry meaning 3 to 1 or more; grid colours are decoration and carry no meaning.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

RoomName = Literal["light", "dark"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The colours of a light or a dark room."""

    name: RoomName
    table: str
    paper: str
    ink: str
    soft: str
    static: str
    kinetic: str
    texture: str
    edge: str
    aside: str
    grid: str
    grid_strong: str


LIGHT = Room(
    name="light",
    table="#D2D8CB",
    paper="#FBF5E7",
    ink="#161E29",
    soft="#4D483E",
    static="#96300C",
    kinetic="#0F4C7A",
    texture="#82744F",
    edge="#807253",
    aside="#6E6757",
    grid="#E9DDC4",
    grid_strong="#CBB98F",
)
DARK = Room(
    name="dark",
    table="#0E1311",
    paper="#2A231A",
    ink="#F6EBD5",
    soft="#C9BDA5",
    static="#FFA573",
    kinetic="#8CC9F5",
    texture="#8F8268",
    edge="#857860",
    aside="#9A8E78",
    grid="#3A3226",
    grid_strong="#5A4F3B",
)
ROOMS: dict[RoomName, Room] = {"light": LIGHT, "dark": DARK}

WIDTH, HEIGHT = 1280, 720

SAID, ON_LINE, EDGE_WORD, DESK = 42, 36, 28, 22
TEXT, STRONG = 500, 680
DECLARED = {TEXT: 500, STRONG: 700}  # in the SVG: not every program reads weights between the hundreds

LINE, LINE_CLOSE, MARK, RULE, HAIR = 5.0, 6.0, 4.0, 2.0, 1.5
STEP = 8
