"""Both coefficients from a board that is raised: where the block slips, and where it slides steadily."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import coefficient_from_tilt
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, drawn, exact
from pullbench.teach.problems.kinds.made_up import SPREAD

SMALLER, SAME, LARGER = range(3)


class SlipHeight:
    """A board of length L slips at height h_1 and slides steadily at h_2; asked: angle, both coefficients, and what
    twice the mass does.
    """

    name = "slip-height"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board of 0.80 to 1.60 m and heights read to a millimetre, near those of the pair."""
        length = drawn(draw, "L", 0.80, 1.60, 0.01, "m")
        mu_1 = pair.mu_s * draw.uniform(1 - SPREAD, 1 + SPREAD)
        mu_2 = mu_1 * pair.mu_k / pair.mu_s * draw.uniform(0.98, 1.0)
        return length, *(
            exact(name, round(length.value * math.sin(math.atan(mu)), 3), "m")
            for name, mu in (("h_1", mu_1), ("h_2", mu_2))
        )

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: θ = arcsin(h1 / L).  b: tan θ.  c: tan arcsin(h2 / L).  d: the same angle (1)."""
        slips, slides = (math.degrees(math.asin(given[name] / given["L"])) for name in ("h_1", "h_2"))
        return {
            "a": slips, "b": coefficient_from_tilt(carried.get("a", slips))[0], "c": coefficient_from_tilt(slides)[0],
            "d": SAME,
        }  # fmt: skip

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return sine for tangent, a calculator in radians, a share of 90°, and the quotient upside down."""
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="°", digits=3, wrong={
                "calculator in radians": math.radians(right["a"]),
                "share of ninety degrees": 90 * given["h_1"] / given["L"],
                "sine and cosine swapped": 90 - right["a"],
            }),
            Asked(key="b", digits=3, uses=("a",), wrong={
                "sine for tangent": given["h_1"] / given["L"], "share of ninety degrees": right["a"] / 90,
                "upside down": 1 / right["b"],
            }),
            Asked(key="c", digits=3, wrong={
                "one coefficient for both": right["b"], "sine for tangent": given["h_2"] / given["L"],
                "upside down": 1 / right["c"],
            }),
            Asked(key="d", options=("smaller", "same", "larger"), shuffled=True, wrong={
                "heavier block slips at another angle": SMALLER, "heavier sled larger coefficient": LARGER,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Heights that a ruler tells apart, on a board one would tilt."""
        return (
            given["h_1"] > given["h_2"] + 0.001 and given["h_2"] > 0.015 and given["h_1"] < 0.9 * given["L"]
        )

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the block on the board as it slips, for the key with the forces on each kilogram."""
        tilt, g = self.solve(given, {})["a"], GRAVITY.value
        along_N, across_N = (g * part(math.radians(tilt)) for part in (math.sin, math.cos))
        forces = (rub(along_N, static=True, forward=True), weight(g, tilt_deg=tilt), normal(across_N))
        return Scene(
            bodies=(Body(name="block", mass_text="m", forces=forces if solved else ()),), tilt_deg=tilt,
            described="A block on a board of length L whose far end is raised to the height h.",
            labels=("Forces for each kilogram, just before it slips.",) if solved else (),
        )  # fmt: skip
