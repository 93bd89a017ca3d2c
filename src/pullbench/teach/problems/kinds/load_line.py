"""A load line with an intercept: the slope is the coefficient, the intercept is the sled left out."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import TraceFigure
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.given import GRAVITY, exact
from pullbench.teach.problems.kinds.made_up import SPREAD

LOADS = 5
NOISE = 0.002  # of a force: small enough that any fair line gives the same answer
WAYS_AGREE = 0.01  # share by which the line through the end points may differ from the fitted one


class LoadLine:
    """Loads W_1 ... W_5 and the steady pulls F_1 ... F_5; asked: kinetic coefficient, weight of the sled."""

    name = "load-line"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return five even loads on a sled of 0.5 to 1.2 kg, forces near those of the pair, read to 0.01 N."""
        mu = pair.mu_k * draw.uniform(1 - SPREAD, 1 + SPREAD)
        sled_N = draw.uniform(0.5, 1.2) * GRAVITY.value
        step_N = round(float(draw.choice([0.4, 0.5, 0.6])) * GRAVITY.value, 2)
        loads_N = [round(step_N * k, 2) for k in range(1, LOADS + 1)]
        forces_N = [mu * (load + sled_N) * (1 + NOISE * draw.uniform(-1, 1)) for load in loads_N]
        decimals = 2 if forces_N[0] > 1 else 3
        return (
            *(exact(f"W_{k}", load, "N", decimals=2) for k, load in enumerate(loads_N, 1)),
            *(exact(f"F_{k}", round(force, decimals), "N", decimals=decimals) for k, force in enumerate(forces_N, 1)),
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: slope of the least-squares line.  b: its intercept / a."""
        slope, intercept_N = _line(given)
        return {"a": slope, "b": intercept_N / carried.get("a", slope)}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return one point for the slope, the quotient upside down, the intercept taken for a weight."""
        slope, intercept_N = _line(given)
        return (
            Asked(key="a", digits=3, wrong={
                "one point for the slope": given["F_5"] / given["W_5"], "upside down": 1 / slope,
                "sled's mass left out": given["F_1"] / given["W_1"],
            }),
            Asked(key="b", unit="N", uses=("a",), wrong={
                "intercept for the sled's weight": intercept_N, "mass for weight": intercept_N / slope / GRAVITY.value,
                "one point for the slope": intercept_N * given["W_5"] / given["F_5"],
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """The line through the end points tells the same, within a reader's skill."""
        slope, intercept_N = _line(given)
        ends = (given["F_5"] - given["F_1"]) / (given["W_5"] - given["W_1"])
        start_N = given["F_1"] - ends * given["W_1"]
        agree = math.isclose(ends, slope, rel_tol=WAYS_AGREE)
        return agree and math.isclose(start_N, intercept_N, rel_tol=2 * WAYS_AGREE) and intercept_N > 0.1

    def figure(self, given: Numbers, *, solved: bool) -> TraceFigure:
        """Return the five points, for the key with the line."""
        slope, intercept_N = _line(given)
        loads_N = (0.0, given["W_5"]) if solved else tuple(given[f"W_{k}"] for k in range(1, LOADS + 1))
        forces_N = (
            tuple(intercept_N + slope * load for load in loads_N) if solved
            else tuple(given[f"F_{k}"] for k in range(1, LOADS + 1))
        )  # fmt: skip
        return TraceFigure(
            x=loads_N, y=forces_N, x_words="weight of the load in N", y_words="steady pull in N", joined=solved,
            described="The line through the points meets the axis of forces above nought." if solved
            else "Five points on a straight line; it would meet the axis of forces above nought.",
        )  # fmt: skip


def _line(given: Numbers) -> tuple[float, float]:
    """Return slope and intercept of the least-squares line through the five points (N)."""
    loads_N = [given[f"W_{k}"] for k in range(1, LOADS + 1)]
    forces_N = [given[f"F_{k}"] for k in range(1, LOADS + 1)]
    middle_N, mean_N = math.fsum(loads_N) / LOADS, math.fsum(forces_N) / LOADS
    over = math.fsum((w - middle_N) * (f - mean_N) for w, f in zip(loads_N, forces_N, strict=True))
    slope = over / math.fsum((w - middle_N) ** 2 for w in loads_N)
    return slope, mean_N - slope * middle_N
