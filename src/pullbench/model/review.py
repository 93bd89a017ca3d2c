"""What came of checking typed answers: part by part, sheet by sheet, proposed until the teacher approves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, Self

Outcome = Literal["right", "follows", "idea", "unclear", "unit", "wrong", "unreadable"]
Flag = Literal["unit-missing", "unit-other", "figures-few", "figures-many"]
State = Literal["proposed", "approved"]

OUTCOMES: tuple[Outcome, ...] = ("right", "follows", "idea", "unclear", "unit", "wrong", "unreadable")
FLAGS: tuple[Flag, ...] = ("unit-missing", "unit-other", "figures-few", "figures-many")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartReview:
    """One typed answer, checked.

    key: of the part.  typed: as it was typed.  value: read in the part's unit, or the option's index; None when
    it cannot be read.  outcome: "right"; "follows" (right from an earlier part's slip); "idea" (one known idea or
    slip leads here); "unclear" (more than one does); "unit" (right number, unit of another quantity); "wrong";
    "unreadable".  idea: the one named.  follows: the earlier part whose answer was carried on.  flags: noted, never
    marked wrong.  told: sentences for the one who answered.
    """

    key: str
    typed: str
    outcome: Outcome
    value: float | None = None
    idea: str | None = None
    follows: str | None = None
    flags: tuple[Flag, ...] = ()
    told: tuple[str, ...] = ()

    @property
    def counts(self) -> bool:
        """Return whether it counts as right: its own way of reckoning holds."""
        return self.outcome in ("right", "follows")


@dataclass(frozen=True, slots=True, kw_only=True)
class Review:
    """One problem's answers, checked; parts without an answer are left out.  A proposal until it is approved."""

    kind: str
    seed: int
    parts: tuple[PartReview, ...]
    state: State = "proposed"

    def approved(self) -> Self:
        """Return the same review, approved by the teacher."""
        return replace(self, state="approved")


@dataclass(frozen=True, slots=True)
class SheetReview:
    """The review of problem `number` (from 1) on the sheet of one seat; a seat is a number, never a name."""

    seat: int
    number: int
    review: Review


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassReview:
    """All sheets of a class set, checked.

    code: of the set.  complaints: one sentence for each line that could not be reviewed, with its number.
    """

    code: str
    sheets: tuple[SheetReview, ...]
    complaints: tuple[str, ...] = ()
    state: State = "proposed"

    def approved(self) -> Self:
        """Return the same reviews, approved by the teacher."""
        sheets = tuple(replace(sheet, review=sheet.review.approved()) for sheet in self.sheets)
        return replace(self, sheets=sheets, state="approved")

    @property
    def outcomes(self) -> Mapping[Outcome, int]:
        """Return how many answers came to each outcome."""
        found = Counter(part.outcome for part in self._parts())
        return {outcome: found[outcome] for outcome in OUTCOMES}

    @property
    def ideas(self) -> Mapping[str, int]:
        """Return how often each idea or slip was named, the most frequent first."""
        found = Counter(part.idea for part in self._parts() if part.idea is not None)
        return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))

    @property
    def flags(self) -> Mapping[Flag, int]:
        """Return how often each flag was set."""
        found = Counter(flag for part in self._parts() for flag in part.flags)
        return {flag: found[flag] for flag in FLAGS}

    def _parts(self) -> tuple[PartReview, ...]:
        return tuple(part for sheet in self.sheets for part in sheet.review.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedRow:
    """One typed line: which seat (from 1), which problem of its sheet (from 1), which part, and the answer."""

    line: int
    seat: int
    problem: int
    part: str
    answer: str
