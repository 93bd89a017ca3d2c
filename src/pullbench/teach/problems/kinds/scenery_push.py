"""Scenery pushed at an angle downwards: the push presses the load to the floor and makes its own work harder."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import normal_force_N
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion, pull_for_N

WRONG_SIGN = "string's vertical part with the wrong sign"


class SceneryPush:
    """Scenery of mass m pushed at alpha below the level; asked: the push that starts it, the normal force then,
    and the acceleration under a larger push F.
    """

    name = "scenery-push"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a piece of 15 to 60 kg, pushed at 10 to 35° downwards, then 5 to 100 % harder than it needs."""
        mass, angle = drawn(draw, "m", 15, 60, 1, "kg"), drawn(draw, "alpha", 10, 35, 1, "°")
        alpha = math.radians(angle.value)
        grip = max(math.cos(alpha) - pair.mu_s * math.sin(alpha), 0.1)
        start_N = pair.mu_s * mass.value * GRAVITY.value / grip
        push = exact("F", float(round(start_N * draw.uniform(1.05, 2.0))), "N")
        return (mass, angle, push, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μs m g / (cos α - μs sin α).  b: m g + a sin α.  c: (F cos α - μk (m g + F sin α)) / m."""
        start_N = pull_for_N([_piece(given)], given["g"], static=True)
        push_N, weight_N = carried.get("a", start_N), weight_of_N(given["m"], given["g"])
        return {
            "a": start_N,
            "b": normal_force_N(weight_N, push_N, string_deg=-given["alpha"]),
            "c": motion([_piece(given, given["F"])], given["g"]).acceleration_m_s2,
        }

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the push's downward part forgotten, its sign wrong, the angle ignored, N = m g."""
        angle, g, mass = math.radians(given["alpha"]), given["g"], given["m"]
        mu_s, mu_k, start_N = given["mu_s"], given["mu_k"], self.solve(given, {})["a"]
        least_N = mu_s * mass * g
        along, down = given["F"] * math.cos(angle) / mass, given["F"] * math.sin(angle) / mass
        return (
            Asked(key="a", unit="N", wrong={
                "string's vertical part forgotten": least_N / math.cos(angle),
                WRONG_SIGN: least_N / (math.cos(angle) + mu_s * math.sin(angle)),
                "angle ignored": least_N,
            }),
            Asked(key="b", unit="N", uses=("a",), digits=3, wrong={
                "normal force is the weight": mass * g, WRONG_SIGN: mass * g - start_N * math.sin(angle),
                "sine and cosine of the string swapped": mass * g + start_N * math.cos(angle),
            }),
            Asked(key="c", unit="m/s²", wrong={
                "normal force is the weight": along - mu_k * g, "friction left out": along,
                "static for kinetic": along - mu_s * (g + down), WRONG_SIGN: along - mu_k * (g - down),
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Far from jamming, and a push two people can make."""
        angle = math.radians(given["alpha"])
        if not (given["mu_s"] > given["mu_k"] > 0 and math.tan(angle) < 0.7 / given["mu_s"]):
            return False
        return motion([_piece(given, given["F"])], given["g"]).sliding and given["F"] < 900

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the piece, for the key with the forces at the moment it starts."""
        push_N, weight_N, angle = self.solve(given, {})["a"], given["m"] * given["g"], given["alpha"]
        normal_N = weight_N + push_N * math.sin(math.radians(angle))
        forces = (
            pull(push_N, string_deg=-angle, words="push"), rub(given["mu_s"] * normal_N, static=True),
            weight(weight_N), normal(normal_N),
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="scenery", mass_text="m", forces=forces if solved else ()),),
            described="A piece of scenery on a level floor, pushed to the right and at an angle downwards.",
        )


def _piece(given: Numbers, push_N: float = 0.0) -> Link:
    return Link(
        mass_kg=given["m"], mu_s=given["mu_s"], mu_k=given["mu_k"], string_deg=-given["alpha"], pull_N=push_N
    )
