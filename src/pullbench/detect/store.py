"""The beats that may still be needed, with their smoothed levels; the rest is forgotten."""

from __future__ import annotations

from bisect import bisect_left

import numpy as np

from pullbench.detect.beats import Beat
from pullbench.detect.rest import median
from pullbench.model import Flaw, Trace


class BeatStore:
    """Beats by their number in the recording, from `first` (oldest kept) to `end` (one past the newest).

    smooth_N: median of each beat and its neighbours, so that a spike of one beat vanishes.  It lags by
    one beat: `ready` is one past the last beat that has it.
    """

    def __init__(self) -> None:
        self.first = 0
        self.beats: list[Beat] = []
        self.starts_s: list[float] = []
        self.smooth_N: list[float] = []
        self.samples = 0

    @property
    def end(self) -> int:
        """Return one past the number of the newest beat."""
        return self.first + len(self.beats)

    def append(self, beat: Beat) -> int | None:
        """Add a beat; return the number of the beat that is now smoothed, if any."""
        self.beats.append(beat)
        self.starts_s.append(beat.start_s)
        self.samples += beat.time_s.size
        if len(self.beats) < 2:
            return None
        levels = [b.level_N for b in self.beats[-3:]]
        self.smooth_N.append(median(levels) if len(levels) == 3 else levels[0])
        return self.end - 2

    def close(self) -> int | None:
        """Smooth the last beat of the recording; return its number, if there is one."""
        if not self.beats:
            return None
        self.smooth_N.append(self.beats[-1].level_N)
        return self.end - 1

    def beat(self, index: int) -> Beat:
        """Return a kept beat."""
        return self.beats[index - self.first]

    def time_s(self, index: int) -> float:
        """Return the start of a kept beat."""
        return self.starts_s[index - self.first]

    def smoothed(self, begin: int, end: int) -> tuple[list[float], list[float]]:
        """Return start times and smoothed levels of the beats from begin to before end."""
        a, b = max(begin - self.first, 0), max(end - self.first, 0)
        levels = self.smooth_N[a:b]
        return self.starts_s[a : a + len(levels)], levels

    def means(self, begin: int, end: int) -> list[float]:
        """Return the mean of each beat from begin to before end: finer than its median where counts are coarse."""
        kept = self.beats[max(begin - self.first, 0) : max(end - self.first, 0)]
        return [float(beat.force_N.mean()) for beat in kept]

    def smooth_at(self, index: int) -> float:
        """Return the smoothed level of a kept beat."""
        return self.smooth_N[index - self.first]

    def begin_of_last(self, index: int, lasting_s: float, beats: int) -> int:
        """Return where the last lasting_s up to this beat begin; farther back to have so many beats."""
        begin = min(self.number_at(self.time_s(index) - lasting_s), index + 1 - beats)
        return max(begin, self.first)

    def level_now(self, index: int, lasting_s: float, beats: int) -> float:
        """Return the median level of the last lasting_s up to this beat."""
        return median(self.smoothed(self.begin_of_last(index, lasting_s, beats), index + 1)[1])

    def is_flat(self, index: int, lasting_s: float, beats: int, most_N: float) -> bool:
        """Return whether the last lasting_s up to this beat stay within most_N."""
        # Without the hair's breadth a beat more or less would come and go with rounding.
        levels_N = self.smoothed(self.begin_of_last(index, lasting_s - 1e-9, beats), index + 1)[1]
        return len(levels_N) >= beats and max(levels_N) - min(levels_N) <= most_N

    def counted(self, begin: int, end: int) -> int:
        """Return the number of samples in the beats from begin to before end."""
        return sum(b.time_s.size for b in self.beats[max(begin - self.first, 0) : max(end - self.first, 0)])

    def number_at(self, time_s: float) -> int:
        """Return the number of the first kept beat that starts at or after a time."""
        return self.first + bisect_left(self.starts_s, time_s)

    def forget_before(self, index: int) -> None:
        """Drop all beats before this number."""
        gone = min(index - self.first, len(self.smooth_N))
        if gone < 64:  # now and then, not beat by beat
            return
        self.samples -= sum(beat.time_s.size for beat in self.beats[:gone])
        del self.beats[:gone], self.starts_s[:gone], self.smooth_N[:gone]
        self.first += gone

    def trace(self, from_s: float, to_s: float, flaws: list[Flaw]) -> Trace:
        """Return all kept samples from from_s to to_s, both included, and the flaws that touch them."""
        begin, end = max(self.number_at(from_s) - 1, self.first), self.number_at(to_s)
        chosen = [self.beat(index) for index in range(begin, min(end + 1, self.end))]
        time_s = np.concatenate([beat.time_s for beat in chosen])
        force_N = np.concatenate([beat.force_N for beat in chosen])
        kept = (time_s >= from_s) & (time_s <= to_s)
        touching = tuple(flaw for flaw in flaws if flaw.end_s >= from_s and flaw.start_s <= to_s)
        return Trace(time_s=time_s[kept], force_N=force_N[kept], flaws=touching)
