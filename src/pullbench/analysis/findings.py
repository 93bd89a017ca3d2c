"""What was wrong with a pull, in words: what was seen, why it matters, the one thing to do.

Each finding is a test in numbers on what the analysis saw. They come sorted by how much harm they do, the
worst first, because a teacher hears one fix at a time.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pullbench.model import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable

USUAL_SCATTER = 0.04  # repeats of a pull scatter 3–5 %: common practice, no published source


@dataclass(frozen=True, slots=True)
class Seen:
    """A finding with the harm it does, as a share of the force it touches."""

    harm: float
    finding: Finding


def seen(harm: float, name: str, sentence: str, fix: str) -> Seen:
    """Return one finding with its harm."""
    return Seen(harm, Finding(name, sentence, fix))


def worst_first(findings: Iterable[Seen]) -> tuple[Finding, ...]:
    """Return the findings, most harmful first."""
    return tuple(item.finding for item in sorted(findings, key=lambda item: -item.harm))


def percent(share: float) -> str:
    """Return a share as a percentage in words for a sentence: whole numbers from 10 up, else one digit."""
    return f"{100 * share:.0f} %" if share >= 0.0995 else f"{100 * share:.1g} %"


def seconds(span_s: float) -> str:
    """Return a span for a sentence."""
    return f"{span_s:.2f} s" if span_s < 1 else f"{span_s:.1f} s"
