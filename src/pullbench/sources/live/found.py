"""What a stream of lines turned out to be: its columns, units and clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from pullbench.errors import RecordingError
from pullbench.sources.assumed import assumed_sentence
from pullbench.sources.choices import TableChoices, separator, time_unit
from pullbench.sources.dialect import no_numbers
from pullbench.sources.headings import Heading, find_headings
from pullbench.sources.layout import Layout, find_layout
from pullbench.sources.octets import as_text
from pullbench.sources.plan import Picked, Plan, TimePlan, pick_columns, plan_force, plan_time
from pullbench.sources.rows import RowReader, Rows

ENCODING = "utf-8"
_CONTROLS = bytes(set(range(32)) - {9}) + b"\x7f"
_WORDS_OF_A_HEADING = 4
_LINES_IN_A_ROW = 400
_UNITS_s = {"s": 1.0, "ms": 1e-3, "µs": 1e-6}


class Burst(NamedTuple):
    """Lines that were received together, and when by this computer's clock."""

    arrived_s: float
    lines: list[bytes]


@dataclass(frozen=True, slots=True)
class Found:
    """How lines are read.  by_arrival: the lines carry no time, so it comes from this computer's clock.

    unit_by_arrival: their time has no unit, which was told by this computer's clock.
    """

    choices: TableChoices
    layout: Layout
    reader: RowReader
    plan: Plan
    by_arrival: bool
    unit_by_arrival: bool

    @property
    def headings(self) -> tuple[str, ...]:
        """The headings as they are written; empty texts when there are none."""
        return tuple(column.heading.text for column in self.layout.columns)

    def sentence(self, rate_Hz: float | None = None) -> str:
        """Return how the lines are read, and what of that nobody said.

        rate_Hz: the rate found by arrival, where lines carry no time.
        """
        plan = self.plan
        if rate_Hz is not None:
            plan = replace(plan, rate_Hz=float(f"{rate_Hz:.4g}"))
        words = assumed_sentence(self.layout, plan, ENCODING)
        words = "lines are read as: " + words.replace(" table", " lines", 1) + "."
        if self.by_arrival:
            words = words.replace(
                "times from the given rate of",
                "no time in them: taken as evenly spaced, by this computer's clock at",
            )
        if self.unit_by_arrival:
            words += " The unit of time was told by this computer's clock; --time-unit says otherwise."
        if self.plan.force.assumed:
            words += " Nothing names the unit of force: newtons are assumed; --force-unit says otherwise."
        return words[0].upper() + words[1:]

    def heading_in(self, line: bytes) -> tuple[Heading, ...]:
        """Return the headings that a line spells, or () when it is something else."""
        found = find_headings([as_text(line, ENCODING)], self.layout.dialect)
        known = any(h.is_time or h.is_force or h.is_raw_force or h.unit for h in found)
        brief = all(len(h.words) <= _WORDS_OF_A_HEADING for h in found)  # a board's complaint is longer
        return found if known and brief else ()

    def under(self, headings: Sequence[Heading]) -> Found | None:
        """Return the same reading under headings that came later, or None if they change it."""
        pairs = zip(self.layout.columns, headings, strict=True)
        layout = replace(self.layout, columns=tuple(replace(c, heading=h) for c, h in pairs))
        picked, _ = _picked(layout, self.choices)
        force = plan_force(picked.force, self.choices)
        same_columns = _numbers(picked) == _numbers(self.plan.picked)
        unit = None if picked.time is None else time_unit(self.choices) or picked.time.unit
        same_time = self.plan.time is None or unit in (None, self.plan.time.unit)
        same_force = replace(force, assumed=True) == replace(self.plan.force, assumed=True)
        scaled = force.scale_N is not None and force.scale_N == self.plan.force.scale_N
        if not (same_columns and same_time and (same_force or scaled)):
            return None
        return replace(self, layout=layout, plan=replace(self.plan, picked=picked, force=force))


def find_out(bursts: Sequence[Burst], choices: TableChoices) -> tuple[Found, list[Burst]]:
    """Return how the first lines of a stream are read, and those of them that are rows.

    Raises RecordingError, as for a file, when there are no numbers yet or when the person must choose.
    """
    lines = [line for burst in bursts for line in burst.lines]
    if _is_noise(lines):
        raise no_numbers(len(lines))
    layout = _layout([as_text(line, ENCODING) for line in lines], choices)
    rest = _without_first(bursts, layout.lines_above)
    picked, by_arrival = _picked(layout, choices)
    reader = _reader(layout, picked, choices)
    rate_Hz = 1.0 if by_arrival else choices.rate_Hz  # with by_arrival only a stand-in, never used
    plan = Plan(picked, None, plan_force(picked.force, choices), rate_Hz)
    if picked.time is None:
        return Found(choices, layout, reader, plan, by_arrival, False), rest
    by_burst = [(burst.arrived_s, reader.read(as_block(burst.lines))) for burst in rest]
    time, unit_by_arrival = _time(
        picked, by_burst, reader.read(as_block(lines[layout.lines_above :])), choices
    )
    return Found(choices, layout, reader, replace(plan, time=time), False, unit_by_arrival), rest


def without_fragment(found: Found, rows: list[Burst]) -> list[Burst]:
    """Return the rows of a stream that was joined midway without a first line that may be half a line.

    With a heading or words above it, it is whole.  Half a line of time and force shows in its time, which
    does not go before the next; half a bare number does not show, so the first one is left out.
    """
    if found.layout.lines_above or not rows:
        return rows
    first = [line for burst in rows[:3] for line in burst.lines][:2]
    plan = found.plan.time
    if plan is not None and len(first) == 2:
        steps_s = np.diff(plan.seconds(found.reader.read(as_block(first)).time))
        if steps_s.size and 0 < steps_s[0] < 3 * plan.pace.step:
            return rows
    return _without_first(rows, 1)


def as_block(lines: Sequence[bytes]) -> bytes:
    """Return lines as the row reader takes them: each with its end."""
    return b"\n".join(lines) + b"\n" if lines else b""


def _is_noise(lines: Sequence[bytes]) -> bool:
    """Say whether control characters stand in more than one line of five, as at a wrong baud rate."""
    return 5 * sum(len(line.translate(None, _CONTROLS)) < len(line) for line in lines) > len(lines)


def _layout(lines: Sequence[str], choices: TableChoices) -> Layout:
    try:
        return find_layout(lines, separator(choices), choices.decimal)
    except RecordingError as refusal:
        # Whole numbers on both sides of a comma are told by a first column that counts on evenly.  Half a
        # line at the beginning, or the lines between the first and last that are looked at, hide that.
        if refusal.code != "decimal-ambiguous" or len(lines) < 3:
            raise
    try:
        return find_layout(lines[:_LINES_IN_A_ROW], separator(choices), choices.decimal)
    except RecordingError:
        layout = find_layout(lines[1:_LINES_IN_A_ROW], separator(choices), choices.decimal)
        return replace(layout, lines_above=layout.lines_above + 1)


def _picked(layout: Layout, choices: TableChoices) -> tuple[Picked, bool]:
    try:
        return pick_columns(layout, choices), False
    except RecordingError as refusal:
        if refusal.code != "rate-missing":
            raise
    return pick_columns(layout, replace(choices, rate_Hz=1.0)), True


def _numbers(picked: Picked) -> tuple[int, int]:
    return (picked.time.number if picked.time else 0, picked.force.number)


def _reader(layout: Layout, picked: Picked, choices: TableChoices) -> RowReader:
    force = plan_force(picked.force, choices)
    as_written = choices.force_unit is None and choices.scale_N is None
    return RowReader(
        layout.dialect,
        ENCODING,
        None if picked.time is None else picked.time.number - 1,
        picked.force.number - 1,
        picked.time.unit if picked.time is not None and choices.time_unit is None else None,
        force.unit if as_written else None,
    )


def _time(
    picked: Picked, by_burst: Sequence[tuple[float, Rows]], rows: Rows, choices: TableChoices
) -> tuple[TimePlan, bool]:
    column = picked.time
    assert column is not None
    if choices.time_unit is not None or column.unit is not None or column.kind == "clock":
        return plan_time(column, rows, choices), False
    symbol = _unit_by_arrival(by_burst)
    if symbol is None:  # the lines did not come as they were taken, as from a file in a pipe
        return plan_time(column, rows, choices), False
    return replace(plan_time(column, rows, replace(choices, time_unit=symbol)), assumed=True), True


def _unit_by_arrival(by_burst: Sequence[tuple[float, Rows]]) -> str | None:
    """Return the unit in which the lines' time goes as fast as this computer's clock, if there is one.

    The units are a thousand apart, so a factor of three either way leaves no doubt.
    """
    ends = [(arrived_s, float(rows.time[-1])) for arrived_s, rows in by_burst if rows.time.size]
    half = len(ends) // 2
    if not half or not ends[-1][0] - ends[0][0] > 0.3:
        return None
    arrived_s, time = np.array(ends).T
    # The median over many spans: half a line at the beginning, or one burst, does not matter.
    spans_s, spans = arrived_s[half:] - arrived_s[:-half], time[half:] - time[:-half]
    told = spans > 0
    if not told.any():
        return None
    seconds_per_unit = float(np.median(spans_s[told] / spans[told]))
    fits = [symbol for symbol, size_s in _UNITS_s.items() if size_s / 3 < seconds_per_unit < 3 * size_s]
    return fits[0] if fits else None


def _without_first(bursts: Sequence[Burst], lines: int) -> list[Burst]:
    rest: list[Burst] = []
    for burst in bursts:
        rest.append(Burst(burst.arrived_s, burst.lines[lines:]))
        lines = max(0, lines - len(burst.lines))
    return [burst for burst in rest if burst.lines]
