"""A rider on a sled: friction speeds the rider up, forwards, and only so hard."""

from __future__ import annotations

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn
from pullbench.teach.solver import Link, pull_for_N


class Rider:
    """Rider m_1 (grip mu_r) on sled m_2; asked: which way, the largest acceleration together, the largest pull."""

    name = "rider"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a rider of 0.2 to 1.5 kg that grips with 0.15 to 0.90 on a sled of 0.4 to 2 kg."""
        return (
            drawn(draw, "m_1", 0.2, 1.5, 0.05, "kg"),
            drawn(draw, "m_2", 0.4, 2.0, 0.05, "kg"),
            drawn(draw, "mu_r", 0.15, 0.90, 0.01, "1"),
            coefficients(pair)[1],
            GRAVITY,
        )

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: forwards (0).  b: μr g.  c: (m1 + m2) (b + μk g)."""
        g = given["g"]
        grip = pull_for_N([Link(mass_kg=given["m_1"], mu_s=given["mu_r"])], g, static=True) / given["m_1"]
        both = Link(mass_kg=given["m_1"] + given["m_2"], mu_k=given["mu_k"])
        return {"a": 0, "b": grip, "c": pull_for_N([both], g, acceleration_m_s2=carried.get("b", grip))}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return friction drawn backwards, the floor's coefficient, and the four slips with the largest pull."""
        rider, sled, g = given["m_1"], given["m_2"], given["g"]
        mu_r, mu_k = given["mu_r"], given["mu_k"]
        both = rider + sled
        return (
            Asked(key="a", options=("forwards", "backwards", "none"), shuffled=True, wrong={
                "friction always against the motion": 1, "friction only when it slides": 2,
            }),
            Asked(key="b", unit="m/s²", wrong={
                "mass for weight": mu_r, "the floor's coefficient for the rider's": mu_k * g,
                "floor's friction taken off the rider": (mu_r - mu_k) * g,
            }),
            Asked(key="c", unit="N", uses=("b",), wrong={
                "floor load without rider": both * g * mu_r + sled * g * mu_k,
                "friction on the rider backwards": both * g * (mu_k - mu_r),
                "only the sled accelerates": sled * mu_r * g + mu_k * both * g,
                "pull set equal to the rider's friction": mu_r * rider * g,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """A pull a hand can make, and an acceleration one sees but does not fear."""
        return given["mu_k"] > 0 and self.solve(given, {})["c"] < 60 and given["mu_r"] >= 0.15

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return rider and sled, for the key with the forces at the limit."""
        answers, g = self.solve(given, {}), given["g"]
        rider_N, sled_N = given["m_1"] * g, given["m_2"] * g
        grip_N = given["mu_r"] * rider_N
        on_rider = (
            rub(grip_N, static=True, forward=True, words="static friction from the sled"),
            weight(rider_N),
            normal(rider_N),
        )
        on_sled = (
            pull(answers["c"]), rub(given["mu_k"] * (rider_N + sled_N), words="kinetic friction from the floor"),
            rub(grip_N, static=True, words="static friction from the rider"), weight(sled_N),
            normal(rider_N + sled_N), normal(rider_N, words="from the rider", down=True),
        )  # fmt: skip
        return Scene(
            bodies=(
                Body(name="sled", mass_text="m_2", forces=on_sled if solved else (), apart=solved),
                Body(name="rider", mass_text="m_1", on="sled", forces=on_rider if solved else (), apart=solved),
            ),
            string_deg=0.0, moving="along", acceleration_m_s2=answers["b"] if solved else None,
            described="A block rides on a sled on a level floor; the sled is pulled to the right by a level string.",
        )  # fmt: skip
