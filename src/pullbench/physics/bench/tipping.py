"""When a pull tips the sled over its front edge."""

from __future__ import annotations

import math

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.physics.bench.rig import Bench, Shape


def tipping_pull_N(
    weight_N: float, shape: Shape, *, string_deg: float = 0.0, tilt_deg: float = 0.0, inertia_N: float = 0.0
) -> float:
    """Return the pull from which the sled tips over its front edge, in newtons.

    Moments about that edge: F h cos α = W (l cos θ + c sin θ) + M a c, with h the height of the string
    (fixed at the front), l and c from the edge to the centre, along and up.  inertia_N: M a.  So a level
    sled that slides steadily tips when h/l exceeds 1/μ.  Infinite when the string pulls at the edge itself.
    """
    alpha, theta = math.radians(string_deg), math.radians(tilt_deg)
    holding_Nm = weight_N * (shape.front_m * math.cos(theta) + shape.centre_m * math.sin(theta))
    holding_Nm += inertia_N * shape.centre_m
    lever_m = shape.string_m * math.cos(alpha)
    return holding_Nm / lever_m if lever_m > 0 else math.inf


def refuse_tipping(bench: Bench, time_s: FloatArray, pulls_N: FloatArray, friction_N: FloatArray) -> None:
    """Raise BenchError at the first moment at which the simulated pull would tip the sled.

    time_s, pulls_N and friction_N (on the sled, against forward motion): shape (n,).
    """
    if bench.shape is None:
        return
    alpha, theta = math.radians(bench.string_deg), math.radians(bench.tilt_deg)
    # What is left of the forces along the board is M a: it leans the sled back while it speeds up.
    inertia_N = pulls_N * math.cos(alpha) - bench.weight_N * math.sin(theta) - friction_N
    tipping_Nm = pulls_N * bench.shape.string_m * math.cos(alpha) - inertia_N * bench.shape.centre_m
    holding_Nm = bench.weight_N * (
        bench.shape.front_m * math.cos(theta) + bench.shape.centre_m * math.sin(theta)
    )
    over = tipping_Nm > holding_Nm
    if over.any():
        first = int(np.argmax(over))
        raise BenchError(
            "sled-tips",
            f"At {time_s[first]:.2f} s the pull of {pulls_N[first]:.3g} N, {100 * bench.shape.string_m:.3g} cm "
            "above the board, tips the sled over its front edge.",
            "The pull's moment about that edge must stay below the weight's.",
            "Tie the string lower, or use a longer sled.",
        )
