"""What the bench is measured against: its rest reading, its check at rest, known masses."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence

import numpy as np

from pullbench.analysis import Hung, Verification, bench_check, verify
from pullbench.archive import Logbook
from pullbench.errors import ConditionsError, PageError, RecordingError
from pullbench.live.clerk import Clerk
from pullbench.live.day import Day
from pullbench.live.gain_kept import verification_noted
from pullbench.live.messages import CheckTold
from pullbench.live.null import RestNow
from pullbench.live.strip import Strip
from pullbench.live.telling import Teller
from pullbench.live.under_way import UnderWay
from pullbench.model import Trace
from pullbench.render import CheckCard, check_card

CHECK_S = 2.8
NULL_NOTED_S = 60.0
HUNG_S = 1.0
"""A hung mass is read over so long about the moment that was told."""
STILL = 0.02  # of the reading: what moves more still swings


class Standards:
    """Keeps what is taken off, makes the bench check when there is rest for it, reads hung masses."""

    def __init__(
        self, label: str | None, logbook: Logbook | None, day: Day, clerk: Clerk, teller: Teller
    ) -> None:
        self._label, self._logbook, self._day, self._clerk, self._teller = label, logbook, day, clerk, teller
        self._noted: tuple[int, RestNow] | None = None
        self.check: CheckCard | None = None
        self.wanted = True

    def follow(self, here: UnderWay) -> None:
        """Look at the rest reading after new samples."""
        rest = here.null.now
        if rest is not None and rest.settled:
            self._note_null(here, rest)
        if self.wanted:
            self._try_check(here)

    def verify_with(self, hung: Sequence[tuple[float, float]], here: UnderWay, strip: Strip) -> Verification:
        """Take the force scale from masses (kg) at moments (bench seconds); the rest reading counts as none hung."""
        rest = here.null.now
        if rest is None:
            raise not_on_watch()
        readings = [Hung(mass_kg=0.0, reading_N=0.0, u_reading_N=rest.u_N)]
        readings += [_hung(kg, at_s, rest, strip) for kg, at_s in hung]
        verified = verify(readings)
        self._day.verified = verified
        self._note("gain", verification_noted(verified), here, here.newest_s)
        self.wanted = True
        return verified

    def _note_null(self, here: UnderWay, rest: RestNow) -> None:
        """Keep what is taken off: when it changes by more than its doubt, and once a minute."""
        if self._logbook is None:
            return
        if self._noted is not None and self._noted[0] == here.identity:
            before = self._noted[1]
            same = abs(before.rest_N - rest.rest_N) <= 2 * math.hypot(before.u_N, rest.u_N)
            if rest is before or (same and rest.at_s - before.at_s < NULL_NOTED_S):
                return
        self._noted = (here.identity, rest)
        noted = json.dumps({"rest_N": rest.rest_N, "u_N": rest.u_N, "noise_N": rest.noise_N}).encode()
        self._note("null", noted, here, rest.at_s)

    def _note(self, kind: str, noted: bytes, here: UnderWay, at_s: float) -> None:
        logbook = self._logbook
        if logbook is not None:
            self._clerk.do(lambda: logbook.note_conditions(here.identity, kind=kind, noted=noted, at_s=at_s))

    def _try_check(self, here: UnderWay) -> None:
        time_s, force_N = here.null.quiet_trace()
        if time_s.size < 2 or time_s[-1] - time_s[0] < CHECK_S:
            return
        self.wanted = False
        self._clerk.do(lambda: self._make_check(Trace(time_s=time_s, force_N=force_N)))

    def _make_check(self, trace: Trace) -> None:
        try:
            check = bench_check(trace)
        except RecordingError:
            return  # too few samples to say anything: the strip shows that by itself
        self.check = check_card(check, label=self._label, verified=self._day.verified)
        self._teller.tell(CheckTold(self.check))


def _hung(mass_kg: float, at_s: float, rest: RestNow, strip: Strip) -> Hung:
    """Return a mass with its reading above rest, from the strip's finest columns about a moment.

    u: one column's scatter over the root of ten, as neighbouring columns are alike; and the resolution.
    """
    pairs = strip.columns(at_s - HUNG_S / 2, at_s + HUNG_S / 2, 100).pairs
    seen = pairs[~np.isnan(pairs[:, 0])]
    if seen.shape[0] < 4:
        raise PageError(
            "mass-without-samples", f"There are no samples about {at_s:.1f} s.", "A mass is read while it hangs still.",
            "Hang it, wait two seconds, then say so.",
        )  # fmt: skip
    middles = seen.mean(axis=1, dtype=np.float64)
    level, spread = float(middles.mean()), float(middles.std())
    if spread > max(10 * rest.noise_N, STILL * abs(level)):
        raise ConditionsError(
            "mass-not-still", f"The reading about {at_s:.1f} s moves by {spread:.2g} N.",
            "A mass is read while it hangs still.", "Wait until it no longer swings, then say so again.",
        )  # fmt: skip
    u_N = math.hypot(
        rest.step_N / math.sqrt(12), max(spread, rest.noise_N) / math.sqrt(min(middles.size, 10))
    )
    return Hung(mass_kg=mass_kg, reading_N=level, u_reading_N=u_N)


def not_on_watch() -> PageError:
    """Return the refusal of what needs samples."""
    return PageError(
        "not-on-watch", "No samples come.", "Masses are read while on watch.", "Go on watch first."
    )
