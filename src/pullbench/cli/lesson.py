"""The coefficients of a lesson as the shell asks for them: from a day of the logbook, or from the handbook."""

from __future__ import annotations

from pathlib import Path

from pullbench.archive import LogbookReader
from pullbench.errors import LogbookError
from pullbench.live.lesson import USUAL_SURFACES, DayRead, handbook_lesson, kept_of, lesson_of

__all__ = ["NO_DAY", "USUAL_SURFACES", "DayRead", "day_read"]

NO_DAY = "none"


def day_read(day: str, logbook: Path | None, usual: Path, surfaces: str, *, samples: bool = False) -> DayRead:
    """Return what a day gives to the next lesson.

    day: "latest", "none" or such as 2026-11-25.  logbook: as asked for, None for the usual one, which may be
    missing.  surfaces: of the handbook, when it has to stand in.  samples: with each pull's own window.
    Raises LogbookError for a file or a day that was asked for and is not there, ConditionsError for
    coefficients with limits that reach nought and for surfaces the handbook does not know.
    """
    if day == NO_DAY:
        return DayRead(lesson=handbook_lesson(surfaces))
    path = logbook or usual
    if not path.is_file():
        if logbook is not None or day != "latest":
            raise LogbookError(
                "logbook-missing", f"There is no logbook {path}.", "A watch makes one.",
                "Give --logbook the file of your watch, or use --day none.",
            )  # fmt: skip
        return DayRead(lesson=handbook_lesson(surfaces, f"There is no logbook {path} yet"))
    reader = LogbookReader(path)
    days = [row.day for row in reader.days()]
    if day != "latest" and day not in days:
        raise LogbookError(
            "day-unknown", f"The logbook {path} has no day {day!r}.",
            f"Its last days are {', '.join(days[-5:])}." if days else "It holds no day yet.",
            "Give --day one of its days, latest or none.",
        )  # fmt: skip
    if not days:
        return DayRead(lesson=handbook_lesson(surfaces, f"The logbook {path} holds no day yet"))
    name = days[-1] if day == "latest" else day
    pulls = tuple(kept_of(reader, reader.pulls(name), samples=samples))
    return DayRead(lesson=lesson_of(pulls, name, surfaces), day=name, pulls=pulls)
