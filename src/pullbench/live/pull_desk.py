"""Today's pulls as a teacher handles them: held up, set aside, marked by hand."""

from __future__ import annotations

from collections.abc import Callable

from pullbench.analysis import ByHand
from pullbench.errors import PageError
from pullbench.live.day import Day
from pullbench.live.messages import PullTold, Sheet
from pullbench.live.telling import Teller
from pullbench.model import Pull, Setting
from pullbench.render import Card


class PullDesk:
    """Reads and changes the pulls of a session's day; what changes is told to all listeners.  From any thread.

    changed: called after each change, for what hangs on the pulls.
    """

    def __init__(self, day: Day, teller: Teller, *, changed: Callable[[], None]) -> None:
        self._day, self._teller, self._after = day, teller, changed

    def card(self, number: int) -> Card:
        """Return a pull's card.  Raises PageError."""
        return self._day.card(number)

    def readings(self, *, samples: bool = False) -> tuple[tuple[Card, Pull, Setting | None], ...]:
        """Return every card of today with its pull and setting.  samples: with its window, where it is still there."""
        return self._day.readings(samples=samples)

    def sheet(self, number: int) -> Sheet:
        """Return a pull held up.  Raises PageError, LogbookError."""
        return self._day.sheet(number)

    def set_aside(self, number: int, why: str) -> Card:
        """Set a pull aside and say why.  Raises PageError, LogbookError."""
        if not why.strip():
            raise PageError(
                "why-missing", f"Pull {number} would be set aside without a reason.",
                "A reason has 1 to 200 characters.",
                "Say why.",
            )  # fmt: skip
        changed = self._day.set_aside(number, why.strip()[:200])
        return self._changed(PullTold(changed)).card

    def bring_back(self, number: int) -> Card:
        """Bring a pull back."""
        return self._changed(PullTold(self._day.set_aside(number, None))).card

    def _changed(self, told_of: PullTold) -> PullTold:
        self._teller.tell(told_of)
        self._after()
        return told_of

    def mark(
        self, number: int, *, breakaway_s: float | None = None, sliding_s: tuple[float, float] | None = None
    ) -> Sheet:
        """Read a pull again with moments set by hand, in bench seconds; what is not told keeps its place."""
        own = self._day.own_s(number, 0.0)
        moved = ByHand(
            breakaway_s=None if breakaway_s is None else breakaway_s + own,
            sliding_s=None if sliding_s is None else (sliding_s[0] + own, sliding_s[1] + own),
        )
        self._changed(PullTold(*self._day.mark(number, moved)))
        return self.sheet(number)

    def unmark(self, number: int) -> Sheet:
        """Take all moves by hand back."""
        self._changed(PullTold(*self._day.mark(number, None)))
        return self.sheet(number)
