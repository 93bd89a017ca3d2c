"""A class set: one version a seat, the coefficients they are made with, and a code that ties sheets to their key."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

from pullbench.model.problem import PairFriction, Problem
from pullbench.render.rounding import plus_minus
from pullbench.teach.lesson import FIGURES, Lesson
from pullbench.teach.problems.make import significant

LETTERS = "ACDEFHJKLMNPRTUVWXY"  # none that is taken for another


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassSet:
    """versions: by seat from 1 on; every seat has the same kinds in the same order."""

    seed: int
    lesson: Lesson
    versions: tuple[tuple[Problem, ...], ...]

    @property
    def pair(self) -> PairFriction:
        """Return the pair of surfaces the problems are about."""
        return self.lesson.pair

    @property
    def code(self) -> str:
        """Return the code of the set: its seed, and two letters that change with kinds and coefficients."""
        kinds = ",".join(problem.kind for problem in self.versions[0]) if self.versions else ""
        told = f"{kinds};{self.pair.mu_s:g};{self.pair.mu_k:g};{self.pair.sole};{self.pair.floor}"
        check = zlib.crc32(told.encode())
        n = len(LETTERS)
        return f"{self.seed}{LETTERS[check % n]}{LETTERS[check // n % n]}"


def coefficients_told(lesson: Lesson, *, comma: bool = False) -> str:
    """Return both coefficients with their plus or minus, and where they come from, as words with formulas."""
    pair = lesson.pair
    if lesson.static is not None and lesson.kinetic is not None:
        static, kinetic = (plus_minus(one, comma=comma) for one in (lesson.static, lesson.kinetic))
        told = f"`mu_s` = {static}, `mu_k` = {kinetic}"
    else:
        static, kinetic = (significant(value, FIGURES) for value in (pair.mu_s, pair.mu_k))
        told = f"`mu_s = {static}`, `mu_k = {kinetic}`"
    return f"{told}, from {pair.told}"
