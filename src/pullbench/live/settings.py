"""What is on the sled through the day: said, corrected, grown by itself; each pull has what held when it began."""

from __future__ import annotations

import math
import threading
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from pullbench.archive import Logbook, LogbookReader
from pullbench.errors import ConditionsError
from pullbench.model import DayPull, Setting, Verdict

USUAL_STEP_KG = 0.5  # what "next load" adds when nobody said a step: one sand-filled tin
NOTHING_SAID = Setting()


@dataclass(frozen=True, slots=True)
class Change:
    """A setting that holds from at_s (bench seconds) on."""

    at_s: float
    setting: Setting


class Settings:
    """The settings of one day, and the pulls whose setting was corrected.  Safe from several threads."""

    def __init__(self, day: str, logbook: LogbookReader | None) -> None:
        self._day = day
        self._lock = threading.RLock()
        self._changes: list[Change] = []
        self._corrected: dict[int, Setting] = {}
        self.count = 0  # of changes: who remembers an answer knows by it that it is old
        if logbook is not None:
            for row in logbook.settings(day):
                self._insert(Change(-math.inf if row.at_s is None else row.at_s, row.setting))
            self._corrected = {row.number: row.setting for row in logbook.corrections(day)}

    @property
    def now(self) -> Setting:
        """Return the setting in force."""
        return self._changes[-1].setting if self._changes else NOTHING_SAID

    def of(self, number: int, start_s: float) -> Setting | None:
        """Return the setting of a pull that began at start_s; None when nothing was said.

        A sled that is weighed later in the day was as heavy before: a pull without the sled's mass gets the one
        that was said next.
        """
        with self._lock:
            held = [change for change in self._changes if change.at_s <= start_s]
            later = self._changes[len(held) :]
            setting = self._corrected.get(number, held[-1].setting if held else NOTHING_SAID)
            if setting.sled_kg is None:
                weighed = [c.setting.sled_kg for c in (*held[-1:], *later) if c.setting.sled_kg is not None]
                setting = replace(setting, sled_kg=weighed[0]) if weighed else setting
            return setting if setting.said else None

    def change(
        self, setting: Setting, at_s: float, logbook: Logbook | None, *, made_by: str = "teacher"
    ) -> None:
        """Let a setting hold from at_s on.  Raises LogbookError, and then nothing changes."""
        if logbook is not None:
            kept_s = at_s if math.isfinite(at_s) else None
            logbook.note_setting(self._day, setting, at_s=kept_s, made_by=made_by)
        with self._lock:
            self._insert(Change(at_s, setting))

    def correct(self, number: int, setting: Setting, identity: int | None, logbook: Logbook | None) -> None:
        """Give one pull a setting of its own.  Raises LogbookError, and then nothing changes."""
        if logbook is not None and identity is not None:
            logbook.correct_setting(identity, setting)
        with self._lock:
            self._corrected[number] = setting
            self.count += 1

    def step_after(self, pulls: Sequence[DayPull]) -> Change | None:
        """Return the load that is next by itself, and from when on; None while it is not time.

        Counted are usable pulls, not set aside, that began since the last change of any kind.  The step holds
        from the end of the pull that completes the count: the tin goes on before that pull has been read.
        """
        with self._lock:
            now, since_s = self.now, self._changes[-1].at_s if self._changes else -math.inf
        if now.step_kg is None or now.load_kg is None:
            return None
        counted = [
            pull for pull in pulls
            if pull.start_s >= since_s and pull.left_out is None and pull.verdict is not Verdict.PULL_AGAIN
        ]  # fmt: skip
        if len(counted) < now.pulls_per_step:
            return None
        return Change(counted[now.pulls_per_step - 1].end_s, next_load(now))

    def _insert(self, change: Change) -> None:
        """Put a change in its place by time; of two at one moment the later said holds."""
        places = (k for k in range(len(self._changes), 0, -1) if self._changes[k - 1].at_s <= change.at_s)
        self._changes.insert(next(places, 0), change)
        self.count += 1


def next_load(setting: Setting) -> Setting:
    """Return the setting with one step more on the sled.  Raises ConditionsError when that is too much."""
    return replace(setting, load_kg=round((setting.load_kg or 0.0) + (setting.step_kg or USUAL_STEP_KG), 9))


def known_surfaces(pulls: Iterable[DayPull]) -> tuple[str, ...]:
    """Return the surfaces of some pulls in the order they were first pulled on."""
    return tuple(
        dict.fromkeys(p.setting.surface for p in pulls if p.setting is not None and p.setting.surface)
    )


def name_among(names: Iterable[str], typed: str) -> str | None:
    """Return the name that was meant, however it was typed, or None."""
    return next((name for name in names if name.strip().lower() == typed.strip().lower()), None)


def the_surface(pulls: Sequence[DayPull], surface: str) -> str:
    """Return a day's name of a surface, however it was typed.  Raises ConditionsError when it has none of it."""
    known = known_surfaces(pulls)
    found = name_among(known, surface)
    if found is None:
        raise ConditionsError(
            "surface-unknown", f"No pull of the day is on {surface.strip()!r}.",
            f"Its surfaces are {', '.join(known)}." if known else "No surface was said on that day.",
            "Name one of them." if known else "Say it with the pull: surface felt.",
        )  # fmt: skip
    return found
