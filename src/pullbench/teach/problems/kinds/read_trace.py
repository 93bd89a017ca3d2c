"""Breakaway and kinetic force read off a trace that does not begin at nought."""

from __future__ import annotations

import math

import numpy as np

from pullbench.model.problem import Given, Level, PairFriction
from pullbench.model.scene import TraceFigure
from pullbench.teach.problems.kind import Asked, Numbers
from pullbench.teach.problems.kinds.given import GRAVITY, exact

LINES = 6  # grid lines a figure of this height has at most; a reader tells tenths between them
RATE_HZ = 40
REST_S, RAMP_S, FALL_S, SLIDE_S, SLACK_S = 1.5, 3.0, 0.15, 3.5, 1.0
SWING_HZ, SWING_S, TREMOR_HZ = 4.0, 0.3, 7.0


class ReadTrace:
    """A trace with rest reading r; asked: the pull F_s at which it let go, and the level F_k of the slide."""

    name = "read-trace"
    level: Level = 1

    def draw(self, draw: np.random.Generator, pair: PairFriction) -> tuple[Given, ...]:
        """Return forces in tenths of a grid step, their ratio near the pair's, and a rest reading clear of nought."""
        break_N = pair.mu_s * draw.uniform(0.6, 4.0) * GRAVITY.value
        ratio = min(max(pair.mu_k / pair.mu_s, 0.4), 0.88) * draw.uniform(0.97, 1.03)
        tenth_N = _step_N(1.15 * break_N) / 10
        rest_N = int(draw.integers(4, 11)) * int(draw.choice([-1, 1])) * tenth_N
        forces_N = (("r", rest_N), ("F_s", break_N), ("F_k", ratio * break_N))
        return tuple(exact(name, round(round(force / tenth_N) * tenth_N, 9), "N") for name, force in forces_N)

    def solve(self, given: Numbers, carried: Numbers) -> dict[str, float]:
        """a: F_s.  b: F_k.  Both as the figure was drawn, the rest reading off."""
        return {"a": given["F_s"], "b": given["F_k"]}

    def asked(self, given: Numbers) -> tuple[Asked, ...]:
        """Return the rest reading left in or taken the wrong way, and peak and level mistaken for each other."""
        rest_N, reading_N = given["r"], _step_N(_top_N(given)) / 10
        return (
            Asked(key="a", unit="N", reading=reading_N, wrong={
                "rest reading not taken off": given["F_s"] + rest_N, "level read as the peak": given["F_k"],
                "rest reading with the wrong sign": given["F_s"] + 2 * rest_N,
            }),
            Asked(key="b", unit="N", reading=reading_N, wrong={
                "peak read as kinetic": given["F_s"], "rest reading not taken off": given["F_k"] + rest_N,
                "rest reading with the wrong sign": given["F_k"] + 2 * rest_N,
            }),
        )  # fmt: skip

    def sane(self, given: Numbers) -> bool:
        """All lie on tenths of a grid step, and peak, level and rest stand out by more than those."""
        tenth_N = _step_N(_top_N(given)) / 10
        if any(abs(force / tenth_N - round(force / tenth_N)) > 1e-6 for force in given.values()):
            return False
        clear = given["F_s"] - given["F_k"] > 3 * tenth_N and given["F_k"] + 2 * given["r"] > 3 * tenth_N
        return clear and given["F_k"] > 6 * tenth_N and abs(given["r"]) > 3 * tenth_N

    def figure(self, given: Numbers, *, solved: bool) -> TraceFigure:
        """Return the trace; the key's is the same, told."""
        time_s, force_N = _trace(given)
        told = "A slow pull: a flat stretch, a ramp to a peak, a fall to a level, and the flat stretch again."
        if solved:
            peak_N, level_N = given["F_s"] + given["r"], given["F_k"] + given["r"]
            told += f" Rest reading {given['r']:g} N, peak {peak_N:.4g} N, level {level_N:.4g} N."
        return TraceFigure(x=time_s, y=force_N, x_words="time in s", y_words="reading in N", described=told)


def _trace(given: Numbers) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return time and reading: rest, an even ramp, a fall that swings out, a level with a little tremor, rest."""
    ends_s = np.cumsum([0.0, REST_S, RAMP_S, FALL_S, SLIDE_S, 0.1, SLACK_S])
    time_s = np.round(np.arange(0, ends_s[-1], 1 / RATE_HZ), 6)
    drop_N, level_N = given["F_s"] - given["F_k"], given["F_k"]
    since_s = np.clip(time_s - ends_s[3], 0, None)
    swing_N = -0.4 * drop_N * np.exp(-since_s / SWING_S) * np.sin(2 * math.pi * SWING_HZ * since_s)
    swing_N = np.where(since_s < 6.5 * SWING_S, swing_N, 0.0)  # too small to be seen after that
    tremor_N = 0.012 * level_N * np.sin(2 * math.pi * TREMOR_HZ * since_s)
    even_N = np.interp(time_s, ends_s, [0, 0, given["F_s"], level_N, level_N, 0, 0])
    force_N = given["r"] + even_N + np.where(time_s <= ends_s[4], swing_N + tremor_N, 0.0)
    return tuple(time_s.tolist()), tuple(np.round(force_N, 12).tolist())


def _top_N(given: Numbers) -> float:
    return given["F_s"] + max(given["r"], 0.0)


def _step_N(top_N: float) -> float:
    """Return the step of 1, 2 or 5 that gives an axis up to here at most LINES lines."""
    power = 10.0 ** math.floor(math.log10(top_N / LINES))
    return next(times * power for times in (1, 2, 5, 10) if top_N / (times * power) <= LINES)
