"""Which load a given pull can start, and which it can keep going."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact


class HeaviestLoad:
    """A winch pulls F, the sled is m_sled; asked: the heaviest load it starts, and the heaviest it keeps going."""

    name = "heaviest-load"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.8 to 4 kg and a pull that starts a load of one half to four times that."""
        sled = drawn(draw, "m_sled", 0.80, 4.00, 0.05, "kg")
        pull_N = pair.mu_s * sled.value * draw.uniform(1.5, 5.0) * GRAVITY.value
        return (sled, exact("F", float(f"{pull_N:.2e}"), "N"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: F / (μs g) - M.  b: F / (μk g) - M."""
        return {
            key: given["F"] / (given[mu] * given["g"]) - given["m_sled"]
            for key, mu in (("a", "mu_s"), ("b", "mu_k"))
        }

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the sled not taken off, mass for weight, the other coefficient."""
        pull_N, sled_kg, right = given["F"], given["m_sled"], self.solve(given, {})
        return (
            Asked(key="a", unit="kg", wrong={
                "load for the whole": right["a"] + sled_kg, "kinetic for static": right["b"],
                "mass for weight": pull_N / given["mu_s"] - sled_kg,
            }),
            Asked(key="b", unit="kg", wrong={
                "load for the whole": right["b"] + sled_kg, "static for kinetic": right["a"],
                "mass for weight": pull_N / given["mu_k"] - sled_kg,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull that a small winch makes, and loads that lie on a sled."""
        if not given["mu_s"] > given["mu_k"] > 0:
            return False
        right = self.solve(given, {})
        return 0.2 < right["a"] < right["b"] < 40 and given["F"] < 150

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled, for the key with its forces under the heaviest load it starts with."""
        weight_N = (self.solve(given, {})["a"] + given["m_sled"]) * given["g"]
        forces = (pull(given["F"]), rub(given["F"], static=True), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0,
            described="A loaded sled on a level floor, a level string pulling it to the right.",
        )  # fmt: skip
