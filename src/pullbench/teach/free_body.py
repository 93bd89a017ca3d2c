"""The free-body view of a held-up pull: what acts on the sled at any moment, and what is only inferred.

Along the board, positive in the direction of the pull (string at α, board tilted by θ):

    net = F cos α - W sin θ - f      normal force N = W cos θ - F sin α

At rest the friction f is whatever keeps the net force at nought, up to μs N.  While the sled slides f is the
settled level of this pull, carried to the normal force of the moment; what the pull has above or below it is the
net force M a.  That is an inference: it takes the kinetic friction to be the same all along the slide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from pullbench.analysis import Conditions, robust_sd
from pullbench.errors import ConditionsError
from pullbench.model import FloatArray, Measured, Pull
from pullbench.model.free_body import BodyStage, FreeBody, Motion, StageName
from pullbench.physics import STANDARD_GRAVITY_M_S2, normal_force_N

TWO_SIDED = 1.96  # half of 95 % limits, in standard uncertainties
ENOUGH = 8  # samples that show a noise
NOT_SAID = "not said: type the load"
_STAGES: dict[str, StageName] = {
    "rest": "rest", "loading": "loading", "transition": "settling", "kinetic": "sliding", "release": "let go",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Geometry:
    """Angles in radians, the weight and its standard uncertainty (None: no load is known, all level)."""

    alpha: float = 0.0
    theta: float = 0.0
    weight_N: float | None = None
    u_weight_N: float = 0.0
    u_theta: float = 0.0

    def along(self, pull_N: FloatArray) -> FloatArray:
        """Return pull less weight along the board."""
        return pull_N * math.cos(self.alpha) - (self.weight_N or 0.0) * math.sin(self.theta)

    def along_half(self, pull_half_N: FloatArray) -> FloatArray:
        """Return half the 95 % limits of that."""
        weight = (
            math.sin(self.theta) * self.u_weight_N,
            (self.weight_N or 0.0) * math.cos(self.theta) * self.u_theta,
        )
        return np.hypot(pull_half_N * math.cos(self.alpha), TWO_SIDED * math.hypot(*weight))

    def normal(self, pull_N: FloatArray) -> FloatArray:
        """Return the normal force, NaN without a weight."""
        if self.weight_N is None:
            return np.full_like(pull_N, np.nan)
        return self.weight_N * math.cos(self.theta) - pull_N * math.sin(self.alpha)

    def share(self, pull_N: FloatArray, at_N: float) -> FloatArray:
        """Return the normal force as a share of that under a pull of at_N; 1 on the level with a level string."""
        if self.weight_N is None or (self.alpha == 0 and self.theta == 0):
            return np.ones_like(pull_N)
        share: FloatArray = self.normal(pull_N) / float(self.normal(np.array([at_N]))[0])
        return share


def moments(
    pull: Pull, *, conditions: Conditions | None = None, g_m_s2: float = STANDARD_GRAVITY_M_S2,
    rider_kg: float | None = None,
) -> FreeBody:  # fmt: skip
    """Return the forces on the sled at every sample of a pull.

    conditions: the load and the angles; without them weight and normal force are not said, and board and string
    are taken as level.  rider_kg: a loose rider, part of the load.  Raises ConditionsError when the string would
    lift the sled, or the rider is not part of the load.
    """
    geometry = _geometry(conditions)
    mass_kg = None if geometry.weight_N is None else geometry.weight_N / g_m_s2
    _check_rider(rider_kg, mass_kg)
    time_s, pull_N = _pull(pull)
    if geometry.weight_N is not None and conditions is not None:
        normal_force_N(
            geometry.weight_N, float(pull_N.max(initial=0.0)),
            string_deg=conditions.string_deg, tilt_deg=conditions.tilt_deg,
        )  # fmt: skip
    half_N = _pull_half(pull, pull_N)
    static = _as_friction(pull.breakaway.force, geometry)
    kinetic = _as_friction(pull.plateau.force, geometry)
    along_N, along_half_N = geometry.along(pull_N), geometry.along_half(half_N)
    stages = _stages(pull, time_s, along_N, kinetic.value)
    stage = _stage_of(stages, time_s)
    rests, slides = (
        np.isin(stage, [k for k, one in enumerate(stages) if one.motion == way])
        for way in ("at rest", "slides")
    )
    level_N, level_half_N = _carried(kinetic, pull.plateau.force, geometry, pull_N)
    friction_N = np.where(rests, along_N, np.where(slides, level_N, np.nan))
    friction_half_N = np.where(rests, along_half_N, np.where(slides, level_half_N, np.nan))
    net_N = np.where(rests, 0.0, along_N - friction_N)
    net_half_N = np.where(rests, 0.0, np.hypot(along_half_N, level_half_N)) + 0.0 * net_N
    limit_N, limit_half_N = _carried(static, pull.breakaway.force, geometry, pull_N)
    a, a_half = _acceleration(net_N, net_half_N, mass_kg, geometry)
    rider_N, rider_half_N = _rider(a, a_half, rider_kg, g_m_s2, geometry.theta)
    return FreeBody(
        time_s=time_s, pull_N=pull_N, pull_half_N=half_N, friction_N=friction_N, friction_half_N=friction_half_N,
        limit_N=limit_N, limit_half_N=limit_half_N, normal_N=geometry.normal(pull_N),
        normal_half_N=_normal_half(geometry, half_N), net_N=net_N, net_half_N=net_half_N,
        acceleration_m_s2=a, acceleration_half_m_s2=a_half, stage=stage.astype(np.float64), stages=stages,
        breakaway_s=pull.breakaway.time_s, static_limit=static, kinetic=kinetic, weight=_weight(geometry),
        mass_kg=mass_kg, tilt_deg=math.degrees(geometry.theta), string_deg=math.degrees(geometry.alpha),
        rider_kg=rider_kg, rider_N=rider_N, rider_half_N=rider_half_N,
    )  # fmt: skip


def within(value: float, half: float, unit: str = "N") -> Measured:
    """Return a value with half of its 95 % limits."""
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=half / TWO_SIDED,
        limits=(value - half, value + half),
        unit=unit,
    )


def _geometry(conditions: Conditions | None) -> _Geometry:
    if conditions is None:
        return _Geometry()
    return _Geometry(
        math.radians(conditions.string_deg), math.radians(conditions.tilt_deg), conditions.weight_N,
        conditions.u_weight_N, math.radians(conditions.u_tilt_deg),
    )  # fmt: skip


def _check_rider(rider_kg: float | None, mass_kg: float | None) -> None:
    if rider_kg is None:
        return
    if mass_kg is None or not 0 < rider_kg < mass_kg:
        load = "not said" if mass_kg is None else f"{mass_kg:g} kg"
        raise ConditionsError(
            "rider-impossible", f"The rider's mass is {rider_kg:g} kg and the load is {load}.",
            "The rider is part of the load: above 0 kg and below the mass of sled and load together.",
            "Type the load with the rider on it first, then the rider's own mass.",
        )  # fmt: skip


def _pull(pull: Pull) -> tuple[FloatArray, FloatArray]:
    """Return times and the pull of the string: a string cannot push, so noise below nought is slack."""
    trace = pull.window.trace
    rest_N = pull.rest_reading.value or 0.0
    pulled: FloatArray = np.maximum(pull.window.direction * (trace.force_N - rest_N), 0.0)
    return trace.time_s, pulled


def _pull_half(pull: Pull, pull_N: FloatArray) -> FloatArray:
    """Return half the 95 % limits of single samples: rest reading, noise seen at rest, and force scale."""
    trace = pull.window.trace
    quiet = np.zeros(trace.time_s.size, dtype=bool)
    for phase in pull.phases:
        if phase.name == "rest":
            quiet |= (trace.time_s >= phase.start_s) & (trace.time_s <= phase.end_s)
    if quiet.sum() < ENOUGH:  # a pull out of the logbook has its samples, not its phases of rest
        quiet = (trace.time_s < pull.window.start_s) | (trace.time_s > pull.window.end_s)
    if quiet.sum() >= ENOUGH:
        noise_N = robust_sd(trace.force_N[quiet])
    else:  # from step to step: what a pull itself does between two samples makes it rather too large
        noise_N = robust_sd(np.diff(trace.force_N)) / math.sqrt(2) if trace.time_s.size > ENOUGH else 0.0
    floor_N = math.hypot(pull.rest_reading.standard_uncertainty or 0.0, noise_N)
    half: FloatArray = TWO_SIDED * np.hypot(floor_N, _scale_share(pull) * pull_N)
    return half


def _scale_share(pull: Pull) -> float:
    """Return the relative standard uncertainty of the force scale, as the budgets of this pull carry it."""
    for force in (pull.plateau.force, pull.breakaway.force):
        for row in force.budget.rows:
            if row.source.startswith("force scale") and force.value:
                return row.u / abs(force.value)
    return 0.0


def _as_friction(force: Measured, geometry: _Geometry) -> Measured:
    """Return a pull as the friction it stood for: F cos α - W sin θ, bounds carried along."""
    if force.value is None or force.limits is None:
        return force
    value = float(geometry.along(np.array([force.value]))[0])
    limits = tuple(None if one is None else float(geometry.along(np.array([one]))[0]) for one in force.limits)
    low, high = limits
    if low is not None and high is not None:
        half = float(geometry.along_half(np.array([(high - low) / 2]))[0])
        middle = (low + high) / 2
        low, high = middle - half, middle + half
    return Measured(
        kind=force.kind, value=value, standard_uncertainty=force.standard_uncertainty, limits=(low, high),
        unit=force.unit, reason=force.reason,
    )  # fmt: skip


def _carried(
    friction: Measured, force: Measured, geometry: _Geometry, pull_N: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return a friction measured at one moment, for the normal force of every moment; NaN where it has no value."""
    low, high = friction.limits or (None, None)
    if (
        friction.kind != "value"
        or friction.value is None
        or force.value is None
        or low is None
        or high is None
    ):
        return np.full_like(pull_N, np.nan), np.full_like(pull_N, np.nan)
    share = geometry.share(pull_N, force.value)
    return friction.value * share, (high - low) / 2 * share


def _stages(
    pull: Pull, time_s: FloatArray, along_N: FloatArray, level_N: float | None
) -> tuple[BodyStage, ...]:
    slid = any(phase.name in ("transition", "kinetic") for phase in pull.phases)
    found: list[BodyStage] = []
    for phase in pull.phases:
        name = _STAGES[phase.name]
        if name == "sliding" and pull.stick_slip is not None:
            name = "stick-slip"
        if name == "settling":
            found += _settling(phase.start_s, phase.end_s, time_s, along_N, level_N)
        else:
            found.append(BodyStage(name, phase.start_s, phase.end_s, _motion(name, slid, level_N)))
    return tuple(found)


def _motion(name: StageName, slid: bool, level_N: float | None) -> Motion:
    if name in ("rest", "loading") or (name == "let go" and not slid):
        return "at rest"
    return "slides" if name == "sliding" and level_N is not None else "cannot tell"


def _settling(
    start_s: float, end_s: float, time_s: FloatArray, along_N: FloatArray, level_N: float | None
) -> list[BodyStage]:
    """Return the settling: it slides until the impulse since the break is used up; then nobody can tell."""
    inside = np.flatnonzero((time_s >= start_s) & (time_s <= end_s))
    if level_N is None or inside.size < 2:
        return [BodyStage("settling", start_s, end_s, "cannot tell")]
    net_N = along_N[inside] - level_N
    steps_s = np.diff(time_s[inside])
    impulse_Ns = np.concatenate([[0.0], np.cumsum((net_N[1:] + net_N[:-1]) / 2 * steps_s)])
    begun = np.flatnonzero(impulse_Ns > 0)
    spent = np.flatnonzero(impulse_Ns <= 0)
    spent = spent[spent > begun[0]] if begun.size else inside[:0]
    if not spent.size:
        return [BodyStage("settling", start_s, end_s, "slides")]
    stop_s = float(time_s[inside[spent[0]]])
    return [
        BodyStage("settling", start_s, stop_s, "slides"),
        BodyStage("settling", stop_s, end_s, "cannot tell"),
    ]


def _stage_of(stages: tuple[BodyStage, ...], time_s: FloatArray) -> FloatArray:
    starts = np.array([one.start_s for one in stages])
    found: FloatArray = np.maximum(np.searchsorted(starts, time_s, side="right") - 1, 0)
    return found


def _normal_half(geometry: _Geometry, pull_half_N: FloatArray) -> FloatArray:
    if geometry.weight_N is None:
        return np.full_like(pull_half_N, np.nan)
    weight = (
        math.cos(geometry.theta) * geometry.u_weight_N,
        geometry.weight_N * math.sin(geometry.theta) * geometry.u_theta,
    )
    half: FloatArray = np.hypot(TWO_SIDED * math.hypot(*weight), pull_half_N * math.sin(geometry.alpha))
    return half


def _acceleration(
    net_N: FloatArray, net_half_N: FloatArray, mass_kg: float | None, geometry: _Geometry
) -> tuple[FloatArray, FloatArray]:
    if mass_kg is None or geometry.weight_N is None:
        return np.full_like(net_N, np.nan), np.full_like(net_N, np.nan)
    a = net_N / mass_kg
    return a, np.hypot(net_half_N / mass_kg, TWO_SIDED * a * geometry.u_weight_N / geometry.weight_N)


def _rider(
    a: FloatArray, a_half: FloatArray, rider_kg: float | None, g_m_s2: float, theta: float
) -> tuple[FloatArray | None, FloatArray | None]:
    """Return the friction on a rider that moves with the sled: m (a + g sin θ), in the direction of the pull.

    Friction opposes the sliding of surfaces over each other, not motion: it is what takes the rider along.
    """
    if rider_kg is None:
        return None, None
    return rider_kg * (a + g_m_s2 * math.sin(theta)), rider_kg * a_half


def _weight(geometry: _Geometry) -> Measured | None:
    if geometry.weight_N is None:
        return None
    return within(geometry.weight_N, TWO_SIDED * geometry.u_weight_N)
