"""Find the mistake: a worked solution with one slip; asked: which line, and the right answer.

The lines of the wrong solution are the options; their words are the language's.
"""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.flatbed import KM_H
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion, stopping

LINES = ("1", "2", "3", "4")


class MistakeOnTilt:
    """A sled slides down a board at theta; the solution takes N = m g.  Asked: the line, the acceleration."""

    name = "mistake-on-tilt"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board 4 to 35° steeper than the tilt at which it slips."""
        tilt = round(math.degrees(math.atan(pair.mu_s)) + draw.uniform(4, 35), 1)
        mass = drawn(draw, "m", 0.5, 3.0, 0.1, "kg")
        return (mass, exact("theta", tilt, "°"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: line 1, N = m g.  b: g (sin θ - μk cos θ)."""
        found = motion([_sled(given, tilt_deg=-given["theta"])], given["g"], moving=True)
        return {"a": 0, "b": found.acceleration_m_s2}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the lines others would change, and the answer as it stands there."""
        angle, g, mu_k = math.radians(given["theta"]), given["g"], given["mu_k"]
        return (
            Asked(key="a", options=LINES, wrong={"static for kinetic": 1, "sine and cosine swapped": 2}),
            Asked(key="b", unit="m/s²", wrong={
                "normal force is the weight": g * (math.sin(angle) - mu_k),
                "friction left out": g * math.sin(angle),
                "sine and cosine swapped": g * (math.cos(angle) - mu_k * math.sin(angle)),
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It slips by itself on a board one would tilt."""
        steep = math.tan(math.radians(given["theta"])) > given["mu_s"]
        return given["mu_s"] > given["mu_k"] > 0 and steep and 8 <= given["theta"] <= 70

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled on its board, for the key with the right forces."""
        tilt, weight_N = given["theta"], given["m"] * given["g"]
        normal_N = weight_N * math.cos(math.radians(tilt))
        forces = (
            rub(given["mu_k"] * normal_N, forward=True), weight(weight_N, tilt_deg=tilt), normal(normal_N)
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),),
            tilt_deg=tilt,
            moving="back",
            acceleration_m_s2=-self.solve(given, {})["b"] if solved else None,
            described="A sled slides down a tilted board by itself.",
        )


class MistakeAtRest:
    """A sled is pulled with less than μs N; the solution takes f = μs N.  Asked: the line, the friction."""

    name = "mistake-at-rest"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.8 to 6 kg and a pull of 30 to 90 % of its limit."""
        mass = drawn(draw, "m", 0.8, 6.0, 0.1, "kg")
        force = round(pair.mu_s * mass.value * GRAVITY.value * draw.uniform(0.3, 0.9), 1)
        return (mass, exact("F", force, "N"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: line 2, f = μs N.  b: as much as the pull."""
        return {"a": 1, "b": motion([_sled(given, pull_N=given["F"])], given["g"]).friction_N}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the lines others would change, and friction at its limit, sliding, or none."""
        weight_N = given["m"] * given["g"]
        return (
            Asked(key="a", options=LINES, wrong={
                "mass for weight": 0, "at rest friction beats the pull": 2,
                "static taken at its limit, then accelerated": 3,
            }),
            Asked(key="b", unit="N", wrong={
                "friction at rest is always at its limit": given["mu_s"] * weight_N,
                "kinetic for static": given["mu_k"] * weight_N, "friction only when it slides": 0.0,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It stays."""
        stays = not motion([_sled(given, pull_N=given["F"])], given["g"]).sliding
        return given["mu_s"] > given["mu_k"] > 0 and stays and 0.2 < given["F"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled at rest, for the key with friction as large as the pull."""
        weight_N = given["m"] * given["g"]
        forces = (
            pull(given["F"]), rub(given["F"], static=True), weight(weight_N), normal(weight_N)
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),),
            string_deg=0.0,
            described="A sled at rest on a level floor, its level string pulled to the right.",
        )


class MistakeInUnits:
    """A cart slides to rest; the solution puts km/h into v² / 2a.  Asked: the line, the distance."""

    name = "mistake-in-units"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled let go at 3 to 20 km/h."""
        return (drawn(draw, "v", 3.0, 20.0, 0.2, "km/h"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: line 3, the speed.  b: v² / (2 μk g) with v in m/s."""
        slowing = -motion([_sled({**given, "m": 1.0})], given["g"], moving=True).acceleration_m_s2
        return {"a": 2, "b": stopping(given["v"] / KM_H, slowing)[0]}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the lines others would change, and the distances their changes lead to."""
        right = self.solve(given, {})["b"]
        return (
            Asked(key="a", options=LINES, wrong={"static for kinetic": 0, "the 2 lost": 3, "mass left in": 1}),
            Asked(key="b", unit="m", wrong={
                "speed in km/h": right * KM_H**2, "km/h turned the wrong way": right * KM_H**4,
                "static for kinetic": right * given["mu_k"] / given["mu_s"], "the 2 lost": 2 * right,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It comes to rest within a hall."""
        return given["mu_s"] > given["mu_k"] > 0 and 0.03 < self.solve(given, {})["b"] < 20

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding sled, for the key with the forces on each kilogram."""
        forces = (rub(given["mu_k"] * given["g"]), weight(given["g"]), normal(given["g"]))
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),), moving="along",
            acceleration_m_s2=-given["mu_k"] * given["g"] if solved else None,
            described="A sled slides to the right on a level floor and slows down; nothing pulls it.",
            labels=("Forces for each kilogram.",) if solved else (),
        )  # fmt: skip


def _sled(given: Numbers, *, tilt_deg: float = 0.0, pull_N: float = 0.0) -> Link:
    return Link(mass_kg=given["m"], mu_s=given["mu_s"], mu_k=given["mu_k"], tilt_deg=tilt_deg, pull_N=pull_N)
