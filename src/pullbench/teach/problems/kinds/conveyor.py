"""A box set down on a running belt: friction speeds it up until it rides along."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N, stopping, work_J


class Conveyor:
    """Belt at v, box of mass m set down at rest; asked: how long it slips, how long its mark is, the heat."""

    name = "conveyor"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a belt at 0.5 to 3 m/s and a box of 1 to 15 kg."""
        return (
            drawn(draw, "v", 0.50, 3.00, 0.05, "m/s"),
            drawn(draw, "m", 1.0, 15.0, 0.5, "kg"),
            *coefficients(pair),
            GRAVITY,
        )

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: v / (μk g).  b: v t / 2 on the belt.  c: μk m g × mark."""
        rub_N = pull_for_N([Link(mass_kg=given["m"], mu_k=given["mu_k"])], given["g"])
        seconds = stopping(given["v"], rub_N / given["m"])[1]  # seen from the belt it comes to rest
        mark_m = given["v"] * carried.get("a", seconds) / 2
        return {"a": seconds, "b": mark_m, "c": work_J(rub_N, carried.get("b", mark_m))}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return g or the 2 lost, μs kept while it slips, and the belt's way taken for the mark."""
        speed, g, right = given["v"], given["g"], self.solve(given, {})
        return (
            Asked(key="a", unit="s", wrong={
                "g lost": speed / given["mu_k"], "static for kinetic": speed / (given["mu_s"] * g),
                "the 2 lost": right["a"] / 2,
            }),
            Asked(key="b", unit="m", uses=("a",), wrong={
                "the belt's way for the mark": speed * right["a"], "g lost": right["b"] * g,
            }),
            Asked(key="c", unit="J", uses=("b",), wrong={
                "weight for friction": given["m"] * g * right["b"],
                "the belt's way for the mark": 2 * right["c"], "mass for weight": right["c"] / g,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A belt long enough is found in a shop."""
        right = self.solve(given, {}) if given["mu_k"] > 0 else {"b": 0.0}
        return given["mu_s"] > given["mu_k"] > 0 and 0.01 < right["b"] < 6

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the box on the belt, for the key with friction forwards."""
        weight_N = given["m"] * given["g"]
        forces = (
            rub(given["mu_k"] * weight_N, forward=True, words="kinetic friction from the belt"),
            weight(weight_N),
            normal(weight_N),
        )
        return Scene(
            bodies=(Body(name="box", mass_text="m", forces=forces if solved else ()),),
            acceleration_m_s2=given["mu_k"] * given["g"] if solved else None,
            described="A box just set down on a level belt that runs to the right.",
        )
