"""A document as a tagged PDF (PDF/UA-1), through Typst and with our own fonts."""

from __future__ import annotations

from importlib.resources import as_file

from pullbench.errors import PullbenchError
from pullbench.render.lettering import fonts
from pullbench.render.sheets.blocks import Document, Style
from pullbench.render.sheets.to_typst import typst_source
from pullbench.render.tokens import STRONG, TEXT


def as_pdf(document: Document, style: Style) -> bytes:
    """Return a document as PDF bytes; the same arguments and version of Typst give the same bytes.

    Raises PullbenchError pdf-part-missing without the extra `pdf`, and sheet-fonts-missing.
    """
    try:
        import typst
    except ImportError:
        raise PullbenchError(
            "pdf-part-missing",
            "A PDF needs the part typst, which is not installed.",
            "The HTML needs nothing more.",
            "Install it with: pip install 'pullbench[pdf]'.",
        ) from None
    names = [f"commissioner-{weight}.ttf" for weight in (TEXT, STRONG)]
    missing = [name for name in names if not fonts().joinpath(name).is_file()]
    if missing:
        raise PullbenchError(
            "sheet-fonts-missing", f"The font {missing[0]} is not where pullbench keeps its fonts.",
            "A PDF is always set in these.", "Install pullbench again; the HTML can be printed meanwhile.",
        )  # fmt: skip
    with as_file(fonts()) as folder:
        return typst.compile(
            typst_source(document, style).encode("utf-8"),
            font_paths=typst.Fonts(
                include_system_fonts=False, font_paths=[str(folder)]
            ),  # alike on every machine
            format="pdf",
            pdf_standards=["ua-1"],
        )
