"""The logbook: raw samples for ever, every reading with the version that made it."""

from pullbench.archive.logbook import Logbook
from pullbench.archive.reader import LogbookReader
from pullbench.archive.rescue import rescue
from pullbench.archive.rows import (
    ConditionsRow,
    CorrectionRow,
    DayRow,
    Marks,
    NewsRow,
    OpenSlips,
    PredictionRow,
    PullRow,
    ReadingRow,
    RecordingRow,
    SettingRow,
    Stretches,
    TiltRow,
)

__all__ = [
    "ConditionsRow",
    "CorrectionRow",
    "DayRow",
    "Logbook",
    "LogbookReader",
    "Marks",
    "NewsRow",
    "OpenSlips",
    "PredictionRow",
    "PullRow",
    "ReadingRow",
    "RecordingRow",
    "SettingRow",
    "Stretches",
    "TiltRow",
    "rescue",
]
