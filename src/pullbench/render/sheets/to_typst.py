"""Pages as Typst source.  Every word of ours goes in as a string, so that nothing in it can be taken for a command."""

from __future__ import annotations

import json
import re
from importlib.resources import files

from pullbench.render.formula import decimal_mark, parse, pieces, typst_maths
from pullbench.render.lettering import GLUE, clean, font_faces, glued
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
from pullbench.render.sheets.words import LABELS

UNITS_TALL = 26.0  # letters of a figure, in its own units
LINE_MM = 8.0
FRONT_OF_A_LEAF = '#pagebreak(weak: true, to: "odd")'
KEPT_WHOLE = 12  # rows of a table that stays on one page
_VIEW = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
# Typst strokes a letter after the one before it is filled, so a halo would eat into its neighbours: all halos first.
_HALO = re.compile(r'<text([^>]*?) paint-order="stroke"([^>]*)>(.*?)</text>')
_PAPERS = {"a4": "a4", "letter": "us-letter"}


def typst_source(document: Document, style: Style) -> str:
    """Return the Typst source of a document.  Raises ValueError for a formula that cannot be read."""
    head = (
        _part_of_page("page.typ")
        .replace("TITLE", _string(document.title), 1)
        .replace("SIZE", f"{style.size_pt:g}", 1)
        .replace("PAPER", _PAPERS[style.paper], 1)
    )
    plain = [_part_of_page("plain-type.typ")] if style.plain_type else []
    writer = _Writer(style)
    return "\n".join([head, *plain, *map(writer.block, document.blocks)])


def _part_of_page(name: str) -> str:
    rules = files("pullbench.render.sheets").joinpath(name).read_text(encoding="utf-8")
    return "\n".join(line for line in rules.splitlines() if not line.startswith("//"))


class _Writer:
    """Writes blocks one after another in one style."""

    def __init__(self, style: Style) -> None:
        self._style = style

    def block(self, block: Block) -> str:
        match block:
            case NewSheet(foot):
                told = self._words(foot)
                return f"{FRONT_OF_A_LEAF}\n#set page(footer: foot([{told}]))\n#counter(page).update(1)"
            case Heading(text, level):
                return f"#heading(level: {level})[{self._words(text)}]"
            case Words(text, manner):
                return f"#{_MANNERS[manner]}[{self._words(text)}]"
            case Maths(formula):
                return f"#{self._maths(formula, block=True)}"
            case Picture():
                return self._picture(block)
            case Question():
                return self._question(block)
            case Room(lines):
                return f"#v({lines * LINE_MM:g}mm)"
            case Rest():
                return "#v(1fr)"
            case AnswerLine(unit):
                told = "" if unit == "1" else unit
                return f"#to-write[#{_string(LABELS['answer'])}][#{_string(told)}]"
            case Table():
                return self._table(block)
            case Together(blocks, with_next):
                return (
                    f"#together(sticky: {str(with_next).lower()})[\n"
                    + "\n".join(map(self.block, blocks))
                    + "\n]"
                )

    def _words(self, text: str) -> str:
        out = []
        for piece in pieces(clean(text)):
            if isinstance(piece, str):
                out.append(f"#{_string(glued(decimal_mark(piece, comma=self._style.comma)))}")
            else:
                out.append(f"#{typst_maths(piece, comma=self._style.comma, upright=self._style.plain_type)}")
        return "".join(out)

    def _maths(self, formula: str, *, block: bool) -> str:
        return typst_maths(
            parse(formula), block=block, comma=self._style.comma, upright=self._style.plain_type
        )

    def _picture(self, picture: Picture) -> str:
        svg = _HALO.sub(r"<text\1\2>\3</text><text\1>\3</text>", picture.svg.replace(font_faces(), ""))
        size = _VIEW.search(svg)
        own_size = size is not None and not picture.own_fonts
        wide = f"{float(size[1]) * self._style.size_pt / UNITS_TALL:.1f}pt" if size and own_size else "none"
        return f"#picture({wide}, {_string(svg)}, {_string(clean(picture.described))})"

    def _question(self, question: Question) -> str:
        ask = f"#par[#strong[#{_string(question.key)})] {self._words(question.ask)}]"
        options = zip(OPTION_LETTERS, question.options, strict=False)
        return "\n".join(
            [ask, *(f"#option({_string(letter)})[{self._words(option)}]" for letter, option in options)]
        )

    def _table(self, table: Table) -> str:
        about, notes = self._words(table.about), " #linebreak() ".join(map(self._words, table.notes))
        head = "".join(f"[#strong[{self._words(cell)}]], " for cell in table.head)
        cells = "".join(f"[{loosened(self._words(cell))}], " for row in table.rows for cell in row)
        whole = str(len(table.rows) <= KEPT_WHOLE).lower()
        told = f"#small[{notes}]" if notes else ""
        return f"#told-table([{about}], [{told}], {whole}, {len(table.head)}, ({head}), ({cells}))"


def loosened(cell: str) -> str:
    """Return a cell that may break before its plus or minus, so that wide letters fit a narrow column."""
    return cell.replace(f"{GLUE}±", " ±")


_MANNERS = {"plain": "plain", "small": "small", "strong": "strong-words"}


def _string(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
