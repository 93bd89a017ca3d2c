"""What a printed page is made of, before it is set as PDF or HTML.  All texts are words with `formulas`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Paper = Literal["a4", "letter"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How pages are set.

    large_print: letters of 18 points.  plain_type: wider letters and lines, nothing slanted, 13 points (20 with
    large_print).  comma: decimal comma.
    """

    paper: Paper = "a4"
    large_print: bool = False
    plain_type: bool = False
    comma: bool = False

    @property
    def size_pt(self) -> float:
        """Return the size of the letters in points."""
        if self.large_print:
            return 20.0 if self.plain_type else 18.0
        return 13.0 if self.plain_type else 11.0


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 for a sheet, 2 for a problem, 3 for a part of it."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; small for remarks at the side, strong for what must be seen first."""

    text: str
    manner: Literal["plain", "small", "strong"] = "plain"


@dataclass(frozen=True, slots=True)
class Maths:
    """A formula on a line of its own."""

    formula: str


@dataclass(frozen=True, slots=True)
class Picture:
    """An SVG and what it shows in words.

    own_fonts: the file carries its fonts, and is as wide as the text; else its letters are 26 units tall, drawn
    as tall as the text's.
    """

    svg: str
    described: str
    own_fonts: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """One part: what is asked, with options to tick when there are any."""

    key: str
    ask: str
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Room:
    """Free room to work in, so many lines tall."""

    lines: int


@dataclass(frozen=True, slots=True)
class Rest:
    """A share of what is left on the page."""


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """A line to write the answer on; unit "1" for none."""

    unit: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings, what the table is about, and notes that are read before it."""

    about: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that stay on one page; with_next: the one on which the block after them begins."""

    blocks: tuple[Block, ...]
    with_next: bool = True


@dataclass(frozen=True, slots=True)
class NewSheet:
    """A sheet of its own, on the front of a leaf; foot: what stands at the foot of its pages."""

    foot: str


Block: TypeAlias = (
    Heading | Words | Maths | Picture | Question | Room | Rest | AnswerLine | Table | Together | NewSheet
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One file: its title and its blocks, the first of them a NewSheet."""

    title: str
    blocks: tuple[Block, ...]
