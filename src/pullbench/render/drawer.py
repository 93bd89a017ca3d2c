"""The drawer "Why plus or minus?": what makes up each doubt, biggest first, as textured bars."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pullbench.model import Measured, Pull
from pullbench.render.labels import Anchor, Block, Label, Line
from pullbench.render.lettering import advance, cut, wrapped
from pullbench.render.rounding import Scale, doubts, half_width_text
from pullbench.render.textures import fill
from pullbench.render.tokens import DESK, EDGE_WORD, HEIGHT, RULE, STRONG, TEXT, WIDTH, Room
from pullbench.render.wording import kinetic_words, pull_scale, static_words

ROW, HEAD, FOOT = 28.0, 34.0, 14.0
COLUMN_ENDS = (1010.0, 1250.0)
BAR, BAR_HEIGHT = 62.0, 16.0
INSET = 24.0
REST_OF_THEM = "all the others"


@dataclass(frozen=True, slots=True)
class Row:
    """A source of doubt and what it adds to static and to kinetic (standard uncertainty, N), or None."""

    source: str
    u_N: tuple[float | None, float | None]


def rows_of(pull: Pull, most: int) -> list[Row]:
    """Return the sources of both budgets, biggest first, the smallest gathered where most do not fit."""
    budgets = (pull.breakaway.force.budget, pull.plateau.force.budget)
    static, kinetic = ({row.source: row.u for row in budget.rows} for budget in budgets)
    rows = [Row(source, (static.get(source), kinetic.get(source))) for source in {**static, **kinetic}]
    rows.sort(key=lambda row: -max(u or 0.0 for u in row.u_N))
    if len(rows) <= most:
        return rows
    kept, gathered = rows[: most - 1], rows[most - 1 :]
    sums = [[u for row in gathered if (u := row.u_N[i]) is not None] for i in (0, 1)]
    together = tuple(math.hypot(*us) if us else None for us in sums)
    return [*kept, Row(REST_OF_THEM, (together[0], together[1]))]


def has_budget(pull: Pull) -> bool:
    """Return whether either result tells what its doubt is made of; else the drawer gives the reasons."""
    return bool(pull.breakaway.force.budget.rows or pull.plateau.force.budget.rows)


def drawer(pull: Pull, x: float, y: float, room: Room, *, comma: bool) -> tuple[str, list[Label]]:
    """Return the drawer with its upper left corner at x, y, open to the right and lower edge."""
    if not has_budget(pull):
        return _reasons(pull, x, y, room, comma)
    most = math.floor((HEIGHT - y - HEAD - ROW - FOOT - 4) / ROW)
    rows = rows_of(pull, max(1, most))
    scale = pull_scale(pull)
    labels = _heads(x + INSET, y + HEAD, room)
    bars, labels_of_rows = _rows(rows, x + INSET, y + HEAD + ROW, scale, room, comma)
    foot = y + HEAD + ROW * (len(rows) + 1)
    rule = f'<path stroke="{room.edge}" stroke-width="{RULE:g}" d="M{x + INSET:g},{foot - 19:.1f}H1250"/>'
    labels += [*labels_of_rows, *_together(pull, x + INSET, foot + 6, scale, room, comma)]
    return "".join([_sheet(x, y, room), *bars, rule]), labels


def _sheet(x: float, y: float, room: Room) -> str:
    edge = f'stroke="{room.edge}" stroke-width="{RULE:g}" d="M{x:g},{HEIGHT + 4}V{y:.1f}H{WIDTH + 4}'
    return f'<path fill="{room.paper}" {edge}V{HEIGHT + 4}Z"/>'


def _reasons(pull: Pull, x: float, y: float, room: Room, comma: bool) -> tuple[str, list[Label]]:
    """Return the drawer of a pull without any budget: why there is no plus or minus."""
    said = (
        (static_words(pull, comma=comma), pull.breakaway.force.reason, room.static),
        (kinetic_words(pull, comma=comma), pull.plateau.force.reason, room.kinetic),
    )
    width = COLUMN_ENDS[1] - x - INSET
    for size, most in ((EDGE_WORD, 3), (DESK, 2), (DESK, 1)):
        lines = [Line("Why no plus or minus?", EDGE_WORD, STRONG, room.ink)]
        for words, reason, colour in said:
            because = wrapped(reason or "what it is made up of is not known", width, size)
            kept = [*because[: most - 1], cut(" ".join(because[most - 1 :]), width, size)]
            lines.append(Line(words, EDGE_WORD, STRONG, colour))
            lines += [Line(text, size, TEXT, room.ink) for text in kept if text]
        if y + INSET + Block(tuple(lines)).height <= HEIGHT - FOOT / 2:
            break
    return _sheet(x, y, room), Block(tuple(lines)).labels(x + INSET, y + INSET / 2, None)


def _heads(x: float, y: float, room: Room) -> list[Label]:
    heads: list[tuple[str, float, str, Anchor]] = [
        ("Why plus or minus?", x, room.ink, "start"),
        ("static", COLUMN_ENDS[0], room.static, "end"),
        ("kinetic", COLUMN_ENDS[1], room.kinetic, "end"),
    ]
    return [
        Label(text=text, x=at, y=y, size=EDGE_WORD, weight=STRONG, colour=colour, anchor=anchor)
        for text, at, colour, anchor in heads
    ]


def _rows(
    rows: Sequence[Row], x: float, y: float, scale: Scale, room: Room, comma: bool
) -> tuple[list[str], list[Label]]:
    told = [u for row in rows for u in row.u_N if u is not None]
    numbers = iter(doubts(told, comma=comma, scale=scale))
    texts = [["none" if u is None else next(numbers) for u in row.u_N] for row in rows]
    widest = max((advance(text, DESK) for pair in texts for text in pair), default=0.0)
    largest = max((u or 0.0 for row in rows for u in row.u_N), default=0.0)
    name_width = COLUMN_ENDS[0] - widest - BAR - 26 - x
    bars, labels = [], []
    for k, (row, pair) in enumerate(zip(rows, texts, strict=True)):
        at = y + ROW * k
        name = cut(row.source, name_width, DESK)
        labels.append(Label(text=name, x=x, y=at, size=DESK, colour=room.ink))
        for u, text, end, paint in zip(row.u_N, pair, COLUMN_ENDS, ("static", "kinetic"), strict=True):
            colour = room.soft if u is None else room.ink
            labels.append(Label(text=text, x=end, y=at, size=DESK, colour=colour, anchor="end"))
            bars.append(_bar(u, largest, end - widest - 14, at, fill(room, f"{paint}-band")))
    return bars, labels


def _bar(u: float | None, largest: float, end: float, y: float, paint: str) -> str:
    if not u or largest <= 0:
        return ""
    width = max(3.0, BAR * u / largest)
    size = f'width="{width:.1f}" height="{BAR_HEIGHT:g}"'
    return f'<rect fill="{paint}" x="{end - width:.1f}" y="{y - 15:.1f}" {size}/>'


def _together(pull: Pull, x: float, y: float, scale: Scale, room: Room, comma: bool) -> list[Label]:
    first = Label(text="together, 95 % limits", x=x, y=y, size=DESK, weight=STRONG, colour=room.ink)
    results: tuple[Measured, Measured] = (pull.breakaway.force, pull.plateau.force)
    return [
        first,
        *(
            Label(
                text=half_width_text(measured, comma=comma, scale=scale),
                x=end,
                y=y,
                size=DESK,
                weight=STRONG if measured.value is not None else TEXT,
                colour=room.ink,
                anchor="end",
            )
            for measured, end in zip(results, COLUMN_ENDS, strict=True)
        ),
    ]
