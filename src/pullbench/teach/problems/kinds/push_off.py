"""A sled that was pushed off slides to rest: way and time, whatever its mass."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import stopping

LESS, SAME, FARTHER = range(3)


class PushOff:
    """Sled m leaves the hand with v; asked: how far, how long, and how far with twice the mass."""

    name = "push-off"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 1.2 to 4 kg pushed off at 0.5 to 4 m/s."""
        return (
            drawn(draw, "v", 0.50, 4.00, 0.05, "m/s"),
            drawn(draw, "m", 1.2, 4.0, 0.1, "kg"), *coefficients(pair), GRAVITY
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: v² / (2 μk g).  b: v / (μk g).  c: the same (1)."""
        way_m, time_s = stopping(given["v"], given["mu_k"] * given["g"])
        return {"a": way_m, "b": time_s, "c": SAME}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return g, the 2, the square lost, the mass left in, and heavier taken to slide less or farther."""
        right, mass_kg, g = self.solve(given, {}), given["m"], given["g"]
        return (
            Asked(key="a", unit="m", wrong={
                "g lost": right["a"] * g, "the 2 lost": 2 * right["a"], "the square lost": right["a"] / given["v"],
                "mass left in": right["a"] / mass_kg,
            }),
            Asked(key="b", unit="s", wrong={
                "g lost": right["b"] * g, "mass left in": right["b"] / mass_kg,
                "mean speed forgotten": right["a"] / given["v"],
            }),
            Asked(key="c", options=("less far", "same", "farther"), shuffled=True, wrong={
                "heavier slides less far": LESS, "heavier slides farther": FARTHER,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A way that fits in a room."""
        return given["mu_s"] > given["mu_k"] > 0 and 0.03 < self.solve(given, {})["a"] < 6

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding sled, for the key with its forces."""
        weight_N = given["m"] * given["g"]
        forces = (rub(given["mu_k"] * weight_N), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),), moving="along",
            acceleration_m_s2=-given["mu_k"] * given["g"] if solved else None,
            described="A sled slides to the right on a level floor and slows down; nothing pulls it.",
        )  # fmt: skip
