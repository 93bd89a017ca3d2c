"""One pull as a card of the page: finished texts beside the numbers that place them on the strip."""

from __future__ import annotations

from typing import Any

import msgspec

from pullbench.model import Measured, Pull, Setting
from pullbench.render.rounding import Scale, doubts, fixed, percent, scale_for
from pullbench.render.told import Told, spoken_number, told
from pullbench.render.wording import (
    NOTHING_TO_CHANGE,
    next_time,
    pull_scale,
    stick_slip_words,
    what_the_room_saw,
)

BEING_READ = "First reading, while the rest after the pull is still coming."
VERDICTS = {
    "usable": "Usable.",
    "usable with a note": "Usable with a note.",
    "pull again": "Pull again.",
}
_PHASES = {"rest": "rest", "loading": "loading", "transition": "settling", "release": "let go"}


class BreakawayCard(Told, frozen=True, kw_only=True):
    """The static maximum; at_s: when, in bench seconds."""

    at_s: float | None


class KineticCard(Told, frozen=True, kw_only=True):
    """The kinetic level over a stretch of bench seconds."""

    from_s: float | None
    to_s: float | None


class StickSlipCard(msgspec.Struct, frozen=True, kw_only=True):
    """A sawtooth in one sentence, and its pieces."""

    sentence: str
    high: Told
    low: Told
    mean: Told
    count: int


class FindingCard(msgspec.Struct, frozen=True):
    """Something seen in the pull, and what to do."""

    name: str
    sentence: str
    fix: str


class PhaseCard(msgspec.Struct, frozen=True):
    """A span in bench seconds, named as the room names it."""

    name: str
    from_s: float
    to_s: float


class SettingCard(msgspec.Struct, frozen=True, kw_only=True):
    """What was on the sled, and on what it stood; load: its mass in words, None when it was not said."""

    load: str | None
    surface: str
    load_kg: float | None
    sled_kg: float | None


class Card(msgspec.Struct, frozen=True, kw_only=True):
    """One pull of the day.

    label: "simulated", "replayed" or None; must stand beside every number.  provisional: read before its
    rest after was complete; the final reading replaces it.
    """

    number: int
    start_s: float
    end_s: float
    label: str | None
    verdict: str
    verdict_sentence: str
    direction: int
    breakaway: BreakawayCard
    kinetic: KineticCard
    stick_slip: StickSlipCard | None
    sentence: str
    fix: str | None
    findings: tuple[FindingCard, ...]
    aside: str | None
    phases: tuple[PhaseCard, ...]
    marked: bool
    read_again: bool
    provisional: bool
    spoken: str
    setting: SettingCard | None = None


class BudgetCard(msgspec.Struct, frozen=True):
    """One row of a budget: where the doubt comes from, its size in words, its share of the variance."""

    source: str
    u_text: str
    share: float
    share_text: str


class Budgets(msgspec.Struct, frozen=True):
    """The budgets of both forces, biggest row first."""

    breakaway: tuple[BudgetCard, ...]
    kinetic: tuple[BudgetCard, ...]


class Coefficients(msgspec.Struct, frozen=True):
    """What the forces imply, when the load is known."""

    static: Told | None
    kinetic: Told | None


def card(
    pull: Pull,
    *,
    number: int,
    offset_s: float = 0.0,
    label: str | None = None,
    aside: str | None = None,
    marked: bool = False,
    read_again: bool = False,
    provisional: bool = False,
    setting: Setting | None = None,
) -> Card:
    """Return the card of a pull.  offset_s: from the recording's own seconds to bench seconds."""
    scale = pull_scale(pull)
    moment, plateau = pull.breakaway.time_s, pull.plateau
    fix = next_time(pull.findings)
    return Card(
        number=number,
        start_s=float(pull.window.start_s + offset_s),
        end_s=float(pull.window.end_s + offset_s),
        label=label,
        verdict=str(pull.verdict),
        verdict_sentence=VERDICTS[str(pull.verdict)],
        direction=pull.window.direction,
        breakaway=BreakawayCard(
            **_pieces(pull.breakaway.force, scale), at_s=None if moment is None else float(moment + offset_s)
        ),
        kinetic=KineticCard(
            **_pieces(plateau.force, scale),
            from_s=None if plateau.start_s is None else float(plateau.start_s + offset_s),
            to_s=None if plateau.end_s is None else float(plateau.end_s + offset_s),
        ),
        stick_slip=_stick_slip(pull),
        sentence=what_the_room_saw(pull),
        fix=None if fix == NOTHING_TO_CHANGE else fix,
        findings=tuple(FindingCard(f.name, f.sentence, f.fix) for f in pull.findings),
        aside=aside,
        phases=_phases(pull, offset_s),
        marked=marked,
        read_again=read_again,
        provisional=provisional,
        spoken=spoken(pull, number, label, provisional=provisional),
        setting=setting_card(setting),
    )


def setting_card(setting: Setting | None) -> SettingCard | None:
    """Return a setting as a card tells it; None when nothing was said."""
    if setting is None or not setting.said:
        return None
    load = None if setting.load_kg is None else mass_words(setting.load_kg)
    return SettingCard(load=load, surface=setting.surface, load_kg=setting.load_kg, sled_kg=setting.sled_kg)


def mass_words(mass_kg: float) -> str:
    """Return a mass that somebody said, to 10 g where that is all there is of it, else to the gram."""
    text = fixed(mass_kg, 3)
    return f"{text.removesuffix('0')} kg"


def budgets(pull: Pull) -> Budgets:
    """Return the rows of both budgets with their shares."""
    return Budgets(_budget(pull.breakaway.force), _budget(pull.plateau.force))


def coefficients(pull: Pull) -> Coefficients | None:
    """Return the coefficients, or None when the load is not known."""
    static, kinetic = pull.static_coefficient, pull.kinetic_coefficient
    if static is None and kinetic is None:
        return None
    return Coefficients(told(static) if static else None, told(kinetic) if kinetic else None)


def spoken(pull: Pull, number: int, label: str | None, *, provisional: bool = False) -> str:
    """Return one line for a voice: the verdict first, both forces, and what they are not."""
    scale = pull_scale(pull)
    said = [f"Pull {number}{', first reading' if provisional else ''}: {pull.verdict}."]
    said.append(f"Static maximum {_said(pull.breakaway.force, scale)}.")
    said.append(f"Kinetic {_said(pull.plateau.force, scale)}.")
    fix = next_time(pull.findings)
    if fix != NOTHING_TO_CHANGE:
        said.append(fix)
    if label:
        said.append(f"{label.capitalize()}.")
    return " ".join(said)


def _said(force: Measured, scale: Scale) -> str:
    pieces = told(force, scale=scale)
    unit = {"N": "newtons", "mN": "millinewtons", "kN": "kilonewtons"}.get(pieces.unit, pieces.unit)
    if pieces.text is None:
        return "cannot be told"
    number = spoken_number(pieces.text)
    if pieces.plus_minus is not None:
        return f"{number} {unit}, plus or minus {pieces.plus_minus}"
    return (
        pieces.whole.removesuffix(pieces.unit).strip() + f" {unit}"
        if "between" not in pieces.whole
        else (f"{number} {unit}, {pieces.whole.split(', ', 1)[1]}")
    )


def _pieces(force: Measured, scale: Scale) -> dict[str, Any]:
    return msgspec.structs.asdict(told(force, scale=scale))


def _stick_slip(pull: Pull) -> StickSlipCard | None:
    saw = pull.stick_slip
    if saw is None:
        return None
    scale = scale_for(saw.high, saw.low)
    return StickSlipCard(
        sentence=f"Stick-slip: {stick_slip_words(pull)}.",
        high=told(saw.high, scale=scale),
        low=told(saw.low, scale=scale),
        mean=told(saw.mean, scale=scale),
        count=saw.count,
    )


def _phases(pull: Pull, offset_s: float) -> tuple[PhaseCard, ...]:
    sliding = "stick-slip" if pull.stick_slip else "sliding"
    return tuple(
        PhaseCard(
            sliding if phase.name == "kinetic" else _PHASES[phase.name],
            float(phase.start_s + offset_s),
            float(phase.end_s + offset_s),
        )
        for phase in pull.phases
    )


def _budget(force: Measured) -> tuple[BudgetCard, ...]:
    scale, total = scale_for(force), force.budget.combined
    rows = sorted(force.budget.rows, key=lambda row: -row.u)
    shares = [(row.u / total) ** 2 if total > 0 else 0.0 for row in rows]
    sizes = doubts([row.u for row in rows], scale=scale)
    return tuple(
        BudgetCard(row.source, size, share, percent(share))
        for row, size, share in zip(rows, sizes, shares, strict=True)
    )
