"""The invented day of the laws: the stage crew's ladders on three soles, with faults planted on purpose.

As in `demo`: a birch sled on a painted stage floor, for "the harbour play".  Nothing here was measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from pullbench.model import Trace
from pullbench.physics.bench.demo import (
    BETWEEN_PULLS,
    SLED_KG,
    SOLES,
    TIN_KG,
    demo_pull,
    demo_rng,
    demo_sensor,
)
from pullbench.physics.bench.run import in_a_row
from pullbench.physics.bench.sensor import record

TINS = (2, 6, 1, 4, 3)
"""The five loads of every ladder, in tins, in the order pulled: up and down, so that a drift is no load."""
HIDDEN_KG = 1.37
"""What the unknown tin weighs."""
QUICK_START = ("felt", 3)
"""Sole and tins of the recording that begins with a jerked pull."""
TURNED_TINS, TURNED_PULLS, MARGIN = 2, 6, 0.03
"""The sled on its broad and on its narrow side: load, pulls of each, and the margin chosen beforehand."""
TILTS, TILT_STEP_DEG, GAUGE_OFF_DEG = 6, 0.1, 4.0
"""Trials on the tilted board, to how much the gauge is read, and how far it is off when it was not set level."""
TEAMS, TEAM_PULLS, TEAM_WITHOUT_SLED = 6, 3, 4
"""Teams that measure kinetic friction, pulls of each, and the team that leaves the sled out of its load."""
BETWEEN_TEAMS = 0.02

_PULLS = ("smooth", "smooth", "hesitant")


@dataclass(frozen=True, slots=True, eq=False)
class LawRecording:
    """One invented recording.  name: of its file.  mass_kg: all that presses.  hands: of its pulls, in order."""

    name: str
    sole: str
    mass_kg: float
    hands: tuple[str, ...]
    trace: Trace


def law_recordings(seed: int) -> Iterator[LawRecording]:
    """Yield the day's recordings: three ladders of five loads, the sled turned on its side, the unknown tin.

    The same seed gives the same digits.  The ladder of QUICK_START has one pull more, jerked.
    """
    rng = demo_rng(seed)
    sensor = demo_sensor(rng)
    for name, sole, mass_kg, hands in _plans():
        run = in_a_row([demo_pull(one, SOLES[sole], mass_kg, rng) for one in hands])
        yield LawRecording(name, sole, mass_kg, hands, record(run, sensor, rng))


def _plans() -> Iterator[tuple[str, str, float, tuple[str, ...]]]:
    for sole in SOLES:
        for tins in TINS:
            hands = ("jerked", *_PULLS) if (sole, tins) == QUICK_START else _PULLS
            yield f"{sole.replace(' ', '-')}-{tins}", sole, SLED_KG + tins * TIN_KG, hands
    for side in ("broad", "narrow"):  # a level sled presses with its weight, whatever side it slides on
        yield f"{side}-side", "bare birch", SLED_KG + TURNED_TINS * TIN_KG, ("smooth",) * TURNED_PULLS
    yield "unknown", "bare birch", SLED_KG + HIDDEN_KG, _PULLS


def tilt_angles_deg(seed: int) -> tuple[float, ...]:
    """Return the angles at which bare birch slid off the stage's tilted board, as read from a gauge set level."""
    mu_s = SOLES["bare birch"].mu_s * demo_rng(seed).normal(1.0, BETWEEN_PULLS, TILTS)
    angles = np.degrees(np.arctan(mu_s))
    return tuple(round(float(angle) / TILT_STEP_DEG) * TILT_STEP_DEG for angle in angles)


def team_coefficients(seed: int) -> tuple[tuple[float, ...], ...]:
    """Return each team's kinetic coefficients of bare birch with two tins, pull by pull.

    One team, TEAM_WITHOUT_SLED counted from 1, divides by the weight of the tins alone.
    """
    rng = demo_rng(seed)
    teams = SOLES["bare birch"].mu_k * rng.normal(1.0, BETWEEN_TEAMS, TEAMS)
    told = teams[:, None] * rng.normal(1.0, BETWEEN_PULLS, (TEAMS, TEAM_PULLS))
    tins_kg = TURNED_TINS * TIN_KG
    told[TEAM_WITHOUT_SLED - 1] *= (SLED_KG + tins_kg) / tins_kg
    return tuple(tuple(float(one) for one in team) for team in told)
