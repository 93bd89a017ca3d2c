"""A folder stands for the recordings in it, wherever a recording may stand."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pullbench.errors import RecordingError

TABLES = (".csv", ".tsv", ".txt", ".dat")


def recordings_of(paths: Iterable[Path]) -> list[Path]:
    """Return recordings as they are, and of each folder its tables by name.  Raises RecordingError for one without."""
    found: list[Path] = []
    for path in paths:
        found += _tables_in(path) if path.is_dir() else [path]
    return found


def _tables_in(folder: Path) -> list[Path]:
    tables = sorted(
        path
        for path in folder.iterdir()
        if path.is_file() and path.suffix.lower() in TABLES and not path.name.startswith(".")
    )
    if not tables:
        raise RecordingError(
            "folder-without-recordings", f"The folder {folder} holds no recording.",
            f"A recording is a text table that ends in {', '.join(TABLES[:-1])} or {TABLES[-1]}.",
            "Name another folder, or the files.",
        )  # fmt: skip
    return tables
