"""The class's predictions as all handle them: asked, handed in, committed, revealed; told to all."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence

from pullbench.archive import Logbook
from pullbench.live.clerk import Clerk
from pullbench.live.day import Day
from pullbench.live.messages import PredictionNow
from pullbench.live.predictions import Predictions, compared, pull_after
from pullbench.live.telling import Teller
from pullbench.model import Prediction, Slip
from pullbench.render import PredictionCard, prediction_card


class SlipDesk:
    """The question of the moment; what changes is told to all listeners.  From any thread.

    moment: bench seconds now, -inf before the day's first sample.  next_pull: the number that a pull that begins
    now will get.  All orders raise ConditionsError or PageError for what cannot be, LogbookError for what cannot be
    kept; then nothing changes.
    """

    def __init__(
        self, day: Day, logbook: Logbook | None, clerk: Clerk, teller: Teller, *, moment: Callable[[], float],
        next_pull: Callable[[], int],
    ) -> None:  # fmt: skip
        self._day, self._clerk, self._teller = day, clerk, teller
        self._moment, self._next_pull = moment, next_pull
        self._predictions = Predictions(day.day, logbook)
        self._showing = threading.Lock()
        self._shown = self._card()

    @property
    def asked(self) -> Prediction | None:
        """Return the question and where it stands, or None; its slips only once they are committed."""
        return self._predictions.now

    @property
    def card(self) -> PredictionCard | None:
        """Return the question as it was told last.  Costs nothing."""
        return self._shown

    def look_again(self) -> None:
        """Tell the question anew when a pull that was read or changed settles it, or no longer does."""
        if self._predictions.now is not None:
            self._show(always=False)

    def open(self, asked: Prediction) -> PredictionCard | None:
        """Ask the class."""
        self._predictions.open(asked)
        return self._show()

    def hand_in(self, token: str, slip: Slip) -> None:
        """Take a slip from a page.  Told to all together with those that come at the same moment."""
        self._predictions.hand_in(token, slip)
        self._clerk.do_once("slips", self._show_slips)

    def count_hands(self, hands: Mapping[str, int]) -> PredictionCard | None:
        """Take a show of hands."""
        self._predictions.count_hands(hands)
        return self._show()

    def call_out(self, values_N: Sequence[float]) -> PredictionCard | None:
        """Take numbers that were called out."""
        self._predictions.call_out(values_N)
        return self._show()

    def commit(self) -> PredictionCard | None:
        """Let nobody change a slip from now on."""
        self._predictions.commit(self._next_pull(), self._moment())
        return self._show()

    def reveal(self, option: str | None = None) -> PredictionCard | None:
        """Show the slips beside what it was."""
        self._predictions.reveal(self._day.pulls(), option)
        return self._show()

    def clear(self) -> None:
        """Put the question away."""
        self._predictions.clear()
        self._show()

    def _show_slips(self) -> None:
        self._show()

    def _show(self, *, always: bool = True) -> PredictionCard | None:
        """Tell where the question stands; one after the other, so that the newest is told last."""
        with self._showing:
            card = self._card()
            if always or card != self._shown:
                self._shown = card
                self._teller.tell(PredictionNow(card))
        return card

    def _card(self) -> PredictionCard | None:
        asked = self._predictions.now
        if asked is None:
            return None
        pulls = self._day.pulls() if asked.state != "open" else ()
        pull = pull_after(asked, pulls) if asked.state == "committed" else None
        if asked.state == "revealed":
            pull = next((one for one in pulls if one.number == asked.pull and one.left_out is None), None)
        found = compared(asked, pulls) if asked.state == "revealed" and asked.kind == "which" else None
        return prediction_card(asked, pull=pull, found=found, decided=pull is not None)
