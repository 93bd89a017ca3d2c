"""The students' sheets: one version a seat, room to work, no names."""

from __future__ import annotations

from collections.abc import Iterator

from pullbench.model.problem import Part, Problem
from pullbench.render.sheets import words
from pullbench.render.sheets.blocks import (
    AnswerLine,
    Block,
    Document,
    Heading,
    NewSheet,
    Question,
    Rest,
    Room,
    Style,
    Together,
    Words,
)
from pullbench.render.sheets.class_set import ClassSet, coefficients_told
from pullbench.render.sheets.figures import figure_picture

LINES_NUMBER, LINES_CHOICE = 3, 1  # least room for the working of a part


def student_sheets(made: ClassSet, style: Style) -> Document:
    """Return the sheets of all seats, each beginning on a leaf of its own."""
    blocks = [block for seat in range(1, len(made.versions) + 1) for block in _sheet(made, seat, style)]
    return Document(title=f"{words.LABELS['sheet']}, set {made.code}", blocks=tuple(blocks))


def _sheet(made: ClassSet, seat: int, style: Style) -> Iterator[Block]:
    problems, label = made.versions[seat - 1], made.pair.label
    yield NewSheet(words.sheet_foot(made.code, seat, label))
    yield Heading(f"{words.LABELS['sheet']}: set {made.code}, seat {seat}", 1)
    told = coefficients_told(made.lesson, comma=style.comma)
    yield Words(words.made_with(told, label, made.pair.source), "small")
    yield Words(f"{words.NO_NAMES} {words.SHOW_WORK}", "small")
    for number, problem in enumerate(problems, 1):
        yield from _problem(number, problem, style)
    if problems[-1].parts[-1].form == "choice":
        yield Rest()
    yield Words(words.caution([text for p in problems for text in (p.title, p.text)]), "small")


def _problem(number: int, problem: Problem, style: Style) -> Iterator[Block]:
    head: list[Block] = [Heading(f"{number}. {problem.title}"), Words(problem.text)]
    if problem.figure is not None:
        head.append(figure_picture(problem.figure, comma=style.comma))
    first, *others = problem.parts
    yield from _part(first, head)
    for part in others:
        yield from _part(part, [])


def _part(part: Part, head: list[Block]) -> Iterator[Block]:
    """Ask, leave room to work, and end with a line for the answer (or the ticks, which come first)."""
    number = part.form == "number"
    room = Room(LINES_NUMBER if number else LINES_CHOICE)
    yield Together((*head, Question(part.key, part.ask, part.options), room), with_next=number)
    if number:
        yield Rest()
        yield AnswerLine(part.unit)
