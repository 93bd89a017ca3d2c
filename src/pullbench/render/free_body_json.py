"""A free-body view as the page takes it: whole numbers of the last written digit, so that the page can follow a
finger at the screen's own rate and still write the digits that were rounded here.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from pullbench.model import FloatArray, Measured
from pullbench.model.free_body import FreeBody
from pullbench.render.rounding import fixed, plus_minus, rounded_half_width
from pullbench.render.told import NEWTONS, Told, told
from pullbench.teach.free_body_scene import SENTENCES, described, sentences

LEAST_DECIMALS, MOST_DECIMALS = 0, 4


def free_body_record(body: FreeBody, *, offset_s: float = 0.0) -> dict[str, Any]:
    """Return all moments as columns.

    Each column: {"steps": whole numbers or null, "decimals": places of one step, "plus_minus": half of the 95 %
    limits as text, the widest of the column}.  A number is steps × 10^-decimals.  friction: while it rests; slid:
    while it slides.  Times in bench seconds.
    """
    cos_string = math.cos(math.radians(body.string_deg))
    slides = np.array([one.motion == "slides" for one in body.stages])[body.stage.astype(int)]
    rider = _rider_weight(body)
    limits = {"limit": body.static_limit, "kinetic": body.kinetic}
    return {
        "time_s": [round(float(t) + offset_s, 6) for t in body.time_s],
        "stage": [int(k) for k in body.stage],
        "stages": [
            {"name": s.name, "from_s": s.start_s + offset_s, "to_s": s.end_s + offset_s, "motion": s.motion}
            for s in body.stages
        ],
        "breakaway_s": None if body.breakaway_s is None else float(body.breakaway_s + offset_s),
        "said": [int(k) for k in sentences(body)],
        "sentences": SENTENCES,
        "pull": column(body.pull_N, body.pull_half_N),
        "along": column(body.pull_N * cos_string, body.pull_half_N * cos_string),
        "slope": _slope(body),
        "friction": column(np.where(slides, np.nan, body.friction_N), body.friction_half_N),
        "slid": column(np.where(slides, body.friction_N, np.nan), body.friction_half_N),
        "limit_N": column(body.limit_N, body.limit_half_N),
        "spare": column(body.limit_N - np.abs(body.friction_N), np.hypot(body.limit_half_N, body.friction_half_N)),
        "normal": column(body.normal_N, body.normal_half_N),
        "net": column(body.net_N, body.net_half_N),
        "acceleration": column(body.acceleration_m_s2, body.acceleration_half_m_s2),
        "rider": None if body.rider_N is None or body.rider_half_N is None else column(body.rider_N, body.rider_half_N),
        "rider_kg": body.rider_kg,
        "rider_weight": None if rider is None else told(rider, scale=NEWTONS),
        "rider_carried": None if rider is None else told(
            _scaled(rider, math.cos(math.radians(body.tilt_deg))), scale=NEWTONS
        ),
        **{name: told(one, scale=NEWTONS) for name, one in limits.items()},
        "weight": None if body.weight is None else told(body.weight, scale=NEWTONS),
        "tilt_deg": body.tilt_deg, "string_deg": body.string_deg,
    }  # fmt: skip


def column(values: FloatArray, half: FloatArray) -> dict[str, Any]:
    """Return one quantity as whole steps of its last digit; all null when it can nowhere be told."""
    told_at = np.isfinite(values)
    if not told_at.any():
        return {"steps": None, "decimals": 0, "plus_minus": None}
    widest = float(np.nanmax(np.where(told_at & np.isfinite(half), half, 0.0)))
    decimals, text = 3, None
    if widest > 0:
        rounded, decimals = rounded_half_width(widest)
        text = fixed(float(rounded), decimals)
    decimals = min(max(decimals, LEAST_DECIMALS), MOST_DECIMALS)
    steps = np.where(told_at, values, 0.0) * 10.0**decimals
    # The shortest decimal is rounded, as everywhere in this room: 12 figures first, then half to even.
    whole = [
        round(float(f"{one:.12g}")) if known else None for one, known in zip(steps, told_at, strict=True)
    ]
    return {"steps": whole, "decimals": decimals, "plus_minus": text}


def free_body_text(body: FreeBody, index: int) -> str:
    """Return one moment for a reader who does not see it: the sentence, directions, then numbers with their ±."""
    said = [described(body, index)]
    for name, values, half in (
        ("Pull", body.pull_N, body.pull_half_N),
        ("Friction", np.abs(body.friction_N), body.friction_half_N),
        ("Normal force", body.normal_N, body.normal_half_N),
    ):
        value, width = float(values[index]), float(half[index])
        if math.isfinite(value):
            said.append(f"{name} {plus_minus(_measured(value, width), short=True)}.")
    return " ".join(said)


def _measured(value: float, half: float) -> Measured:
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=half / 2,
        limits=(value - half, value + half),
        unit="N",
    )


def _slope(body: FreeBody) -> Told | None:
    """Return the part of the weight along the board, W sin θ, positive against the pull; None on the level."""
    if body.weight is None or not body.tilt_deg:
        return None
    return told(_scaled(body.weight, math.sin(math.radians(body.tilt_deg))), scale=NEWTONS)


def _rider_weight(body: FreeBody) -> Measured | None:
    """Return the rider's share of the weight, as sure as the whole; None without a rider."""
    if not body.rider_kg or not body.mass_kg or body.weight is None:
        return None
    return _scaled(body.weight, body.rider_kg / body.mass_kg)


def _scaled(weight: Measured, times: float) -> Measured:
    low, high = weight.limits or (None, None)
    return _measured((weight.value or 0.0) * times, abs(((high or 0.0) - (low or 0.0)) / 2 * times))


__all__ = ["column", "free_body_record", "free_body_text"]
