"""The angle of the string at which the least pull keeps the sled going: tan α = μ."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import coefficient_from_pull, least_pull
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, drawn
from pullbench.teach.problems.kinds.made_up import near


class BestAngle:
    """Sled m slides steadily under a level pull F_k; asked: coefficient, best angle, and the pull there."""

    name = "best-angle"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 1.5 to 9 kg and a level pull near that of the pair."""
        mass = drawn(draw, "m", 1.5, 9.0, 0.1, "kg")
        return (mass, near(draw, "F_k", pair.mu_k * mass.value * GRAVITY.value, "N"), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: F_k / (m g).  b: arctan a.  c: m g sin b."""
        weight_N = weight_of_N(given["m"], given["g"])
        own = coefficient_from_pull(given["F_k"], weight_N).value
        angle = least_pull(carried.get("a", own), weight_N)[0]
        pull_N = least_pull(math.tan(math.radians(carried.get("b", angle))), weight_N)[1]
        return {"a": own, "b": angle, "c": pull_N}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the quotient upside down, radians, a share of 90°, and the slips with the string's lift."""
        weight_N, right = given["m"] * given["g"], self.solve(given, {})
        mu, angle = right["a"], math.radians(right["b"])
        sine, cosine = math.sin(angle), math.cos(angle)
        pulls = {
            "sine and cosine of the string swapped": given["F_k"] / (sine + mu * cosine), "angle ignored": given["F_k"],
            "string's vertical part forgotten": given["F_k"] / cosine,
            "normal force for the pull": weight_N - right["c"] * sine,
        }  # fmt: skip
        return (
            Asked(key="a", digits=3, wrong={
                "upside down": 1 / mu, "mass for weight": given["F_k"] / given["m"],
            }),
            Asked(key="b", unit="°", digits=3, uses=("a",), wrong={
                "upside down": 90 - right["b"], "calculator in radians": angle, "share of ninety degrees": 90 * mu,
            }),
            Asked(key="c", unit="N", digits=3, uses=("b",), wrong=pulls),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull a hand makes, a string that points forwards."""
        return 0.5 < given["F_k"] < 80 and 3 < self.solve(given, {})["b"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled on its level string; for the key pulled at the best angle, with its forces."""
        right, weight_N = self.solve(given, {}), given["m"] * given["g"]
        angle = math.radians(right["b"])
        forces = (
            pull(right["c"], string_deg=right["b"]), rub(right["c"] * math.cos(angle)),
            weight(weight_N), normal(weight_N - right["c"] * math.sin(angle)),
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),), moving="along",
            string_deg=right["b"] if solved else 0.0,
            described="A sled slides steadily to the right on a level floor, pulled by its string.",
        )  # fmt: skip
