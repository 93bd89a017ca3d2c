"""How one table is read: its columns turned to seconds and newtons, and the clock its times need."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.errors import RecordingError
from pullbench.model import FloatArray
from pullbench.sources.batch import Batch, Queue
from pullbench.sources.choices import TableChoices, force_unit, time_unit
from pullbench.sources.clock import Clock, RateClock, StampClock, StampRules
from pullbench.sources.columns import find_column, force_column, listed, time_column
from pullbench.sources.even_clock import EvenClock
from pullbench.sources.layout import Column, Layout
from pullbench.sources.rows import GOOD, MISSING, Rows
from pullbench.sources.spacing import GroupRules, survey_groups
from pullbench.sources.survey import Pace, assumed_time_unit, never_falling, survey_pace
from pullbench.sources.units import Unit, unit_of

DAY_s = 86_400.0
_COUNTER = 2.0**32  # a microcontroller's milliseconds or microseconds start again there
# Beyond these a number is no time of a lesson and no force of a hand, and sums of it lose their digits.
_LONGEST_s, _STRONGEST_N = 1e10, 1e12
_EPOCH_s = 1e7  # times this large count from a date; they are counted from the first row instead


@dataclass(frozen=True, slots=True)
class Picked:
    """The columns of a table that are read; time is None when the rate is given."""

    time: Column | None
    force: Column


@dataclass(frozen=True, slots=True)
class TimePlan:
    """unit: of the time column.  assumed: nobody said so.  origin: the file's time that is called 0 s."""

    unit: Unit
    assumed: bool
    clock_of_day: bool
    origin: float
    pace: Pace
    rules: StampRules
    groups: GroupRules | None

    def seconds(self, time: FloatArray) -> FloatArray:
        """Return times of the column in seconds from the origin."""
        return self.unit.to_SI(time - self.origin if self.origin else time)


@dataclass(frozen=True, slots=True)
class ForcePlan:
    """unit: of the force column.  assumed: nobody said so.  scale_N: newtons per unit, or None."""

    unit: Unit
    assumed: bool
    scale_N: float | None
    g_m_s2: float

    def newtons(self, force: FloatArray) -> FloatArray:
        """Return readings of the column in newtons."""
        if self.scale_N is not None:
            return force * self.scale_N
        force_SI = self.unit.to_SI(force)
        return force_SI * self.g_m_s2 if self.unit.quantity == "mass" else force_SI


@dataclass(frozen=True, slots=True)
class Plan:
    """All that is needed to turn blocks of rows into samples; time is None when a rate is given."""

    picked: Picked
    time: TimePlan | None
    force: ForcePlan
    rate_Hz: float | None

    def batch(self, rows: Rows, queue: Queue) -> Batch:
        """Return rows in SI units and in line; absurd numbers count as missing."""
        with np.errstate(over="ignore"):
            force_N = self.force.newtons(rows.force)
            time_s = rows.time if self.time is None else self.time.seconds(rows.time)
        absurd = (np.abs(force_N) > _STRONGEST_N) | (np.abs(time_s) > _LONGEST_s)
        if absurd.any():
            state = np.where(absurd & (rows.state == GOOD), MISSING, rows.state).astype(np.uint8)
            rows = Rows(rows.time, rows.force, state, rows.texts)
        return queue.number(rows, time_s, force_N)

    def clock(self) -> Clock:
        """Return a new clock for one reading of the table."""
        if self.time is None:
            assert self.rate_Hz is not None
            return RateClock(self.rate_Hz)
        stamps = StampClock(self.time.rules)
        return stamps if self.time.groups is None else EvenClock(stamps, self.time.groups)


def pick_columns(layout: Layout, choices: TableChoices) -> Picked:
    """Return the columns to read.  Raises RecordingError where the person must choose or name a rate."""
    columns = layout.columns
    chosen = None if choices.column is None else find_column(columns, choices.column, "--column")
    others = [column for column in columns if column is not chosen]
    time = _find_time(columns if choices.time_column else others, choices)
    if time is not None and time is chosen:
        raise RecordingError(
            "column-twice",
            f"{time.title} is chosen for both time and force.",
            f"The columns are: {listed(columns)}.",
            "Give --column and --time-column different columns.",
        )
    if time is None and choices.rate_Hz is None:
        raise _no_time(columns)
    force = force_column(columns, choices.column, time, scaled=choices.scale_N is not None)
    return Picked(time if choices.rate_Hz is None else None, force)


def plan_force(column: Column, choices: TableChoices) -> ForcePlan:
    """Return how the force column becomes newtons.

    Raises RecordingError if its unit is no force and no scale is given.
    """
    unit = force_unit(choices) or column.unit
    if choices.scale_N is None and unit is not None and unit.quantity == "raw":
        raise RecordingError(
            "scale-missing",
            f"{column.title} is a raw signal in {unit.symbol}.",
            "A raw signal needs the newtons that one unit of it means.",
            f"Give --scale the newtons per {unit.symbol}, or --column another column.",
        )
    if choices.scale_N is None and unit is not None and unit.quantity not in ("force", "mass"):
        raise RecordingError(
            "column-not-force",
            f"{column.title} is in {unit.symbol}, which is no force.",
            "A force comes in N, mN, kN, gf, kgf, lbf, kip, or in g or kg on a scale.",
            "Give --column another column, or --force-unit if the heading is wrong.",
        )
    newton = unit_of("N")
    assert newton is not None
    assumed = unit is None and choices.scale_N is None
    return ForcePlan(unit or newton, assumed, choices.scale_N, choices.g_m_s2)


def plan_time(column: Column, head: Rows, choices: TableChoices) -> TimePlan:
    """Return how the time column becomes seconds, from the rows of the table's head.

    Raises RecordingError when the times do not advance or their unit cannot be told.
    """
    of_day = column.kind == "clock"
    second = unit_of("s")
    assert second is not None
    known = second if of_day else time_unit(choices) or column.unit
    if known is not None and known.quantity != "time":
        raise RecordingError(
            "column-not-time",
            f"{column.title} is in {known.symbol}, which is no time.",
            "A time comes in s, ms, µs, min or as HH:MM:SS.",
            "Give --time-column another column, or --time-unit if the heading is wrong.",
        )
    good = (head.state == GOOD) & (np.abs(head.time) < 1e20)
    time = _unwrapped(head.time[good]) if of_day else head.time[good]
    pace = survey_pace(time, head.force[good])
    unit = known or assumed_time_unit(pace.step)
    first = float(time[0]) if time.size else 0.0
    origin = first if of_day or abs(first) * unit.times / unit.over > _EPOCH_s else 0.0
    in_seconds = Pace(_second(pace.step, unit), _second(pace.gap, unit), pace.coarse)
    rules = StampRules(
        in_seconds.step,
        in_seconds.gap if not pace.coarse else np.inf,
        not pace.coarse,
        _wraps(unit, of_day),
        of_day,
    )
    groups = survey_groups(never_falling(unit.to_SI(time - origin)), rules.step_s) if pace.coarse else None
    return TimePlan(unit, known is None, of_day, origin, in_seconds, rules, groups)


def _find_time(columns: tuple[Column, ...] | list[Column], choices: TableChoices) -> Column | None:
    try:
        time = time_column(columns, choices.time_column)
    except RecordingError:
        if choices.rate_Hz is None:
            raise
        return None  # with a rate given it only matters that a time is not taken for the force
    if time is not None and time.kind not in ("number", "clock") and choices.rate_Hz is None:
        raise RecordingError(
            "column-not-numbers",
            f"The cells of {time.title} are no times, such as {time.first!r}.",
            f"A time column holds numbers or HH:MM:SS. The columns are: {listed(columns)}.",
            "Give --time-column another one, or --rate.",
        )
    return time


def _no_time(columns: tuple[Column, ...]) -> RecordingError:
    return RecordingError(
        "rate-missing",
        "No column is a time.",
        f"The columns are: {listed(columns)}. Without times the samples a second must be known.",
        "Give --rate the samples a second, or --time-column if one of them is the time.",
    )


def _wraps(unit: Unit, of_day: bool) -> tuple[float, ...]:
    if of_day:
        return (DAY_s,)
    return (_second(_COUNTER, unit),) if unit.symbol in ("ms", "µs") else ()


def _second(value: float, unit: Unit) -> float:
    return value * unit.times / unit.over


def _unwrapped(time_s: FloatArray) -> FloatArray:
    midnights = np.cumsum(np.diff(time_s, prepend=time_s[:1]) < -DAY_s / 2)
    return time_s + DAY_s * midnights
