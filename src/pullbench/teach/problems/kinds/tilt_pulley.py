"""A sled on a tilted board, held or drawn uphill by a load hanging over a pulley at the top."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, pull, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.solver import Link, motion, pull_for_N


class TiltPulley:
    """Sled m_1 on a board at theta; asked: the heaviest load that moves nothing, the acceleration under m_2."""

    name = "tilt-pulley"
    level: Level = 4

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a board at 10 to 35°, a sled of 0.3 to 2 kg, and a load 10 to 300 % above the limit."""
        tilt, sled = drawn(draw, "theta", 10, 35, 1, "°"), drawn(draw, "m_1", 0.3, 2.0, 0.05, "kg")
        angle = math.radians(tilt.value)
        limit_kg = sled.value * (math.sin(angle) + pair.mu_s * math.cos(angle))
        load = exact("m_2", round(limit_kg * draw.uniform(1.1, 4.0), 2), "kg")
        return (tilt, sled, load, *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: m1 (sin θ + μs cos θ).  b: (m2 - m1 sin θ - μk m1 cos θ) g / (m1 + m2)."""
        sled, load = _chain(given)
        limit_N = pull_for_N([sled], given["g"], static=True)
        return {"a": limit_N / given["g"], "b": motion([sled, load], given["g"]).acceleration_m_s2}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return N = m g on a tilt, sine and cosine swapped, the weight's share left out, the load's mass left out."""
        angle, sled, load, g = math.radians(given["theta"]), given["m_1"], given["m_2"], given["g"]
        sine, cosine, mu_s, mu_k = math.sin(angle), math.cos(angle), given["mu_s"], given["mu_k"]
        both = sled + load
        return (
            Asked(key="a", unit="kg", wrong={
                "normal force is the weight": sled * (sine + mu_s),
                "sine and cosine swapped": sled * (cosine + mu_s * sine),
                "slope's share of the weight left out": sled * mu_s * cosine,
                "kinetic for static": sled * (sine + mu_k * cosine),
            }),
            Asked(key="b", unit="m/s²", wrong={
                "string force taken as the load's weight": (load - sled * (sine + mu_k * cosine)) * g / sled,
                "friction left out": (load - sled * sine) * g / both,
                "static for kinetic": (load - sled * (sine + mu_s * cosine)) * g / both,
                "slope's share of the weight left out": (load - sled * mu_k * cosine) * g / both,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """The load draws the sled uphill, and is one that hangs from a light pulley."""
        found = motion(_chain(given), given["g"])
        uphill = found.sliding and found.acceleration_m_s2 > 0.1
        return given["mu_s"] > given["mu_k"] > 0 and uphill and given["m_2"] <= 6

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return board, sled, pulley and load, for the key with the forces while m_2 draws it uphill."""
        sled, load = _chain(given)
        found = motion([sled, load], given["g"])
        sled_N, load_N, tilt = given["m_1"] * given["g"], given["m_2"] * given["g"], given["theta"]
        string_N = found.strings_N[0] if found.strings_N else 0.0
        normal_N = sled_N * math.cos(math.radians(tilt))
        on_sled = (pull(string_N), rub(found.friction_N), weight(sled_N, tilt_deg=tilt), normal(normal_N))
        on_load = (
            pull(string_N, string_deg=90, words="string"),
            weight(load_N),
        )  # it hangs: no board to count from
        return Scene(
            bodies=(
                Body(name="sled", mass_text="m_1", forces=on_sled if solved else (), apart=solved),
                Body(name="load", mass_text="m_2", on="hanging", forces=on_load if solved else (), apart=solved),
            ),
            tilt_deg=tilt, string_deg=0.0, moving="along",
            acceleration_m_s2=found.acceleration_m_s2 if solved else None,
            described="A sled on a tilted board; its string runs uphill over a pulley at the top to a hanging load.",
        )  # fmt: skip


def _chain(given: Numbers) -> tuple[Link, Link]:
    return (
        Link(mass_kg=given["m_1"], mu_s=given["mu_s"], mu_k=given["mu_k"], tilt_deg=given["theta"]),
        Link(mass_kg=given["m_2"], hanging=True),
    )
