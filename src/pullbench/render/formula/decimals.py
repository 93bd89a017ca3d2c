"""The decimal mark: a point between two digits becomes a comma where that is wanted."""

from __future__ import annotations

import re

_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def decimal_mark(text: str, *, comma: bool) -> str:
    """Return words or a number with a comma for each decimal point, or as they are."""
    return _POINT.sub(",", text) if comma else text
