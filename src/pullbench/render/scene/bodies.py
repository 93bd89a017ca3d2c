"""Where bodies stand: in a row on the board, on each other, or hanging from a string over a pulley."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pullbench.model.scene import Body, ForceArrow, Scene
from pullbench.render.scene.arrows import WORDS
from pullbench.render.scene.sketch import Point
from pullbench.render.scene.symbols import symbol_pieces, width

WIDE, HIGH = 150.0, 76.0
RIDER_SHARE, RIDER_HIGH = 0.55, 52.0
BETWEEN, BESIDE = 90.0, 130.0
PULLEY, DROP = 20.0, 150.0


@dataclass(frozen=True, slots=True)
class Standing:
    """A body's box in the board's frame: s along it, n off it, turned with it (or not, when it hangs)."""

    body: Body
    s: float
    n: float
    width: float
    height: float
    turned: bool = True


@dataclass(frozen=True, slots=True)
class Board:
    """From the board's frame to the picture."""

    tilt_deg: float

    def at(self, s: float, n: float) -> Point:
        """Return the picture's point s along the board and n off it."""
        cos, sin = math.cos(math.radians(self.tilt_deg)), math.sin(math.radians(self.tilt_deg))
        return s * cos - n * sin, -(s * sin + n * cos)


def standings(scene: Scene) -> list[Standing]:
    """Return every body's place: in the order given, from the left; what is carried stands in the middle."""
    found: dict[str, Standing] = {}
    s = 0.0
    for body in (b for b in scene.bodies if b.on == "board"):
        wide = max(WIDE, _wide(body))
        s += wide / 2
        found[body.name] = Standing(body, s, 0.0, wide, HIGH)
        s += wide / 2 + BETWEEN
    for body in (b for b in scene.bodies if b.on not in ("board", "hanging")):
        under = found.get(body.on)
        place = (under.s, under.n + under.height, under.width) if under else (0.0, 0.0, WIDE)
        wide = max(RIDER_SHARE * place[2], _wide(body))
        found[body.name] = Standing(body, place[0], place[1], wide, RIDER_HIGH)
    end = max((one.s + one.width / 2 for one in found.values()), default=0.0)
    for body in (b for b in scene.bodies if b.on == "hanging"):
        found[body.name] = Standing(
            body, end + BESIDE + PULLEY, 0.0, max(84.0, _wide(body)), HIGH, turned=False
        )
    return list(found.values())


def _wide(body: Body) -> float:
    return (
        28 + width(symbol_pieces(body.mass_text or body.name), WORDS) if body.mass_text or body.name else 0.0
    )


def foot_of(force: ForceArrow, one: Standing, order: int, carried: float) -> tuple[float, float]:
    """Return where a force acts, along and off the board from the middle of the body's base.

    order: how many forces of this kind the body had before; a second friction or a second normal force comes
    from what rides on the body, and acts on its top.  carried: how high it is loaded.
    """
    half, top = one.width / 2, one.height
    ahead = math.cos(math.radians(force.direction_deg)) > 0
    if not one.turned:
        return (0.0, top) if force.kind == "pull" else (0.0, 10.0)
    if force.kind == "pull":
        return (half if ahead else -half), top / 2
    if force.kind in ("static", "kinetic"):
        return (0.0, top - 4) if order else ((half - 6 if ahead else 6 - half), 6.0)
    if force.kind == "normal":
        return (-16.0, 2.0) if math.sin(math.radians(force.direction_deg)) > 0 else (26.0 - half, top - 2)
    if force.kind == "net":
        return 12.0, top + carried + 24
    return (16.0, top / 2) if force.kind == "weight" else (0.0, top / 2)
