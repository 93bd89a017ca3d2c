"""A rehearsal: a real hand on the virtual bench, seen while it pulls, and read like any other pull afterwards."""

from __future__ import annotations

import math
import threading
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass, field
from multiprocessing import get_context

import numpy as np

from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.live.analyst import ready
from pullbench.live.messages import Sheet
from pullbench.live.sheets import sheet_of
from pullbench.model import Chunk, Measured, Pull
from pullbench.physics.bench import (
    USUAL_BENCH,
    Bench,
    Description,
    Hand,
    LiveSled,
    PullTruth,
    described,
    record,
    simulate,
)
from pullbench.render import NEWTONS, Told, card, told

LABEL = "simulated"
REST_S = 1.5  # a loose string before the first movement
SLACK_M = 0.005
LONGEST_S = 60.0
FARTHEST_M, FASTEST_M_S = 1.5, 3.0
EASE_S, HELD_S, BACK_S, AFTER_S = 0.15, 0.3, 0.4, 4.0
NO_PULL = "Nothing in this movement rises from rest and comes back as a pull does."

Knots = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What the room sees at one moment of a rehearsal."""

    time_s: float
    force: Told
    force_N: float
    sled_m: float
    sliding: bool
    slack: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Rehearsed:
    """A rehearsal read: its sheet, or None when there was no pull in it; what was put in, and whether it slid."""

    sheet: Sheet | None
    truth: PullTruth | None


@dataclass(slots=True)
class Rehearsal:
    """A hand that is being moved now.

    seed: of what is random on this bench.  knots: (time in s, speed in m/s) so far.
    """

    seed: int
    setup: Description = field(default_factory=lambda: described(USUAL_BENCH))
    knots: list[tuple[float, float]] = field(default_factory=lambda: [(0.0, 0.0), (REST_S, 0.0)])
    _last: tuple[float, float] | None = None
    _sled: LiveSled = field(init=False)

    def __post_init__(self) -> None:
        self._sled = LiveSled(_bench(self.setup, self.seed))
        self._sled.advance(self._hand(), REST_S)

    def move(self, time_s: float, place_m: float) -> None:
        """Take where the hand is; what cannot be a hand (backwards in time, too far, too fast) is left out."""
        time_s, place_m = time_s + REST_S, float(np.clip(place_m, -0.1, FARTHEST_M))
        if self._last is None:
            self._last = (max(time_s, REST_S), place_m)
            return
        before_s, before_m = self._last
        if not time_s - before_s > 1e-3 or time_s > LONGEST_S:
            return
        speed = float(np.clip((place_m - before_m) / (time_s - before_s), -FASTEST_M_S, FASTEST_M_S))
        middle_s = (before_s + time_s) / 2  # a mean speed is that of the middle
        if middle_s > self.knots[-1][0] + 1e-3:
            self.knots.append((middle_s, speed))
        self._last = (time_s, before_m + speed * (time_s - before_s))
        self._sled.advance(self._hand(), self.knots[-1][0])

    def seen(self) -> Seen:
        """Return what the room sees now."""
        sled, sensor = self._sled, self.setup.sensor
        u = math.hypot(sensor.noise_N, sensor.resolution_N / math.sqrt(12))
        force = Measured(
            kind="value", value=sled.pull_N, standard_uncertainty=u, limits=(sled.pull_N - 2 * u, sled.pull_N + 2 * u),
            unit="N",
        )  # fmt: skip
        return Seen(
            time_s=sled.time_s, force=told(force, scale=NEWTONS), force_N=sled.pull_N, sled_m=sled.position_m,
            sliding=sled.sliding, slack=sled.stretch_m <= 0,
        )  # fmt: skip

    def let_go(self) -> Knots:
        """Return the whole movement: the hand stops, gives the string back until it hangs loose, and rests."""
        last_s, speed = self.knots[-1]
        back_m = (
            max(self._sled.stretch_m, 0.0) + abs(speed) * EASE_S + SLACK_M + 0.2 * self._sled.bench.stretch_m
        )
        stop_s = last_s + EASE_S
        ease = BACK_S / 4
        pace = -back_m / (BACK_S - ease)
        start_s = stop_s + HELD_S
        ends = [
            (stop_s, 0.0), (start_s, 0.0), (start_s + ease, pace), (start_s + BACK_S - ease, pace),
            (start_s + BACK_S, 0.0), (start_s + BACK_S + AFTER_S, 0.0),
        ]  # fmt: skip
        return (*self.knots, *ends)

    def _hand(self) -> Hand:
        return _hand_of((*self.knots, (self.knots[-1][0] + 1.0, self.knots[-1][1])))


class Stage:
    """A process of its own in which rehearsals are simulated and read: they must not delay the bench."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None

    def read(self, seed: int, knots: Knots) -> Future[Rehearsed]:
        """Return how a movement is read, later."""
        with self._lock:
            if self._pool is None:
                self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=ready)
            return self._pool.submit(rehearsed, seed, knots)

    def close(self) -> None:
        """End the process."""
        with self._lock:
            if self._pool is not None:
                self._pool.shutdown(wait=True, cancel_futures=True)
                self._pool = None


def rehearsed(seed: int, knots: Knots) -> Rehearsed:
    """Return what becomes of a movement on the usual bench, and how it is read."""
    setup = described(USUAL_BENCH)
    run = simulate(_bench(setup, seed), _hand_of(knots), rng=_randomness(seed, 1))
    trace = record(run, setup.sensor, _randomness(seed, 2))
    caught = list(windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)]))
    truth = run.truths[0] if run.truths else None
    if not caught:
        return Rehearsed(sheet=None, truth=truth)
    pull: Pull = analyse(max(caught, key=lambda window: window.end_s - window.start_s))
    return Rehearsed(sheet=sheet_of(pull, card(pull, number=1, label=LABEL), 0.0), truth=truth)


def _hand_of(knots: Knots) -> Hand:
    return Hand.through(knots, start_m=-SLACK_M)


def _bench(setup: Description, seed: int) -> Bench:
    return setup.bench_for(_randomness(seed, 4))


def _randomness(seed: int, purpose: int) -> np.random.Generator:
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, 1, purpose])))
