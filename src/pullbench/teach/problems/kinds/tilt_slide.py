"""Down a board that is steeper than the slip angle: acceleration, and the time it takes."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import acceleration_down_m_s2, slip_tilt_deg
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact


class TiltSlide:
    """A block let go on a board of length L at theta; asked: acceleration, time to the foot."""

    name = "tilt-slide"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board 3 to 30° steeper than the slip angle, 0.40 to 2.00 m long."""
        tilt = exact("theta", round(slip_tilt_deg(pair.mu_s) + draw.uniform(3, 30), 1), "°")
        return (tilt, drawn(draw, "L", 0.40, 2.00, 0.02, "m"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: g (sin θ - μk cos θ).  b: √(2 L / a)."""
        down = acceleration_down_m_s2(given["mu_k"], given["theta"], g_m_s2=given["g"])
        return {"a": down, "b": math.sqrt(2 * given["L"] / carried.get("a", down))}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return N = m g, sine and cosine swapped, friction left out, μs kept, and the root or the 2 lost."""
        angle, g, right = math.radians(given["theta"]), given["g"], self.solve(given, {})
        sine, cosine = math.sin(angle), math.cos(angle)
        return (
            Asked(key="a", unit="m/s²", wrong={
                "normal force is the weight": g * (sine - given["mu_k"]), "friction left out": g * sine,
                "sine and cosine swapped": g * (cosine - given["mu_k"] * sine),
                "static for kinetic": g * (sine - given["mu_s"] * cosine),
            }),
            Asked(key="b", unit="s", uses=("a",), wrong={
                "friction left out": math.sqrt(2 * given["L"] / (g * sine)),
                "the 2 lost": right["b"] / math.sqrt(2), "the root lost": right["b"] ** 2,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It slips by itself, on a board one would tilt, in a time one can see."""
        steep = given["theta"] > slip_tilt_deg(given["mu_s"]) + 1 and given["theta"] <= 75
        if not (given["mu_s"] > given["mu_k"] > 0 and steep):
            return False
        return 0.2 < self.solve(given, {})["b"] < 8

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding block, for the key with the forces on each kilogram."""
        tilt, g = given["theta"], given["g"]
        normal_N = g * math.cos(math.radians(tilt))
        forces = (rub(given["mu_k"] * normal_N, forward=True), weight(g, tilt_deg=tilt), normal(normal_N))
        return Scene(
            bodies=(Body(name="block", mass_text="m", forces=forces if solved else ()),), tilt_deg=tilt, moving="back",
            acceleration_m_s2=-self.solve(given, {})["a"] if solved else None,
            described="A block slides down a tilted board by itself.",
            labels=("Forces for each kilogram.",) if solved else (),
        )  # fmt: skip
