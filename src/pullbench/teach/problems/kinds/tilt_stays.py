"""A block on a tilted board: the weight's share along it against the largest friction; does it stay?"""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import Body, Scene
from pullbench.physics import normal_force_N
from pullbench.physics import weight_N as weight_of_N
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.arrows import normal, rub, weight
from pullbench.teach.problems.kinds.given import GRAVITY, coefficients, drawn, exact
from pullbench.teach.problems.kinds.made_up import apart

STAYS, SLIDES, MASS_DECIDES = range(3)
CLEAR = 0.08  # share by which the two forces differ at least


class TiltStays:
    """Block m at theta; asked: the weight's share along the board, the largest friction, and whether it stays."""

    name = "tilt-stays"
    level: Level = 2

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return a block of 0.4 to 3 kg on a board of 60 to 150 % of the slope at which it slips."""
        mass = drawn(draw, "m", 0.40, 3.00, 0.05, "kg")
        tilt = math.degrees(math.atan(pair.mu_s * draw.uniform(0.6, 1.5)))
        return (mass, exact("theta", round(tilt, 1), "°"), *coefficients(pair), GRAVITY)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: m g sin θ.  b: μs m g cos θ.  c: stays (0) while a <= b, else slides (1)."""
        weight_N = weight_of_N(given["m"], given["g"])
        share_N = weight_N * math.sin(math.radians(given["theta"]))
        limit_N = given["mu_s"] * normal_force_N(weight_N, tilt_deg=given["theta"])
        stays = carried.get("a", share_N) <= carried.get("b", limit_N)
        return {"a": share_N, "b": limit_N, "c": STAYS if stays else SLIDES}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return sine and cosine swapped, N = m g, the other coefficient, and the mass taken to decide."""
        angle, mass_kg, mu_s = math.radians(given["theta"]), given["m"], given["mu_s"]
        weight_N, sine, cosine = mass_kg * given["g"], math.sin(angle), math.cos(angle)
        right = self.solve(given, {})
        return (
            Asked(key="a", unit="N", wrong=apart(right["a"], {
                "sine and cosine swapped": weight_N * cosine, "mass for weight": mass_kg * sine,
                "tilt ignored": weight_N, "tangent for sine": weight_N * sine / cosine,
            })),
            Asked(key="b", unit="N", wrong=apart(right["b"], {
                "normal force is the weight": mu_s * weight_N, "sine and cosine swapped": mu_s * weight_N * sine,
                "kinetic for static": given["mu_k"] * weight_N * cosine, "mass for weight": mu_s * mass_kg * cosine,
            })),
            Asked(key="c", options=("stays", "slides", "mass decides"), uses=("a", "b"), wrong=self._misjudged(given)),
        )  # fmt: skip

    def _misjudged(self, given: Numbers) -> dict[str, float]:
        """Return the other choices with the idea that leads there, for this tilt."""
        angle, wrong = (
            math.radians(given["theta"]),
            {"heavier block slips at another angle": float(MASS_DECIDES)},
        )
        if self.solve(given, {})["c"] == STAYS:
            slides_on = math.tan(angle) > given["mu_k"]
            wrong["kinetic for static" if slides_on else "friction only when it slides"] = SLIDES
        elif math.sin(angle) <= given["mu_s"]:
            wrong["normal force is the weight"] = STAYS
        else:
            wrong["friction at rest has no limit"] = STAYS
        return wrong

    def sane(self, given: Numbers) -> bool:
        """A board one would tilt, and two forces that are clearly apart."""
        right = self.solve(given, {})
        apart = not math.isclose(right["a"], right["b"], rel_tol=CLEAR)
        return given["mu_s"] > given["mu_k"] > 0 and apart and 2 <= given["theta"] <= 65

    def figure(self, given: Numbers, *, solved: bool) -> Scene:
        """Return the block on its board; for the key with its forces, and how it speeds up if it slides."""
        tilt, right, weight_N = given["theta"], self.solve(given, {}), given["m"] * given["g"]
        normal_N = weight_N * math.cos(math.radians(tilt))
        stays = right["c"] == STAYS
        friction_N = right["a"] if stays else given["mu_k"] * normal_N
        forces = (
            rub(friction_N, static=stays, forward=True),
            weight(weight_N, tilt_deg=tilt),
            normal(normal_N),
        )
        return Scene(
            bodies=(Body(name="block", mass_text="m", forces=forces if solved else ()),), tilt_deg=tilt,
            moving="back" if solved and not stays else "",
            acceleration_m_s2=(friction_N - right["a"]) / given["m"] if solved and not stays else None,
            described="A block on a tilted board.",
        )  # fmt: skip
