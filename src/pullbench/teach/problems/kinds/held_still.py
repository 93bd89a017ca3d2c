"""A pull below the limit: friction at rest is as large as the pull, on any sole that holds."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion


class HeldStill:
    """Two tins m under the same pull F, on the pair's sole and on a rougher one mu_1; neither moves.

    Asked: the limit on the first, the friction on the first, the friction on the second.
    """

    name = "held-still"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a tin of 0.5 to 4 kg, a pull of 30 to 85 % of the lower limit, a sole 20 to 80 % rougher."""
        mass = drawn(draw, "m", 0.50, 4.00, 0.02, "kg")
        pull_N = pair.mu_s * mass.value * GRAVITY.value * draw.uniform(0.30, 0.85)
        rougher = exact("mu_1", round(pair.mu_s * draw.uniform(1.2, 1.8), 2), "1")
        return (mass, exact("F", float(f"{pull_N:.2e}"), "N"), *coefficients(pair), rougher, GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μs m g.  b: F.  c: F."""
        first, second = (
            motion([Link(mass_kg=given["m"], mu_s=given[mu], mu_k=given["mu_k"], pull_N=given["F"])], given["g"])
            for mu in ("mu_s", "mu_1")
        )  # fmt: skip
        return {"a": given["mu_s"] * given["m"] * given["g"], "b": first.friction_N, "c": second.friction_N}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return friction always at its limit, none at rest, the weight, and the slips of the limit itself."""
        mass_kg, weight_N = given["m"], given["m"] * given["g"]
        limit_N, other_N = given["mu_s"] * weight_N, given["mu_1"] * weight_N
        at_limit, none = "friction at rest is always at its limit", "friction only when it slides"
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": given["mu_s"] * mass_kg, "kinetic for static": given["mu_k"] * weight_N,
                "friction is the weight": weight_N,
            }),
            Asked(key="b", unit="N", digits=3, wrong={
                at_limit: limit_N, none: 0.0, "kinetic for static": given["mu_k"] * weight_N,
                "friction is the weight": weight_N,
            }),
            Asked(key="c", unit="N", digits=3, wrong={
                at_limit: other_N, none: 0.0,
                "the rougher sole takes its share": given["F"] * given["mu_1"] / given["mu_s"],
                "friction is the weight": weight_N,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Neither moves."""
        stands = given["F"] < 0.9 * given["mu_s"] * given["m"] * given["g"] and given["mu_1"] > given["mu_s"]
        return given["mu_s"] > given["mu_k"] > 0 and stands and 0.1 < given["F"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the tin at rest, for the key with friction as large as the pull."""
        weight_N = given["m"] * given["g"]
        forces = (pull(given["F"]), rub(given["F"], static=True), weight(weight_N), normal(weight_N))
        return Scene(
            bodies=(Body(name="tin", mass_text="m", forces=forces if solved else ()),), string_deg=0.0,
            described="A tin at rest on a level floor, a taut level string pulling it to the right.",
        )  # fmt: skip
