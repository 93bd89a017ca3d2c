"""Pulls held up, and the cards of any day in a logbook."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import numpy.typing as npt

from pullbench.analysis import ByHand
from pullbench.archive import LogbookReader, PullRow
from pullbench.errors import PageError
from pullbench.live.analyst import Reader
from pullbench.live.gain_kept import u_gain_at
from pullbench.live.messages import Sheet
from pullbench.live.settings import Settings
from pullbench.model import FloatArray, Pull
from pullbench.render import Card, budgets, card, coefficients, pull_of_record, told

MOST_POINTS = 6000
READ_WITHIN_S = 60.0


def sheet_of(pull: Pull, shown: Card, offset: float) -> Sheet:
    """Return a pull held up: its trace less the line of rest, thinned by least and most where it is long."""
    trace, rest_N = pull.window.trace, pull.rest_reading.value or 0.0
    kept = thinned(trace.force_N, MOST_POINTS)
    return Sheet(
        card=shown, pull=pull, offset_s=offset, kept=kept, time_s=trace.time_s[kept] + offset,
        force_N=trace.force_N[kept] - rest_N, budgets=budgets(pull), chosen=pull.chosen,
        rest=told(pull.rest_reading), coefficients=coefficients(pull),
    )  # fmt: skip


def thinned(force_N: FloatArray, most: int) -> npt.NDArray[np.int_]:
    """Return the indices of at most about `most` samples: of every group the lowest and the highest, in order."""
    if force_N.size <= most:
        return np.arange(force_N.size)
    edges = np.linspace(0, force_N.size, most // 2 + 1).astype(int)
    kept: list[int] = [0, force_N.size - 1]
    for first, last in pairwise(edges.tolist()):
        part = force_N[first:last]
        kept += (first + int(np.argmin(part)), first + int(np.argmax(part)))
    return np.unique(kept)


def cards_of(logbook: LogbookReader, day: str) -> tuple[Card, ...]:
    """Return the cards of any day in a logbook, as their newest readings tell them."""
    offsets = {row.id: row.offset_s for row in logbook.recordings(day)}
    settings = Settings(day, logbook)
    return tuple(
        found
        for row in logbook.pulls(day)
        if (found := card_of_row(row, offsets.get(row.recording, 0.0), settings))
    )


def card_of_row(row: PullRow, offset: float, settings: Settings | None = None) -> Card | None:
    """Return the card of a logbook's pull; None for a record that cannot be read."""
    try:
        pull = pull_of_record(row.reading.record)
    except ValueError:
        return None
    return card(
        pull, number=row.number, offset_s=offset, label=row.label, aside=row.aside, marked=row.marks is not None,
        read_again=row.readings > 1 and row.marks is None,
        setting=None if settings is None else settings.of(row.number, pull.window.start_s + offset),
    )  # fmt: skip


def sheet_from_logbook(logbook: LogbookReader, day: str, number: int, reader: Reader) -> Sheet:
    """Return a pull of any day held up.  Raises PageError, LogbookReaderError."""
    row = next((row for row in logbook.pulls(day) if row.number == number), None)
    if row is None:
        raise PageError(
            "pull-unknown",
            f"There is no pull {number} on {day}.",
            "The day lists its pulls.",
            "Ask for one of them.",
        )
    offset = logbook.recording(row.recording).offset_s
    u_gain = u_gain_at(logbook, day, row.recording, row.reading.start_s)
    by_hand = (
        None
        if row.marks is None
        else ByHand(breakaway_s=row.marks.breakaway_s, sliding_s=row.marks.sliding_s)
    )
    pull = reader.read(logbook.window(row.id), u_gain=u_gain, by_hand=by_hand).result(READ_WITHIN_S)
    shown = card_of_row(row, offset, Settings(day, logbook)) or card(
        pull, number=number, offset_s=offset, label=row.label
    )
    return sheet_of(pull, shown, offset)
