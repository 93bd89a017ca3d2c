"""A session in a terminal without a browser: state, force, a strip in text, a verdict a pull."""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Callable

import numpy as np

from pullbench.live import CheckTold, ForceNow, Message, NewsTold, PullTold, Session, StateNow, StoodDown
from pullbench.render import Card, Told

BARS, ASCII_BARS = " ▁▂▃▄▅▆▇█", " .:-=+*#%@"
SPAN_S = 20.0


class Plain:
    """Draws what listeners are told.

    out: writes text as it is.  steady: a terminal whose last line can be written over; without one only
    news and verdicts are printed, a line each.
    """

    def __init__(
        self, session: Session, out: Callable[[str], object], *, steady: bool, blocks: bool = True
    ) -> None:
        self._session, self._out, self._steady = session, out, steady
        self._bars = BARS if blocks else ASCII_BARS
        self._force: Told | None = None
        self._state = "quiet"
        self._highest_N = 1.0

    def show(self, message: Message) -> None:
        """Take one message."""
        if isinstance(message, ForceNow):
            self._force = message.told
        elif isinstance(message, StateNow):
            self._state = str(message.state)
        elif isinstance(message, PullTold) and not message.card.provisional:
            self.say(verdict_lines(message.card))
        elif isinstance(message, NewsTold):
            self.say([message.news.sentence])
        elif isinstance(message, CheckTold):
            label = f" ({message.check.label})" if message.check.label else ""
            self.say([f"Bench check{label}: {message.check.summary}"])
        elif isinstance(message, StoodDown):
            self.say([message.sentence])
        if self._steady and isinstance(message, ForceNow | StateNow):
            self._draw()

    def say(self, lines: list[str]) -> None:
        """Show lines over the one that is written over."""
        clear = "\r\x1b[K" if self._steady else ""
        for line in lines:
            wrapped = textwrap.wrap(line, 100, subsequent_indent="  ") or [""]
            self._out(clear + "\n".join(wrapped) + "\n")

    def _draw(self) -> None:
        columns = shutil.get_terminal_size((100, 24)).columns
        force = "no reading yet" if self._force is None else self._force.whole
        label = f" {self._session.source.label}" if self._session.source.label else ""
        head = f"{self._state:<10} {force}{label} "
        self._out(f"\r\x1b[K{head:<34}{self._strip(max(columns - 36, 8))}")

    def _strip(self, width: int) -> str:
        """Return the last seconds as bars: the largest force of each column, either way."""
        end_s = self._session.newest_s
        pairs = self._session.strip(end_s - SPAN_S, end_s + 1e-3, width).pairs
        size_N = np.fmax(np.abs(pairs[:, 0]), np.abs(pairs[:, 1]))
        if np.isfinite(size_N).any():
            self._highest_N = max(self._highest_N, float(np.nanmax(size_N)))
        steps = np.nan_to_num(size_N / self._highest_N * (len(self._bars) - 1) + 0.3)
        return "".join(self._bars[min(int(step), len(self._bars) - 1)] for step in steps)


def verdict_lines(card: Card) -> list[str]:
    """Return a pull in lines: verdict and both forces, what was seen, the one fix; the label beside the numbers."""
    label = f" ({card.label})" if card.label else ""
    static = (
        f"static maximum {card.breakaway.whole}"
        if card.breakaway.kind == "value"
        else f"static: {card.breakaway.whole}"
    )
    kinetic = (
        f"kinetic {card.kinetic.whole}" if card.kinetic.kind == "value" else f"kinetic: {card.kinetic.whole}"
    )
    again = " read again," if card.marked or card.read_again else ""
    lines = [f"Pull {card.number}{label}:{again} {card.verdict}; {static}, {kinetic}."]
    if card.aside is not None:
        return [f"{lines[0]} Set aside: {card.aside}."]
    if card.findings:  # without one the sentence would say both forces again
        lines.append(f"  {card.sentence}{' ' + card.fix if card.fix else ''}")
    return lines
