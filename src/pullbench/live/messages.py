"""What listeners are told, as frozen values.  All times are bench seconds: one axis for the whole day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from pullbench.model import FloatArray, News, Pull, Setting, WatchState
from pullbench.render import Budgets, Card, CheckCard, Coefficients, PredictionCard, TiltReadingCard, Told

Pairs: TypeAlias = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class StripColumns:
    """A stretch of the strip: pairs of least and most force (N, rest taken off), shape (n, 2), NaN without a sample."""

    start_s: float
    column_s: float
    pairs: Pairs


@dataclass(frozen=True, slots=True)
class StateNow:
    """The watch's state changed; on_watch is True for the first one after going on watch again."""

    state: WatchState
    at_s: float
    on_watch: bool = False


@dataclass(frozen=True, slots=True)
class ForceNow:
    """The force now: reading less the rest reading, with its plus or minus."""

    told: Told


@dataclass(frozen=True, slots=True)
class PullTold:
    """A pull caught, read again, set aside or brought back; the same number replaces the card before.

    record: the JSON line of `pullbench read`; None for a first reading and for what only changes the card.
    """

    card: Card
    record: bytes | None = None


@dataclass(frozen=True, slots=True)
class NewsTold:
    """News of the delivery; at_s in bench seconds."""

    news: News


@dataclass(frozen=True, slots=True)
class CheckTold:
    """The bench check, made or made anew."""

    check: CheckCard


@dataclass(frozen=True, slots=True)
class SettingNow:
    """What is on the sled from now on."""

    setting: Setting


@dataclass(frozen=True, slots=True)
class TiltNow:
    """All of today's trials on the tilted board."""

    readings: tuple[TiltReadingCard, ...]


@dataclass(frozen=True, slots=True)
class PredictionNow:
    """The question to the class and where it stands; None when there is none."""

    prediction: PredictionCard | None


@dataclass(frozen=True, slots=True)
class StoodDown:
    """The watch is over until it goes on again."""

    sentence: str


@dataclass(frozen=True, slots=True)
class Behind:
    """The listener was too slow and strip columns were dropped: fetch the strip anew."""


@dataclass(frozen=True, slots=True)
class Refreshed:
    """Forget what was told and take the snapshot anew."""


Message: TypeAlias = (
    StripColumns | StateNow | ForceNow | PullTold | NewsTold | CheckTold | SettingNow | TiltNow | PredictionNow
    | StoodDown | Behind | Refreshed
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """Everything that a listener who comes now has to know.

    seq: number of the last message in it.  missed: state changes since the number that was asked for.
    since_at: unix seconds when the watch began.
    """

    seq: int
    day: str
    source: str
    label: str | None
    state: WatchState
    now_s: float
    on_watch: bool
    since_at: float
    sentence: str | None
    check: CheckCard | None
    pulls: tuple[Card, ...]
    news: tuple[News, ...]
    missed: tuple[tuple[int, StateNow], ...]
    setting: Setting
    prediction: PredictionCard | None
    tilt: tuple[TiltReadingCard, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """One pull held up: its card, its trace (bench seconds, newtons above rest), budgets and choices.

    pull: the whole of it, in its recording's own seconds; offset_s: from those to bench seconds.  kept: which of
    its samples the trace has, all of them where they are few.
    """

    card: Card
    pull: Pull
    offset_s: float
    kept: npt.NDArray[np.int_]
    time_s: FloatArray
    force_N: FloatArray
    budgets: Budgets
    chosen: tuple[str, ...]
    rest: Told
    coefficients: Coefficients | None
