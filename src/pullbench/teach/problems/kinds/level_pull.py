"""The pull that starts a loaded sled, and the pull that keeps it sliding: f = μN on the level."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, exact


class LevelPull:
    """A sled of mass m_sled with a load m_load; asked: the largest pull at rest, and the steady pull."""

    name = "level-pull"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.3 to 0.6 kg with 1 to 8 tins."""
        return (
            exact("m_sled", round(draw.uniform(0.30, 0.60), 2), "kg"),
            exact("m_load", 0.5 * int(draw.integers(1, 9)), "kg"), *coefficients(pair), GRAVITY,
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μs (M + m) g.  b: μk (M + m) g."""
        normal_N = (given["m_sled"] + given["m_load"]) * given["g"]
        return {"a": given["mu_s"] * normal_N, "b": given["mu_k"] * normal_N}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return mass for weight, the sled left out, the other coefficient, and the weight taken for friction."""
        mass_kg, g = given["m_sled"] + given["m_load"], given["g"]
        mu_s, mu_k = given["mu_s"], given["mu_k"]
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": mu_s * mass_kg, "sled's mass left out": mu_s * given["m_load"] * g,
                "kinetic for static": mu_k * mass_kg * g, "friction is the weight": mass_kg * g,
            }),
            Asked(key="b", unit="N", wrong={
                "mass for weight": mu_k * mass_kg, "sled's mass left out": mu_k * given["m_load"] * g,
                "static for kinetic": mu_s * mass_kg * g, "friction is the weight": mass_kg * g,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Static above kinetic, and a pull a hand can make."""
        return given["mu_s"] > given["mu_k"] > 0 and self.solve(given, {})["a"] < 100

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled on the level, with its forces at breakaway for the key."""
        start_N = self.solve(given, {})["a"]
        weight_N = (given["m_sled"] + given["m_load"]) * given["g"]
        forces = (pull(start_N), rub(start_N, static=True), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0,
            described="A loaded sled on a level floor, a level string pulling it to the right.",
        )  # fmt: skip
