"""Pulls as text for people: a short table with a sentence and one fix each, and the whole reasoning."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from pullbench.model import Measured, Pull
from pullbench.render.lettering import GLUE, glued
from pullbench.render.rounding import doubt, percent, plus_minus, scale_for, seconds
from pullbench.render.wording import next_time, stick_slip_words, what_happened

COLUMNS = 100
GAP = "  "
HEADINGS = ("pull", "when", "breakaway", "kinetic level", "verdict")


def table(pulls: Sequence[Pull], file: str, *, note: str | None = None, comma: bool = False) -> str:
    """Return the pulls of one recording: a table, then per pull what happened and the one fix.

    note: said after coefficients ("one pull: repeats usually scatter 3–5 %").  comma: decimal comma.
    No line is longer than 100 columns.
    """
    if not pulls:
        return "\n".join(_wrapped(f"{file}: no pull in this recording."))
    rows = [HEADINGS, *(_row(number, pull, comma) for number, pull in enumerate(pulls, 1))]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    count = "1 pull" if len(pulls) == 1 else f"{len(pulls)} pulls"
    lines = [*_wrapped(f"{file}: {count}"), ""]
    if sum(widths) + len(GAP) * (len(widths) - 1) <= COLUMNS:
        lines += [GAP.join(map(str.ljust, row, widths)).rstrip() for row in rows]
    else:
        lines += [line for row in rows[1:] for line in _stacked(row)]
    for number, pull in enumerate(pulls, 1):
        lines += ["", *_sentences(number, pull, note, comma)]
    return "\n".join(lines)


def explain(pull: Pull, *, note: str | None = None, comma: bool = False) -> str:
    """Return the whole reasoning behind one pull's numbers.

    The uncertainty budget of each result, biggest row first, with its share of the variance; how the
    moment and the stretch were chosen; every finding with its fix. No line is longer than 100 columns.
    """
    results = _results(pull)
    lines: list[str] = []
    for name, measured in results:
        lines += [*_result(name, measured, note, comma), ""]
    if pull.stick_slip:
        lines += [*_wrapped(f"stick-slip: {stick_slip_words(pull, comma=comma)}"), ""]
    lines += ["how it was chosen", *_bullets(pull.chosen or ("nothing to choose in this pull",)), ""]
    lines.append(f"findings (verdict: {pull.verdict})")
    seen = [f"{f.name}: {f.sentence} {f.fix}".rstrip() for f in pull.findings]
    return "\n".join([*lines, *_bullets(seen or ["none"])])


def _results(pull: Pull) -> Iterator[tuple[str, Measured]]:
    yield "breakaway (static maximum)", pull.breakaway.force
    yield "kinetic level", pull.plateau.force
    yield "rest reading", pull.rest_reading
    if pull.static_coefficient:
        yield "static coefficient", pull.static_coefficient
    if pull.kinetic_coefficient:
        yield "kinetic coefficient", pull.kinetic_coefficient


def _result(name: str, measured: Measured, note: str | None, comma: bool) -> Iterator[str]:
    reason = f" ({measured.reason})" if measured.reason else ""
    noted = f" ({note})" if note and "coefficient" in name and measured.value is not None else ""
    yield from _wrapped(f"{name}: {plus_minus(measured, comma=comma)}{reason}{noted}")
    scale, total = scale_for(measured), measured.budget.combined
    rows = sorted(measured.budget.rows, key=lambda row: -row.u)
    for row in rows:
        share = percent((row.u / total) ** 2) if total > 0 else "none"
        numbers = f"{doubt(row.u, comma=comma, scale=scale):>12}  {share:>9}"
        *first, last = textwrap.wrap(row.source, COLUMNS - 2 - len(numbers) - 2) or [""]
        yield from (f"  {line}" for line in first)
        yield f"  {last:<46}  {numbers}"
    if rows:
        together = doubt(total, comma=comma, scale=scale)
        yield f"  {'together, one standard uncertainty':<46}  {together:>12}"


def _row(number: int, pull: Pull, comma: bool) -> tuple[str, ...]:
    start, end = pull.window.start_s, pull.window.end_s
    when = f"{seconds(start, 1, comma=comma).removesuffix(' s')} to {seconds(end, 1, comma=comma)}"
    forces = (pull.breakaway.force, pull.plateau.force)
    scale = scale_for(*forces)
    return (str(number), when, *(plus_minus(f, comma=comma, scale=scale) for f in forces), str(pull.verdict))


def _stacked(row: tuple[str, ...]) -> Iterator[str]:
    """Return a row whose table would be too wide, one cell to a line."""
    for heading, cell in zip(HEADINGS, row, strict=True):
        yield from _wrapped(f"{heading}: {cell}", indent="  " if heading != "pull" else "")


def _sentences(number: int, pull: Pull, note: str | None, comma: bool) -> Iterator[str]:
    said = f"Pull {number}: {what_happened(pull, comma=comma)}"
    yield from _wrapped(said)
    yield from _wrapped(next_time(pull.findings), indent="  ")
    for name, measured in (("static", pull.breakaway.force), ("kinetic", pull.plateau.force)):
        if measured.reason:
            yield from _wrapped(f"{name} {plus_minus(measured, comma=comma)}: {measured.reason}", indent="  ")
    if pull.stick_slip:
        yield from _wrapped(f"stick-slip: {stick_slip_words(pull, comma=comma)}", indent="  ")
    named = (("static", pull.static_coefficient), ("kinetic", pull.kinetic_coefficient))
    told = [f"{name} {plus_minus(m, comma=comma)}" for name, m in named if m]
    if told:
        yield from _wrapped(f"coefficients: {', '.join(told)}{f' ({note})' if note else ''}", indent="  ")


def _bullets(sentences: Sequence[str]) -> Iterator[str]:
    for sentence in sentences:
        lines = _wrapped(sentence, width=COLUMNS - 4)
        yield from (
            ("  - " if first else "    ") + line for first, line in zip(_first(), lines, strict=False)
        )


def _first() -> Iterator[bool]:
    yield True
    while True:
        yield False


def _wrapped(text: str, *, indent: str = "", width: int = COLUMNS) -> list[str]:
    lines = textwrap.wrap(glued(text), width, initial_indent=indent, subsequent_indent=indent or "  ")
    return [line.replace(GLUE, " ") for line in lines] or [""]
