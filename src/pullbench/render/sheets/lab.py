"""The lab sheet of a day: the class's own trace, ladder and table."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pullbench.analysis import Conditions
from pullbench.model import Ladder
from pullbench.physics import weight_N
from pullbench.render.flags import FOOT_Y
from pullbench.render.formula import decimal_mark
from pullbench.render.line_picture import line_svg
from pullbench.render.line_words import law_sentence
from pullbench.render.rounding import plus_minus
from pullbench.render.sheet import pull_sheet_svg
from pullbench.render.sheets import words
from pullbench.render.sheets.blocks import (
    Block,
    Document,
    Heading,
    NewSheet,
    Picture,
    Room,
    Style,
    Table,
    Together,
    Words,
)
from pullbench.render.sheets.class_set import coefficients_told
from pullbench.render.sheets.figures import figure_picture, on_white
from pullbench.render.tokens import HEIGHT, WIDTH
from pullbench.teach.free_body import moments
from pullbench.teach.free_body_scene import moment_at, scene_of
from pullbench.teach.lesson import SOLE, Lesson, TodaysPull

PROMPT_LINES = 2
STRIP_FOOT = math.ceil(FOOT_Y) + 6  # of a Pull sheet, in its units


def lab_sheet(
    pulls: Sequence[TodaysPull], lesson: Lesson, ladder: Ladder | None, *, day: str, style: Style
) -> Document:
    """Return the lab sheet of a day's kept pulls; ladder: None when there were not two loads."""
    labels = sorted({pull.label for pull in pulls if pull.label})
    label = ", ".join(labels) or None
    blocks: list[Block] = [
        NewSheet(words.lab_foot(day, label)),
        Heading(f"{words.LABELS['lab']}, {day}{words.simulated(label)}", 1),
    ]
    blocks += [*_trace(pulls, label, style), _table(pulls, style)]
    if lesson.pair.source == "today":
        told = coefficients_told(lesson, comma=style.comma)
        blocks.append(Words(f"{words.LABELS['mean']}{words.simulated(label)}: {told}."))
    if ladder is not None:
        title = lesson.pair.sole if lesson.pair.sole != SOLE else ""
        svg = on_white(line_svg(ladder, title=title, label=label, comma=style.comma))
        blocks.append(Picture(svg, law_sentence(ladder, comma=style.comma), own_fonts=True))
    blocks += _forces(pulls, style)
    blocks.append(Heading(words.LABELS["read off"]))
    for prompt in words.LAB_PROMPTS if ladder is not None else (*words.LAB_PROMPTS[:2], words.LAB_PROMPTS[3]):
        blocks += [Words(prompt), Room(PROMPT_LINES)]
    return Document(title=f"{words.LABELS['lab']}, {day}", blocks=tuple(blocks))


def _trace(pulls: Sequence[TodaysPull], label: str | None, style: Style) -> Iterator[Block]:
    one = _shown(pulls)
    if one is None:
        return
    title = f"Pull {one.number}"
    svg = _strip_alone(on_white(pull_sheet_svg(one.pull, title=title, label=label, comma=style.comma)))
    static, kinetic = one.pull.breakaway.force, one.pull.plateau.force
    described = (
        f"{title}: the pull against time. Breakaway {plus_minus(static, comma=style.comma)}, "
        f"kinetic level {plus_minus(kinetic, comma=style.comma)}."
    )
    yield Picture(svg, described, own_fonts=True)


def _shown(pulls: Sequence[TodaysPull]) -> TodaysPull | None:
    """Return the first pull that tells both coefficients and has its samples, else the first with samples."""
    drawn = [one for one in pulls if one.pull.window.trace.time_s.size]
    return next((one for one in drawn if one.tells), drawn[0] if drawn else None)


def _forces(pulls: Sequence[TodaysPull], style: Style) -> Iterator[Block]:
    """Draw the forces on the sled while it holds, half way to its break, and while it slides; not without a load."""
    one = _shown(pulls)
    if one is None or one.load_kg is None or not one.tells:
        return
    break_s, plateau = one.pull.breakaway.time_s, one.pull.plateau
    if break_s is None or plateau.start_s is None or plateau.end_s is None:
        return
    body = moments(one.pull, conditions=Conditions(weight_N=weight_N(one.load_kg), u_weight_N=0.0))
    half_s, sliding_s = (one.pull.window.start_s + break_s) / 2, (plateau.start_s + plateau.end_s) / 2
    for words_of, at_s in ((words.while_it_holds, half_s), (words.while_it_slides, sliding_s)):
        drawn = figure_picture(scene_of(body, moment_at(body, at_s)), comma=style.comma)
        yield Together((Words(words_of(one.number)), drawn), with_next=False)


def _strip_alone(svg: str) -> str:
    """Return the upper part of a Pull sheet: its strip and flags, without what stands below them."""
    return svg.replace(f'viewBox="0 0 {WIDTH} {HEIGHT}"', f'viewBox="0 0 {WIDTH} {STRIP_FOOT}"', 1).replace(
        f'height="{HEIGHT}"', f'height="{STRIP_FOOT}"', 1
    )


def _table(pulls: Sequence[TodaysPull], style: Style) -> Table:
    rows = tuple(
        (
            str(one.number),
            *_on_the_sled(one, style),
            plus_minus(one.pull.breakaway.force, comma=style.comma, short=True),
            plus_minus(one.pull.plateau.force, comma=style.comma, short=True),
            str(one.pull.verdict),
        )
        for one in pulls
    )
    heads = ("Pull", "sole", "load", "static", "kinetic", "verdict")  # coefficients are for the class to find
    return Table(words.LABELS["pulls"], heads, rows)


def _on_the_sled(one: TodaysPull, style: Style) -> tuple[str, str]:
    load = (
        words.NOT_SAID
        if one.load_kg is None
        else f"{decimal_mark(f'{one.load_kg:.2f}', comma=style.comma)} kg"
    )
    return (words.NOT_SAID if one.sole == SOLE else one.sole, load)
