"""A steady pull over a distance: work, where it goes, and power."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N, work_J


class WorkAndHeat:
    """Sled m pulled steadily over d at v; asked: pull, work, where it goes, power."""

    name = "work-and-heat"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.8 to 6 kg, 0.4 to 3 m, at a walk of the hand."""
        return (
            drawn(draw, "m", 0.8, 6.0, 0.1, "kg"), drawn(draw, "d", 0.4, 3.0, 0.1, "m"),
            drawn(draw, "v", 0.05, 0.60, 0.01, "m/s"), *coefficients(pair), GRAVITY,
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μk m g.  b: F d.  c: all of it (0).  d: F v."""
        own_N = pull_for_N([Link(mass_kg=given["m"], mu_k=given["mu_k"])], given["g"])
        pull_N = carried.get("a", own_N)
        return {"a": own_N, "b": work_J(pull_N, given["d"]), "c": 0, "d": work_J(pull_N, given["v"])}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the other coefficient, weight for friction, and the idea that the sled keeps the work."""
        mass, g, right = given["m"], given["g"], self.solve(given, {})
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": given["mu_k"] * mass, "static for kinetic": given["mu_s"] * mass * g,
            }),
            Asked(key="b", unit="J", uses=("a",), wrong={
                "weight for friction": mass * g * given["d"], "force without the distance": right["a"],
            }),
            Asked(key="c", options=("all", "half", "sled", "none"), shuffled=True, wrong={
                "the sled keeps the work": 2, "steady speed needs no work": 3,
            }),
            Asked(key="d", unit="W", uses=("a",), wrong={
                "distance for speed": right["a"] * given["d"], "weight for friction": mass * g * given["v"],
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull a hand can make, for some seconds."""
        seconds = given["d"] / given["v"]
        return given["mu_s"] > given["mu_k"] > 0 and self.solve(given, {})["a"] < 60 and 1 <= seconds <= 20

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding sled, for the key with its balanced forces."""
        pull_N, weight_N = self.solve(given, {})["a"], given["m"] * given["g"]
        forces = (pull(pull_N), rub(pull_N), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),),
            string_deg=0.0,
            moving="along",
            described="A sled sliding steadily to the right on a level floor, pulled by a level string.",
        )
