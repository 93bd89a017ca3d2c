"""A planned lesson as text for people: loads, forces, limits to expect, advice, and where it comes from."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from pullbench.model import Measured
from pullbench.render.rounding import figures_of, fixed, percent, plus_minus
from pullbench.teach import Entry, Expected, Load, Plan

COLUMNS = 100
HEADINGS = ("load", "static", "kinetic", "up to", "")


def plan_text(plan: Plan, entry: Entry | None = None, *, comma: bool = False) -> str:
    """Return the plan: a table of loads in their order, the coefficients to expect, the advice.

    entry: what the handbook says of the surfaces, when they were named.  No line is longer than 100
    columns.
    """
    pulls = "1 pull" if plan.pulls == 1 else f"{plan.pulls} pulls"
    lines = [f"Plan (simulated): {pulls} with each load, in this order", "", *_table(plan, comma), ""]
    lines += [line for part in _expectations(plan, comma) for line in _wrapped(part)]
    lines += ["", *_wrapped(f"Coefficients: {plan.coefficients.source}.")]
    if entry is not None:
        lines += [line for part in handbook_lines(entry, comma=comma) for line in _wrapped(part, "  ")]
    lines += ["", *(line for one in plan.advice for line in _wrapped(f"{one.name}: {one.sentence}"))]
    return "\n".join(lines).rstrip()


def handbook_lines(entry: Entry, *, comma: bool = False) -> Iterator[str]:
    """Yield the rows of the handbook that were used, each with its source and licence, and the remarks."""
    for row in entry.rows:
        told = [
            f"{name} {_span(span, comma)}"
            for name, span in (("static", row.static), ("kinetic", row.kinetic))
            if span
        ]
        condition = f", {row.condition}" if row.condition else ""
        yield f"{row.pair}{condition}: {', '.join(told)}. {row.source}; {row.licence}."
    yield from entry.remarks


def _table(plan: Plan, comma: bool) -> Iterator[str]:
    rows = [HEADINGS, *(_row(load, comma) for load in plan.loads)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    yield from ("  ".join(map(str.ljust, row, widths)).rstrip() for row in rows)


def _row(load: Load, comma: bool) -> Sequence[str]:
    note = "do not use: off the scale" if load.clips else ""
    if not load.clips and not load.static_told:
        note = "static peak hidden"
    return (
        f"{_plain(load.mass_kg, comma)} kg",
        f"{_span(load.static_N, comma)} N",
        f"{_span(load.kinetic_N, comma)} N",
        f"{figures_of(load.highest_N, comma=comma)} N",
        note,
    )


def _expectations(plan: Plan, comma: bool) -> Iterator[str]:
    for name, known in (("static", plan.static), ("kinetic", plan.kinetic)):
        text = plus_minus(_as_measured(known), comma=comma)
        if known.half_width is None:
            yield f"{name} coefficient: cannot tell"
        else:
            yield (
                f"{name} coefficient: for example {text} from {known.readings} pulls "
                f"(± {percent(known.half_width)}, simulated)"
            )


def _as_measured(known: Expected) -> Measured:
    if known.limits is None:
        return Measured.cannot_tell("hidden", unit="1")
    return Measured(kind="value", value=known.value, standard_uncertainty=None, limits=known.limits, unit="1")


def _span(span: tuple[float, float], comma: bool) -> str:
    low, high = (figures_of(value, comma=comma) for value in span)
    return low if low == high else f"{low} to {high}"


def _plain(value: float, comma: bool) -> str:
    text = f"{value:.4g}"
    decimals = len(text.partition(".")[2])
    return fixed(value, decimals, comma=comma)


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, COLUMNS, initial_indent=indent, subsequent_indent=indent + "  ")
