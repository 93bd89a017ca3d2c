"""Damage in the delivery of samples, counted while reading and told as flaws."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from pullbench.model import Flaw, FlawKind

_MOST_OF_ONE_KIND = 50  # beyond, neighbours are told as one: a list of thousands helps nobody


@dataclass(frozen=True, slots=True)
class Damage:
    """One stretch of damage: kind, seconds, lines or samples concerned, and what else is to be said.

    near_s: damage of one kind that begins this soon after the last is the same damage.
    """

    kind: FlawKind
    start_s: float
    end_s: float
    count: int
    detail: str = ""
    near_s: float = 0.0

    def as_flaw(self) -> Flaw:
        """Return the flaw with its sentence."""
        return Flaw(
            kind=self.kind,
            start_s=self.start_s,
            end_s=self.end_s,
            count=self.count,
            sentence=self._sentence(),
        )

    def _sentence(self) -> str:
        where = f"between {self.start_s:.3f} s and {self.end_s:.3f} s"
        if self.start_s == self.end_s:
            where = f"at {self.start_s:.3f} s"
        rows, samples = _some(self.count, "row"), _some(self.count, "sample")
        match self.kind:
            case "gap":
                return f"{samples} did not arrive {where}; nothing is put in {_its(self.count)} place."
            case "missing values":
                return f"{rows} without a reading {where}; left out."
            case "unreadable lines":
                return f"{_some(self.count, 'line')} that could not be read {where}{self.detail}; left out."
            case "repeated times":
                return f"{rows} with the time of the row before {where}; left out."
            case "backward times":
                return f"{rows} with a time that falls back {where}; {self.detail or 'left out'}."
            case "evenly spaced":
                return f"The clock is coarser than the samples {where}: {samples} {self.detail}."


def joined(damages: Iterable[Damage]) -> tuple[Damage, ...]:
    """Return damages in order of time, neighbours of one kind joined."""
    kept: list[Damage] = []
    last: dict[FlawKind, int] = {}
    seen: dict[FlawKind, int] = {}
    for damage in sorted(damages, key=lambda d: d.start_s):
        at = last.get(damage.kind)
        if at is not None and _same(kept[at], damage, crowded=seen[damage.kind] >= _MOST_OF_ONE_KIND):
            before = kept[at]
            end_s = max(before.end_s, damage.end_s)
            kept[at] = replace(before, end_s=end_s, count=before.count + damage.count)
        else:
            last[damage.kind] = len(kept)
            seen[damage.kind] = seen.get(damage.kind, 0) + 1
            kept.append(damage)
    return tuple(kept)


def _same(before: Damage, damage: Damage, *, crowded: bool) -> bool:
    return crowded or (before.detail == damage.detail and damage.start_s <= before.end_s + before.near_s)


def _some(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def _its(count: int) -> str:
    return "its" if count == 1 else "their"
