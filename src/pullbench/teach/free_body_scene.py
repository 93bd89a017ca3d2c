"""One moment of a free-body view: its sentence, and its forces as a scene to be drawn."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from pullbench.model.free_body import FreeBody
from pullbench.model.scene import Body, ForceArrow, Scene

SLACK, HOLDS_ITSELF, HOLDS, JUMPS, EVEN, FASTER, SLOWER, BY_TURNS, UNKNOWN, LETS_GO, NO_LEVEL = range(11)
SENTENCES = (
    "Nobody pulls, the string is slack: the sled stays.",
    "Nobody pulls, friction alone holds the sled on the slope.",
    "The string pulls, the floor holds just as hard: the sled stays.",
    "It has broken away: the string springs back, the sled jumps.",
    "Even, as far as can be told: it slides on at a steady speed.",
    "The string pulls harder than the floor: it speeds up.",
    "The floor holds back harder than the string: it slows down.",
    "It sticks and slips by turns: no single moment tells which.",
    "Cannot tell whether it slides or has stopped for a moment.",
    "The hand lets go: cannot tell how long the sled still slides.",
    "It slides, but no level settled: friction cannot be told.",
)  # fmt: skip
INFERRED = "taken from the level of this pull"


def sentences(body: FreeBody) -> npt.NDArray[np.int_]:
    """Return for every moment which of SENTENCES is said, shape (n,)."""
    stage = body.stage.astype(np.int_)
    name = np.array([one.name for one in body.stages])[stage]
    motion = np.array([one.motion for one in body.stages])[stage]
    slack = body.pull_N <= body.pull_half_N
    rests = motion == "at rest"
    slides = motion == "slides"
    sure = np.abs(body.net_N) > body.net_half_N
    choices = [
        (rests & slack & (body.tilt_deg == 0), SLACK),
        (rests & slack, HOLDS_ITSELF),
        (rests, HOLDS),
        (slides & (name == "settling"), JUMPS),
        (slides & sure & (body.net_N > 0), FASTER),
        (slides & sure, SLOWER),
        (slides, EVEN),
        (name == "stick-slip", BY_TURNS),
        (name == "let go", LETS_GO),
        (name == "sliding", NO_LEVEL),
    ]
    return np.select([where for where, _ in choices], [which for _, which in choices], UNKNOWN)


def moment_at(body: FreeBody, time_s: float) -> int:
    """Return the index of the moment nearest to a time."""
    return int(np.argmin(np.abs(body.time_s - time_s)))


def scene_of(body: FreeBody, index: int) -> Scene:
    """Return the forces at one moment as a scene: values with plus or minus, what is inferred said beside it."""
    motion = body.stages[int(body.stage[index])].motion
    slides = motion == "slides"
    a = float(body.acceleration_m_s2[index])
    sled = Body(name="sled", forces=tuple(_forces(body, index, slides=slides)))
    rider = (
        (Body(name="rider", on="sled", apart=True, forces=_on_rider(body, index)),) if body.rider_kg else ()
    )
    return Scene(
        bodies=(sled, *rider), tilt_deg=body.tilt_deg, string_deg=body.string_deg,
        moving="along" if slides else "",
        acceleration_m_s2=a if slides and math.isfinite(a) else None,
        described=described(body, index),
    )  # fmt: skip


def described(body: FreeBody, index: int) -> str:
    """Return the moment in words without numbers: the sentence, then which way each force points."""
    said = [SENTENCES[int(sentences(body)[index])]]
    if body.pull_N[index] > body.pull_half_N[index]:
        said.append("The pull of the string points along the string.")
    friction_N = float(body.friction_N[index])
    if math.isnan(friction_N):
        said.append("The friction cannot be told.")
    elif abs(friction_N) > float(body.friction_half_N[index]):
        kind = "Kinetic" if body.stages[int(body.stage[index])].motion == "slides" else "Static"
        said.append(f"{kind} friction points {'against' if friction_N > 0 else 'with'} the pull.")
    said.append(
        "Weight points down and the normal force off the board."
        if body.weight is not None
        else "Weight and normal force are not said: type the load."
    )
    return " ".join(said)


def _forces(body: FreeBody, index: int, *, slides: bool) -> list[ForceArrow]:
    at = {
        name: float(getattr(body, name)[index])
        for name in ("pull_N", "pull_half_N", "normal_N", "normal_half_N")
    }
    forces = [
        ForceArrow(
            kind="pull", symbol="F", words="pull", length_N=at["pull_N"], direction_deg=body.string_deg,
            value_N=at["pull_N"], plus_minus_N=at["pull_half_N"],
        )
    ]  # fmt: skip
    forces += _friction(body, index, slides=slides)
    if body.weight is not None and body.weight.value is not None:
        low, high = body.weight.limits or (0.0, 0.0)
        forces += [
            ForceArrow(
                kind="weight", symbol="W", words="weight", length_N=body.weight.value,
                direction_deg=-90 - body.tilt_deg, value_N=body.weight.value,
                plus_minus_N=((high or 0.0) - (low or 0.0)) / 2,
            ),
            ForceArrow(
                kind="normal", symbol="N", words="normal force", length_N=at["normal_N"], direction_deg=90,
                value_N=at["normal_N"], plus_minus_N=at["normal_half_N"],
            ),
        ]  # fmt: skip
    net_N, half_N = float(body.net_N[index]), float(body.net_half_N[index])
    if slides and abs(net_N) > half_N:
        forces.append(
            ForceArrow(
                kind="net", symbol="", words="net force", length_N=abs(net_N), direction_deg=0 if net_N > 0 else 180,
                value_N=abs(net_N), plus_minus_N=half_N, note="inferred: pull less level",
            )
        )  # fmt: skip
    return forces


def _friction(body: FreeBody, index: int, *, slides: bool) -> list[ForceArrow]:
    friction_N, half_N = float(body.friction_N[index]), float(body.friction_half_N[index])
    if math.isnan(friction_N):
        return []
    limit_N, limit_half_N = float(body.limit_N[index]), float(body.limit_half_N[index])
    walled = not slides and math.isfinite(limit_N)
    return [
        ForceArrow(
            kind="kinetic" if slides else "static", symbol="f_k" if slides else "f_s",
            words="kinetic friction" if slides else "static friction", length_N=abs(friction_N),
            direction_deg=180 if friction_N >= 0 else 0, value_N=abs(friction_N), plus_minus_N=half_N,
            limit_N=limit_N if walled else None, limit_plus_minus_N=limit_half_N if walled else None,
            note=INFERRED if slides else "",
        )
    ]  # fmt: skip


def _on_rider(body: FreeBody, index: int) -> tuple[ForceArrow, ...]:
    """Return the forces on the rider: friction forward while it speeds up with the sled, weight, normal force."""
    assert body.rider_kg is not None
    assert body.rider_N is not None
    assert body.rider_half_N is not None
    assert body.weight is not None
    assert body.weight.value is not None
    assert body.mass_kg is not None
    weight_N = body.weight.value * body.rider_kg / body.mass_kg
    across_N = weight_N * math.cos(math.radians(body.tilt_deg))
    found = [
        ForceArrow(
            kind="weight", symbol="W_r", words="rider's weight", length_N=weight_N,
            direction_deg=-90 - body.tilt_deg, value_N=weight_N,
        ),
        ForceArrow(
            kind="normal", symbol="N_r", words="sled carries", length_N=across_N, direction_deg=90, value_N=across_N
        ),
    ]  # fmt: skip
    asked_N = float(body.rider_N[index])
    if math.isfinite(asked_N) and abs(asked_N) > float(body.rider_half_N[index]):
        found.append(
            ForceArrow(
                kind="static", symbol="f_r", words="static friction", length_N=abs(asked_N),
                direction_deg=0 if asked_N > 0 else 180, value_N=abs(asked_N),
                plus_minus_N=float(body.rider_half_N[index]), note="inferred, while the rider moves with the sled",
            )
        )  # fmt: skip
    return tuple(found)
