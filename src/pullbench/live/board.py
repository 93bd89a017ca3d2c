"""What stands on the board beside the bench: the setting in force, the day's laws, the tilted board.

Nothing here is asked by the bench's own thread.  Answers are remembered until something changes, so that thirty
phones that look at the ladder cost one drawing.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from pullbench.archive import Logbook
from pullbench.errors import ConditionsError, LogbookError, PageError
from pullbench.live.day import Day
from pullbench.live.day_pulls import LeftOut, label_of
from pullbench.live.messages import PullTold, SettingNow, TiltNow
from pullbench.live.rungs import ladder_of, rungs_of
from pullbench.live.settings import next_load
from pullbench.live.side_by_side import comparison_of, surfaces_of
from pullbench.live.telling import Teller
from pullbench.live.two_roads import tilt_of
from pullbench.model import News, Quantity, Setting, TiltReading
from pullbench.render import (
    Card,
    Greyed,
    LadderCard,
    SurfaceCard,
    SurfacesCard,
    TiltCard,
    TiltReadingCard,
    cannot_words,
    ladder_card,
    mass_words,
    surfaces_card,
    tilt_card,
)
from pullbench.render.tokens import RoomName

MOST_REMEMBERED = 32
MOST_TILTS = 500
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class SettingChange:
    """What is to change of a setting; None stays as it is.  step: one step more on the sled ("next load")."""

    load_kg: float | None = None
    sled_kg: float | None = None
    surface: str | None = None
    u_load_kg: float | None = None
    step_kg: float | None = None
    pulls_per_step: int | None = None
    step: bool = False

    def of(self, before: Setting) -> Setting:
        """Return the setting after the change.  Raises ConditionsError."""
        changed = replace(
            before,
            load_kg=before.load_kg if self.load_kg is None else self.load_kg,
            sled_kg=before.sled_kg if self.sled_kg is None else self.sled_kg,
            surface=before.surface if self.surface is None else " ".join(self.surface.split()),
            u_load_kg=before.u_load_kg if self.u_load_kg is None else self.u_load_kg,
            step_kg=before.step_kg if self.step_kg is None else self.step_kg,
            pulls_per_step=before.pulls_per_step if self.pulls_per_step is None else self.pulls_per_step,
        )
        return next_load(changed) if self.step else changed


class Board:
    """The day's settings, laws and tilt readings.

    moment: bench seconds now, -inf before the day's first sample.  All orders raise ConditionsError or PageError for
    what cannot be, LogbookError for what cannot be kept; then nothing changes.
    """

    def __init__(
        self, day: Day, logbook: Logbook | None, teller: Teller, *, moment: Callable[[], float]
    ) -> None:
        self._day, self._logbook, self._teller, self._moment = day, logbook, teller, moment
        self._change, self._drawing = threading.RLock(), threading.Lock()
        rows = () if logbook is None else logbook.tilts(day.day)
        self._tilts = [row.reading for row in rows]
        self._tilt_ids: list[int | None] = [row.id for row in rows]
        self._remembered: dict[tuple[object, ...], tuple[tuple[int, ...], object]] = {}
        self._tilt_changes, self._said_by_hand = 0, False

    # -- settings ----------------------------------------------------------------------------------

    @property
    def setting(self) -> Setting:
        """Return the setting in force."""
        return self._day.settings.now

    def set(self, change: SettingChange) -> Setting:
        """Change what is on the sled, or what it stands on, for pulls that begin from now on."""
        with self._change:
            setting, self._said_by_hand = change.of(self.setting), True
            self._day.settings.change(setting, self._moment(), self._logbook)
            self._settled()
        return setting

    def told(self, setting: Setting, at_s: float) -> None:
        """Take what the source says is on its sled from at_s on, until a person says something else."""
        with self._change:
            if not self._said_by_hand:
                self._day.settings.change(setting, at_s, self._logbook, made_by="virtual bench")
                self._settled()

    def correct(self, number: int, change: SettingChange) -> Card:
        """Correct the setting of one pull that was pulled already."""
        with self._change:
            setting = change.of(self._day.pull(number).setting or Setting())
            self._day.settings.correct(number, setting, self._day.identity(number), self._logbook)
            self._settled()
        return self._day.card(number)

    def caught(self) -> None:
        """Look, after a pull was read, whether the next load is due; it holds from the end of that pull on."""
        with self._change:
            while (step := self._day.settings.step_after(self._day.pulls())) is not None:
                before = self.setting
                try:
                    self._day.settings.change(step.setting, step.at_s, self._logbook, made_by="step")
                except LogbookError as fault:
                    self._teller.trouble(fault)
                    self._day.settings.change(step.setting, step.at_s, None, made_by="step")
                pulls = "1 pull" if before.pulls_per_step == 1 else f"{before.pulls_per_step} pulls"
                load, then = mass_words(before.load_kg or 0.0), mass_words(step.setting.load_kg or 0.0)
                self._teller.tell_news(
                    News("setting", f"{pulls} at {load}. Next load: {then} from now on.", step.at_s)
                )
                self._settled()

    def _settled(self) -> None:
        for card in self._day.settle():
            self._teller.tell(PullTold(card))
        self._teller.tell(SettingNow(self.setting))

    # -- laws --------------------------------------------------------------------------------------

    def ladder(self, surface: str | None, room: RoomName) -> LadderCard:
        """Return the load ladder of today, or why there is none yet.  Raises ConditionsError for an unknown surface."""
        return self._once(("ladder", surface, room), lambda: self._ladder(surface, room))

    def _ladder(self, surface: str | None, room: RoomName) -> LadderCard:
        pulls = self._day.pulls()
        rungs = rungs_of(pulls, surface)
        greyed = _greyed(rungs.greyed)
        try:
            found = ladder_of(rungs)
        except ConditionsError as fault:
            return LadderCard(
                pulls=rungs.counted, greyed=greyed, surface=rungs.surface, surfaces=rungs.surfaces,
                cannot=cannot_words(fault),
            )  # fmt: skip
        return ladder_card(
            found, room=room, label=label_of(pulls), pulls=rungs.counted, greyed=greyed, surface=rungs.surface,
            surfaces=rungs.surfaces, alone=rungs.over_load_alone,
        )  # fmt: skip

    def surfaces(self, quantity: Quantity | None, margin: float | None, room: RoomName) -> SurfacesCard:
        """Return today's surfaces side by side, or why they cannot be."""
        return self._once(
            ("surfaces", quantity, margin, room), lambda: self._surfaces(quantity, margin, room)
        )

    def _surfaces(self, quantity: Quantity | None, margin: float | None, room: RoomName) -> SurfacesCard:
        pulls = self._day.pulls()
        kept: dict[str, list[int]] = {}
        for pull in pulls:
            if pull.setting is not None and pull.setting.surface:
                some = kept.setdefault(pull.setting.surface, [])
                some += [pull.number] if pull.left_out is None else []
        names = tuple(SurfaceCard(name, tuple(some)) for name, some in kept.items())
        greyed: tuple[Greyed, ...] = ()
        try:
            side = surfaces_of(pulls, quantity=quantity)
            greyed = _greyed(side.greyed)
            found = comparison_of(side, margin=margin)
        except ConditionsError as fault:
            return SurfacesCard(surfaces=names, greyed=greyed, cannot=cannot_words(fault))
        return surfaces_card(found, room=room, label=label_of(pulls), surfaces=names, greyed=greyed)

    def tilt(self, surface: str | None, room: RoomName, narrow: bool = False) -> TiltCard:
        """Return the tilt check of today, or why there is none yet.  Raises ConditionsError for an unknown surface.

        narrow: drawn for a phone.
        """
        return self._once(("tilt", surface, room, narrow), lambda: self._tilt(surface, room, narrow))

    def _tilt(self, surface: str | None, room: RoomName, narrow: bool) -> TiltCard:
        readings, pulls = self.tilts(), self._day.pulls()
        cards = tilt_cards(readings)
        try:
            roads = tilt_of(readings, pulls, surface)
        except ConditionsError as fault:
            if fault.code == "surface-unknown":
                raise
            return TiltCard(readings=cards, cannot=cannot_words(fault))
        return tilt_card(
            roads.check, room=room, label=label_of(pulls) if roads.pulls else None, readings=cards,
            surface=roads.surface, pulls=roads.pulls, narrow=narrow,
        )  # fmt: skip

    def _once(self, asked: tuple[object, ...], draw: Callable[[], T]) -> T:
        """Return a remembered answer while nothing has changed since, else a new one; one is drawn at a time."""
        with self._drawing:
            state = (self._day.changes, self._day.settings.count, self._tilt_changes)
            known = self._remembered.get(asked)
            if known is not None and known[0] == state:
                return known[1]  # type: ignore[return-value]
            answer = draw()
            if len(self._remembered) >= MOST_REMEMBERED:
                self._remembered.clear()
            self._remembered[asked] = (state, answer)
            return answer

    # -- the tilted board --------------------------------------------------------------------------

    def tilts(self) -> tuple[TiltReading, ...]:
        """Return today's trials on the tilted board, those left out among them."""
        return tuple(self._tilts)

    def add_tilt(self, reading: TiltReading) -> None:
        """Take a trial; without a surface it is on that of the setting."""
        with self._change:
            if len(self._tilts) >= MOST_TILTS:
                raise PageError(
                    "too-many-tilts", f"There are {len(self._tilts)} angles today.", f"It can be up to {MOST_TILTS}.",
                    "Go on tomorrow.",
                )  # fmt: skip
            if not reading.surface:
                reading = replace(reading, surface=self.setting.surface)
            number = None if self._logbook is None else self._logbook.note_tilt(self._day.day, reading)
            self._tilts.append(reading)
            self._tilt_ids.append(number)
            self._tilted()

    def set_tilt_aside(self, place: int, why: str | None) -> None:
        """Leave a trial out and say why, or bring it back (None)."""
        with self._change:
            if not 0 <= place < len(self._tilts):
                known = (
                    f"Today has angles 0 to {len(self._tilts) - 1}."
                    if self._tilts
                    else "Today has no angle yet."
                )
                raise PageError(
                    "tilt-unknown", f"There is no angle {place} today.", known, "Ask for one of them."
                )
            if why is not None and not why.strip():
                raise PageError(
                    "why-missing", "An angle would be left out without a reason.", "A reason has 1 to 200 characters.",
                    "Say why.",
                )  # fmt: skip
            told, number = None if why is None else why.strip()[:200], self._tilt_ids[place]
            if self._logbook is not None and number is not None:
                self._logbook.set_tilt_aside(number, told)
            self._tilts[place] = replace(self._tilts[place], aside=told)
            self._tilted()

    def _tilted(self) -> None:
        self._tilt_changes += 1
        self._teller.tell(TiltNow(tilt_cards(self._tilts)))


def tilt_cards(readings: Sequence[TiltReading]) -> tuple[TiltReadingCard, ...]:
    """Return trials as the page takes them."""
    return tuple(
        TiltReadingCard(
            i=place, kind=one.kind, angle_deg=one.angle_deg, acceleration_m_s2=one.acceleration_m_s2,
            surface=one.surface, aside=one.aside,
        )
        for place, one in enumerate(readings)
    )  # fmt: skip


def _greyed(left_out: Sequence[LeftOut]) -> tuple[Greyed, ...]:
    return tuple(Greyed(one.number, one.why) for one in left_out)
