"""What a teacher types into a field, read strictly: numbers with point or comma, lists of numbers, names."""

from __future__ import annotations

import math
import re
from decimal import Decimal

from pullbench.errors import PageError

LONGEST_NAME = 40
TWO_SIDED = 1.96  # half of 95 % limits, in standard uncertainties
_RANGE = re.compile(r"(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?")


def named(name: str) -> str:
    """Return a field as the page calls it."""
    return f'"{name}"'


def whole(text: str, name: str) -> int:
    """Return a whole number.  Raises PageError."""
    bare = text.strip()
    if not re.fullmatch(r"-?\d{1,12}", bare) or not bare.isascii():
        raise PageError(
            "number-unreadable", f"{named(name)} is {bare[:40]!r}.", "It must be a whole number.",
            f"Mend {named(name)}.",
        )  # fmt: skip
    return int(bare)


def number(text: str, name: str, example: str) -> float | None:
    """Return a number, None for nothing typed.  Raises PageError."""
    bare = text.strip().replace(",", ".")
    if not bare:
        return None
    try:
        value = float(bare)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise PageError(
            "number-unreadable", f"{named(name)} is {text.strip()[:40]!r}.",
            f"It must be a plain number, such as {example}.",
            f"Mend {named(name)}.",
        )  # fmt: skip
    return value


def doubt_of(text: str, plus_minus: float | None) -> float:
    """Return the standard uncertainty of a number from its typed plus or minus, half of 95 % limits.

    Without one it is known to half its last digit, evenly likely (GUM 4.3.7).
    """
    if plus_minus is not None:
        return abs(plus_minus) / TWO_SIDED
    exponent = Decimal(text.strip().replace(",", ".")).as_tuple().exponent
    return 0.5 * 10.0 ** int(exponent) / math.sqrt(3)


def numbers(text: str, name: str) -> frozenset[int] | None:
    """Return the numbers of a list such as "1, 2, 5-7"; None for nothing typed.  Raises PageError."""
    if not text.strip():
        return None
    found: set[int] = set()
    for piece in re.split(r"[,;\s]+(?=\d)", text.strip().rstrip(",; ")):
        match = _RANGE.fullmatch(piece.strip())
        first, last = (int(match[1]), int(match[2] or match[1])) if match else (1, 0)
        if first > last:
            raise PageError(
                "list-unreadable", f"{named(name)} is {text.strip()[:40]!r}.",
                "It must be a list of numbers, such as 1, 2, 5-7.", f"Mend {named(name)}, or leave it empty for all.",
            )  # fmt: skip
        found.update(range(first, last + 1))
    return frozenset(found)


def surface(text: str, name: str, otherwise: str) -> str:
    """Return the name of a surface, or what stands for it when nothing was typed.  Raises PageError."""
    bare = " ".join(text.split())
    if len(bare) > LONGEST_NAME or "`" in bare or not bare.isprintable():
        raise PageError(
            "surface-unreadable", f"{named(name)} is {bare[:LONGEST_NAME]!r}.",
            f"It must have up to {LONGEST_NAME} plain letters.", f"Mend {named(name)}, such as felt.",
        )  # fmt: skip
    return bare or otherwise
