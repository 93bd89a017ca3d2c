"""The key: all versions' answers to mark by, each problem worked out, and what wrong answers may show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pullbench.model.problem import Part, Problem
from pullbench.render.sheets import words
from pullbench.render.sheets.blocks import (
    Block,
    Document,
    Heading,
    Maths,
    NewSheet,
    Style,
    Table,
    Together,
    Words,
)
from pullbench.render.sheets.class_set import ClassSet, coefficients_told
from pullbench.render.sheets.figures import figure_picture
from pullbench.render.sheets.numbers import (
    OPTION_LETTERS,
    accepted_told,
    answer_told,
    given_told,
    wrong_told,
)

MOST_COLUMNS = 9  # of a table on one page; more answers go into a second one


def key_sheet(made: ClassSet, style: Style, ideas: Mapping[str, str]) -> Document:
    """Return the key of a class set.  ideas: what stands behind a wrong answer, by its name."""
    label, foot = made.pair.label, words.key_foot(made.code, made.pair.label)
    told = coefficients_told(made.lesson, comma=style.comma)
    blocks: list[Block] = [
        NewSheet(foot),
        Heading(f"{words.LABELS['key']}, set {made.code}", 1),
        Words(words.made_with(told, label, made.pair.source)),
        Words(f"{words.MORE_DECIMALS} {words.ONE_FIGURE}", "small"),
        *_all_answers(made),
    ]
    for number in range(1, len(made.versions[0]) + 1):
        blocks += _problem(made, number, style, ideas)
    return Document(title=f"{words.LABELS['key']}, set {made.code}", blocks=tuple(blocks))


def _all_answers(made: ClassSet) -> Iterator[Block]:
    columns = [
        (f"{n}{part.key}", n - 1, k)
        for n, p in enumerate(made.versions[0], 1)
        for k, part in enumerate(p.parts)
    ]
    for at in range(0, len(columns), MOST_COLUMNS):
        some = columns[at : at + MOST_COLUMNS]
        rows = tuple(
            (str(seat), *(answer_told(version[problem].parts[part]) for _, problem, part in some))
            for seat, version in enumerate(made.versions, 1)
        )
        yield Table(words.LABELS["all"], (words.LABELS["seat"], *(name for name, _, _ in some)), rows)


def _problem(made: ClassSet, number: int, style: Style, ideas: Mapping[str, str]) -> Iterator[Block]:
    problem = made.versions[0][number - 1]
    head: list[Block] = [
        Heading(f"{number}. {problem.title}"),
        Words(f"Kind {problem.kind}, level {problem.level}. {words.LABELS['worked']}.", "small"),
        Words(problem.text),
    ]
    figure = problem.key_figure or problem.figure
    if figure is not None:
        head.append(figure_picture(figure, comma=style.comma))
    yield Together(tuple(head))
    for part in problem.parts:
        yield from _worked(part)
    yield from _givens(made, number, problem)
    for at in range(len(problem.parts)):
        yield from _by_seat(made, number, at, ideas)


def _worked(part: Part) -> Iterator[Block]:
    blocks: list[Block] = [Words(f"{part.key}) {part.ask}", "strong")]
    for step in part.solution:
        if step.words:
            blocks.append(Words(step.words))
        if step.formula:
            blocks.append(Maths(step.formula))
    right = (
        f"{OPTION_LETTERS[round(part.answer)]}, {part.options[round(part.answer)]}"
        if part.options
        else answer_told(part)
    )
    blocks.append(Words(f"{words.LABELS['answer']}: {right}.", "strong"))
    if part.hints:
        blocks.append(Words(f"{words.LABELS['hints']}: {' '.join(part.hints)}", "small"))
    yield Together(tuple(blocks), with_next=False)


def _givens(made: ClassSet, number: int, problem: Problem) -> Iterator[Block]:
    """Show the given values that differ from seat to seat."""
    differ = [
        at
        for at, one in enumerate(problem.given)
        if len({version[number - 1].given[at].value for version in made.versions}) > 1
    ]
    if not differ:
        return
    rows = tuple(
        (str(seat), *(given_told(version[number - 1].given[at]) for at in differ))
        for seat, version in enumerate(made.versions, 1)
    )
    head = (words.LABELS["seat"], *(f"`{problem.given[at].symbol}`" for at in differ))
    yield Table(f"Problem {number}: what each seat was given", head, rows)


def _by_seat(made: ClassSet, number: int, at: int, ideas: Mapping[str, str]) -> Iterator[Block]:
    """Show the answers of all seats to one part, with the wrong ones that tell something."""
    versions = [version[number - 1].parts[at] for version in made.versions]
    wrong_names = list(dict.fromkeys(wrong.idea for own in versions for wrong in own.wrong))
    rows = []
    for seat, own in enumerate(versions, 1):
        told = {wrong.idea: wrong_told(own, wrong) for wrong in own.wrong}
        rows.append(
            (str(seat), answer_told(own), accepted_told(own), *(told.get(name, "") for name in wrong_names))
        )
    marks = tuple(f"wrong {k}" for k in range(1, len(wrong_names) + 1))
    head = (words.LABELS["seat"], words.LABELS["answer"], words.LABELS["accept"], *marks)
    notes = tuple(f"wrong {k}: {ideas.get(name, name)}" for k, name in enumerate(wrong_names, 1))
    yield Table(
        f"Problem {number}{versions[0].key}: answers, and {words.LABELS['wrong'].lower()}",
        head,
        tuple(rows),
        notes,
    )
