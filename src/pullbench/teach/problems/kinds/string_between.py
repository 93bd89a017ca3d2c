"""Two loaded sleds in a row, a string between them, pulled faster and faster: m a of each, then of both."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion, pull_for_N


class StringBetween:
    """Rear sled m_1 on a string behind front sled m_2, pulled with F; asked: acceleration, force in the string."""

    name = "string-between"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return two sleds of half a kilogram to two and a pull 15 to 200 % above their breakaway."""
        rear, front = (drawn(draw, symbol, 0.5, 2.0, 0.05, "kg") for symbol in ("m_1", "m_2"))
        limit_N = pair.mu_s * (rear.value + front.value) * GRAVITY.value
        force = exact("F", round(limit_N * draw.uniform(1.15, 3.0), 1), "N")
        return (rear, front, force, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: (F - μk (m1 + m2) g) / (m1 + m2).  b: m1 a + μk m1 g."""
        rear, front = _links(given)
        found = motion([rear, front], given["g"])
        acceleration = carried.get("a", found.acceleration_m_s2)
        return {
            "a": found.acceleration_m_s2,
            "b": pull_for_N([rear], given["g"], acceleration_m_s2=acceleration),
        }

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return friction left out, μs kept, one sled not sped up, the whole pull taken for the string's."""
        both_kg, rear_kg, g = given["m_1"] + given["m_2"], given["m_1"], given["g"]
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="m/s²", wrong={
                "friction left out": given["F"] / both_kg,
                "static for kinetic": given["F"] / both_kg - given["mu_s"] * g,
                "one sled's mass left out": right["a"] * both_kg / given["m_2"],
            }),
            Asked(key="b", unit="N", uses=("a",), wrong={
                "whole pull on the string": given["F"],
                "friction left out": rear_kg * right["a"],
                "acceleration left out": given["mu_k"] * rear_kg * g,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It breaks away, and a hand can pull so and follow."""
        if not (given["mu_s"] > given["mu_k"] > 0 and given["F"] < 60):
            return False
        found = motion(_links(given), given["g"])
        return found.sliding and found.acceleration_m_s2 < 20

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return both sleds, for the key with the forces on each."""
        bodies = []
        string_N = self.solve(given, {})["b"]
        for name, symbol in (("rear sled", "m_1"), ("front sled", "m_2")):
            weight_N = given[symbol] * given["g"]
            along = (
                (pull(string_N, symbol="F_12", words="string between"),)
                if symbol == "m_1"
                else (
                    pull(given["F"]),
                    pull(string_N, string_deg=180, symbol="F_12", words="string between"),
                )
            )
            forces = (*along, rub(given["mu_k"] * weight_N), weight(weight_N), normal(weight_N))
            bodies.append(Body(name=name, mass_text=symbol, forces=forces if solved else (), apart=solved))
        return Scene(
            bodies=tuple(bodies), string_deg=0.0, moving="along",
            acceleration_m_s2=self.solve(given, {})["a"] if solved else None,
            described="Two sleds in a row on a level floor, joined by a level string; the front one is pulled to the "
            "right.",
        )  # fmt: skip


def _links(given: Numbers) -> tuple[Link, Link]:
    return (
        Link(mass_kg=given["m_1"], mu_s=given["mu_s"], mu_k=given["mu_k"]),
        Link(mass_kg=given["m_2"], mu_s=given["mu_s"], mu_k=given["mu_k"], pull_N=given["F"]),
    )
