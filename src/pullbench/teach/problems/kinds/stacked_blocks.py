"""Two blocks stacked and tied to each other over a pulley, both sliding steadily: friction on two faces."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, ForceArrow, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N


class StackedBlocks:
    """Block m_1 on block m_2, a string from one to the other over a pulley on the wall; m_2 is pulled steadily."""

    name = "stacked-blocks"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return an upper block of 0.2 to 2 kg on a lower one of 0.5 to 3 kg."""
        top = drawn(draw, "m_1", 0.2, 2.0, 0.02, "kg")
        return (top, drawn(draw, "m_2", 0.5, 3.0, 0.02, "kg"), coefficients(pair)[1], GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: μk m1 g.  b: string + upper face + floor."""
        g, mu_k = given["g"], given["mu_k"]
        upper_N = pull_for_N([Link(mass_kg=given["m_1"], mu_k=mu_k)], g)
        lower = Link(
            mass_kg=given["m_2"],
            mu_k=mu_k,
            press_N=given["m_1"] * g,
            drag_N=upper_N + carried.get("a", upper_N),
        )
        return {"a": upper_N, "b": pull_for_N([lower], g)}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the weight of both on the upper face, and faces or the string left out."""
        top, low, g, mu_k = given["m_1"], given["m_2"], given["g"], given["mu_k"]
        return (
            Asked(key="a", unit="N", wrong={
                "mass for weight": mu_k * top,
                "load of both on one face": mu_k * (top + low) * g,
            }),
            Asked(key="b", unit="N", uses=("a",), wrong={
                "only the floor's friction": mu_k * (top + low) * g,
                "one contact left out": mu_k * (2 * top + low) * g,
                "mass for weight": mu_k * (3 * top + low),
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull that a hand can make."""
        return given["mu_k"] > 0 and self.solve(given, {})["b"] < 60

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the stack, for the key with the forces on each block."""
        answers, g = self.solve(given, {}), given["g"]
        top_N, both_N = given["m_1"] * g, (given["m_1"] + given["m_2"]) * g
        tie_N = answers["a"]
        upper: tuple[ForceArrow, ...] = (
            pull(tie_N, string_deg=180, symbol="F_1", words="string"),
            rub(tie_N, forward=True, words="kinetic friction from the lower block"),
            weight(top_N),
            normal(top_N),
        )
        lower: tuple[ForceArrow, ...] = (
            pull(answers["b"]), pull(tie_N, string_deg=180, symbol="F_1", words="string"),
            rub(given["mu_k"] * both_N, words="kinetic friction from the floor"),
            rub(tie_N, words="kinetic friction from the upper block"),
            weight(given["m_2"] * g), normal(both_N), normal(top_N, words="from the upper block", down=True),
        )  # fmt: skip
        if not solved:
            upper = lower = ()
        return Scene(
            bodies=(
                Body(name="lower block", mass_text="m_2", forces=lower, apart=solved),
                Body(name="upper block", mass_text="m_1", on="lower block", forces=upper, apart=solved),
            ),
            string_deg=0.0, moving="along",
            described="A block on a block on a level floor. A string runs from the lower block to a pulley on the wall "
            "at the left and back to the upper block. The lower block is pulled to the right.",
            labels=("A string joins both blocks over a pulley on the wall at the left.",),
        )  # fmt: skip
