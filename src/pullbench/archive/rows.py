"""What a logbook tells: frozen rows, times of a recording in its own seconds (_s), others in unix seconds (_at)."""

from __future__ import annotations

from dataclasses import dataclass, field

from pullbench.model import FloatArray, News, Prediction, Setting, Slip, TiltReading


@dataclass(frozen=True, slots=True)
class RecordingRow:
    """One recording.  ended_at and ending are None while it is open; first_s and last_s without samples.

    offset_s: add it to the recording's own seconds to get bench seconds, the one axis of the day.
    """

    id: int
    day: str
    source: str
    label: str | None
    began_at: float
    kept_at: float
    ended_at: float | None
    ending: str | None
    first_s: float | None
    last_s: float | None
    count: int
    offset_s: float = 0.0


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day: "2026-11-25", how many recordings, samples and pulls, when it began and was last written."""

    day: str
    recordings: int
    samples: int
    pulls: int
    began_at: float
    kept_at: float


@dataclass(frozen=True, slots=True)
class NewsRow:
    """News as they were told.  after_s: time of the newest sample received before them, None before the first."""

    recording: int
    news: News
    after_s: float | None
    told_at: float


@dataclass(frozen=True, slots=True)
class ConditionsRow:
    """Something noted about the bench: kind ("load", "gain", "null" ...), JSON, from when it holds."""

    recording: int
    kind: str
    noted: bytes
    at_s: float | None
    noted_at: float


@dataclass(frozen=True, slots=True)
class Marks:
    """Moments moved by hand, seconds of the recording's own time; None where the reading's own holds."""

    breakaway_s: float | None = None
    sliding_s: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading of a pull: the JSON line of `pullbench read`, which version made it, why ("watch" ...), when."""

    id: int
    made_by: str
    version: str
    made_at: float
    start_s: float
    end_s: float
    record: bytes


@dataclass(frozen=True, slots=True)
class PullRow:
    """One pull with its newest reading.

    number: from 1 through the day, never used twice.  label: of its recording; must stand beside every
    number.  aside: why it is set aside, or None.  readings: how many were made.
    """

    id: int
    day: str
    number: int
    recording: int
    label: str | None
    caught_at: float
    reading: ReadingRow
    readings: int
    aside: str | None
    marks: Marks | None


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """One line per commit, for strips of hours: first and last time, samples, least and most force; shape (n,)."""

    first_s: FloatArray
    last_s: FloatArray
    count: FloatArray
    least_N: FloatArray
    most_N: FloatArray


@dataclass(frozen=True, slots=True)
class SettingRow:
    """A setting as it was said.  at_s: bench seconds from which it holds, None from the start of the day.

    made_by: "teacher", or "step" when the load grew by itself.
    """

    id: int
    at_s: float | None
    made_by: str
    set_at: float
    setting: Setting


@dataclass(frozen=True, slots=True)
class CorrectionRow:
    """The setting of one pull, corrected afterwards."""

    number: int
    set_at: float
    setting: Setting


@dataclass(frozen=True, slots=True)
class TiltRow:
    """One trial on the tilted board."""

    id: int
    read_at: float
    reading: TiltReading


@dataclass(frozen=True, slots=True)
class OpenSlips:
    """What is handed in to an open question: by page (a digest of its token), called out, and hands an answer."""

    by_page: dict[str, Slip] = field(default_factory=dict)
    called: tuple[Slip, ...] = ()
    hands: dict[str, int] = field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.by_page) + len(self.called) + sum(self.hands.values())

    def each(self) -> list[Slip]:
        """Return every slip, hands among them."""
        raised = [Slip(option=option) for option, count in self.hands.items() for _ in range(count)]
        return [*self.by_page.values(), *self.called, *raised]


@dataclass(frozen=True, slots=True)
class PredictionRow:
    """One question to the class; its slips once they are committed, until then what is handed in."""

    id: int
    prediction: Prediction
    handed_in: OpenSlips
