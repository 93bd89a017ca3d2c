"""The top row of a sheet: its title, the verdict as a stamp, and a tab that says where the trace is from."""

from __future__ import annotations

from pullbench.model import Verdict
from pullbench.render.labels import Label
from pullbench.render.lettering import advance, clean, cut
from pullbench.render.textures import fill
from pullbench.render.tokens import EDGE_WORD, MARK, ON_LINE, SAID, STRONG, WIDTH, Room

LEFT, BASELINE, GAP = 40.0, 47.0, 44.0
STAMP_TOP, STAMP_HEIGHT, STAMP_TEXT_Y, STAMP_PADDING = 11.0, 46.0, 46.0, 22.0
TAB_TOP, TAB_FOOT, TAB_TEXT_Y = 8.0, 56.0, 42.0


def heading(title: str, verdict: Verdict | None, label: str | None, room: Room) -> tuple[str, list[Label]]:
    """Return the top row; the title is written smaller, then cut, before anything else gives way."""
    parts, labels = [], []
    right = WIDTH - 16.0
    if label:
        word = cut(label, 360, EDGE_WORD, STRONG)
        width = advance(word, EDGE_WORD, STRONG) + 40
        left = WIDTH - width
        parts.append(_tab(left, room))
        labels.append(
            Label(text=word, x=left + 20, y=TAB_TEXT_Y, size=EDGE_WORD, weight=STRONG, colour=room.ink)
        )
        right = left - GAP
    stamp_width = advance(verdict, ON_LINE, STRONG) + 2 * STAMP_PADDING if verdict else 0.0
    most = right - LEFT - (stamp_width + GAP if verdict else 0.0)
    sizes = (SAID, ON_LINE, EDGE_WORD)
    size = next((s for s in sizes if advance(clean(title), s, STRONG) <= most), EDGE_WORD)
    text = cut(title, most, size, STRONG)
    labels.append(Label(text=text, x=LEFT, y=BASELINE, size=size, weight=STRONG, colour=room.ink))
    stamp = ""
    if verdict:
        stamp = _stamp(verdict, labels[-1].box.x1 + GAP, stamp_width, room)
    return "".join([*parts, stamp]), labels


def _tab(left: float, room: Room) -> str:
    shape = f"M{WIDTH},{TAB_TOP:g}H{left + 14:.1f}L{left:.1f},{(TAB_TOP + TAB_FOOT) / 2:g}"
    return f'<path fill="{room.paper}" d="{shape}L{left + 14:.1f},{TAB_FOOT:g}H{WIDTH}Z"/>'


def _stamp(verdict: Verdict, x: float, width: float, room: Room) -> str:
    """Return the stamp: single border, dashed border with a note, cross-hatched to pull again."""
    again = verdict is Verdict.PULL_AGAIN
    paint = fill(room, "aside") if again else "none"
    dashes = ' stroke-dasharray="12 7"' if verdict is Verdict.USABLE_WITH_A_NOTE else ""
    edge = f'stroke="{room.ink}" stroke-width="{MARK:g}"{dashes}'
    size = f'x="{x:.1f}" y="{STAMP_TOP:g}" width="{width:.1f}" height="{STAMP_HEIGHT:g}" rx="5"'
    middle = x + width / 2
    word = Label(
        text=str(verdict),
        x=middle,
        y=STAMP_TEXT_Y - 1,
        size=ON_LINE,
        weight=STRONG,
        colour=room.ink,
        anchor="middle",
        halo=room.table,
    )
    turn = f"rotate(-2 {middle:.1f} {STAMP_TOP + STAMP_HEIGHT / 2:g})"
    return f'<g transform="{turn}"><rect fill="{paint}" {edge} {size}/>{word.svg()}</g>'
