"""Typed answers as lines: seat, problem, part, answer; separated by tab, semicolon, comma or blanks.

Only the first three separators of a line count, so that 3,1,a,4,2 N is the answer 4,2 N.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from pullbench.errors import PullbenchError
from pullbench.model.review import TypedRow

MOST_BYTES = 1_000_000  # sixty seats with a page of answers each are under a tenth of it
LONGEST_LINE = 300
_SEPARATORS = ("\t", ";", ",", "|")
_HEADING = re.compile(r"\W*seat\b", re.I)
_TOGETHER = re.compile(r"\s*(\d+)\s*([a-z])\s*", re.I)
_FORM = "It must be seat, problem, part, answer, such as 3,1,a,4.2 N."


def answer_rows(data: bytes, name: str) -> tuple[tuple[TypedRow, ...], tuple[str, ...]]:
    """Return the lines that can be read, and one sentence with its number for each that cannot.

    name: of the file, for messages.  Blank lines, lines that begin with # and a heading are passed over.  Raises
    PullbenchError answers-empty, answers-too-large or answers-not-text.
    """
    rows: list[TypedRow] = []
    complaints: list[str] = []
    for number, line in _lines(data, name):
        cells = _cells(line)
        if not rows and not complaints and cells and _HEADING.match(cells[0]):
            continue
        fault = _fault(cells) if len(line) <= LONGEST_LINE else f"it is longer than {LONGEST_LINE} characters"
        if fault:
            complaints.append(f"Line {number} is left out: {fault}. {_FORM}")
            continue
        seat, problem, part, answer = cells
        rows.append(
            TypedRow(line=number, seat=int(seat), problem=int(problem), part=part[0].lower(), answer=answer)
        )
    if not rows and not complaints:
        raise PullbenchError(
            "answers-empty",
            f"{name} holds no answers.",
            _FORM,
            "Type one answer a line, then review it again.",
        )
    return tuple(rows), tuple(complaints)


def _lines(data: bytes, name: str) -> Iterator[tuple[int, str]]:
    if len(data) > MOST_BYTES:
        raise PullbenchError(
            "answers-too-large", f"{name} has {len(data) / 1e6:.1f} MB or more.",
            f"Typed answers of a class stay below {MOST_BYTES / 1e6:g} MB.", "Give the file with the answers alone.",
        )  # fmt: skip
    if b"\0" in data:
        raise PullbenchError(
            "answers-not-text", f"{name} is not text.", "Answers are lines of text, such as CSV.",
            "Save the table as CSV, then review that file.",
        )  # fmt: skip
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    for number, line in enumerate(re.split("\r\n|\n|\r", text), 1):
        if line.strip() and not line.lstrip().startswith("#"):
            yield number, line


def _cells(line: str) -> list[str]:
    """Return the cells of a line, at most four; a first one such as "3" and a second "1a" stand for three."""
    separator = next((mark for mark in _SEPARATORS if mark in line), None)
    if separator == "," and ";" not in line and re.match(r"\s*\d+\s+\d+\s+[a-z]\b", line, re.I):
        separator = None  # 3 1 a 4,2 N: the comma is the answer's own
    first = line.split(separator, 2)
    together = _TOGETHER.fullmatch(_unquoted(first[1])) if len(first) == 3 else None
    if together:
        return [_unquoted(first[0]), together[1], together[2], _unquoted(first[2])]
    return [_unquoted(cell) for cell in line.split(separator, 3)]


def _unquoted(cell: str) -> str:
    cell = cell.strip()
    return cell[1:-1].replace('""', '"').strip() if len(cell) > 1 and cell[0] == cell[-1] == '"' else cell


def _fault(cells: list[str]) -> str:
    """Return what is wrong with a line's cells, or nothing.  The first may be a name: not shown."""
    if not _whole(cells[0]):
        return "its seat is not a number, and names are not taken"
    if len(cells) != 4:
        return f"it has {len(cells)} of 4 cells"
    if not _whole(cells[1]):
        return f"its problem is {_shown(cells[1])}, not a number"
    if not re.fullmatch(r"[A-Za-z]\)?", cells[2]):
        return f"its part is {_shown(cells[2])}, not a letter"
    return "" if cells[3] else "there is no answer in it"


def _whole(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 7


def _shown(text: str) -> str:
    """Return a cell as a message shows it."""
    text = "".join(letter if letter.isprintable() else "�" for letter in text)
    return repr(text if len(text) <= 20 else f"{text[:19]}…")
