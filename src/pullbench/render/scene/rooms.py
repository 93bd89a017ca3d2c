"""The colours a figure is drawn in: the two rooms, and black on white for paper."""

from __future__ import annotations

from typing import Literal, cast

from pullbench.render.tokens import ROOMS, Room, RoomName

FigureRoom = Literal["light", "dark", "print"]

PRINT = Room(
    name=cast(RoomName, "print"),  # only names textures, and a figure has none
    table="#FFFFFF",
    paper="#FFFFFF",
    ink="#000000",
    soft="#333333",
    static="#000000",
    kinetic="#000000",
    texture="#555555",
    edge="#444444",
    aside="#555555",
    grid="#E2E2E2",
    grid_strong="#BDBDBD",
)


def room_named(name: FigureRoom) -> Room:
    """Return the colours of a room, or of print."""
    return PRINT if name == "print" else ROOMS[name]
