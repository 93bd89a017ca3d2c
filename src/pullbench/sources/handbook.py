"""The packaged handbook of coefficients, read from the table it comes as."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

from pullbench.teach import Handbook, handbook_from


@lru_cache(maxsize=1)
def handbook() -> Handbook:
    """Return the packaged handbook."""
    return handbook_from((files("pullbench.teach") / "coefficients.csv").read_text(encoding="utf-8"))
