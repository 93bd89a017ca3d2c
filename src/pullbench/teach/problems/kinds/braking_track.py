"""A car on a closed track whose locked tyres grip as the sole does: km/h, v² and what twice the speed does.

A thought for the page, never tried.
"""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.flatbed import KM_H
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, motion, stopping


class BrakingTrack:
    """Speed v (km/h) and mu_k; asked: the speed in m/s, the braking distance, the distance from twice the speed."""

    name = "braking-track"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a speed of 15 to 90 km/h."""
        return (drawn(draw, "v", 15, 90, 1, "km/h"), coefficients(pair)[1], GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: v / 3.6.  b: v² / (2 μk g).  c: four times (2)."""
        slowing = -motion([Link(mass_kg=1.0, mu_k=given["mu_k"])], given["g"], moving=True).acceleration_m_s2
        speed = given["v"] / KM_H
        return {"a": speed, "b": stopping(carried.get("a", speed), slowing)[0], "c": 2}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return km/h kept or turned the wrong way, and g, the 2 or the square lost."""
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="m/s", wrong={
                "speed in km/h": given["v"], "km/h turned the wrong way": given["v"] * KM_H,
            }),
            Asked(key="b", unit="m", uses=("a",), wrong={
                "g lost": right["b"] * given["g"], "the 2 lost": 2 * right["b"],
                "the square lost": right["b"] / right["a"], "speed in km/h": right["b"] * KM_H**2,
            }),
            Asked(key="c", options=("same", "twice", "four times", "eight times"), wrong={
                "the square lost": 1, "friction grows with speed": 0,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A distance that fits on a track."""
        return given["mu_k"] > 0 and 1 < self.solve(given, {})["b"] < 400

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the car as a block, for the key with the forces on each kilogram."""
        forces = (rub(given["mu_k"] * given["g"]), weight(given["g"]), normal(given["g"]))
        return Scene(
            bodies=(Body(name="car", mass_text="m", forces=forces if solved else ()),), moving="along",
            acceleration_m_s2=-given["mu_k"] * given["g"] if solved else None,
            described="A car on a level track slides to the right with locked wheels.",
            labels=("Forces for each kilogram.",) if solved else (),
        )  # fmt: skip
