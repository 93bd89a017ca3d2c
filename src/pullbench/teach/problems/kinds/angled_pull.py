"""A string that lifts: the pull that starts the sled, what then presses, and the pull that keeps it going."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import normal_force_N, pull_needed_N
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn

LEAST_LIFT = 0.05  # of μ tan α; below it the string might as well be level


class AngledPull:
    """Sled m pulled at alpha above the level; asked: the starting pull, the normal force then, the steady pull."""

    name = "angled-pull"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a sled of 0.8 to 5 kg and a string at 12 to 55°."""
        return (
            drawn(draw, "m", 0.8, 5.0, 0.1, "kg"), drawn(draw, "alpha", 12, 55, 1, "°"), *coefficients(pair), GRAVITY
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μs m g / (cos α + μs sin α).  b: m g - a sin α.  c: as a, with μk."""
        weight_N, string_deg = weight_of_N(given["m"], given["g"]), given["alpha"]
        start_N, steady_N = (
            pull_needed_N(given[mu], weight_N, string_deg=string_deg) for mu in ("mu_s", "mu_k")
        )
        pull_N = carried.get("a", start_N)
        return {"a": start_N, "b": normal_force_N(weight_N, pull_N, string_deg=string_deg), "c": steady_N}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the lifting part forgotten or with the wrong sign, the angle ignored, sine and cosine swapped."""
        angle, weight_N, start_N = (
            math.radians(given["alpha"]),
            given["m"] * given["g"],
            self.solve(given, {})["a"],
        )
        return (
            Asked(key="a", unit="N", wrong=_slips(given["mu_s"], weight_N, angle)),
            Asked(key="b", unit="N", digits=3, uses=("a",), wrong={
                "normal force is the weight": weight_N,
                "string's vertical part with the wrong sign": weight_N + start_N * math.sin(angle),
                "sine and cosine of the string swapped": weight_N - start_N * math.cos(angle),
            }),
            Asked(key="c", unit="N", wrong={
                "static for kinetic": start_N, **dict(list(_slips(given["mu_k"], weight_N, angle).items())[:3]),
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """It slides before it lifts, the angle counts, and a hand can pull so."""
        if not given["mu_s"] > given["mu_k"] > 0:
            return False
        counts = given["mu_k"] * math.tan(math.radians(given["alpha"])) >= LEAST_LIFT
        right = self.solve(given, {})
        lifts_little = right["a"] * math.cos(math.radians(given["alpha"])) < given["m"] * given["g"]
        return counts and lifts_little and 0.3 < right["a"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sled, for the key with its forces at breakaway."""
        right, weight_N = self.solve(given, {}), given["m"] * given["g"]
        forces = (
            pull(right["a"], string_deg=given["alpha"]), rub(given["mu_s"] * right["b"], static=True),
            weight(weight_N), normal(right["b"]),
        )  # fmt: skip
        return Scene(
            bodies=(Body(name="sled", mass_text="m", forces=forces if solved else ()),), string_deg=given["alpha"],
            described="A sled on a level floor; its string runs to the right and upwards at an angle.",
        )  # fmt: skip


def _slips(mu: float, weight_N: float, angle: float) -> dict[str, float]:
    """Return what the four slips with the string's angle make of the pull."""
    sine, cosine = math.sin(angle), math.cos(angle)
    slips = {
        "string's vertical part forgotten": mu * weight_N / cosine,
        "angle ignored": mu * weight_N,
        "sine and cosine of the string swapped": mu * weight_N / (sine + mu * cosine),
    }
    if cosine > mu * sine:  # else it gives a negative pull, and nobody writes that down
        slips["string's vertical part with the wrong sign"] = mu * weight_N / (cosine - mu * sine)
    return slips
