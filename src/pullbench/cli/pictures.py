"""Where a picture goes: checked before any work, written after it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pullbench.errors import RecordingError
from pullbench.render import as_png


def picture_path(picture: Path | None, inputs: Iterable[Path]) -> Path | None:
    """Return the picture's path.  Raises RecordingError for an unknown kind, or one of the inputs."""
    if picture is None:
        return None
    if picture.suffix.lower() not in (".svg", ".png"):
        raise RecordingError(
            "picture-kind-unknown", f"The picture is to be {picture.name!r}.", "It can be an .svg or a .png file.",
            "Give --picture a name that ends in one of them.",
        )  # fmt: skip
    if any(picture.resolve() == path.resolve() for path in inputs):
        raise RecordingError(
            "picture-over-recording", f"The picture {picture} is also a recording to read.",
            "A recording is never written over.", "Give --picture another name.",
        )  # fmt: skip
    return picture


def write_picture(svg: str, picture: Path) -> None:
    """Write an SVG, as PNG when the name ends so.  Raises RecordingError."""
    try:
        picture.write_bytes(as_png(svg) if picture.suffix.lower() == ".png" else svg.encode("utf-8"))
    except OSError as fault:
        raise RecordingError(
            "picture-not-written", f"The picture {picture} cannot be written: {fault.strerror}.",
            "Its folder must exist and be writable.", "Give --picture another place.",
        ) from fault  # fmt: skip
