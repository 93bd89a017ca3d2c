"""A day of a logbook read again with this version's analysis; the readings before stay beside the new ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pullbench import __version__
from pullbench.analysis import ByHand, analyse
from pullbench.archive import Logbook, PullRow
from pullbench.live.gain_kept import u_gain_at
from pullbench.live.sheets import card_of_row
from pullbench.render import Card, card, pull_record


@dataclass(frozen=True, slots=True)
class ReadAgain:
    """One pull: its card before (None when that record cannot be read any more), its card now, what changed."""

    number: int
    version_before: str
    before: Card | None
    now: Card
    changed: bool


def read_again(logbook: Logbook, day: str) -> Iterator[ReadAgain]:
    """Read every pull of a day from its raw samples; a reading that differs is added, made by "read again".

    Marks set by hand and pulls set aside stay as they are.  Raises LogbookError.
    """
    for row in logbook.pulls(day):
        pull = analyse(
            logbook.window(row.id), u_gain=u_gain_at(logbook, day, row.recording, row.reading.start_s),
            by_hand=_by_hand(row),
        )  # fmt: skip
        recording = logbook.recording(row.recording)
        record = pull_record(recording.source, row.number, pull)
        changed = record != row.reading.record
        if changed:
            logbook.add_reading(
                row.recording, window=pull.window, record=record, version=__version__, pull_number=row.number,
                made_by="read again",
            )  # fmt: skip
        now = card(pull, number=row.number, offset_s=recording.offset_s, label=row.label, aside=row.aside)
        yield ReadAgain(row.number, row.reading.version, card_of_row(row, recording.offset_s), now, changed)


def _by_hand(row: PullRow) -> ByHand | None:
    if row.marks is None:
        return None
    return ByHand(breakaway_s=row.marks.breakaway_s, sliding_s=row.marks.sliding_s)
