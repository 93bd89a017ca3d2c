"""Two measured coefficients with their limits: different, the same within a margin, or cannot tell."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import TraceFigure
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.given import drawn, exact

DIFFERENT, SAME, CANNOT_TELL = range(3)


class ComparePairs:
    """mu_1 ± U_1, mu_2 ± U_2 (95 %) and a margin D chosen before; asked: limits of the difference, and the verdict.

    The values are made up around the pair's kinetic coefficient.
    """

    name = "compare-pairs"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return two coefficients near the pair's and limits of 1 to 12 % of it, each verdict about as often."""
        about = max(pair.mu_k, 0.1)
        limits = [
            exact(name, round(about * draw.uniform(0.01, 0.12), 3), "1", decimals=3)
            for name in ("U_1", "U_2")
        ]
        reach = math.hypot(limits[0].value, limits[1].value)
        apart = (draw.uniform(1.3, 2.2), draw.uniform(0.1, 0.7), draw.uniform(0.1, 0.8))[draw.integers(3)]
        first = exact("mu_1", round(about * draw.uniform(0.95, 1.05), 3), "1", decimals=3)
        second = exact("mu_2", round(first.value + reach * apart * draw.choice([-1, 1]), 3), "1", decimals=3)
        return (first, limits[0], second, limits[1], drawn(draw, "D", 0.02, 0.12, 0.01, "1"))

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: √(U1² + U2²).  b: different if |difference| > a; same if |difference| + a <= D; else cannot tell."""
        reach = math.hypot(given["U_1"], given["U_2"])
        return {"a": reach, "b": _verdict(abs(given["mu_1"] - given["mu_2"]), carried.get("a", reach), given)}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return limits added straight, subtracted, and verdicts from the bare numbers or overlapping limits."""
        right = self.solve(given, {})["b"]
        bare, sameness = "different numbers, different surfaces", "no proof of a difference is sameness"
        ideas = {
            DIFFERENT: {sameness: SAME, "overlapping limits never differ": CANNOT_TELL},
            SAME: {bare: DIFFERENT, "overlapping limits cannot be the same": CANNOT_TELL},
            CANNOT_TELL: {bare: DIFFERENT, sameness: SAME},
        }[int(right)]  # fmt: skip
        return (
            Asked(key="a", wrong={
                "limits added straight": given["U_1"] + given["U_2"],
                "limits subtracted": abs(given["U_1"] - given["U_2"]),
                "only the larger limit": max(given["U_1"], given["U_2"]),
            }),
            Asked(key="b", options=("different", "same", "cannot tell"), uses=("a",), wrong=ideas),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Positive coefficients, and a verdict that does not hang on the last figure."""
        reach, apart = math.hypot(given["U_1"], given["U_2"]), abs(given["mu_1"] - given["mu_2"])
        clear = not math.isclose(apart, reach, rel_tol=0.15) and not math.isclose(
            apart + reach, given["D"], rel_tol=0.1
        )
        return min(given["mu_1"], given["mu_2"], given["U_1"], given["U_2"]) > 0 and clear and apart > 0

    def figure(self, given: Numbers, *, solved: bool) -> TraceFigure:
        """Return both values with their limits."""
        return TraceFigure(
            x=(1.0, 2.0), y=(given["mu_1"], given["mu_2"]), plus_minus=(given["U_1"], given["U_2"]), joined=False,
            x_words="sole", y_words="kinetic coefficient",
            described="Two coefficients side by side, each with a bar for its 95 % limits.",
        )  # fmt: skip


def _verdict(apart: float, reach: float, given: Numbers) -> int:
    if apart > reach:
        return DIFFERENT
    return SAME if apart + reach <= given["D"] else CANNOT_TELL
