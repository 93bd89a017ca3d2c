"""A person drags a box with a level rope: what counts is whose friction ends first, shoes or box."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N


class ShoesAndBox:
    """Person m_1 with shoes mu_1, box m_2 with mu_s; asked: both limits, and which ends first."""

    name = "shoes-and-box"
    level: Level = 3

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a person of 45 to 90 kg with shoes of 0.30 to 0.95 and a box of 20 to 150 kg."""
        return (
            drawn(draw, "m_1", 45, 90, 1, "kg"), drawn(draw, "mu_1", 0.30, 0.95, 0.01, "1"),
            drawn(draw, "m_2", 20, 150, 1, "kg"), *coefficients(pair), GRAVITY,
        )  # fmt: skip

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μ1 m1 g.  b: μs m2 g.  c: the box starts (0) or the shoes slip (1), whichever limit is lower."""
        person, box = (
            pull_for_N([Link(mass_kg=given[mass], mu_s=given[mu])], given["g"], static=True)
            for mass, mu in (("m_1", "mu_1"), ("m_2", "mu_s"))
        )
        shoes_first = carried.get("a", person) < carried.get("b", box)
        return {"a": person, "b": box, "c": 1 if shoes_first else 0}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return mass for weight, the other coefficient, and deciding by weight or coefficient alone."""
        g, right = given["g"], self.solve(given, {})
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": given["mu_1"] * given["m_1"], "friction is the weight": given["m_1"] * g,
                "the box's coefficient for the shoes'": given["mu_s"] * given["m_1"] * g,
            }),
            Asked(key="b", unit="N", wrong={
                "mass for weight": given["mu_s"] * given["m_2"], "friction is the weight": given["m_2"] * g,
                "kinetic for static": given["mu_k"] * given["m_2"] * g,
            }),
            Asked(key="c", options=("box", "shoes", "neither"), uses=("a", "b"), wrong={
                "one of the two limits only": 1 - right["c"], "equal and opposite pulls cancel": 2,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """Two limits that are clearly apart, and forces a person makes."""
        right = self.solve(given, {})
        apart = not math.isclose(right["a"], right["b"], rel_tol=0.12)
        return given["mu_s"] > given["mu_k"] > 0 and apart and min(right["a"], right["b"]) < 700

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return person and box, for the key with the forces when the first limit is reached."""
        right, g = self.solve(given, {}), given["g"]
        rope_N = min(right["a"], right["b"])
        person_N, box_N = given["m_1"] * g, given["m_2"] * g
        on_box = (pull(rope_N, words="rope"), rub(rope_N, static=True), weight(box_N), normal(box_N))
        on_person = (
            pull(rope_N, string_deg=180, words="rope"),
            rub(rope_N, static=True, forward=True, words="static friction on the shoes"),
            weight(person_N), normal(person_N),
        )  # fmt: skip
        return Scene(
            bodies=(
                Body(name="box", mass_text="m_2", forces=on_box if solved else (), apart=solved),
                Body(name="person", mass_text="m_1", forces=on_person if solved else (), apart=solved),
            ),
            string_deg=0.0,
            described="A person on the right pulls a box on the left along a level floor with a level rope.",
        )
