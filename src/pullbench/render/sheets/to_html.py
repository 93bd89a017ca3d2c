"""Pages as one HTML file that needs nothing beside it: MathML, pictures in the text, rules for printing."""

from __future__ import annotations

import base64
import re
from importlib.resources import files
from xml.sax.saxutils import escape, quoteattr

from pullbench.render.formula import decimal_mark, mathml, parse, pieces, plain_words
from pullbench.render.lettering import clean, font_faces, glued
from pullbench.render.sheets.blocks import (
    AnswerLine,
    Block,
    Document,
    Heading,
    Maths,
    NewSheet,
    Picture,
    Question,
    Rest,
    Room,
    Style,
    Table,
    Together,
    Words,
)
from pullbench.render.sheets.numbers import OPTION_LETTERS
from pullbench.render.sheets.to_typst import loosened
from pullbench.render.sheets.words import LABELS

UNITS_TALL = 26.0  # letters of a figure, in its own units
_VIEW = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
_PAPERS = {"a4": "A4", "letter": "letter"}


def html_page(document: Document, style: Style) -> str:
    """Return a document as HTML.  Raises ValueError for a formula that cannot be read."""
    rules = files("pullbench.render.sheets").joinpath("page.css").read_text(encoding="utf-8")
    rules = rules.replace("SIZE", f"{style.size_pt:g}", 1).replace("PAPER", _PAPERS[style.paper], 1)
    writer = _Writer(style)
    body = "\n".join([*map(writer.block, document.blocks), writer.end()])
    plain = ' class="plain-type"' if style.plain_type else ""
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(document.title)}</title>\n<style>{font_faces()}\n{rules}</style>\n</head>\n"
        f"<body{plain}>\n<main>\n{body}\n</main>\n</body>\n</html>\n"
    )


class _Writer:
    """Writes blocks one after another; each sheet is an article with its foot."""

    def __init__(self, style: Style) -> None:
        self._style = style
        self._foot: str | None = None

    def end(self) -> str:
        """Close the last sheet."""
        if self._foot is None:
            return ""
        closed = f'<p class="foot">{self._words(self._foot)}</p>\n</article>'
        self._foot = None
        return closed

    def block(self, block: Block) -> str:
        match block:
            case NewSheet(foot):
                before, self._foot = self.end(), foot
                return f"{before}\n<article>"
            case Heading(text, level):
                return f"<h{level}>{self._words(text)}</h{level}>"
            case Words(text, manner):
                kind = "" if manner == "plain" else f' class="{manner}"'
                return f"<p{kind}>{self._words(text)}</p>"
            case Maths(formula):
                return mathml(
                    parse(formula), block=True, comma=self._style.comma, upright=self._style.plain_type
                )
            case Picture():
                return self._picture(block)
            case Question():
                return self._question(block)
            case Room(lines):
                return f'<div class="room" style="--lines:{lines}"></div>'
            case Rest():
                return ""
            case AnswerLine(unit):
                told = "" if unit == "1" else escape(unit)
                return f'<p class="answer">{LABELS["answer"]} <span class="write"></span> <span>{told}</span></p>'
            case Table():
                return self._table(block)
            case Together(blocks, _):
                return '<div class="together">\n' + "\n".join(map(self.block, blocks)) + "\n</div>"

    def _words(self, text: str) -> str:
        out = []
        for piece in pieces(clean(text)):
            if isinstance(piece, str):
                out.append(escape(glued(decimal_mark(piece, comma=self._style.comma))))
            else:
                out.append(mathml(piece, comma=self._style.comma, upright=self._style.plain_type))
        return "".join(out)

    def _picture(self, picture: Picture) -> str:
        told = quoteattr(clean(picture.described))
        if picture.own_fonts:  # as a file of its own: its fonts and names meet no others
            data = base64.b64encode(picture.svg.encode("utf-8")).decode("ascii")
            return f'<figure><img alt={told} src="data:image/svg+xml;base64,{data}"></figure>'
        size = _VIEW.search(picture.svg)
        width = f' style="width:{float(size[1]) / UNITS_TALL:.2f}em"' if size else ""
        return f"<figure>{picture.svg.replace('<svg ', f'<svg aria-label={told}{width} ', 1)}</figure>"

    def _question(self, question: Question) -> str:
        ask = f"<p><strong>{escape(question.key)})</strong> {self._words(question.ask)}</p>"
        if not question.options:
            return ask
        options = zip(OPTION_LETTERS, question.options, strict=False)
        items = "".join(
            f'<li><span class="tick"></span>{letter} {self._words(option)}</li>' for letter, option in options
        )
        return f"{ask}\n<ul>{items}</ul>"

    def _table(self, table: Table) -> str:
        head = "".join(f'<th scope="col">{self._head(cell)}</th>' for cell in table.head)
        notes = "".join(f'<span class="note">{self._words(note)}</span>' for note in table.notes)
        rows = "".join(
            f'<tr><th scope="row">{self._words(row[0])}</th>'
            + "".join(f"<td>{loosened(self._words(cell))}</td>" for cell in row[1:])
            + "</tr>"
            for row in table.rows
        )
        return (
            f'<div class="wide"><table><caption>{self._words(table.about)}{notes}</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
        )

    def _head(self, cell: str) -> str:
        """Return a heading; a formula in it stands there as text too, since not every reader reads formulas."""
        if "`" not in cell:
            return self._words(cell)
        told = escape(plain_words(cell, comma=self._style.comma))
        return f'<span class="unseen">{told}</span><span aria-hidden="true">{self._words(cell)}</span>'
