"""What a live source delivers besides samples: news of the delivery, the end of a recording, pulls read by eye."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from pullbench.model.pull import PullWindow
from pullbench.model.recording import Chunk
from pullbench.model.setting import Setting

NewsKind = Literal[
    "connected", "found out", "gap", "lost", "back", "silent", "not numbers", "clock jumped",
    "file read", "file refused", "stopped", "logbook", "setting",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class News:
    """Something the person at the bench should know about the delivery of samples.

    sentence: what happened and what is being done about it.  at_s: when, in the recording's own time.
    """

    kind: NewsKind
    sentence: str
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class Ended:
    """A recording is over: what comes next has a time of its own.  sentence: why it ended."""

    sentence: str


Delivery: TypeAlias = Chunk | News | Ended | PullWindow | Setting
"""A window comes from a person who read a scale: there were no samples to watch.  A setting comes from the virtual
bench, which knows what is on its sled."""
