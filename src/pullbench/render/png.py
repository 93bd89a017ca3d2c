"""An SVG of ours as a PNG, drawn without a browser."""

from __future__ import annotations

import re
from importlib.resources import as_file

from pullbench.errors import PullbenchError
from pullbench.render.lettering import fonts
from pullbench.render.tokens import STRONG, TEXT

MOST_PIXELS = 200_000_000  # about 800 MB while drawing
_SIZE = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')


def as_png(svg: str, width: int = 1280) -> bytes:
    """Return a picture of this room as PNG bytes, width pixels wide, always with the same font.

    Raises PullbenchError picture-part-missing without the extra `plots`, and picture-too-large.
    """
    try:
        import resvg_py
    except ImportError:
        raise PullbenchError(
            "picture-part-missing",
            "A PNG needs the part resvg-py, which is not installed.",
            "An SVG picture needs nothing more.",
            "Install it with: pip install 'pullbench[plots]', or ask for a picture that ends in .svg.",
        ) from None
    _refuse_too_large(svg, width)
    with (
        as_file(fonts().joinpath(f"commissioner-{TEXT}.ttf")) as text,
        as_file(fonts().joinpath(f"commissioner-{STRONG}.ttf")) as strong,
    ):
        drawn = resvg_py.svg_to_bytes(
            svg_string=svg,
            width=width,
            skip_system_fonts=True,  # the same picture on every machine
            font_files=[str(text), str(strong)],
            font_family="Commissioner",
            sans_serif_family="Commissioner",
        )
    return bytes(drawn)


def _refuse_too_large(svg: str, width: int) -> None:
    size = _SIZE.search(svg)
    height = width * float(size[2]) / float(size[1]) if size else width
    if width < 1 or width * height > MOST_PIXELS:
        raise PullbenchError(
            "picture-too-large",
            f"A PNG {width} pixels wide would be {height:.0f} pixels high.",
            f"It may hold {MOST_PIXELS} pixels in all, and must be at least 1 wide.",
            "Ask for a narrower picture, or for one that ends in .svg.",
        )
