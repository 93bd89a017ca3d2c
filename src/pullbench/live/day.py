"""The pulls of a day: their numbers, cards and sheets, with or without a logbook behind them."""

from __future__ import annotations

import threading
from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass, replace

import msgspec

from pullbench import __version__
from pullbench.analysis import ByHand, Verification
from pullbench.archive import Logbook, PullRow
from pullbench.errors import LogbookError, PageError
from pullbench.live.analyst import Reader
from pullbench.live.day_pulls import day_pull
from pullbench.live.gain_kept import last_verification, u_gain_at
from pullbench.live.messages import Sheet
from pullbench.live.settings import Settings
from pullbench.live.sheets import READ_WITHIN_S, sheet_of
from pullbench.model import DayPull, Pull, PullWindow, Setting
from pullbench.render import Card, card, pull_of_record, pull_record, setting_card, with_samples

FULL_KEPT = 24  # pulls with their samples; others come back from the logbook


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a pull comes from.  u_gain: relative doubt of the force scale when it was caught."""

    recording: int
    offset_s: float
    source: str
    label: str | None
    u_gain: float


@dataclass(slots=True)
class Held:
    """One pull of the day.  identity: in the logbook, None without one.  law: what the laws take of it."""

    number: int
    identity: int | None
    recording: int
    offset_s: float
    label: str | None
    u_gain: float
    card: Card
    law: DayPull
    aside: str | None = None
    by_hand: ByHand | None = None
    read_again: bool = False


class Day:
    """The pulls of one day.  Safe from several threads; changes come one after the other."""

    def __init__(self, day: str, logbook: Logbook | None, reader: Reader) -> None:
        self.day, self._logbook, self._reader = day, logbook, reader
        self._held: dict[int, Held] = {}
        self._full: OrderedDict[int, Pull] = OrderedDict()
        self._change = threading.RLock()
        self.verified: Verification | None = None
        self.settings = Settings(day, logbook)
        self.changes = 0  # of pulls: who remembers an answer knows by it that it is old
        if logbook is not None:
            self.verified = last_verification(logbook, day)
            offsets = {row.id: row.offset_s for row in logbook.recordings(day)}
            for row in logbook.pulls(day):
                held = self._from_row(row, offsets.get(row.recording, 0.0))
                if held is not None:
                    self._held[row.number] = held

    @property
    def next_number(self) -> int:
        """Return the number that the next pull will get, unless another program takes it first."""
        return max(self._held, default=0) + 1

    @property
    def u_gain(self) -> float:
        """Return the relative doubt of the force scale, 0 while it was not verified."""
        return 0.0 if self.verified is None else self.verified.u_gain

    def cards(self) -> tuple[Card, ...]:
        """Return all cards in order of number."""
        return tuple(self._held[number].card for number in sorted(self._held))

    def card(self, number: int) -> Card:
        """Return one card.  Raises PageError."""
        return self._known(number).card

    def pulls(self) -> tuple[DayPull, ...]:
        """Return all pulls in order of number, as the laws take them."""
        with self._change:
            return tuple(self._held[number].law for number in sorted(self._held))

    def pull(self, number: int) -> DayPull:
        """Return one pull as the laws take it.  Raises PageError."""
        return self._known(number).law

    def identity(self, number: int) -> int | None:
        """Return a pull's place in the logbook, None without one.  Raises PageError."""
        return self._known(number).identity

    def settle(self) -> tuple[Card, ...]:
        """Give every pull the setting that it has by now; return the cards that this changed."""
        changed = []
        with self._change:
            for number in sorted(self._held):
                held = self._held[number]
                setting = self.settings.of(number, held.law.start_s)
                if setting != held.law.setting:
                    held.law = replace(held.law, setting=setting)
                    held.card = msgspec.structs.replace(held.card, setting=setting_card(setting))
                    changed.append(held.card)
                    self.changes += 1
        return tuple(changed)

    def readings(self, *, samples: bool) -> tuple[tuple[Card, Pull, Setting | None], ...]:
        """Return every card with its pull and setting, in order of number.

        samples: with its window, where that is still there.
        """
        found = []
        for number in sorted(self._held):
            held = self._held[number]
            if number not in self._full and (self._logbook is None or held.identity is None):
                continue  # let go: without a logbook only the last pulls are kept
            pull = self._pull_for_card(held)
            if samples and number not in self._full:
                with suppress(LogbookError):
                    pull = with_samples(pull, self.window(held))
            found.append((held.card, pull, held.law.setting))
        return tuple(found)

    def add(self, pull: Pull, number: int, place: Place) -> tuple[Card, bytes]:
        """Keep a new pull; return its card and record.  The logbook may give it another number than this.

        The clerk alone adds pulls, so no two come at once.
        """
        record, identity = pull_record(place.source, number, pull), None
        if self._logbook is not None:
            row = self._logbook.add_reading(
                place.recording, window=pull.window, record=record, version=__version__, at_least=number
            )
            identity = row.id
            if row.number != number:
                number, record = row.number, pull_record(place.source, row.number, pull)
        return self._hold(pull, number, identity, place), record

    def add_unkept(self, pull: Pull, number: int, place: Place) -> tuple[Card, bytes]:
        """Hold a pull in memory only, when the logbook cannot take it now."""
        return self._hold(pull, number, None, place), pull_record(place.source, number, pull)

    def _hold(self, pull: Pull, number: int, identity: int | None, place: Place) -> Card:
        law = day_pull(
            pull, number=number, offset_s=place.offset_s, label=place.label, aside=None, u_gain=place.u_gain,
            setting=self.settings.of(number, pull.window.start_s + place.offset_s),
        )  # fmt: skip
        shown = card(pull, number=number, offset_s=place.offset_s, label=place.label, setting=law.setting)
        held = Held(number, identity, place.recording, place.offset_s, place.label, place.u_gain, shown, law)
        with self._change:
            self._held[number] = held
            self._keep_full(number, pull)
            self.changes += 1
        return shown

    def set_aside(self, number: int, why: str | None) -> Card:
        """Set a pull aside and say why, or bring it back (None)."""
        held = self._known(number)
        with self._change:
            if self._logbook is not None and held.identity is not None:
                if why is None:
                    self._logbook.bring_back(held.identity)
                else:
                    self._logbook.set_aside(held.identity, why)
            held.aside = why
            return self._renewed(held, self._pull_for_card(held))

    def mark(self, number: int, moved: ByHand | None) -> tuple[Card, bytes]:
        """Read a pull again with moments set by hand (own seconds), or without (None); return card and record.

        What is not moved keeps its earlier move.  Raises PageError, ConditionsError, LogbookError.
        """
        held = self._known(number)
        if moved is not None:
            before = held.by_hand or ByHand()
            moved = ByHand(
                breakaway_s=before.breakaway_s if moved.breakaway_s is None else moved.breakaway_s,
                sliding_s=before.sliding_s if moved.sliding_s is None else moved.sliding_s,
            )
        pull = self._read(held, self.window(held), moved)
        record = pull_record(self._source_of(held), number, pull)
        with self._change:
            self._write_marks(held, moved, pull, record)
            held.by_hand = moved
            self._keep_full(number, pull)
            return self._renewed(held, pull), record

    def sheet(self, number: int) -> Sheet:
        """Return one pull held up.  Raises PageError, LogbookError."""
        held = self._known(number)
        pull = self._full.get(number)
        if pull is None:
            pull = self._read(held, self.window(held), held.by_hand)
            with self._change:
                self._keep_full(number, pull)
                before, law = held.card, held.law
                if (
                    self._renewed(held, pull).breakaway != before.breakaway
                    or held.card.kinetic != before.kinetic
                ):
                    held.card, held.law = (
                        before,
                        law,
                    )  # a newer analysis reads otherwise: what was told stands until it is read again
        return sheet_of(pull, held.card, held.offset_s)

    def own_s(self, number: int, bench_s: float) -> float:
        """Return a moment in the own seconds of the recording that holds a pull."""
        return bench_s - self._known(number).offset_s

    def window(self, held: Held) -> PullWindow:
        """Return the window of a pull, from memory or from its raw samples."""
        full = self._full.get(held.number)
        if full is not None:
            return full.window
        if self._logbook is None or held.identity is None:
            raise PageError(
                "pull-let-go", f"The samples of pull {held.number} are no longer in memory.",
                "Without a logbook only the last pulls are kept.", "Go on watch with --logbook FILE.",
            )  # fmt: skip
        return self._logbook.window(held.identity)

    def _read(self, held: Held, window: PullWindow, by_hand: ByHand | None) -> Pull:
        return self._reader.read(window, u_gain=held.u_gain, by_hand=by_hand).result(READ_WITHIN_S)

    def _write_marks(self, held: Held, moved: ByHand | None, pull: Pull, record: bytes) -> None:
        if self._logbook is None or held.identity is None:
            return
        if moved is None:
            self._logbook.unmark(held.identity)
        else:
            self._logbook.mark(held.identity, breakaway_s=moved.breakaway_s, sliding_s=moved.sliding_s)
        self._logbook.add_reading(
            held.recording, window=pull.window, record=record, version=__version__, pull_number=held.number,
            made_by="marks",
        )  # fmt: skip

    def _known(self, number: int) -> Held:
        held = self._held.get(number)
        if held is None:
            known = f"Today has pulls 1 to {max(self._held)}." if self._held else "Today has no pull yet."
            raise PageError(
                "pull-unknown", f"There is no pull {number} today.", known, "Ask for one of them."
            )
        return held

    def _pull_for_card(self, held: Held) -> Pull:
        full = self._full.get(held.number)
        if full is not None:
            return full
        assert self._logbook is not None
        assert held.identity is not None
        return pull_of_record(self._logbook.pull(held.identity).reading.record)

    def _renewed(self, held: Held, pull: Pull) -> Card:
        held.card = card(
            pull, number=held.number, offset_s=held.offset_s, label=held.label, aside=held.aside,
            marked=held.by_hand is not None, read_again=held.read_again, setting=held.law.setting,
        )  # fmt: skip
        held.law = day_pull(
            pull, number=held.number, offset_s=held.offset_s, label=held.label, aside=held.aside, u_gain=held.u_gain,
            setting=held.law.setting,
        )  # fmt: skip
        self.changes += 1
        return held.card

    def _keep_full(self, number: int, pull: Pull) -> None:
        self._full[number] = pull
        self._full.move_to_end(number)
        while len(self._full) > (FULL_KEPT if self._logbook is not None else 20 * FULL_KEPT):
            oldest = next(
                (n for n in self._full if self._logbook is None or self._held[n].identity is not None), None
            )
            if oldest is None:
                return
            del self._full[oldest]

    def _source_of(self, held: Held) -> str:
        if self._logbook is not None:
            return self._logbook.recording(held.recording).source
        return "live"

    def _from_row(self, row: PullRow, offset: float) -> Held | None:
        try:
            pull = pull_of_record(row.reading.record)
        except ValueError:  # a record of a form that this version cannot read; its samples are still there
            return None
        by_hand = (
            None
            if row.marks is None
            else ByHand(breakaway_s=row.marks.breakaway_s, sliding_s=row.marks.sliding_s)
        )
        assert self._logbook is not None
        u_gain = u_gain_at(self._logbook, row.day, row.recording, row.reading.start_s)
        law = day_pull(
            pull, number=row.number, offset_s=offset, label=row.label, aside=row.aside, u_gain=u_gain,
            setting=self.settings.of(row.number, pull.window.start_s + offset),
        )  # fmt: skip
        held = Held(
            row.number, row.id, row.recording, offset, row.label, u_gain,
            card=card(pull, number=row.number), law=law, aside=row.aside, by_hand=by_hand,
            read_again=row.readings > 1 and row.marks is None,
        )  # fmt: skip
        self._renewed(held, pull)
        return held
