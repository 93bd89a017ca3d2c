"""Down a tilted board and out onto the level until it rests: acceleration, speed, distance."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion, speed_after_m_s, stopping


class SlideOut:
    """A block slides L down a board at theta and on over the same surface on the level; the kink costs nothing."""

    name = "slide-out"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board 3 to 35° steeper than the tilt at which it slips, 0.3 to 1.5 m long."""
        tilt = math.degrees(math.atan(pair.mu_s)) + draw.uniform(3, 35)
        length = drawn(draw, "L", 0.30, 1.50, 0.05, "m")
        return (exact("theta", round(tilt, 1), "°"), length, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: g (sin θ - μk cos θ).  b: √(2 a L).  c: v² / (2 μk g)."""
        down = motion([_block(given, -given["theta"])], given["g"], moving=True).acceleration_m_s2
        level = motion([_block(given, 0.0)], given["g"], moving=True).acceleration_m_s2
        speed = speed_after_m_s(0.0, max(carried.get("a", down), 0.0), given["L"])
        return {"a": down, "b": speed, "c": stopping(carried.get("b", speed), -level)[0]}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return N = m g on a tilt, sine and cosine swapped, friction left out, and the root, 2 or g lost."""
        angle, g, mu_k = math.radians(given["theta"]), given["g"], given["mu_k"]
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="m/s²", wrong={
                "normal force is the weight": g * (math.sin(angle) - mu_k),
                "sine and cosine swapped": g * (math.cos(angle) - mu_k * math.sin(angle)),
                "friction left out": g * math.sin(angle),
                "slope's sign": g * (math.sin(angle) + mu_k * math.cos(angle)),
            }),
            Asked(key="b", unit="m/s", uses=("a",), wrong={
                "the square lost": 2 * right["a"] * given["L"],
                "the 2 lost": math.sqrt(right["a"] * given["L"]),
                "friction left out": math.sqrt(2 * g * math.sin(angle) * given["L"]),
            }),
            Asked(key="c", unit="m", uses=("b",), wrong={
                "g lost": right["c"] * g, "the 2 lost": right["c"] * 2, "the square lost": right["c"] / right["b"],
                "friction on the tilt left out": given["L"] * math.sin(angle) / mu_k,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It slips by itself, on a board one would tilt, and comes to rest in the room."""
        if not (given["mu_s"] > given["mu_k"] > 0 and given["theta"] <= 70):
            return False
        slips = motion([_block(given, -given["theta"])], given["g"]).sliding
        return slips and 0.05 < self.solve(given, {})["c"] < 8

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the block on the board, for the key with its forces there."""
        tilt, weight_N = given["theta"], given["g"]  # of one kilogram: the mass plays no part
        normal_N = weight_N * math.cos(math.radians(tilt))
        forces = (
            rub(given["mu_k"] * normal_N, forward=True), weight(weight_N, tilt_deg=tilt), normal(normal_N)
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="block", mass_text="m", forces=forces if solved else ()),),
            tilt_deg=tilt, moving="back",
            acceleration_m_s2=-self.solve(given, {})["a"] if solved else None,
            described="A block slides down a tilted board; at its foot the same surface goes on level.",
            labels=("Forces for each kilogram, on the board.",) if solved else (),
        )  # fmt: skip


def _block(given: Numbers, tilt_deg: float) -> Link:
    return Link(mass_kg=1.0, mu_s=given["mu_s"], mu_k=given["mu_k"], tilt_deg=tilt_deg)
