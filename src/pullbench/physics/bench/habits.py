"""The ways in which people pull: each habit turns a few sizes into a `Hand`.

Every habit rests with a loose string, takes up the slack, loads, slides, stops, lets go and rests
again.  The sizes are choices for a classroom bench, not measurements; tremor follows the physiology
(7-11 Hz narrow band, slow wander below 4 Hz, both a percentage of the pull).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from types import MappingProxyType

import numpy as np

from pullbench.errors import BenchError
from pullbench.model import FloatArray
from pullbench.physics.bench.hands import Hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a habit is made of.

    stretch_m: how far the string and arm give until the sled should break away; take it from
    `Bench.stretch_m`.  load_s: time for that.  slack_m: loose string.  speed_m_s and slide_s: of the
    slide.  rest_s, rest_after_s: at either end, string loose.  pause_s: between stop and letting go.
    tremor, wander: root mean square, as a fraction of stretch_m.
    """

    stretch_m: float = 0.01
    load_s: float = 2.0
    slack_m: float = 0.01
    speed_m_s: float = 0.04
    slide_s: float = 3.0
    rest_s: float = 1.5
    rest_after_s: float = 1.5
    pause_s: float = 0.3
    tremor: float = 0.003
    wander: float = 0.003

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            may_be_zero = field.name in ("tremor", "wander")
            if not (value > 0 or (may_be_zero and value == 0)) or value == math.inf:
                raise BenchError(
                    "hand-size-impossible",
                    f"{field.name} is {value:g}.",
                    f"It must be a finite number {'of 0 or more' if may_be_zero else 'above 0'}.",
                    "Leave it out to use the usual size.",
                )


class _Strokes:
    """Knots of a speed, laid down one stroke after another."""

    def __init__(self) -> None:
        self.knots: list[tuple[float, float]] = [(0.0, 0.0)]

    def go(self, speed_m_s: float, *, within_s: float, for_s: float = 0.0) -> None:
        """Change to this speed within a time, then keep it for another."""
        for wait_s in (within_s, for_s):
            if wait_s > 0:
                self.knots.append((self.knots[-1][0] + wait_s, speed_m_s))

    def travel(self, distance_m: float, speed_m_s: float, *, within_s: float) -> None:
        """Change to this speed within a time and keep it until distance_m has been covered."""
        changing_m = 0.5 * (self.knots[-1][1] + speed_m_s) * within_s
        self.go(speed_m_s, within_s=within_s, for_s=max(0.0, (distance_m - changing_m) / speed_m_s))

    def rest(self, duration_s: float) -> None:
        """Stand still, from a standstill."""
        self.go(0.0, within_s=duration_s)


def _take_up(strokes: _Strokes, sizes: Sizes) -> None:
    """Rest, then tighten the string at the speed of loading, so that it does not snap taut."""
    strokes.rest(sizes.rest_s)
    pace_m_s = sizes.stretch_m / sizes.load_s
    quick_m_s = max(pace_m_s, sizes.slack_m / 0.5)
    strokes.travel(0.8 * sizes.slack_m, quick_m_s, within_s=0.05)
    strokes.travel(0.2 * sizes.slack_m, pace_m_s, within_s=0.02)


def _load(strokes: _Strokes, sizes: Sizes, share: float = 1.0) -> None:
    strokes.travel(share * sizes.stretch_m, sizes.stretch_m / sizes.load_s, within_s=0.02)


def _let_go(strokes: _Strokes, sizes: Sizes) -> None:
    """Stop, wait a moment, hand the string back until it hangs loose, rest."""
    strokes.go(0.0, within_s=0.15, for_s=sizes.pause_s)
    back_m, braking_s = 1.5 * sizes.stretch_m + sizes.slack_m, 0.05
    back_m_s = back_m / 0.4
    strokes.travel(-(back_m - 0.5 * back_m_s * braking_s), -back_m_s, within_s=0.05)
    strokes.go(0.0, within_s=braking_s)
    strokes.rest(sizes.rest_after_s)


def _pull(strokes: _Strokes, sizes: Sizes) -> None:
    _take_up(strokes, sizes)
    _load(strokes, sizes)
    strokes.go(sizes.speed_m_s, within_s=0.4, for_s=sizes.slide_s)
    _let_go(strokes, sizes)


def _jerked(strokes: _Strokes, sizes: Sizes) -> None:
    """Rest, then snap the string taut at full speed, without a ramp."""
    strokes.rest(sizes.rest_s)
    strokes.travel(sizes.slack_m, 2 * sizes.speed_m_s, within_s=0.03)
    strokes.go(sizes.speed_m_s, within_s=0.3, for_s=sizes.slide_s)
    _let_go(strokes, sizes)


def _hesitant(strokes: _Strokes, sizes: Sizes) -> None:
    _take_up(strokes, sizes)
    for share, hold_s in ((0.45, 0.7), (0.35, 0.5)):
        _load(strokes, sizes, share)
        strokes.go(0.0, within_s=0.05, for_s=hold_s)
    _load(strokes, sizes, 0.2)
    strokes.go(sizes.speed_m_s, within_s=0.4, for_s=sizes.slide_s)
    _let_go(strokes, sizes)


def _stop_and_go(strokes: _Strokes, sizes: Sizes) -> None:
    _take_up(strokes, sizes)
    _load(strokes, sizes)
    for _ in range(2):
        strokes.go(sizes.speed_m_s, within_s=0.3, for_s=sizes.slide_s / 3)
        strokes.go(0.0, within_s=0.15, for_s=0.6)
    strokes.go(sizes.speed_m_s, within_s=0.3, for_s=sizes.slide_s / 3)
    _let_go(strokes, sizes)


def _drifting(strokes: _Strokes, sizes: Sizes) -> None:
    """Speed up all through the slide, to two and a half times the speed it begins with."""
    _take_up(strokes, sizes)
    _load(strokes, sizes)
    strokes.go(sizes.speed_m_s, within_s=0.4)
    strokes.go(2.5 * sizes.speed_m_s, within_s=sizes.slide_s)
    _let_go(strokes, sizes)


def _held(strokes: _Strokes, sizes: Sizes) -> None:
    """Load to seven tenths of what would be needed, hold, let go."""
    _take_up(strokes, sizes)
    _load(strokes, sizes, 0.7)
    strokes.go(0.0, within_s=0.05, for_s=sizes.slide_s / 2)
    _let_go(strokes, sizes)


def _motor(strokes: _Strokes, sizes: Sizes) -> None:
    """One constant speed for slack, load and slide alike."""
    strokes.rest(sizes.rest_s)
    taut_m = sizes.slack_m + sizes.stretch_m
    strokes.travel(taut_m + sizes.speed_m_s * sizes.slide_s, sizes.speed_m_s, within_s=0.02)
    _let_go(strokes, sizes)


@dataclass(frozen=True, slots=True)
class _Habit:
    strokes: Callable[[_Strokes, Sizes], None]
    usual: Sizes
    steady: bool = False  # a machine: no scatter from pull to pull


_HABITS: Mapping[str, _Habit] = MappingProxyType(
    {
        "smooth": _Habit(_pull, Sizes()),
        "hurried": _Habit(_pull, Sizes(load_s=0.3, speed_m_s=0.12, slide_s=1.2, tremor=0.006)),
        "jerked": _Habit(_jerked, Sizes(speed_m_s=0.12, slide_s=1.2, tremor=0.006)),
        "hesitant": _Habit(_hesitant, Sizes(load_s=1.6)),
        "shaky": _Habit(_pull, Sizes(tremor=0.015, wander=0.015)),
        "stop-and-go": _Habit(_stop_and_go, Sizes()),
        "drifting": _Habit(_drifting, Sizes()),
        "held": _Habit(_held, Sizes()),
        "motor": _Habit(_motor, Sizes(speed_m_s=0.01, tremor=0.0, wander=0.0), steady=True),
    }
)

HAND_NAMES: tuple[str, ...] = tuple(_HABITS)
"""The habits that `hand` knows."""

_SCATTERED = ("load_s", "speed_m_s", "slide_s", "rest_s", "rest_after_s", "pause_s")


def hand(name: str, rng: np.random.Generator, **sizes: float) -> Hand:
    """Return one pull by a hand with this habit; see `Sizes` for what may be set.

    name: one of HAND_NAMES.  Sizes that are not given scatter by a tenth from pull to pull (not for
    the motor).  Raises BenchError for an unknown name or size.
    """
    habit = _HABITS.get(name)
    if habit is None:
        raise BenchError(
            "hand-unknown",
            f"There is no hand called {name!r}.",
            f"It must be one of {', '.join(HAND_NAMES)}.",
            "Choose one of these.",
        )
    known = [field.name for field in fields(Sizes)]
    for size in sizes:
        if size not in known:
            raise BenchError(
                "hand-size-unknown",
                f"A hand has no {size!r}.",
                f"It must be one of {', '.join(known)}.",
                "Check the spelling.",
            )
    scatter = rng.uniform(0.9, 1.1, len(_SCATTERED))
    usual = habit.usual
    if not habit.steady:
        scattered = {
            key: getattr(usual, key) * float(factor) for key, factor in zip(_SCATTERED, scatter, strict=True)
        }
        usual = replace(usual, **scattered)
    chosen = replace(usual, **sizes)
    strokes = _Strokes()
    habit.strokes(strokes, chosen)
    times_s, speeds_m_s = np.array(strokes.knots).T
    return Hand(name, -chosen.slack_m, times_s, speeds_m_s, *_waves(chosen, rng))


def _waves(sizes: Sizes, rng: np.random.Generator) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return frequency, amplitude and phase of tremor and wander: sums of waves beat as a hand does."""
    centre_Hz = rng.uniform(8.0, 10.0)
    tremor_Hz = np.clip(rng.normal(centre_Hz, 0.5, 12), 7.0, 11.0)
    wander_Hz = rng.uniform(0.3, 4.0, 12)
    # Equal waves of random phase: rms² = sum of amplitude²/2.  The wander weakens with frequency.
    tremor_m = np.full(12, sizes.tremor * sizes.stretch_m * math.sqrt(2 / 12))
    falling = 1 / wander_Hz
    wander_m = sizes.wander * sizes.stretch_m * math.sqrt(2) * falling / math.hypot(*falling)
    phases = rng.uniform(0.0, 2 * math.pi, 24)
    frequency_Hz, amplitude_m = np.concatenate([tremor_Hz, wander_Hz]), np.concatenate([tremor_m, wander_m])
    moving = amplitude_m > 0
    return frequency_Hz[moving], amplitude_m[moving], phases[moving]
