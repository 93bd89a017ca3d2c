"""One sheet of a document, to be looked at."""

from __future__ import annotations

from dataclasses import replace

from pullbench.render.sheets.blocks import Document, NewSheet


def one_sheet(document: Document, number: int) -> Document:
    """Return the document with its sheet of this number (from 1) alone.  Raises IndexError."""
    starts = [at for at, block in enumerate(document.blocks) if isinstance(block, NewSheet)]
    begin = starts[number - 1]
    end = starts[number] if number < len(starts) else len(document.blocks)
    return replace(document, blocks=document.blocks[begin:end])
