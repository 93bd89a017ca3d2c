"""What goes into a question package: problems in variants, each with its own name."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from pullbench.model.problem import PairFriction, Part, Problem


@dataclass(frozen=True, slots=True)
class Entry:
    """One item: a part of a problem.  name: of the item, the same for the same seed and coefficients."""

    name: str
    problem: Problem
    part: Part

    @property
    def earlier(self) -> tuple[Part, ...]:
        """Return the parts before it, whose questions it may build on."""
        return self.problem.parts[: self.problem.parts.index(self.part)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """Problems by variant, what their coefficients are, and the sentence behind each wrong idea.

    variants: of each kind in turn, at least one problem.  made_with: one sentence with formulas between backticks.
    """

    pair: PairFriction
    variants: tuple[tuple[Problem, ...], ...]
    made_with: str
    ideas: Mapping[str, str] = field(default_factory=dict)

    def entries(self) -> Iterator[Entry]:
        """Yield the items in the order of kinds, variants and parts."""
        for column in self.variants:
            for problem in column:
                for part in problem.parts:
                    yield Entry(f"{self._stem(problem)}-{part.key}", problem, part)

    def sentence(self, idea: str) -> str:
        """Return what is said of a wrong answer that shows an idea."""
        return self.ideas.get(idea, f"This comes from: {idea}.")

    def _stem(self, problem: Problem) -> str:
        """Return a name of kind and seed with four signs that change with what is printed: no two days share one."""
        told = ";".join([problem.text, *(f"{one.symbol}={one.value!r}" for one in problem.given)])
        return f"{problem.kind}-{problem.seed}-{zlib.crc32(told.encode()) & 0xFFFF:04x}"


def identifier(idea: str) -> str:
    """Return an idea's name as an identifier of the standard: letters, digits and low lines."""
    return "IDEA_" + re.sub(r"[^A-Za-z0-9]+", "_", idea).strip("_")
