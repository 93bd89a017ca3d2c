"""A crate on a flatbed: the hardest braking that friction alone would hold.  A thought, never tried."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N, stopping

KM_H = 3.6  # km/h in one m/s


class Flatbed:
    """Crate m on a bed braking from v (km/h); asked: largest friction, shortest stop without slipping."""

    name = "flatbed"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a crate of 40 to 300 kg on a flatbed at 10 to 60 km/h."""
        mass, speed = drawn(draw, "m", 40, 300, 5, "kg"), drawn(draw, "v", 10, 60, 1, "km/h")
        return (mass, speed, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μs m g.  b: v² / 2a with a = friction / m."""
        limit_N = pull_for_N([Link(mass_kg=given["m"], mu_s=given["mu_s"])], given["g"], static=True)
        slowing = carried.get("a", limit_N) / given["m"]
        return {"a": limit_N, "b": stopping(given["v"] / KM_H, slowing)[0]}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the other coefficient, and g, the 2 or the unit lost on the way to the distance."""
        mass, g, speed = given["m"], given["g"], given["v"] / KM_H
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": given["mu_s"] * mass, "kinetic for static": given["mu_k"] * mass * g,
            }),
            Asked(key="b", unit="m", uses=("a",), wrong={
                "speed in km/h": right["b"] * KM_H**2, "the 2 lost": right["b"] * 2,
                "the square lost": speed / (2 * given["mu_s"] * g), "mass left in": right["b"] / mass,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A stop within sight."""
        return given["mu_s"] > given["mu_k"] > 0 and 1 < self.solve(given, {})["b"] < 150

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the crate on its bed, for the key with the forces while braking at the limit."""
        weight_N = given["m"] * given["g"]
        forces = (
            rub(self.solve(given, {})["a"], static=True, words="static friction from the bed"),
            weight(weight_N),
            normal(weight_N),
        )
        return Scene(
            bodies=(Body(name="crate", mass_text="m", forces=forces if solved else ()),),
            moving="along",
            acceleration_m_s2=-self.solve(given, {})["a"] / given["m"] if solved else None,
            described="A crate on a level flatbed that drives to the right and brakes.",
        )
