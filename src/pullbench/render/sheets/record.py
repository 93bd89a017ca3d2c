"""A class set as one JSON object: every problem with its key, for programs."""

from __future__ import annotations

import msgspec

from pullbench.model.problem import Part, Problem
from pullbench.render.formula import plain, plain_words
from pullbench.render.formula.parse import parse
from pullbench.render.sheets.class_set import ClassSet


class PairRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The coefficients all versions are made with."""

    sole: str
    floor: str
    mu_s: float
    mu_k: float
    u_mu_s: float
    u_mu_k: float
    source: str
    told: str
    label: str | None


class WrongRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A wrong answer: the idea behind it, and its value or its option (from 0)."""

    idea: str
    value: float | None
    option: int | None


class PartRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One question.  answer: in the unit, or the option (from 0).  tolerance: half width, in the unit."""

    key: str
    ask: str
    form: str
    answer: float
    unit: str
    tolerance: float
    digits: int
    options: tuple[str, ...]
    wrong: tuple[WrongRecord, ...]
    hints: tuple[str, ...]
    solution: tuple[str, ...]


class ProblemRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One problem."""

    kind: str
    level: int
    seed: int
    title: str
    text: str
    given: dict[str, tuple[float, str]]
    figure: str | None
    parts: tuple[PartRecord, ...]


class SeatRecord(msgspec.Struct, frozen=True):
    """The version of one seat."""

    seat: int
    problems: tuple[ProblemRecord, ...]


class SetRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A class set.  notes: what was said while it was made.  files: what was written, by name."""

    code: str
    seed: int
    pair: PairRecord
    notes: tuple[str, ...]
    files: tuple[str, ...]
    seats: tuple[SeatRecord, ...]


def set_record(made: ClassSet, *, notes: tuple[str, ...] = (), files: tuple[str, ...] = ()) -> bytes:
    """Return a class set as JSON in UTF-8; formulas are plain Unicode text, numbers keep every digit."""
    pair = made.pair
    return msgspec.json.encode(
        SetRecord(
            code=made.code, seed=made.seed, notes=notes, files=files,
            pair=PairRecord(
                sole=pair.sole, floor=pair.floor, mu_s=pair.mu_s, mu_k=pair.mu_k, u_mu_s=pair.u_mu_s,
                u_mu_k=pair.u_mu_k, source=pair.source, told=pair.told, label=pair.label,
            ),
            seats=tuple(
                SeatRecord(seat, tuple(map(_problem, version))) for seat, version in enumerate(made.versions, 1)
            ),
        )
    )  # fmt: skip


def _problem(problem: Problem) -> ProblemRecord:
    return ProblemRecord(
        kind=problem.kind, level=problem.level, seed=problem.seed, title=plain_words(problem.title),
        text=plain_words(problem.text), given={one.symbol: (one.value, one.unit) for one in problem.given},
        figure=problem.figure.described if problem.figure else None, parts=tuple(map(_part, problem.parts)),
    )  # fmt: skip


def _part(part: Part) -> PartRecord:
    return PartRecord(
        key=part.key, ask=plain_words(part.ask), form=part.form, answer=part.answer, unit=part.unit,
        tolerance=part.tolerance, digits=part.digits, options=tuple(map(plain_words, part.options)),
        wrong=tuple(WrongRecord(idea=w.idea, value=w.value, option=w.option) for w in part.wrong),
        hints=tuple(map(plain_words, part.hints)),
        solution=tuple(
            f"{plain_words(step.words)} {plain(parse(step.formula))}".strip() if step.formula
            else plain_words(step.words)
            for step in part.solution
        ),
    )  # fmt: skip
