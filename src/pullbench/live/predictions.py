"""What the class predicts: open, committed, revealed.  Slips have no names; whose they are is forgotten at commit.

A token is a page's own random text.  It only lets that page change its slip while the question is open, over a
restart of the watch too: the logbook then has a digest of it, which goes at commit.  It is in no answer and no file.
"""

from __future__ import annotations

import hashlib
import math
import threading
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace

from pullbench.archive import Logbook, OpenSlips
from pullbench.errors import ConditionsError, LogbookError, PageError
from pullbench.live.settings import name_among
from pullbench.live.side_by_side import comparison_of, surfaces_of
from pullbench.model import Comparison, DayPull, Measured, Prediction, Quantity, Slip
from pullbench.model.setting import HIGHEST_N

MOST_SLIPS = 300
TOKEN_LETTERS = range(8, 65)


class Predictions:
    """The one question of the moment.  Safe from several threads."""

    def __init__(self, day: str, logbook: Logbook | None) -> None:
        self._day, self._logbook, self._lock = day, logbook, threading.RLock()
        self._asked: Prediction | None = None
        self._identity: int | None = None
        self._in = OpenSlips()
        row = None if logbook is None else logbook.prediction(day)
        if row is not None:
            self._asked, self._identity, self._in = row.prediction, row.id, row.handed_in

    @property
    def now(self) -> Prediction | None:
        """Return the question and where it stands, or None; its slips only once they are committed."""
        with self._lock:
            if self._asked is None or self._asked.state != "open":
                return self._asked
            return replace(self._asked, count=len(self._in))

    def open(self, asked: Prediction) -> None:
        """Ask a question; what was asked before is put away."""
        with self._lock:
            identity = None if self._logbook is None else self._logbook.open_prediction(self._day, asked)
            self._asked, self._identity, self._in = asked, identity, OpenSlips()

    def hand_in(self, token: str, slip: Slip) -> None:
        """Take a slip, or the change of one.  Raises PageError when none is wanted, ConditionsError for nonsense."""
        if len(token) not in TOKEN_LETTERS or not token.isascii() or not token.isprintable():
            raise PageError(
                "token-unreadable", "The slip does not say which page it is from.",
                "A page's token has 8 to 64 plain letters.", "Load the page again.",
            )  # fmt: skip
        with self._lock:
            asked = self._open()
            told = checked(slip, asked)
            page = hashlib.blake2b(token.encode("ascii"), digest_size=16).hexdigest()
            if page not in self._in.by_page:
                self._room_for(1)
            self._in = replace(self._in, by_page={**self._in.by_page, page: told})
            self._keep()

    def count_hands(self, hands: Mapping[str, int]) -> None:
        """Take a show of hands: how many for each answer, in place of the show before."""
        with self._lock:
            asked = self._open()
            if asked.kind != "which":
                raise _wrong_kind("counts of hands", "numbers of newtons")
            counts = {checked(Slip(option=o), asked).option or "": n for o, n in hands.items()}
            for option, count in counts.items():
                if not 0 <= count <= MOST_SLIPS:
                    raise ConditionsError(
                        "hands-impossible", f"{count} hands are counted for {option!r}.",
                        f"It can be 0 to {MOST_SLIPS}.", "Count again.",
                    )  # fmt: skip
            merged = {**self._in.hands, **counts}
            self._room_for(sum(merged.values()) - sum(self._in.hands.values()))
            self._in = replace(self._in, hands=merged)
            self._keep()

    def call_out(self, values_N: Sequence[float]) -> None:
        """Take numbers that were called out, besides those handed in."""
        with self._lock:
            asked = self._open()
            slips = [checked(Slip(value_N=value), asked) for value in values_N]
            self._room_for(len(slips))
            self._in = replace(self._in, called=(*self._in.called, *slips))
            self._keep()

    def commit(self, before_pull: int, at_s: float) -> None:
        """Let nobody change a slip from now on; a pull after at_s is the one.  Whose they are is forgotten."""
        with self._lock:
            asked = self._open()
            slips = self._in.each()
            if not slips:
                raise PageError(
                    "no-slips", "Nobody has handed in a slip.", "One is enough.",
                    "Wait for the class, or type a show of hands.",
                )  # fmt: skip
            slips.sort(
                key=lambda one: (one.value_N or 0.0, one.plus_minus_N or 0.0, one.option or "")
            )  # in no one's order
            done = replace(
                asked, state="committed", slips=tuple(slips), count=len(slips), committed_before_pull=before_pull,
                committed_at_s=at_s if math.isfinite(at_s) else None,
            )  # fmt: skip
            if self._logbook is not None and self._identity is not None:
                self._logbook.commit_prediction(self._identity, done)
            self._asked, self._in = done, OpenSlips()

    def reveal(self, pulls: Sequence[DayPull], option: str | None) -> None:
        """Say what it was.  option: what came out, by the teacher, when the pulls do not tell.

        Raises PageError while there is nothing to reveal.
        """
        with self._lock:
            asked = self._asked
            if asked is None or asked.state != "committed":
                raise PageError(
                    "nothing-to-reveal", "No predictions are committed." if asked is None or asked.state == "open"
                    else "They are revealed already.", "Predictions are committed, then pulled, then revealed.",
                    "Commit them first." if asked is not None and asked.state == "open" else "Ask the next question.",
                )  # fmt: skip
            pull = pull_after(asked, pulls)
            if option is not None:
                option = checked(Slip(option=option), asked).option
            if pull is None and option is None:
                raise PageError(
                    "nothing-to-reveal", "There is no pull since the predictions were committed that tells it.",
                    "A usable pull settles it.", "Pull, then reveal.",
                )  # fmt: skip
            if option is None and asked.kind == "which":
                option = winner(asked, pulls)
            done = replace(asked, state="revealed", pull=None if pull is None else pull.number, option=option)
            if self._logbook is not None and self._identity is not None:
                self._logbook.reveal_prediction(self._identity, done)
            self._asked = done

    def clear(self) -> None:
        """Put the question away."""
        with self._lock:
            if self._logbook is not None and self._identity is not None:
                self._logbook.clear_prediction(self._identity)
            self._asked, self._identity, self._in = None, None, OpenSlips()

    def _open(self) -> Prediction:
        if self._asked is None or self._asked.state != "open":
            committed = self._asked is not None
            raise PageError(
                "prediction-closed", "The predictions are committed." if committed else "No question is open.",
                "Slips are taken while a question is open." if not committed else "After that nobody changes a slip.",
                "Wait for the next question." if committed else "Open one first.",
            )  # fmt: skip
        return self._asked

    def _room_for(self, more: int) -> None:
        if len(self._in) + more > MOST_SLIPS:
            raise PageError(
                "too-many-slips", f"There are {len(self._in)} slips already.", f"It can be up to {MOST_SLIPS}.",
                "Commit them.",
            )  # fmt: skip

    def _keep(self) -> None:
        """Keep what is handed in.  On a full disk, which the watch tells by itself, a slip counts all the same."""
        if self._logbook is not None and self._identity is not None:
            with suppress(LogbookError):
                self._logbook.keep_open_slips(self._identity, self._in)


def checked(slip: Slip, asked: Prediction) -> Slip:
    """Return a slip that fits the question.  Raises ConditionsError."""
    if asked.kind == "which":
        if slip.option is None:
            raise _wrong_kind("a number", f"one of {', '.join(asked.options)}")
        meant = name_among(asked.options, slip.option)
        if meant is None:
            raise ConditionsError(
                "option-unknown", f"{slip.option[:60]!r} is not among the answers.",
                f"They are {', '.join(asked.options)}.", "Choose one of them.",
            )  # fmt: skip
        return Slip(option=meant)
    if slip.value_N is None:
        raise _wrong_kind("a word", "a number of newtons")
    for what, number in (("prediction", slip.value_N), ("plus or minus", slip.plus_minus_N)):
        if number is not None and not 0 <= number <= HIGHEST_N:  # written so that NaN is refused too
            raise ConditionsError(
                "slip-impossible", f"The {what} is {number:g} N.", f"It must lie from 0 to {HIGHEST_N:g} N.",
                "Write it anew.",
            )  # fmt: skip
    return Slip(value_N=slip.value_N, plus_minus_N=slip.plus_minus_N)


def _wrong_kind(got: str, wanted: str) -> ConditionsError:
    return ConditionsError(
        "slip-unclear", f"The slip says {got}.", f"The question asks for {wanted}.", "Fill it in anew."
    )


def force_of(pull: DayPull, asked: Prediction) -> Measured:
    """Return the force of a pull that was asked about."""
    return pull.static if asked.quantity == "static_N" else pull.kinetic


def pull_after(asked: Prediction, pulls: Sequence[DayPull]) -> DayPull | None:
    """Return the first pull that counts, tells what was asked and began after the predictions were committed."""
    since_s = -math.inf if asked.committed_at_s is None else asked.committed_at_s
    for pull in pulls:
        tells = asked.kind == "which" or force_of(pull, asked).kind == "value"
        if pull.start_s >= since_s and pull.left_out is None and tells:
            return pull
    return None


def compared(asked: Prediction, pulls: Sequence[DayPull]) -> Comparison | None:
    """Return the comparison of the surfaces that are among the answers, None when it cannot be made."""
    answers = {option.strip().lower() for option in asked.options}
    here = [p for p in pulls if p.setting is not None and p.setting.surface.lower() in answers]
    try:
        quantity: Quantity = "static" if asked.quantity == "static_N" else "kinetic"
        return comparison_of(surfaces_of(here, quantity=quantity))
    except ConditionsError:
        return None


def winner(asked: Prediction, pulls: Sequence[DayPull]) -> str | None:
    """Return the answer whose surface surely needs the hardest pull of those among the answers, or None."""
    found = compared(asked, pulls)
    if found is None:
        return None
    names = [surface.name for surface in found.surfaces]
    more = {(one.second, one.first): one.larger for one in found.differences}
    more |= {
        (one.first, one.second): None if one.larger is None else not one.larger for one in found.differences
    }
    best = next(
        (n for n in names if all(more.get((n, other)) is True for other in names if other != n)), None
    )
    return None if best is None else name_among(asked.options, best)
