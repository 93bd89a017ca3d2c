"""The pulls of a day as the laws need them, from what is in memory or from a logbook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pullbench.archive import LogbookReader
from pullbench.live.gain_kept import u_gain_at
from pullbench.live.settings import Settings
from pullbench.model import DayPull, Measured, Pull, Setting, Verdict
from pullbench.render import pull_of_record

NO_SURFACE = "its surface was not said"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A pull that does not count, and why."""

    number: int
    why: str


def day_pull(
    pull: Pull, *, number: int, offset_s: float, label: str | None, aside: str | None, u_gain: float,
    setting: Setting | None,
) -> DayPull:  # fmt: skip
    """Return what the laws need of a pull; offset_s: from the recording's own seconds to bench seconds."""
    again = pull.verdict is Verdict.PULL_AGAIN
    moment = pull.breakaway.time_s
    return DayPull(
        number=number, start_s=pull.window.start_s + offset_s, end_s=pull.window.end_s + offset_s,
        static=pull.breakaway.force, kinetic=pull.plateau.force, verdict=pull.verdict,
        why_again=(pull.findings[0].name if pull.findings else "pull again") if again else None,
        break_s=None if moment is None else moment + offset_s, aside=aside, setting=setting, u_gain=u_gain, label=label,
    )  # fmt: skip


def pulls_of_day(logbook: LogbookReader, day: str) -> tuple[DayPull, ...]:
    """Return a day's pulls by number, each with its setting; a record that cannot be read is left out."""
    offsets = {row.id: row.offset_s for row in logbook.recordings(day)}
    settings = Settings(day, logbook)
    found = []
    for row in logbook.pulls(day):
        try:
            pull = pull_of_record(row.reading.record)
        except ValueError:
            continue
        offset_s = offsets.get(row.recording, 0.0)
        found.append(day_pull(
            pull, number=row.number, offset_s=offset_s, label=row.label, aside=row.aside,
            u_gain=u_gain_at(logbook, day, row.recording, row.reading.start_s),
            setting=settings.of(row.number, pull.window.start_s + offset_s),
        ))  # fmt: skip
    return tuple(found)


def label_of(pulls: Sequence[DayPull]) -> str | None:
    """Return what must stand beside numbers made of these pulls: "simulated", "replayed" or None."""
    return next((pull.label for pull in pulls if pull.label), None)


def number_of(force: Measured) -> float | None:
    """Return a value; a bound is not one to fill a law with."""
    return force.value if force.kind == "value" else None


def surface_name(pull: DayPull) -> str:
    """Return the surface a pull was on, "" when nobody said one."""
    return "" if pull.setting is None else pull.setting.surface


def on_surface(pull: DayPull, surface: str) -> DayPull:
    """Return a pull as if it had been said to be on a surface."""
    return replace(pull, setting=replace(pull.setting or Setting(), surface=surface))
