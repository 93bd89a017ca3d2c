"""From a breakaway pull on the level to the angle at which the same sled slips on a board."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import coefficient_from_pull, slip_tilt_deg
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY
from pullbench.teach.problems.kinds.made_up import breakaway, loaded_sled


class LevelToTilt:
    """Sled m_sled with load m_load breaks away at F_s on the level; asked: coefficient, and the angle of slip."""

    name = "level-to-tilt"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return masses weighed to ten grams and a breakaway pull near that of the pair."""
        sled, load = loaded_sled(draw)
        return (sled, load, breakaway(draw, pair, sled.value + load.value, "F_s"), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: F_s / ((M + m) g).  b: arctan a."""
        pressing_N = weight_of_N(given["m_sled"] + given["m_load"], given["g"])
        own = coefficient_from_pull(given["F_s"], pressing_N).value
        return {"a": own, "b": slip_tilt_deg(carried.get("a", own))}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the quotient upside down, the sled left out, sine for tangent, radians, a share of 90°."""
        mass_kg, start_N, right = given["m_sled"] + given["m_load"], given["F_s"], self.solve(given, {})
        angle = {"calculator in radians": math.radians(right["b"]), "share of ninety degrees": 90 * right["a"],
                 "upside down": 90 - right["b"]}  # fmt: skip
        if right["a"] < 1:
            angle["sine for tangent"] = math.degrees(math.asin(right["a"]))
        return (
            Asked(key="a", digits=3, wrong={
                "upside down": 1 / right["a"], "mass for weight": start_N / mass_kg,
                "sled's mass left out": start_N / (given["m_load"] * given["g"]),
            }),
            Asked(key="b", unit="°", digits=3, uses=("a",), wrong=angle),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull a hand makes, and a board one would tilt."""
        return 0.3 < given["F_s"] < 60 and 2 < self.solve(given, {})["b"] < 65

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled on the level, for the key with its forces at breakaway."""
        weight_N = (given["m_sled"] + given["m_load"]) * given["g"]
        forces = (pull(given["F_s"]), rub(given["F_s"], static=True), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0,
            described="A loaded sled on a level floor, a level string pulling it to the right.",
        )  # fmt: skip
