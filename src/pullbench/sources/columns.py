"""Which column is the time and which the force: by name and unit, by how it counts on, or by asking."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from pullbench.errors import RecordingError
from pullbench.model import FloatArray
from pullbench.sources.layout import Column

MANY_STEPS = 50


def time_column(columns: Sequence[Column], chosen: str | None) -> Column | None:
    """Return the column of times, or None when there is none.

    By the person's choice; else the one named or measured as time; else, of columns without a name, the
    one that counts on evenly.  Raises RecordingError for an unknown choice or two that could be it.
    """
    if chosen is not None:
        return find_column(columns, chosen, "--time-column")
    timely = [
        c for c in columns if c.kind in ("number", "clock") and c.heading.is_time and advances(c.values)
    ]
    timely = timely or [c for c in columns if c.kind in ("number", "clock") and c.heading.is_time]
    clocks = [c for c in columns if c.kind == "clock"]
    if timely:
        return max(timely, key=_how_plainly_time)
    if clocks:
        return clocks[0]
    by_cells = [c for c in columns if c.cell_unit is not None and c.cell_unit.quantity == "time"]
    return by_cells[0] if by_cells else _counting_column(columns)


def force_column(
    columns: Sequence[Column], chosen: str | None, time: Column | None, *, scaled: bool
) -> Column:
    """Return the column of forces.

    scaled: the person gave newtons per unit, so raw signals count too.  Raises RecordingError when
    none or several could be it (the error lists the columns), or when it holds no numbers.
    """
    if chosen is not None:
        return _with_numbers(find_column(columns, chosen, "--column"), columns)
    free = [c for c in columns if c is not time and not c.heading.is_time]
    holding = [c for c in free if c.kind == "number"]
    named = [c for c in holding if _is_force(c)]
    named = named or [c for c in holding if c.heading.is_raw_force or (scaled and _is_raw(c))]
    plain = [c for c in holding if not c.heading.is_other and not _measures_other(c)]
    raw = [c for c in holding if _is_raw(c)]
    candidates = named or plain or (raw if len(raw) == 1 else [])
    if len(candidates) == 1:
        return candidates[0]
    if len(candidates) > 1:
        raise _which_column(candidates, columns)
    empty = [c for c in free if c.kind != "number" and not c.heading.is_other and c.kind != "clock"]
    if empty:
        return _with_numbers(next((c for c in empty if c.heading.is_force), empty[0]), columns)
    raise _no_force(columns)


def find_column(columns: Sequence[Column], chosen: str, option: str) -> Column:
    """Return the column with a heading, a name without unit, or a number from 1; else a RecordingError."""
    wanted = " ".join(chosen.split()).casefold()
    for texts in ([c.heading.text for c in columns], [c.heading.name for c in columns]):
        found = [c for c, text in zip(columns, texts, strict=True) if text and text.casefold() == wanted]
        if len(found) == 1:
            return found[0]
        if found:
            raise RecordingError(
                "column-ambiguous",
                f"{len(found)} columns are called {chosen!r}.",
                f"The columns are: {listed(columns)}.",
                f"Give {option} the number of one of them.",
            )
    if wanted.isascii() and wanted.isdigit() and len(wanted) < 8 and 1 <= int(wanted) <= len(columns):
        return columns[int(wanted) - 1]
    raise RecordingError(
        "column-unknown",
        f"There is no column {chosen!r}.",
        f"The columns are: {listed(columns)}.",
        f"Give {option} one of these names or numbers.",
    )


def listed(columns: Sequence[Column]) -> str:
    """Return the columns for a person: number, name, first value; the first dozen of very many."""
    texts = [
        f'{c.number} "{c.heading.text}" ({c.first})' if c.heading.text else f"{c.number} ({c.first})"
        for c in columns[:12]
    ]
    return ", ".join(texts) + (f" and {len(columns) - 12} more" if len(columns) > 12 else "")


def advances(values: FloatArray) -> bool:
    """Say whether values count upward, but for a few that stand still or fall back."""
    steps = np.diff(values[np.isfinite(values)])
    if not steps.size:
        return values.size > 0 and bool(np.isfinite(values).any())
    return bool(np.mean(steps < 0) <= 0.1 and np.mean(steps > 0) > 0)


def _counting_column(columns: Sequence[Column]) -> Column | None:
    free = [
        c
        for c in columns
        if c.kind == "number"
        and not (_is_force(c) or _measures_other(c) or c.heading.is_counter)
        and not c.heading.is_raw_force
    ]
    even = [c for c in free if len(columns) > 1 and counts_evenly(c.values)]
    if len(even) > 1:
        # Beside a row counter the other one is the time.
        even = [c for c in even if not _is_row_counter(c.values)] or even
    if len(even) > 1:
        raise RecordingError(
            "time-column-ambiguous",
            f"{len(even)} columns count on evenly: {listed(even)}.",
            "One of them is the time.",
            "Give --time-column its number.",
        )
    if even:
        return even[0]
    rising = [c for c in free if len(columns) > 1 and keeps_rising(c.values)]
    return rising[0] if len(rising) == 1 else None


def keeps_rising(values: FloatArray) -> bool:
    """Say whether many values never fall and rise often: a clock read by a busy program, in bursts and gaps.

    A force that rises so long without a fall shows neither noise nor a pull's end.
    """
    steps = np.diff(values[np.isfinite(values)])
    return bool(steps.size >= MANY_STEPS and np.mean(steps < 0) <= 0.02 and np.mean(steps > 0) >= 0.1)


def counts_evenly(values: FloatArray) -> bool:
    """Say whether values rise in steps that are mostly alike, standing still at most between steps."""
    steps = np.diff(values[np.isfinite(values)])
    if steps.size < 2 or np.mean(steps < 0) > 0.02:
        return False
    rising = steps[steps > 0]
    if rising.size < 2 or rising.size * 50 < steps.size:
        return False
    usual = float(np.median(rising))
    return bool(np.mean((rising > 0.5 * usual) & (rising < 1.6 * usual)) >= 0.8)


def _is_row_counter(values: FloatArray) -> bool:
    good = values[np.isfinite(values)]
    return bool(good[0] in (0.0, 1.0) and np.all(np.diff(good) == 1.0))


def _how_plainly_time(column: Column) -> tuple[bool, bool, bool, int]:
    heading = column.heading
    return (advances(column.values), heading.unit is not None, column.kind == "number", -column.number)


def _is_force(column: Column) -> bool:
    if column.heading.unit is None and column.cell_unit is not None:
        return column.cell_unit.quantity in ("force", "mass")
    return column.heading.is_force


def _is_raw(column: Column) -> bool:
    return column.unit is not None and column.unit.quantity == "raw"


def _measures_other(column: Column) -> bool:
    return column.unit is not None and column.unit.quantity in ("other", "time", "raw")


def _with_numbers(column: Column, columns: Sequence[Column]) -> Column:
    if bool(np.isfinite(column.values).any()) and column.kind == "number":
        return column
    if column.kind == "missing":
        raise RecordingError(
            "no-readings",
            f"All cells of {column.title} are missing, such as {column.first!r}.",
            "A force column holds numbers.",
            "Give --column another one, or record again.",
        )
    raise RecordingError(
        "column-not-numbers",
        f"The cells of {column.title} are no numbers, such as {column.first!r}.",
        f"A force column holds numbers. The columns are: {listed(columns)}.",
        "Give --column another one, or --decimal if the decimal mark was misread.",
    )


def _which_column(candidates: Sequence[Column], columns: Sequence[Column]) -> RecordingError:
    numbers = " or ".join(str(c.number) for c in candidates[:6])
    return RecordingError(
        "column-ambiguous",
        f"The force could be column {numbers}.",
        f"The columns are: {listed(columns)}.",
        f"Give --column the name or number of the force, such as --column {candidates[-1].number}.",
    )


def _no_force(columns: Sequence[Column]) -> RecordingError:
    return RecordingError(
        "no-force-column",
        "No column is a force.",
        f"The columns are: {listed(columns)}.",
        "Give --column the force's name or number, and --scale if it is a raw signal.",
    )
