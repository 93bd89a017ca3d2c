"""What every kind of problem is made of, so that one maker, one reviewer and one test serve them all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction, Step
from pullbench.model.scene import Figure

Numbers = Mapping[str, float]  # by symbol of a Given, or by key of a part


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One part, in numbers: how it is asked, which earlier parts it builds on, unit and printed figures.

    options: for a choice; the words are those of Texts.options where it has the key, in the same order.
    shuffled: the order of the options says nothing, so that each version may have its own.
    wrong: idea → the number (or index of the option) it leads to.
    reading: what a reader of a figure may be off by, in the unit; accepted where it is more than the usual tolerance.
    """

    key: str
    unit: str = "1"
    digits: int = 2
    options: tuple[str, ...] = ()
    shuffled: bool = False
    wrong: Mapping[str, float] = field(default_factory=dict)
    uses: tuple[str, ...] = ()
    reading: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """The words of one kind in one language; {m}, {mu_s} ... stand for given values with their units.

    ask, hints, solution: by key of the part.  In a solution {a}, {b} ... are the answers with their units, and
    {floor}, {sole} the surfaces.  options: by key of the part, the words of a choice.
    """

    title: str
    text: str
    ask: Mapping[str, str]
    hints: Mapping[str, tuple[str, ...]]
    solution: Mapping[str, tuple[Step, ...]]
    options: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


class Kind(Protocol):
    """One kind of problem.  All functions are pure; SI units, angles in degrees.

    name: of our own, words joined by hyphens.  level: 1 to 4.
    """

    @property
    def name(self) -> str:
        """Return the name of the kind."""
        ...

    @property
    def level(self) -> Level:
        """Return how hard it is, 1 to 4."""
        ...

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return sensible given values, each already rounded as it will be printed."""
        ...

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """Return the right answer of every part; an answer in `carried` (part → value) replaces an earlier part's
        own where a later part builds on it, so that consequential errors can be followed.
        """
        ...

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the parts with the wrong answers that tell something."""
        ...

    def sane(self, given: Numbers) -> bool:
        """Return whether the situation can be: no negative normal force, slides only if it should, sizes of a room."""
        ...

    def figure(self, given: Numbers, *, solved: bool) -> Figure | None:
        """Return the drawing; solved: with all forces and values, for the key."""
        ...
