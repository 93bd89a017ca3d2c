"""A sled on the level, pulled by a load that hangs from its string over a pulley."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion


class HangingLoad:
    """Sled m_1 on the level, load m_2 hanging; asked: acceleration, force in the string."""

    name = "hanging-load"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.5 to 2 kg and a load 15 to 300 % above the one that just starts it."""
        sled = drawn(draw, "m_1", 0.5, 2.0, 0.05, "kg")
        load = exact("m_2", round(sled.value * pair.mu_s * draw.uniform(1.15, 4.0), 2), "kg")
        return (sled, load, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: (m2 - μk m1) g / (m1 + m2).  b: m2 (g - a)."""
        found = motion(_chain(given), given["g"])
        acceleration = carried.get("a", found.acceleration_m_s2)
        return {"a": found.acceleration_m_s2, "b": given["m_2"] * (given["g"] - acceleration)}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the string's force taken for the load's weight, friction left out, μs kept."""
        sled, load, g, mu_k = given["m_1"], given["m_2"], given["g"], given["mu_k"]
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="m/s²", wrong={
                "string force taken as the load's weight": (load - mu_k * sled) * g / sled,
                "friction left out": load * g / (sled + load),
                "static for kinetic": (load - given["mu_s"] * sled) * g / (sled + load),
            }),
            Asked(key="b", unit="N", uses=("a",), wrong={
                "string force taken as the load's weight": load * g,
                "acceleration left out": mu_k * sled * g,
                "friction left out": sled * right["a"],
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It breaks away; the load hangs from a light pulley."""
        if not (given["mu_s"] > given["mu_k"] > 0 and 0.05 <= given["m_2"] <= 6):
            return False
        return motion(_chain(given), given["g"]).sliding

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return sled, pulley and load, for the key with the forces on both."""
        answers, g = self.solve(given, {}), given["g"]
        sled_N, load_N, string_N = given["m_1"] * g, given["m_2"] * g, answers["b"]
        on_sled = (pull(string_N), rub(given["mu_k"] * sled_N), weight(sled_N), normal(sled_N))
        on_load = (pull(string_N, string_deg=90, words="string"), weight(load_N))
        return Scene(
            bodies=(
                Body(name="sled", mass_text="m_1", forces=on_sled if solved else (), apart=solved),
                Body(name="load", mass_text="m_2", on="hanging", forces=on_load if solved else (), apart=solved),
            ),
            string_deg=0.0, moving="along", acceleration_m_s2=answers["a"] if solved else None,
            described="A sled on a level table; its string runs over a pulley at the edge to a hanging load.",
        )  # fmt: skip


def _chain(given: Numbers) -> tuple[Link, Link]:
    return (
        Link(mass_kg=given["m_1"], mu_s=given["mu_s"], mu_k=given["mu_k"]),
        Link(mass_kg=given["m_2"], hanging=True),
    )
