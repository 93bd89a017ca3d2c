"""The logbook: raw samples for ever, every reading with the version that made it."""

from pullbench.archive.logbook import Logbook
from pullbench.archive.reader import LogbookReader
from pullbench.archive.rescue import rescue
from pullbench.archive.rows import (
    ConditionsRow,
    DayRow,
    Marks,
    NewsRow,
    PullRow,
    ReadingRow,
    RecordingRow,
    Stretches,
)

__all__ = [
    "ConditionsRow",
    "DayRow",
    "Logbook",
    "LogbookReader",
    "Marks",
    "NewsRow",
    "PullRow",
    "ReadingRow",
    "RecordingRow",
    "Stretches",
    "rescue",
]
