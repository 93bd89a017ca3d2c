"""A problem with its key: what is given, what is asked, the right answers, the wrong ones and what they reveal.

Text is plain words with formulas between backticks, in one small notation: symbols such as `mu_s`, `theta`,
`F_max`; `a / b` draws a fraction, `sqrt(x)`, `x^2`, `sin theta`; a number with its unit stands in double quotes
inside a formula ("6.2 N").  Numbers are written with a point; render turns it into a comma where that is wanted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pullbench.model.scene import Figure

Level = Literal[1, 2, 3, 4]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairFriction:
    """The friction of one pair of surfaces, as problems use it.

    mu_s, mu_k: as they will be printed.  u_mu_s, u_mu_k: standard uncertainties.  source: "today" or
    "handbook".  told: where the numbers come from, one phrase.  label: "simulated", "replayed" or None.
    """

    sole: str
    floor: str
    mu_s: float
    mu_k: float
    u_mu_s: float
    u_mu_k: float
    source: Literal["today", "handbook"]
    told: str
    label: str | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """One given quantity: the printed value is the value used.  unit: "kg", "N", "°", "m/s²", "1" for none."""

    symbol: str
    value: float
    unit: str
    digits: int = 3  # significant figures it is printed with


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongAnswer:
    """A wrong answer that shows an idea or a slip.

    value: for a number (in the part's unit).  option: for a choice, the index of the option.
    idea: name of the misconception or slip (teach.ideas).
    """

    idea: str
    value: float | None = None
    option: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a worked solution: words, then a formula (may be empty)."""

    words: str
    formula: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One question of a problem.

    key: "a", "b", ...  form: "number" (answer, unit, tolerance: half width in the unit, digits: significant
    figures a good answer shows) or "choice" (options, answer is the index of the right one).
    uses: earlier parts whose answers this one builds on.
    """

    key: str
    ask: str
    form: Literal["number", "choice"]
    answer: float
    unit: str = "1"
    tolerance: float = 0.0
    digits: int = 2
    options: tuple[str, ...] = ()
    wrong: tuple[WrongAnswer, ...] = ()
    hints: tuple[str, ...] = ()
    solution: tuple[Step, ...] = ()
    uses: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One problem of one kind, drawn with one seed."""

    kind: str
    level: Level
    seed: int
    title: str
    text: str
    given: tuple[Given, ...]
    parts: tuple[Part, ...]
    pair: PairFriction | None = None
    figure: Figure | None = None
    key_figure: Figure | None = None  # with the forces and their values, for the key
