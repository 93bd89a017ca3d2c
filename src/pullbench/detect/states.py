"""What the room sees live: a table of states, and the cues that move it.

The live state is for the eyes only.  Windows come from `watch`, which looks twice.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from pullbench.model import WatchState

_S = WatchState


class Cue(StrEnum):
    """What the last beats look like."""

    RISE = "rise"
    DROP = "drop"
    LEVEL = "level"
    SAWTOOTH = "sawtooth"
    SLACK = "slack"


NEXT: Mapping[tuple[WatchState, Cue], WatchState] = MappingProxyType(
    {
        (_S.QUIET, Cue.RISE): _S.LOADING,
        (_S.LOADING, Cue.DROP): _S.BREAKAWAY,
        (_S.BREAKAWAY, Cue.LEVEL): _S.SETTLING,
        (_S.BREAKAWAY, Cue.SAWTOOTH): _S.SETTLING,  # the break's own ringing looks the same at first
        (_S.SETTLING, Cue.LEVEL): _S.SLIDING,
        (_S.SETTLING, Cue.SAWTOOTH): _S.STICK_SLIP,
        (_S.SLIDING, Cue.SAWTOOTH): _S.STICK_SLIP,
        (_S.STICK_SLIP, Cue.LEVEL): _S.SLIDING,
        **{
            (state, Cue.SLACK): _S.LET_GO
            for state in (_S.LOADING, _S.BREAKAWAY, _S.SETTLING, _S.SLIDING, _S.STICK_SLIP)
        },
        (_S.LET_GO, Cue.RISE): _S.LOADING,
        (_S.LET_GO, Cue.LEVEL): _S.QUIET,
    }
)


def next_state(state: WatchState, cue: Cue) -> WatchState:
    """Return the state after a cue; a cue that means nothing in a state leaves it."""
    return NEXT.get((state, cue), state)


_LOOK_BEATS = 12  # 0.6 s: long enough to see a tooth, short enough to follow
_SETTLES_BEATS = 6
_DROP = 0.05  # of the height so far: below it a fall is ripple
_TEETH = 3  # falls within the look that make a sawtooth
_UNDAMPED = 0.7  # of the largest fall: what rings after a break dies by a constant factor per swing


class LiveState:
    """Follows the state from beat to beat."""

    def __init__(self) -> None:
        self.state = WatchState.QUIET
        self._recent: deque[float] = deque(maxlen=_LOOK_BEATS)
        self._waited = 0

    def see(self, pull_N: float, *, height_N: float, noise_N: float, away: bool) -> None:
        """Take one beat: its pull above rest, the height so far, the noise, whether it left the rest."""
        self._recent.append(pull_N)
        cue = self._cue(height_N, noise_N) if away else self._resting()
        before, self.state = self.state, self.state if cue is None else next_state(self.state, cue)
        self._waited = 0 if self.state != before else self._waited + 1

    def _resting(self) -> Cue | None:
        if self.state is WatchState.QUIET:
            return None
        if self.state is not WatchState.LET_GO:
            return Cue.SLACK
        return Cue.LEVEL if self._waited >= _SETTLES_BEATS else None

    def _cue(self, height_N: float, noise_N: float) -> Cue | None:
        recent = list(self._recent)
        now_N, least_N = recent[-1], max(_DROP * height_N, 4 * noise_N)
        if self.state is WatchState.QUIET:
            return Cue.RISE
        if self.state is WatchState.LET_GO:
            again = now_N - min(recent[-_SETTLES_BEATS:]) > least_N and now_N > 0.15 * height_N
            return Cue.RISE if again else self._resting()
        if self.state is WatchState.LOADING:
            return Cue.DROP if max(recent) - now_N > least_N else None
        if now_N < 0.1 * height_N:
            return Cue.SLACK
        if self._waited < _SETTLES_BEATS:
            return None
        falls = _falls(recent, 2 * least_N)
        stuck = len(falls) >= _TEETH - 1 and falls[-1] >= _UNDAMPED * max(falls)
        return Cue.SAWTOOTH if stuck else Cue.LEVEL


def _falls(values: list[float], least: float) -> list[float]:
    """Return by how much the values fall, each time they do by `least` from a high to the next low."""
    falls: list[float] = []
    high, low, falling = values[0], values[0], False
    for value in values:
        if falling:
            low = min(low, value)
            falls[-1] = high - low
            if value - low > 0.5 * least:
                falling, high = False, value
        else:
            high = max(high, value)
            if high - value > least:
                falling, low = True, value
                falls.append(high - low)
    return falls
