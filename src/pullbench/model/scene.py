"""What is drawn beside a problem or a held-up pull: bodies on a board with the forces on them, or a trace.

Plain values without a picture's units: render decides where ink goes.  Angles in degrees, counted from the
surface (board) the bodies stand on: 0 along it in the direction of the pull, 90 straight off it; gravity is
given by the tilt of the board.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

ForceKind = Literal["pull", "static", "kinetic", "weight", "normal", "net", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceArrow:
    """One force on one body.

    symbol: formula text such as F_s.  value_N: its size, None when the drawing must not give it away (the
    arrow is then drawn without a number; length_N says how long).  direction_deg: from the board's direction of
    pull, anticlockwise; weight in a tilted scene is -90 - tilt.  plus_minus_N: half of its 95 % limits, or None.
    limit_N, limit_plus_minus_N: a mark it may grow to (the static limit), and half of its 95 % limits.
    note: what is inferred, such as "from the level's slope".
    """

    kind: ForceKind
    symbol: str
    words: str
    length_N: float
    direction_deg: float
    value_N: float | None = None
    plus_minus_N: float | None = None
    limit_N: float | None = None
    limit_plus_minus_N: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One body: where it stands (on the board, or on another body) and the forces on it.

    on: "board", or the name of the body it rides on, or "hanging" (from a string over a pulley).
    apart: its forces are drawn in a diagram of their own beside the scene.
    """

    name: str
    mass_text: str = ""
    on: str = "board"
    forces: tuple[ForceArrow, ...] = ()
    apart: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """Bodies, the board under them and the string.

    tilt_deg: of the board, positive when the pull goes uphill.  string_deg: above the board, None without a
    string.  moving: which way the body in question slides ("" at rest, "along", "back").  acceleration_m_s2:
    drawn as a small arrow of its own, None when it is asked for.  described: the scene in words, for a reader
    who does not see it.
    """

    bodies: tuple[Body, ...]
    described: str
    tilt_deg: float = 0.0
    string_deg: float | None = None
    moving: Literal["", "along", "back"] = ""
    acceleration_m_s2: float | None = None
    labels: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceFigure:
    """A pull or a load line to be read off: points of one curve with axes in round steps.

    x, y: equally long.  joined: draw as a line, else as points.  x_words, y_words: what the axes show, with unit.
    """

    x: tuple[float, ...]
    y: tuple[float, ...]
    x_words: str
    y_words: str
    described: str
    joined: bool = True
    plus_minus: tuple[float, ...] = ()


Figure: TypeAlias = Scene | TraceFigure
