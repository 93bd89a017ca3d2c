"""Paper flags under the strip: what was marked, hung where it was marked, never over the line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from pullbench.render.labels import Box, Label
from pullbench.render.lettering import advance
from pullbench.render.tokens import EDGE_WORD, WIDTH, Room

TIP_Y, TOP_Y, FOOT_Y, TEXT_Y = 332.0, 344.0, 384.0, 374.0
SHOULDER, AIR, PADDING = 12.0, 8.0, 20.0


@dataclass(frozen=True, slots=True)
class Flag:
    """A word and the x of its mark; left: it would rather hang to the left of the mark."""

    word: str
    x: float
    left: bool

    @property
    def width(self) -> float:
        """Return the width of the cloth."""
        return advance(self.word, EDGE_WORD) + PADDING


def hung(flags: Sequence[Flag]) -> list[Box]:
    """Return a box for each flag, none over another, all in the picture.

    Each hangs to its own side of the mark if that can be, else to another side; where marks crowd, the
    flags are set side by side as near to their marks as they can be, with slanting tips.
    """
    choices = product(*([flag.left, not flag.left] for flag in flags))
    for sides in sorted(choices, key=lambda s: sum(a != f.left for a, f in zip(s, flags, strict=True))):
        boxes = [_box(f.x - f.width if left else f.x, f) for f, left in zip(flags, sides, strict=True)]
        frame = Box(0, 0, WIDTH, FOOT_Y)
        apart = not any(a.meets(b, AIR) for i, a in enumerate(boxes) for b in boxes[:i])
        if apart and all(box.inside(frame) for box in boxes):
            return boxes
    return _side_by_side(flags)


def drawn_flags(flags: Sequence[Flag], boxes: Sequence[Box], room: Room) -> tuple[str, list[Label]]:
    """Return the cloths and their words."""
    cloths, labels = [], []
    for flag, box in zip(flags, boxes, strict=True):
        near = min(max(flag.x, box.x0), box.x1)
        a, b = max(box.x0, near - SHOULDER), min(box.x1, near + SHOULDER)
        corners = f"M{flag.x:.1f},{TIP_Y:g}L{b:.1f},{TOP_Y:g}H{box.x1:.1f}V{FOOT_Y:g}H{box.x0:.1f}V{TOP_Y:g}"
        edge = f'stroke="{room.edge}" stroke-width="2.5" stroke-linejoin="round"'
        cloths.append(f'<path fill="{room.paper}" {edge} d="{corners}H{a:.1f}Z"/>')
        middle = (box.x0 + box.x1) / 2
        labels.append(
            Label(text=flag.word, x=middle, y=TEXT_Y, size=EDGE_WORD, colour=room.ink, anchor="middle")
        )
    return "".join(cloths), labels


def _box(x: float, flag: Flag) -> Box:
    return Box(x, TOP_Y, x + flag.width, FOOT_Y)


def _side_by_side(flags: Sequence[Flag]) -> list[Box]:
    """Return boxes in the order of the marks, pushed apart, then back into the picture."""
    order = sorted(range(len(flags)), key=lambda i: flags[i].x)
    lefts: dict[int, float] = {}
    free_from = AIR
    for i in order:
        lefts[i] = max(free_from, flags[i].x - (flags[i].width if flags[i].left else 0.0))
        free_from = lefts[i] + flags[i].width + AIR
    free_to = WIDTH - AIR
    for i in reversed(order):
        lefts[i] = min(lefts[i], free_to - flags[i].width)
        free_to = lefts[i] - AIR
    return [_box(lefts[i], flag) for i, flag in enumerate(flags)]
