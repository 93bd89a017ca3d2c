"""Which is larger?  Questions without numbers, each against one idea that many bring along."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Which:
    """One question with options; the words, in the same order, are the language's.

    right: the option that is right.  ideas: idea → the option it leads to.  bodies: names for the drawing.
    """

    name: str
    options: tuple[str, ...]
    right: int
    ideas: Mapping[str, int]
    described: str
    bodies: tuple[Body, ...] = (Body(name="sled"),)
    pulled: bool = True
    level: Level = 1

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return nothing: no numbers here."""
        return ()

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: the right option."""
        return {"a": self.right}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the one question; each version has its own order of options."""
        return (Asked(key="a", options=self.options, shuffled=True, wrong=self.ideas),)

    def sane(self, given: Numbers) -> bool:
        """Always."""
        return True

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the scene; there are no forces to give away."""
        return Scene(bodies=self.bodies, string_deg=0.0 if self.pulled else None, described=self.described)


def _ideas(**ideas: int) -> Mapping[str, int]:
    return MappingProxyType({name.replace("_", " "): option for name, option in ideas.items()})


WHICH = (
    Which(
        name="which-area", options=("quarter", "half", "same", "four times"), right=2,
        ideas=_ideas(more_area_more_friction=0, more_pressure_more_friction=3),
        described="A sled on its broad side, and the same sled on its narrow side.",
        bodies=(Body(name="broad side"),),
    ),
    Which(
        name="which-speed", options=("half", "same", "twice", "four times"), right=1,
        ideas=_ideas(faster_means_more_friction=2, faster_means_less_friction=0),
        described="A sled sliding steadily on a level floor, pulled by a level string.",
    ),
    Which(
        name="which-load", options=("pull twice", "both twice", "both same", "coefficient half"), right=0,
        ideas=_ideas(heavier_sled_larger_coefficient=1, friction_does_not_depend_on_load=2),
        described="A loaded sled on a level floor, pulled by a level string.",
    ),
    Which(
        name="which-sole-at-rest", options=("rougher", "smoother", "same", "none"), right=2,
        ideas=_ideas(friction_at_rest_is_always_at_its_limit=0, friction_only_when_it_slides=3),
        described="Two tins on different soles, each with a level string under the same pull; neither moves.",
        bodies=(Body(name="tin"),),
    ),
    Which(
        name="which-way-on-rider", options=("forwards", "backwards", "none", "down"), right=0,
        ideas=_ideas(friction_always_against_the_motion=1, friction_only_when_it_slides=2),
        described="A block rides on a sled; a level string starts the sled to the right.",
        bodies=(Body(name="sled"), Body(name="rider", on="sled")),
    ),
    Which(
        name="which-slides-farther", options=("lighter", "heavier", "same"), right=2,
        ideas=_ideas(heavier_slides_less_far=0, heavier_slides_farther=1),
        described="Two equal sleds, one with twice the load, let go at the same speed on a level floor.",
        pulled=False,
        bodies=(Body(name="light sled"), Body(name="heavy sled")),
    ),
)  # fmt: skip
