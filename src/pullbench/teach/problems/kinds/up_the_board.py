"""Pushed off up a board: how it slows down, how far it gets, and whether it stays there."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import acceleration_up_m_s2, slip_tilt_deg
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.problems.kinds.made_up import apart
from pullbench.teach.solver import stopping

STAYS, SLIDES_BACK, SPEED_DECIDES = range(3)


class UpTheBoard:
    """A block leaves the hand with v up a board at theta; asked: how it slows down, how far, whether it stays."""

    name = "up-the-board"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board of 20 to 180 % of the slope at which it slips, half of them steeper, and 0.8 to 3 m/s."""
        steeper = bool(draw.random() < 0.5)
        tilt = slip_tilt_deg(pair.mu_s * (draw.uniform(1.08, 1.8) if steeper else draw.uniform(0.2, 0.92)))
        speed = drawn(draw, "v", 0.80, 3.00, 0.02, "m/s")
        return (speed, exact("theta", round(tilt, 1), "°"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: g (sin θ + μk cos θ).  b: v² / (2 a).  c: stays (0) while tan θ <= μs, else slides back (1)."""
        slowing = -acceleration_up_m_s2(given["mu_k"], given["theta"], g_m_s2=given["g"])
        holds = given["theta"] <= slip_tilt_deg(given["mu_s"])
        return {
            "a": slowing, "b": stopping(given["v"], carried.get("a", slowing))[0],
            "c": STAYS if holds else SLIDES_BACK,
        }  # fmt: skip

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return a sign wrong along the board, N = m g, friction left out, and the 2 or the square lost."""
        angle, g, mu_k, right = math.radians(given["theta"]), given["g"], given["mu_k"], self.solve(given, {})
        sine, cosine = math.sin(angle), math.cos(angle)
        return (
            Asked(key="a", unit="m/s²", digits=3, wrong=apart(right["a"], {
                "slope's sign": abs(g * (sine - mu_k * cosine)), "friction left out": g * sine,
                "sine and cosine swapped": g * (cosine + mu_k * sine), "normal force is the weight": g * (sine + mu_k),
            })),
            Asked(key="b", unit="m", uses=("a",), wrong={
                "the 2 lost": 2 * right["b"], "the square lost": right["b"] / given["v"],
                "friction left out": given["v"] ** 2 / (2 * g * sine),
            }),
            Asked(key="c", options=("stays", "slides back", "speed decides"), shuffled=True, wrong={
                "the push stays with it": SPEED_DECIDES,
                **({"friction only when it slides": SLIDES_BACK} if right["c"] == STAYS
                   else {"friction at rest has no limit": STAYS}),
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A board one would tilt, clearly to one side of the slip angle, and a way that fits on it."""
        clear = not math.isclose(math.tan(math.radians(given["theta"])), given["mu_s"], rel_tol=0.08)
        if not (given["mu_s"] > given["mu_k"] > 0 and clear and 2 <= given["theta"] <= 65):
            return False
        return 0.03 < self.solve(given, {})["b"] < 3

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the block on its way up, for the key with the forces on each kilogram."""
        tilt, g = given["theta"], given["g"]
        normal_N = g * math.cos(math.radians(tilt))
        forces = (rub(given["mu_k"] * normal_N), weight(g, tilt_deg=tilt), normal(normal_N))
        return Scene(
            bodies=(Body(name="block", mass_text="m", forces=forces if solved else ()),), tilt_deg=tilt, moving="along",
            acceleration_m_s2=-self.solve(given, {})["a"] if solved else None,
            described="A block slides up a tilted board after a push and slows down; nothing pulls it.",
            labels=("Forces for each kilogram, on the way up.",) if solved else (),
        )  # fmt: skip
