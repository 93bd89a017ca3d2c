"""Decimal point or decimal comma, proved by many cells or asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from pullbench.errors import RecordingError
from pullbench.sources.cells import DecimalMark, bare, decimal_evidence


def refuse_undecided_decimals(
    rows: Sequence[Sequence[str]], more_rows: Iterable[Sequence[str]], columns: int
) -> DecimalMark | None:
    """Return the decimal mark that cells prove, or None when no cell has one or only points stand there.

    rows: cells of the first rows; more_rows: further rows, looked at only when the first prove nothing.
    Raises RecordingError when both marks are proved (more than one proof in a hundred is the other
    one), or when commas stand before three digits throughout and nothing proves what they are.
    """
    proofs = _proofs(rows)
    if proofs["either"] and not proofs["."] and not proofs[","]:
        proofs += _proofs(cells for cells in more_rows if len(cells) == columns)
    point, comma = proofs["."], proofs[","]
    if min(point, comma) * 100 > max(point, comma):
        raise _mixed(rows)
    if point or comma:
        return "." if point > comma else ","
    undecided = next((c for row in rows for c in row if "," in c and decimal_evidence(c) == "either"), None)
    if undecided is not None:
        raise _undecided(undecided)
    return None


def _proofs(rows: Iterable[Sequence[str]]) -> Counter[str]:
    return Counter(decimal_evidence(cell) for row in rows for cell in row)


def _mixed(rows: Sequence[Sequence[str]]) -> RecordingError:
    seen = {mark: bare(c) for row in rows for c in row if (mark := decimal_evidence(c)) in (".", ",")}
    return RecordingError(
        "decimal-mixed",
        f"Decimals are written both as {seen.get('.', '1.5')!r} and as {seen.get(',', '1,5')!r}.",
        "A table must keep to one decimal mark.",
        'Give --decimal "." or --decimal ",": cells with the other mark then count as missing.',
    )


def _undecided(cell: str) -> RecordingError:
    text = bare(cell)
    return RecordingError(
        "decimal-ambiguous",
        f"A cell such as {text!r} can mean {text.replace(',', '')} or {text.replace(',', '.')}.",
        "The comma must be known as decimal mark or as thousands separator.",
        'Give --decimal "," or --decimal ".".',
    )
