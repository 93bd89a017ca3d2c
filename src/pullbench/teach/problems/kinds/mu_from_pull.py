"""Both coefficients from one pull of a weighed sled."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import coefficient_from_pull, normal_force_N
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY
from pullbench.teach.problems.kinds.made_up import breakaway, loaded_sled, near


class MuFromPull:
    """Sled m_sled with load m_load, breakaway F_s and level F_k; asked: normal force, static, kinetic coefficient."""

    name = "mu-from-pull"
    level: Level = 1

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return masses weighed to ten grams and forces near those of the pair."""
        sled, load = loaded_sled(draw)
        start = breakaway(draw, pair, sled.value + load.value, "F_s")
        level = near(draw, "F_k", start.value * pair.mu_k / pair.mu_s, "N", 0.01)
        return (sled, load, start, level, GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: (M + m) g.  b: F_s / N.  c: F_k / N."""
        own_N = normal_force_N(weight_of_N(given["m_sled"] + given["m_load"], given["g"]))
        pressing_N = carried.get("a", own_N)
        static, kinetic = (coefficient_from_pull(given[name], pressing_N).value for name in ("F_s", "F_k"))
        return {"a": own_N, "b": static, "c": kinetic}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return mass for weight, the sled left out, the quotient upside down, peak and level mistaken."""
        mass_kg, g = given["m_sled"] + given["m_load"], given["g"]
        weight_N, start_N, level_N = mass_kg * g, given["F_s"], given["F_k"]
        return (
            Asked(key="a", unit="N", digits=3, wrong={
                "mass for weight": mass_kg, "sled's mass left out": given["m_load"] * g,
            }),
            Asked(key="b", digits=3, uses=("a",), wrong={
                "upside down": weight_N / start_N, "mass for weight": start_N / mass_kg,
                "sled's mass left out": start_N / (given["m_load"] * g), "level read as the peak": level_N / weight_N,
            }),
            Asked(key="c", digits=3, uses=("a",), wrong={
                "upside down": weight_N / level_N, "mass for weight": level_N / mass_kg,
                "sled's mass left out": level_N / (given["m_load"] * g), "peak read as kinetic": start_N / weight_N,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull a hand makes, above the noise, with a peak above the level."""
        return given["F_s"] > given["F_k"] > 0.3 and given["F_s"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding sled, for the key with its balanced forces."""
        weight_N = (given["m_sled"] + given["m_load"]) * given["g"]
        forces = (pull(given["F_k"]), rub(given["F_k"]), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0, moving="along",
            described="A loaded sled slides steadily to the right on a level floor, pulled by a level string.",
        )  # fmt: skip
