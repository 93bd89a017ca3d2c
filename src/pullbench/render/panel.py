"""What happened and the one fix, in the largest letters that fit, whole sentences before large ones."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pullbench.model import Pull
from pullbench.render.labels import Block, Label, Line
from pullbench.render.lettering import balanced, cut
from pullbench.render.tokens import DESK, EDGE_WORD, ON_LINE, SAID, STRONG, TEXT, Room
from pullbench.render.wording import next_time, what_happened

NARROW = (
    (EDGE_WORD, ON_LINE),
    (DESK, ON_LINE),
    (EDGE_WORD, EDGE_WORD),
    (DESK, EDGE_WORD),
    (DESK, DESK),
)
WIDE = ((ON_LINE, SAID), (ON_LINE, ON_LINE), *NARROW)  # without a close-up there is room for the back row
NARROW_BELOW, MOST_HEIGHT = 900.0, 136.0


def panel(
    pull: Pull,
    x: float,
    y: float,
    width: float,
    room: Room,
    *,
    unsaid: Sequence[str] = (),
    comma: bool,
) -> tuple[list[Label], float]:
    """Return the sentence and the fix, set from x, y (upper left) to at most width, and where they end.

    unsaid: reasons that found no place on the strip; they follow the sentence.
    """
    happened = " ".join([what_happened(pull, comma=comma), *unsaid])
    fix = next_time(pull.findings)
    block = None
    for said in (happened, " ".join([_first_sentence(what_happened(pull, comma=comma)), *unsaid])):
        for small, large in NARROW if width < NARROW_BELOW else WIDE:
            block = _block(said, fix, small, large, width, room)
            if block.height <= MOST_HEIGHT:
                return block.labels(x, y, None), y + block.height
    block = _cut_short(_first_sentence(happened), fix, width, room)
    return block.labels(x, y, None), y + block.height


def _block(said: str, fix: str, small: int, large: int, width: float, room: Room) -> Block:
    first = [Line(text, small, TEXT, room.ink) for text in balanced(said, width, small, TEXT)]
    second = [Line(text, large, STRONG, room.ink) for text in balanced(fix, width, large, STRONG)]
    return Block((*first, *second))


def _cut_short(said: str, fix: str, width: float, room: Room) -> Block:
    """Return two lines of what happened and three of the fix, for words no picture can hold."""
    block = _block(said, fix, DESK, DESK, width, room)
    kept: list[Line] = []
    for weight, most in ((TEXT, 2), (STRONG, 3)):
        lines = [line for line in block.lines if line.weight == weight]
        if len(lines) > most:
            rest = " ".join(line.text for line in lines[most - 1 :])
            last = Line(cut(rest, width, DESK, weight), DESK, weight, room.ink)
            lines = [*lines[: most - 1], last]
        kept += lines
    return Block(tuple(kept))


def _first_sentence(text: str) -> str:
    return re.split(r"(?<=[.!?;]) ", text, maxsplit=1)[0].rstrip(";")
