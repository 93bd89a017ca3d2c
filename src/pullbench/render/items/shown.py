"""One item as a page to look at: what is asked, and what each answer is told."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.model.problem import Part
from pullbench.render.items import words
from pullbench.render.items.bank import Bank, Entry
from pullbench.render.sheets.blocks import (
    Block,
    Document,
    Heading,
    Maths,
    NewSheet,
    Question,
    Table,
    Together,
    Words,
)
from pullbench.render.sheets.figures import figure_picture
from pullbench.render.sheets.numbers import OPTION_LETTERS, accepted_told, wrong_told
from pullbench.render.sheets.words import simulated

ABOUT, ANSWER, TOLD, ANY_OTHER, WORKED = (
    "What each answer is told",
    "answer",
    "told",
    "any other",
    "Told when right",
)


def item_shown(bank: Bank, entry: Entry, *, comma: bool) -> Document:
    """Return an item with its feedback as a document of one sheet."""
    problem, part = entry.problem, entry.part
    blocks: list[Block] = [
        NewSheet(f"{entry.name}{simulated(bank.pair.label)}"),
        Heading(f"{problem.title}, {part.key}", 1),
        Words(problem.text),
    ]
    if problem.figure is not None:
        blocks.append(figure_picture(problem.figure, comma=comma))
    if entry.earlier:
        blocks.append(Words(words.BEFORE, "small"))
        blocks += [Words(f"{before.key}) {before.ask}", "small") for before in entry.earlier]
    blocks.append(Question(part.key, part.ask, part.options))
    if part.form == "number":
        blocks.append(Words(words.how_to_answer(part.unit), "small"))
    if problem.given and problem.pair is not None:
        blocks.append(Words(bank.made_with, "small"))
    blocks += [_feedback(bank, part), Together((Heading(WORKED), *_worked(part)))]
    return Document(title=entry.name, blocks=tuple(blocks))


def _feedback(bank: Bank, part: Part) -> Table:
    right = accepted_told(part)
    rows = [(f"{right}, {part.options[OPTION_LETTERS.index(right)]}" if part.options else right, words.RIGHT)]
    rows += [(wrong_told(part, wrong), bank.sentence(wrong.idea)) for wrong in part.wrong]
    other = " ".join((words.OTHER, *part.hints)) if part.hints else words.OTHER_BARE
    return Table(ABOUT, (ANSWER, TOLD), (*rows, (ANY_OTHER, other)))


def _worked(part: Part) -> Iterator[Block]:
    for step in part.solution:
        if step.words:
            yield Words(step.words)
        if step.formula:
            yield Maths(step.formula)
