"""A level pull above the limit: friction while it slides, acceleration, speed."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import acceleration_pulled_m_s2
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.problems.kinds.made_up import loaded_sled


class SpeedUp:
    """Sled m_sled with load m_load under a pull F that starts it; asked: friction, acceleration, speed after t."""

    name = "speed-up"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a pull of 115 to 220 % of the breakaway pull, for 0.3 to 1.2 s."""
        sled, load = loaded_sled(draw)
        limit_N = pair.mu_s * (sled.value + load.value) * GRAVITY.value
        force = exact("F", float(f"{limit_N * draw.uniform(1.15, 2.2):.2e}"), "N")
        return (sled, load, force, drawn(draw, "t", 0.3, 1.2, 0.05, "s"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μk (M + m) g.  b: (F - a) / (M + m).  c: b t."""
        mass_kg = given["m_sled"] + given["m_load"]
        friction_N = given["mu_k"] * mass_kg * given["g"]
        own = acceleration_pulled_m_s2(given["F"], mass_kg, given["mu_k"], g_m_s2=given["g"])
        if "a" in carried:
            own = (given["F"] - carried["a"]) / mass_kg
        return {"a": friction_N, "b": own, "c": carried.get("b", own) * given["t"]}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return μs kept, friction as large as the pull or left out, the sled left out, way for speed."""
        mass_kg, g, right = given["m_sled"] + given["m_load"], given["g"], self.solve(given, {})
        free = given["F"] / mass_kg
        return (
            Asked(key="a", unit="N", wrong={
                "static for kinetic": given["mu_s"] * mass_kg * g, "friction as large as any pull": given["F"],
                "sled's mass left out": given["mu_k"] * given["m_load"] * g, "mass for weight": given["mu_k"] * mass_kg,
            }),
            Asked(key="b", unit="m/s²", uses=("a",), wrong={
                "friction left out": free, "static for kinetic": free - given["mu_s"] * g,
                "sled's mass left out": (given["F"] - right["a"]) / given["m_load"],
            }),
            Asked(key="c", unit="m/s", uses=("b",), wrong={
                "friction left out": free * given["t"], "way for speed": right["b"] * given["t"] ** 2 / 2,
                "speed divided by time": right["b"] / given["t"],
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It breaks away, a hand can pull so, and it stays in the room."""
        mass_kg = given["m_sled"] + given["m_load"]
        starts = given["F"] > 1.05 * given["mu_s"] * mass_kg * given["g"]
        if not (given["mu_s"] > given["mu_k"] > 0 and starts and given["F"] < 100):
            return False
        right = self.solve(given, {})
        return 0.1 < right["b"] < 15 and right["c"] * given["t"] < 6

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled, for the key with its forces while it speeds up."""
        right, weight_N = self.solve(given, {}), (given["m_sled"] + given["m_load"]) * given["g"]
        forces = (pull(given["F"]), rub(right["a"]), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0, moving="along",
            acceleration_m_s2=right["b"] if solved else None,
            described="A loaded sled slides to the right on a level floor, pulled by a level string, ever faster.",
        )  # fmt: skip
