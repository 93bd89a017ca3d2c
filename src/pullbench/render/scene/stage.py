"""The stage of a scene: board, bodies, strings, angles, and the arrows of motion."""

from __future__ import annotations

import math
from itertools import pairwise

from pullbench.model.scene import Scene
from pullbench.render.rounding import fixed
from pullbench.render.scene.arrows import (
    WORDS,
    Placed,
    draw_arrow,
    label_of,
    placed,
    places,
)
from pullbench.render.scene.bodies import DROP, PULLEY, RIDER_HIGH, Board, Standing, foot_of, standings
from pullbench.render.scene.sketch import Label, Line, Point, Sketch
from pullbench.render.scene.symbols import Piece, symbol_pieces, word_pieces
from pullbench.render.tokens import Room

LONGEST = 180.0  # picture units of the largest force
ROW, GAP = 900.0, 36.0  # width of a row of diagrams, and air between them
STRING = 120.0
MARGIN = 90.0  # of the board beyond what stands on it
ARC, LOW_ARC = 92.0, 74.0


def units_per_N(scene: Scene) -> float:
    """Return the one scale of all forces in a scene."""
    forces = [force for body in scene.bodies for force in body.forces]
    largest = max((max(force.length_N, force.limit_N or 0.0) for force in forces), default=0.0)
    return LONGEST / largest if largest > 0 else 0.0


def drawn_scene(scene: Scene, room: Room, ground: str, *, comma: bool) -> Sketch:
    """Return a scene on a sheet that is as large as it needs."""
    sketch, board = Sketch(room, ground), Board(scene.tilt_deg)
    placed_all = standings(scene)
    _board(sketch, board, placed_all, tilted=scene.tilt_deg != 0)
    _strings(sketch, board, scene, placed_all)
    for one in placed_all:
        _box(sketch, board, one, scene)
    per_N = units_per_N(scene)
    for one in placed_all:
        if not one.body.apart:
            _forces(sketch, board, one, per_N, scene, comma=comma)
    _motion(sketch, board, scene, placed_all, comma=comma)
    _angles(sketch, board, scene, placed_all)
    _labels(sketch, scene)
    apart = [one for one in placed_all if one.body.apart and one.body.forces]
    _beside(sketch, [_alone(one, scene, room, ground, per_N, comma=comma) for one in apart])
    return sketch


def _beside(sketch: Sketch, diagrams: list[Sketch]) -> None:
    """Put diagrams beside the scene where there is room, else in rows under it."""
    reach = sketch.reach
    if not diagrams or reach is None:
        return
    x, y, row_high = reach.x1 + GAP, reach.y0, reach.y1 - reach.y0
    if reach.x1 - reach.x0 + sum(GAP + one.size[0] for one in diagrams) > ROW:
        x, y, row_high = reach.x0, reach.y1 + GAP, 0.0
    for one in diagrams:
        wide, high = one.size
        if x > reach.x0 and x + wide - reach.x0 > ROW:
            x, y, row_high = reach.x0, y + row_high + GAP, 0.0
        sketch.put(one, x, y + max(0.0, (row_high - high) / 2) if y == reach.y0 else y)
        x, row_high = x + wide + GAP, max(row_high, high)


def _board(sketch: Sketch, board: Board, stand: list[Standing], *, tilted: bool) -> None:
    on_it = [one for one in stand if one.turned]
    first = min((one.s - one.width / 2 for one in on_it), default=0.0) - MARGIN
    last = max((one.s + one.width / 2 for one in on_it), default=0.0) + MARGIN
    over = next((one for one in stand if not one.turned), None)
    if over is not None:
        last = over.s - PULLEY - 4
    room = sketch.room
    if tilted:
        low, high = sorted((board.at(first, 0), board.at(last, 0)), key=lambda p: -p[1])
        sketch.line([low, (high[0], low[1]), high], room.edge, 2)
    for k in range(math.floor((last - first) / 34)):
        s = first + 16 + 34 * k
        sketch.line([board.at(s, 0), board.at(s - 13, -15)], room.edge, 2)
    sketch.line([board.at(first, 0), board.at(last, 0)], room.ink, 4)
    sketch.take([board.at(first + 20 * k, -4) for k in range(math.ceil((last - first) / 20))], 9)


def _strings(sketch: Sketch, board: Board, scene: Scene, stand: list[Standing]) -> None:
    row = [one for one in stand if one.turned and one.body.on == "board"]
    ink = sketch.room.ink
    for a, b in pairwise(row):
        ends = board.at(a.s + a.width / 2, a.height / 2), board.at(b.s - b.width / 2, b.height / 2)
        _string(sketch, *ends)
    if not row:
        return
    last = row[-1]
    start = board.at(last.s + last.width / 2, last.height / 2)
    over = next((one for one in stand if not one.turned), None)
    if over is not None:
        _pulley(sketch, board, last, over, start)
    elif scene.string_deg is not None:
        per_N = units_per_N(scene)
        pull_N = max((f.length_N for f in last.body.forces if f.kind == "pull"), default=0.0)
        end = placed(start, scene.tilt_deg + scene.string_deg, max(STRING, pull_N * per_N + 40)).tip
        _string(sketch, start, end)
        sketch.circle(end, 7, fill=sketch.ground, stroke=ink, width=3)
        sketch.take([end], 12)


def _string(sketch: Sketch, a: Point, b: Point) -> None:
    sketch.line([a, b], sketch.room.ink, 3)
    sketch.take([(a[0] + (b[0] - a[0]) * k / 8, a[1] + (b[1] - a[1]) * k / 8) for k in range(9)], 7)


def _pulley(sketch: Sketch, board: Board, last: Standing, over: Standing, start: Point) -> None:
    """Draw the pulley at the board's end: the string runs over its top and straight down."""
    hub = board.at(over.s - PULLEY, last.height / 2 - PULLEY)
    touch = board.at(over.s - PULLEY, last.height / 2)
    ink = sketch.room.ink
    _string(sketch, start, touch)
    sketch.line([board.at(over.s - PULLEY - 4, 0), hub], ink, 4)
    sketch.circle(hub, PULLEY, fill=sketch.ground, stroke=ink, width=3)
    sketch.circle(hub, 3, fill=ink)
    _string(sketch, (hub[0] + PULLEY, hub[1]), (hub[0] + PULLEY, hub[1] + DROP))
    sketch.take([hub], PULLEY + 4)


def _corner(board: Board, one: Standing, stand: list[Standing]) -> Point:
    """Return the middle of a hanging body's lower edge."""
    last = [other for other in stand if other.turned and other.body.on == "board"]
    level = last[-1].height / 2 if last else 0.0
    hub = board.at(one.s - PULLEY, level - PULLEY)
    return hub[0] + PULLEY, hub[1] + DROP + one.height


def _box(sketch: Sketch, board: Board, one: Standing, scene: Scene) -> None:
    half, room = one.width / 2, sketch.room
    fill = room.table if sketch.ground != room.table else room.paper
    corners = [(-half, 0.0), (half, 0.0), (half, one.height), (-half, one.height)]
    frame, base = _frame(board, one, scene)
    points = [_moved(base, frame.at(s, n)) for s, n in corners]
    sketch.line(points, room.ink, 4, fill=fill, closed=True)
    _take_box(sketch, frame, base, one)
    told = one.body.mass_text or (one.body.name if len(scene.bodies) > 1 else "")
    if told:
        pieces = tuple(symbol_pieces(told)) if one.body.mass_text else (Piece(told),)
        label = Label((Line(pieces, WORDS, room.ink),))
        crowded = bool(one.body.forces) and not one.body.apart and one.turned
        s, n = (
            (half - label.width / 2 - 12, one.height - label.height / 2 - 2)
            if crowded
            else (0.0, one.height / 2)
        )
        x, y = _moved(base, frame.at(s, n))
        sketch.write(label, x - label.width / 2, y - label.height / 2, halo=fill)


def _take_box(sketch: Sketch, frame: Board, base: Point, one: Standing) -> None:
    across = [one.width * (k / 6 - 0.5) for k in range(7)]
    up = [one.height * k / 3 for k in range(4)]
    sketch.take([_moved(base, frame.at(s, n)) for s in across for n in up], 10)


def _frame(board: Board, one: Standing, scene: Scene) -> tuple[Board, Point]:
    """Return a body's own frame and the picture's point under its middle."""
    if one.turned:
        return board, board.at(one.s, one.n)
    return Board(0.0), _corner(board, one, standings(scene))


def _moved(base: Point, by: Point) -> Point:
    return base[0] + by[0], base[1] + by[1]


def _forces(
    sketch: Sketch, board: Board, one: Standing, per_N: float, scene: Scene, *,
    comma: bool, base: Point | None = None,
) -> None:  # fmt: skip
    seen: dict[str, int] = {}
    arrows: list[tuple[Placed, float, Label]] = []
    frame, under = _frame(board, one, scene)
    where = base if base is not None else under
    carried = sum(RIDER_HIGH for body in scene.bodies if body.on == one.body.name and base is None)
    for force in one.body.forces:
        family = "friction" if force.kind in ("static", "kinetic") else force.kind
        foot = foot_of(force, one, seen.get(family, 0), carried)
        seen[family] = seen.get(family, 0) + 1
        arrow = placed(
            _moved(where, frame.at(*foot)), board.tilt_deg + force.direction_deg, force.length_N * per_N
        )
        draw_arrow(sketch, force, arrow, per_N)
        arrows.append((arrow, force.length_N * per_N, label_of(force, sketch.room, comma=comma)))
    level_last = sorted(
        arrows, key=lambda one: abs(one[0].along[1]) < 0.7
    )  # a steep arrow's words have their place
    for arrow, length, label in level_last:
        if label.lines:
            sketch.write_near(label, places(arrow, length, label))


def _alone(one: Standing, scene: Scene, room: Room, ground: str, per_N: float, *, comma: bool) -> Sketch:
    """Return a body with its forces in a diagram of its own, under its name."""
    sketch, board = Sketch(room, ground), Board(scene.tilt_deg if one.turned else 0.0)
    half = one.width / 2
    fill = room.table if ground != room.table else room.paper
    sketch.line([board.at(s, n) for s, n in ((-half, 0), (half, 0), (half, one.height), (-half, one.height))],
                room.ink, 4, fill=fill, closed=True)  # fmt: skip
    _take_box(sketch, board, (0.0, 0.0), one)
    _forces(sketch, board, one, per_N, scene, comma=comma, base=(0.0, 0.0))
    reach = sketch.reach
    assert reach is not None  # the box is there
    label = Label((Line((Piece(f"on the {one.body.name}"),), WORDS, room.soft),))
    sketch.write(label, (reach.x0 + reach.x1 - label.width) / 2, reach.y0 - label.height - 10)
    return sketch


def _motion(sketch: Sketch, board: Board, scene: Scene, stand: list[Standing], *, comma: bool) -> None:
    """Draw how it slides and speeds up, above everything else, with thin arrows that are no forces."""
    told: list[tuple[float, Label, bool]] = []
    room = sketch.room
    if scene.moving:
        told.append((1.0 if scene.moving == "along" else -1.0, _words("slides", room), True))
    a = scene.acceleration_m_s2
    if a is not None:
        number = fixed(abs(a), 2, comma=comma)
        told.append((math.copysign(1.0, a) if a else 0.0, _words(f"`a` = {number} m/s²", room), False))
    if not told or sketch.reach is None:
        return
    y, x = sketch.reach.y0 - 24, board.at(stand[0].s if stand else 0.0, 0)[0]
    for way, label, dashed in told:
        box = sketch.write(label, x - label.width - 60, y - label.height)
        if way:
            foot = (box.x1 + 14 if way > 0 else box.x1 + 84, (box.y0 + box.y1) / 2)
            arrow = placed(foot, scene.tilt_deg + (0 if way > 0 else 180), 70)
            sketch.line([arrow.foot, arrow.tip], room.ink, 3, dash="9 6" if dashed else "")
            sketch.line([arrow.off(56, 9), arrow.tip, arrow.off(56, -9)], room.ink, 3)
            sketch.take([arrow.foot, arrow.off(35, 0), arrow.tip], 14)
        y -= label.height + 6


def _words(text: str, room: Room) -> Label:
    return Label((Line(tuple(word_pieces(text)), WORDS, room.ink),))


def _angles(sketch: Sketch, board: Board, scene: Scene, stand: list[Standing]) -> None:
    row = [one for one in stand if one.turned]
    if not row:
        return
    first = min(one.s - one.width / 2 for one in row) - MARGIN
    last = max(one.s + one.width / 2 for one in row) + MARGIN
    if scene.tilt_deg:
        corner = board.at(first if scene.tilt_deg > 0 else last, 0)
        ends = (0.0, scene.tilt_deg) if scene.tilt_deg > 0 else (180 + scene.tilt_deg, 180.0)
        _arc(sketch, corner, *ends, "theta", LOW_ARC)
    if scene.string_deg:
        pulled = [one for one in row if one.body.on == "board"][-1]
        start = board.at(pulled.s + pulled.width / 2, pulled.height / 2)
        low, high = sorted((scene.tilt_deg, scene.tilt_deg + scene.string_deg))
        level = placed(start, scene.tilt_deg, ARC + 24).tip
        sketch.line([start, level], sketch.room.edge, 2, dash="6 6")
        _arc(sketch, start, low, high, "alpha", ARC)


def _arc(sketch: Sketch, centre: Point, from_deg: float, to_deg: float, name: str, radius: float) -> None:
    steps = [from_deg + (to_deg - from_deg) * k / 12 for k in range(13)]
    sketch.line([placed(centre, deg, radius).tip for deg in steps], sketch.room.ink, 2)
    sketch.take([placed(centre, deg, radius).tip for deg in steps[::3]], 6)
    label = Label((Line(tuple(symbol_pieces(name)), WORDS, sketch.room.ink),))
    middle = (from_deg + to_deg) / 2
    sketch.write_near(label, [placed(centre, middle, radius + far).tip for far in (20, -24, 34)])


def _labels(sketch: Sketch, scene: Scene) -> None:
    if not scene.labels or sketch.reach is None:
        return
    lines = tuple(Line(tuple(word_pieces(text)), WORDS, sketch.room.ink) for text in scene.labels)
    sketch.write(Label(lines), sketch.reach.x0, sketch.reach.y1 + 14)
