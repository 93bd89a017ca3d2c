"""Damage told as news: the first of its kind at once, then at most one in five seconds with the count."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from pullbench.model import Delivery, Ended, FlawKind, News, NewsKind
from pullbench.sources.damage import Damage

_EVERY_s = 5.0
_STRETCH_s = 1.0
_KINDS: dict[FlawKind, NewsKind] = {
    "gap": "gap",
    "missing values": "not numbers",
    "repeated times": "clock jumped",
    "backward times": "clock jumped",
}


def restarts_in(damages: Sequence[Damage]) -> list[Damage]:
    """Return where a device's clock was set anew: only such backward times carry a remark."""
    return [damage for damage in damages if damage.kind == "backward times" and damage.detail]


class Telling:
    """Keeps news few: a sensor with a loose plug must not bury the pulls."""

    def __init__(self) -> None:
        self._told_at_s: dict[str, float] = {}
        self._kept_back: dict[str, int] = {}

    def damages(self, damages: Iterable[Damage], now_s: float) -> list[Delivery]:
        """Return news of damage; unreadable lines are told when they come, even spacing at the start."""
        told: list[Delivery] = []
        for damage in damages:
            kind = _KINDS.get(damage.kind)
            if kind is not None:
                told += self._say(kind, damage.kind, damage.as_flaw().sentence, damage.start_s, now_s)
        return told

    def unreadable(self, lines: int, example: str, now_s: float) -> list[Delivery]:
        """Return news of lines that are no numbers."""
        some = "A line" if lines == 1 else f"{lines} lines"
        sentence = f'{some} could not be read as numbers, such as "{example[:60]}"; left out.'
        return self._say("not numbers", "unreadable lines", sentence, None, now_s)

    def not_numbers(self, example: bytes, now_s: float) -> list[Delivery]:
        """Return news of a stream without any numbers."""
        text = example[:60].decode("utf-8", "replace")
        sentence = (
            f'Lines come, but no numbers, such as "{text}". Listening on. Check the baud rate, and that the'
            " sensor prints one reading a line."
        )
        return self._say("not numbers", "no numbers", sentence, None, now_s)

    def restart(self, restart: Damage) -> list[Delivery]:
        """Return the news and the end of a recording whose device started its clock anew."""
        sentence = "The sensor's own clock was set back: the recording ends there and a new one begins."
        return [News("clock jumped", sentence, restart.start_s), Ended(sentence)]

    def _say(
        self, kind: NewsKind, about: str, sentence: str, at_s: float | None, now_s: float
    ) -> list[Delivery]:
        told_at_s = self._told_at_s.get(about)
        if told_at_s is not None and now_s - told_at_s < _EVERY_s:
            self._kept_back[about] = self._kept_back.get(about, 0) + 1
            return []
        self._told_at_s[about] = now_s
        more = self._kept_back.pop(about, 0)
        return [News(kind, sentence + (f" ({more} more like it before.)" if more else ""), at_s)]


class EvenStretch:
    """Gathers "evenly spaced" over a second or more: as a flaw of every hundredth it would bury the others."""

    def __init__(self) -> None:
        self._open: Damage | None = None

    def gathered(self, damages: Sequence[Damage], *, last: bool) -> list[Damage]:
        """Return damages to be told now; `last`: the recording ends."""
        told = [damage for damage in damages if damage.kind != "evenly spaced"]
        for damage in damages:
            if damage.kind == "evenly spaced":
                before = self._open or damage
                count = damage.count + (self._open.count if self._open else 0)
                self._open = replace(damage, start_s=before.start_s, count=count)
        stretch = self._open
        if stretch is not None and (last or stretch.end_s - stretch.start_s >= _STRETCH_s):
            told.append(stretch)
            self._open = None
        return told
