"""What is on the sled and what it stands on; a board that is tilted; what a class predicts; a pull with its setting."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from pullbench.errors import ConditionsError
from pullbench.model.measured import Measured
from pullbench.model.pull import Verdict

HEAVIEST_KG = 500.0  # nobody drags more in front of a class; more is grams written as kilograms
LONGEST_NAME = 60  # letters of a surface, as the page's field takes them
MOST_PULLS_PER_STEP = 99
HIGHEST_N = 5000.0  # what half a tonne presses with
FASTEST_M_S2 = 30.0  # three times free fall: a unit is wrong
LONGEST_QUESTION, MOST_OPTIONS, LONGEST_OPTION = 200, 8, 60

TiltKind = Literal["slid", "held", "slide"]
PredictionKind = Literal["number", "which"]
PredictionState = Literal["open", "committed", "revealed"]
PredictedForce = Literal["kinetic_N", "static_N"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What is on the sled, and on what it stands.

    load_kg: tins and the like (None: not said).  sled_kg: the empty sled (None: not said).  surface: "" when
    not said.  u_load_kg: standard uncertainty of the load.  step_kg: added after pulls_per_step usable pulls
    (None: never by itself).  Raises ConditionsError for what cannot be.
    """

    load_kg: float | None = None
    sled_kg: float | None = None
    surface: str = ""
    u_load_kg: float = 0.0
    step_kg: float | None = None
    pulls_per_step: int = 3

    def __post_init__(self) -> None:
        _check_mass("load", self.load_kg, nought=True)
        _check_mass("sled", self.sled_kg)
        _check_mass("load's standard uncertainty", self.u_load_kg, nought=True)
        _check_mass("step", self.step_kg)
        if not 1 <= self.pulls_per_step <= MOST_PULLS_PER_STEP:
            raise ConditionsError(
                "pulls-per-step-impossible", f"The load is to grow after {self.pulls_per_step} pulls.",
                f"It can after 1 to {MOST_PULLS_PER_STEP}.", "Mend it.",
            )  # fmt: skip
        if len(self.surface) > LONGEST_NAME or not self.surface.isprintable():
            raise ConditionsError(
                "surface-unreadable", f"The surface is {self.surface[:LONGEST_NAME]!r}.",
                f"Its name has up to {LONGEST_NAME} letters, on one line.", "Give it a shorter name.",
            )  # fmt: skip

    @property
    def said(self) -> bool:
        """Return whether anything is known of a pull with this setting."""
        return self.load_kg is not None or self.sled_kg is not None or bool(self.surface)

    @property
    def pressing_kg(self) -> float | None:
        """Return sled and load together; None when one of them was not said."""
        return None if self.load_kg is None or self.sled_kg is None else self.load_kg + self.sled_kg


def _check_mass(what: str, mass_kg: float | None, *, nought: bool = False) -> None:
    if mass_kg is None or 0 < mass_kg <= HEAVIEST_KG or (nought and mass_kg == 0):
        return
    if mass_kg > HEAVIEST_KG:
        raise ConditionsError(
            "load-absurd", f"The {what} is {mass_kg:g} kg.", f"It may be up to {HEAVIEST_KG:g} kg.",
            "Was it written in grams? Write it in kilograms.",
        )  # fmt: skip
    raise ConditionsError(
        "load-not-positive", f"The {what} is {mass_kg:g} kg.",
        f"It must be {'nought or more' if nought else 'above nought'}.", "Mend it.",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltReading:
    """One trial on a tilted board: it slid off, it held, or how it sped up while it slid.

    aside: why it is left out, or None.  Raises ConditionsError for what cannot be.
    """

    kind: TiltKind
    angle_deg: float
    acceleration_m_s2: float | None = None
    surface: str = ""
    aside: str | None = None

    def __post_init__(self) -> None:
        if not 0 < self.angle_deg < 90:
            raise ConditionsError(
                "tilt-out-of-range", f"The board is tilted by {self.angle_deg:g}°.",
                "It must lie between 0° and 90°.", "Measure the tilt from level, in degrees.",
            )  # fmt: skip
        if (self.acceleration_m_s2 is not None) != (self.kind == "slide"):
            raise ConditionsError(
                "tilt-unclear", f"The sled {'sped up' if self.kind == 'slide' else self.kind} at {self.angle_deg:g}°"
                f"{', but no acceleration is given' if self.kind == 'slide' else ', and an acceleration is given'}.",
                "An acceleration belongs to a sled that slides down, and to nothing else.",
                "Say slid, held, or slide with its acceleration.",
            )  # fmt: skip
        if self.acceleration_m_s2 is not None and not abs(self.acceleration_m_s2) <= FASTEST_M_S2:
            raise ConditionsError(
                "acceleration-absurd", f"The acceleration is {self.acceleration_m_s2:g} m/s².",
                f"It must lie within {FASTEST_M_S2:g} m/s².", "Mend it.",
            )  # fmt: skip
        if len(self.surface) > LONGEST_NAME or not self.surface.isprintable():
            raise ConditionsError(
                "surface-unreadable", f"The surface is {self.surface[:LONGEST_NAME]!r}.",
                f"Its name has up to {LONGEST_NAME} letters, on one line.", "Give it a shorter name.",
            )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """What one who watches predicts, without a name: a force with a plus or minus (None: not said), or a word."""

    value_N: float | None = None
    plus_minus_N: float | None = None
    option: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """One question to the class and where it stands.

    slips: empty until it is committed.  count: handed in so far.  committed_before_pull, committed_at_s: the
    number of the next pull, and the bench seconds from which a pull counts.  pull, option: what it was, once
    revealed.  Raises ConditionsError for a question that cannot be asked.
    """

    kind: PredictionKind
    question: str
    quantity: PredictedForce = "kinetic_N"
    options: tuple[str, ...] = ()
    state: PredictionState = "open"
    count: int = 0
    slips: tuple[Slip, ...] = ()
    committed_before_pull: int | None = None
    committed_at_s: float | None = None
    pull: int | None = None
    option: str | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.question) <= LONGEST_QUESTION or not self.question.isprintable():
            raise ConditionsError(
                "question-unreadable", f"The question is {self.question[:LONGEST_QUESTION]!r}.",
                f"It has 1 to {LONGEST_QUESTION} letters, on one line.", "Write it anew.",
            )  # fmt: skip
        if self.kind == "number":
            return
        words = {option.strip().lower() for option in self.options}
        fits = all(1 <= len(o.strip()) <= LONGEST_OPTION and o.isprintable() for o in self.options)
        if len(words) != len(self.options) or not 2 <= len(words) <= MOST_OPTIONS or not fits:
            raise ConditionsError(
                "options-unclear", f"There are {len(self.options)} answers to choose from.",
                f"A choice has 2 to {MOST_OPTIONS} different answers of 1 to {LONGEST_OPTION} letters.",
                "Write them with commas between.",
            )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPull:
    """One pull of a day as the laws need it, in bench seconds.

    static, kinetic: forces above rest.  why_again: the finding, when the verdict is pull again.  break_s: when
    it broke away.  aside: why it was set aside.  setting: None when nothing was said.  u_gain: relative doubt of
    the force scale, which all pulls share and which is part of each force's own uncertainty.
    """

    number: int
    start_s: float
    end_s: float
    static: Measured
    kinetic: Measured
    verdict: Verdict
    why_again: str | None = None
    break_s: float | None = None
    aside: str | None = None
    setting: Setting | None = None
    u_gain: float = 0.0
    label: str | None = None

    @property
    def left_out(self) -> str | None:
        """Return why the pull does not count: set aside, or to be pulled again; None when it counts."""
        return self.aside if self.aside is not None else self.why_again

    def own_u_N(self, force: Measured) -> float:
        """Return a force's standard uncertainty without the force scale's, which all pulls share."""
        u, shared = force.standard_uncertainty or 0.0, self.u_gain * abs(force.value or 0.0)
        return math.sqrt(max(0.0, u**2 - shared**2))
