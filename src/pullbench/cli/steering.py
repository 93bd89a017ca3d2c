"""Pull with the keyboard: keys become the speed of a hand, in real time, in a terminal."""

from __future__ import annotations

import os
import select
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Literal, Protocol

import numpy as np

from pullbench.errors import BenchError
from pullbench.physics.bench import Bench, Hand, LiveSled, hand

Key = Literal["harder", "softer", "let go", "end"]

KEYS: dict[bytes, Key] = {
    b"\x1b[A": "harder", b"\x1bOA": "harder", b"+": "harder",
    b"\x1b[B": "softer", b"\x1bOB": "softer", b"-": "softer",
    b" ": "let go", b"q": "end", b"Q": "end", b"\x04": "end",
}  # fmt: skip
HOW = "Up or + pulls harder, down or - softer, the space bar lets go, q ends."
REST_S = 1.5  # a loose string before and after every pull
LONGEST_S = 60.0
TICK_S = 0.1
SLACK_M = 0.005
SLOWEST_S = 4.0  # the first press stretches the string to its break in so long; each further one halves it
MOST = 7
EASE_S = 0.15  # an arm does not change its speed at once


class Terminal(Protocol):
    """What steering needs of a terminal."""

    def key(self, wait_s: float) -> Key | None:
        """Return the next key, or None when none came within wait_s."""
        ...

    def show(self, line: str) -> None:
        """Show one line in place of the last one."""
        ...


@dataclass(slots=True)
class Steered:
    """A hand that is being steered: its knots so far, and how hard it pulls (0 is still)."""

    bench: Bench
    tremor: Hand
    level: int = 0
    knots: list[tuple[float, float]] = field(default_factory=lambda: [(0.0, 0.0), (REST_S, 0.0)])

    @property
    def speed_m_s(self) -> float:
        """Return the speed that the present level means."""
        return self.bench.stretch_m / SLOWEST_S * 2 ** (self.level - 1) if self.level else 0.0

    def press(self, key: Key, at_s: float) -> None:
        """Pull harder or softer from this moment on."""
        before_m_s = self.speed_m_s
        self.level = min(max(self.level + (1 if key == "harder" else -1), 0), MOST)
        self._turn(at_s, before_m_s, self.speed_m_s, EASE_S)

    def until(self, at_s: float) -> Hand:
        """Return the movement up to this moment."""
        speed_m_s = self.knots[-1][1]
        knots = [*self.knots, (max(at_s, self.knots[-1][0]) + TICK_S, speed_m_s)]
        return replace(
            self.tremor,
            name="own",
            start_m=-SLACK_M,
            knot_s=np.array([time for time, _ in knots]),
            knot_m_s=np.array([speed for _, speed in knots]),
        )

    def let_go(self, at_s: float, stretch_m: float) -> Hand:
        """Return the whole movement: stop, hand the string back until it hangs loose, rest."""
        self._turn(at_s, self.speed_m_s, 0.0, EASE_S)
        back_m = stretch_m + self.speed_m_s * EASE_S + SLACK_M + 0.2 * self.bench.stretch_m
        start_s = self.knots[-1][0] + 0.3
        for after_s, speed_m_s in ((0.0, 0.0), (0.1, -back_m / 0.3), (0.3, -back_m / 0.3), (0.4, 0.0)):
            self.knots.append((start_s + after_s, speed_m_s))
        return self.until(start_s + 0.4 + REST_S)

    def _turn(self, at_s: float, before_m_s: float, after_m_s: float, within_s: float) -> None:
        start_s = max(at_s, self.knots[-1][0] + 1e-3)
        self.knots += [(start_s, before_m_s), (start_s + within_s, after_m_s)]


def steer(
    bench: Bench,
    terminal: Terminal,
    *,
    clock: Callable[[], float],
    rng: Callable[[int], np.random.Generator],
) -> Hand | None:
    """Return the movement that a person steers in real time; None when they end without pulling.

    clock: seconds, such as time.monotonic.  rng: the randomness of this pull for a purpose.
    """
    steered = Steered(bench, hand("smooth", rng(3), stretch_m=bench.stretch_m))
    began_s, now_s, sled = clock(), REST_S, LiveSled(bench)
    while now_s < LONGEST_S:
        key = terminal.key(TICK_S)
        now_s = REST_S + clock() - began_s
        sled.advance(steered.until(now_s), now_s)
        if key in ("harder", "softer"):
            steered.press(key, now_s)
        elif key == "let go" and len(steered.knots) > 2:
            break
        elif key == "end":
            return None
        terminal.show(_line(sled, bench, steered))
    return steered.let_go(now_s, sled.stretch_m)


def _line(sled: LiveSled, bench: Bench, steered: Steered) -> str:
    bar = "#" * min(40, round(20 * sled.pull_N / bench.breakaway_pull_N))
    moving = "slides" if sled.sliding else "holds"
    state = moving if sled.pull_N > 0 else "string loose"
    return f"simulated {sled.pull_N:6.2f} N  {bar:<40}  hand {1000 * steered.speed_m_s:4.0f} mm/s  {state}"


class Keyboard:
    """The real terminal, one key at a time."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor
        self._pending = b""

    def key(self, wait_s: float | None) -> Key | None:
        """Return the next known key; None when none came in time.  A closed terminal ends."""
        if not self._pending:
            ready, _, _ = select.select([self._descriptor], [], [], wait_s)
            if not ready:
                return None
            self._pending = os.read(self._descriptor, 64)
            if not self._pending:
                return "end"
        return self._next()

    def _next(self) -> Key | None:
        for code, key in KEYS.items():
            if self._pending.startswith(code):
                self._pending = self._pending[len(code) :]
                return key
        self._pending = self._pending[1:]
        return None

    def show(self, line: str) -> None:
        """Write one line over the last one."""
        sys.stdout.write(f"\r{line}\x1b[K")
        sys.stdout.flush()


@contextmanager
def keyboard() -> Iterator[Keyboard]:
    """Give keys one at a time, without echo, and put the terminal back however it ends."""
    try:
        import termios
        import tty
    except ImportError as fault:
        raise BenchError(
            "keyboard-unavailable", "This system gives single keys to no program in the usual way.",
            "A hand must be chosen.", "Give --hand, such as --hand smooth.",
        ) from fault  # fmt: skip
    descriptor = sys.stdin.fileno()
    before = termios.tcgetattr(descriptor)
    try:
        tty.setcbreak(
            descriptor, termios.TCSADRAIN
        )  # Ctrl-C still ends the program, and no key is thrown away
        yield Keyboard(descriptor)
    finally:
        termios.tcsetattr(descriptor, termios.TCSADRAIN, before)
