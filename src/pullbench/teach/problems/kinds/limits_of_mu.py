"""A coefficient with its plus or minus: the quotient, its limits, and how to write both down."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import coefficient_from_pull
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import drawn, exact
from pullbench.teach.problems.kinds.made_up import SPREAD


class LimitsOfMu:
    """Steady pull F_k ± U_F and normal force N ± U_N (95 %); asked: coefficient, its limits, the line to write."""

    name = "limits-of-mu"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a normal force of 8 to 40 N and limits of 2 to 9 % on both, the larger at most 2.2 times the other."""
        pressing = drawn(draw, "N", 8.0, 40.0, 0.1, "N")
        force_N = pair.mu_k * draw.uniform(1 - SPREAD, 1 + SPREAD) * pressing.value
        small = draw.uniform(0.02, 0.045)
        shares = [small, small * draw.uniform(1.1, 2.2)]
        if draw.random() < 0.5:
            shares.reverse()
        decimals = 2 if force_N < 10 else 1
        force = exact("F_k", round(force_N, decimals), "N", decimals=decimals)
        return (
            force, exact("U_F", float(f"{shares[0] * force.value:.1e}"), "N"),
            pressing, exact("U_N", float(f"{shares[1] * pressing.value:.1e}"), "N"),
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: F / N.  b: a √((U_F / F)² + (U_N / N)²).  c: both to the place of the first figure of b (0)."""
        own = coefficient_from_pull(given["F_k"], given["N"]).value
        share = math.hypot(given["U_F"] / given["F_k"], given["U_N"] / given["N"])
        return {"a": own, "b": carried.get("a", own) * share, "c": 0}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return limits added straight, only the larger, a share for a limit, and too many or too few figures."""
        right = self.solve(given, {})
        shares = (given["U_F"] / given["F_k"], given["U_N"] / given["N"])
        return (
            Asked(key="a", digits=3, wrong={
                "upside down": 1 / right["a"], "product for quotient": given["F_k"] * given["N"],
            }),
            Asked(key="b", uses=("a",), wrong={
                "limits added straight": right["a"] * sum(shares), "only the larger limit": right["a"] * max(shares),
                "relative for absolute": right["b"] / right["a"],
                "limits of the forces divided": given["U_F"] / given["U_N"],
            }),
            Asked(key="c", options=_written(right["a"], right["b"]), shuffled=True, wrong={
                "too many figures": 1, "too few figures": 2,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """The first figure of the limits is 2 to 8 on any fair way of reckoning, so that one figure is enough."""
        right = self.solve(given, {})
        first = right["b"] / 10.0 ** math.floor(math.log10(right["b"]))
        options = _written(right["a"], right["b"])
        return 2.05 <= first < 8.4 and abs(first % 1 - 0.5) > 0.04 and len(set(options)) == len(options)

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the sliding sled, for the key with its balanced forces."""
        forces = (pull(given["F_k"]), rub(given["F_k"]), weight(given["N"]), normal(given["N"]))
        return Scene(
            bodies=(Body(name="sled", forces=forces if solved else ()),), string_deg=0.0, moving="along",
            described="A loaded sled slides steadily to the right on a level floor, pulled by a level string.",
        )  # fmt: skip


def _written(value: float, limit: float) -> tuple[str, str, str]:
    """Return value ± limit to the place of the limit's first figure, to two places more, and the value to one less."""
    place = -math.floor(math.log10(limit))
    right = f"{value:.{place}f} ± {limit:.{place}f}"
    return (
        right,
        f"{value:.{place + 2}f} ± {limit:.{place + 2}f}",
        f"{value:.{place - 1}f} ± {limit:.{place}f}",
    )
