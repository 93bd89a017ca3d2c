"""From windows to readings: each is read elsewhere, written by the clerk, told to all."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future

from pullbench.archive import RecordingRow
from pullbench.errors import LogbookError
from pullbench.live.analyst import Reader
from pullbench.live.clerk import Clerk
from pullbench.live.day import Day, Place
from pullbench.live.messages import PullTold, Refreshed
from pullbench.live.telling import Teller
from pullbench.live.under_way import UnderWay
from pullbench.model import Pull, PullWindow
from pullbench.render import card
from pullbench.sources import Source

READ_WITHIN_S = 120.0


class Readings:
    """Readings under way.  The bench's thread hands windows in and never waits.

    caught: called, by the clerk, after a pull was read and told.
    """

    def __init__(
        self,
        source: Source,
        day: Day,
        reader: Reader,
        clerk: Clerk,
        teller: Teller,
        *,
        caught: Callable[[], None],
    ) -> None:
        self._caught_one = caught
        self._source, self._day, self._reader, self._clerk, self._teller = source, day, reader, clerk, teller
        self._next_number = day.next_number
        self._under_way, self._change = 0, threading.Condition()

    def read(self, here: UnderWay, window: PullWindow) -> None:
        """Have a complete window read, kept and told."""
        here.completed += 1
        place = Place(
            recording=here.identity, offset_s=here.offset_s or 0.0, source=self._source.name,
            label=self._source.label, u_gain=self._day.u_gain,
        )  # fmt: skip
        self._read(place, window)

    def catch_up(self, row: RecordingRow, window: PullWindow) -> None:
        """Have a window of an earlier recording read, which a killed watch left unread."""
        self._read(
            Place(
                recording=row.id, offset_s=row.offset_s, source=row.source, label=row.label,
                u_gain=self._day.u_gain,
            ),
            window,
        )  # fmt: skip

    def _read(self, place: Place, window: PullWindow) -> None:
        number, self._next_number = self._next_number, self._next_number + 1
        with self._change:
            self._under_way += 1
        future = self._reader.read(window, u_gain=place.u_gain)
        future.add_done_callback(lambda done: self._clerk.do(lambda: self._caught(place, number, done)))

    def next_number(self, here: UnderWay | None) -> int:
        """Return the number of the next pull that begins: after those read, and those that wait for their rest."""
        return self._next_number + (0 if here is None else here.watch.pulls_waiting)

    def look(self, here: UnderWay) -> None:
        """Have the newest pull that waits for its rest after read now, once; told as a first reading."""
        waiting = here.watch.pulls_waiting
        if not waiting or here.completed + waiting <= here.looked_at:
            return
        window = here.watch.first_look()
        if window is None:
            return
        here.looked_at = here.completed + waiting
        number, offset_s = self._next_number + waiting - 1, here.offset_s or 0.0
        future = self._reader.read(window, u_gain=self._day.u_gain)
        future.add_done_callback(lambda done: self._looked(number, offset_s, done))

    def wait(self) -> None:
        """Return when everything handed in has been read."""
        with self._change:
            self._change.wait_for(lambda: self._under_way == 0, timeout=READ_WITHIN_S)

    def _caught(self, place: Place, number: int, done: Future[Pull]) -> None:
        try:
            pull = done.result()
            try:
                told_card, record = self._day.add(pull, number, place)
            except LogbookError as fault:
                self._teller.trouble(fault)
                told_card, record = self._day.add_unkept(pull, number, place)
            self._teller.tell(PullTold(told_card, record))
            if told_card.number != number:  # another program took the number meanwhile
                self._next_number += told_card.number - number
                self._teller.tell(Refreshed())
            self._caught_one()
        finally:
            with self._change:
                self._under_way -= 1
                self._change.notify_all()

    def _looked(self, number: int, offset_s: float, done: Future[Pull]) -> None:
        if done.cancelled() or done.exception() is not None:
            return  # the final reading will say
        pull = done.result()
        first = card(
            pull, number=number, offset_s=offset_s, label=self._source.label, provisional=True,
            setting=self._day.settings.of(number, pull.window.start_s + offset_s),
        )  # fmt: skip
        self._teller.tell(PullTold(first))
