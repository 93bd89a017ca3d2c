"""Words in a picture: how wide they are, where a line breaks, and the font that goes with the file."""

from __future__ import annotations

import base64
import json
import re
import unicodedata
from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from pullbench.render.tokens import DECLARED, STRONG, TEXT

UNITS_PER_EM = 2000
ASCENT, DESCENT = 0.76, 0.23  # of the size, tallest and deepest letters of the labels
UNKNOWN_EM, WIDE_EM = 0.66, 1.0  # a letter outside the font is drawn by another one: allow for it
LINE_HEIGHT = 1.22
GLUE = "\u00a0"
_BELONGS_TOGETHER = re.compile(r"(?<=\d) (?=(?:[mk]?N|s|ms|kg|g|Hz|kHz|%|°)\b)| (?=±)|(?<=±) |(?<=\d) (?=%)")
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def fonts() -> Traversable:
    """Return the folder of font files that ships with pullbench."""
    return files("pullbench.render").joinpath("fonts")


@lru_cache(maxsize=1)
def _advances() -> dict[int, dict[str, int]]:
    table = json.loads(fonts().joinpath("advances.json").read_text(encoding="utf-8"))
    return {int(weight): widths for weight, widths in table.items()}


def advance(text: str, size: float, weight: int = TEXT) -> float:
    """Return how wide a line of text is, in picture units; kerning, which mostly narrows it, left out."""
    widths = _advances()[weight]
    ems = 0.0
    for letter in text:
        if letter in widths:
            ems += widths[letter] / UNITS_PER_EM
        else:
            ems += WIDE_EM if unicodedata.east_asian_width(letter) in "WF" else UNKNOWN_EM
    return ems * size


def clean(text: str) -> str:
    """Return text on one line and without the characters that XML forbids."""
    return " ".join(_NOT_IN_XML.sub("\ufffd", text).split())


def glued(text: str) -> str:
    """Return text in which no line may break between a number and its unit, or after a ±."""
    return _BELONGS_TOGETHER.sub(GLUE, text)


def wrapped(text: str, width: float, size: float, weight: int = TEXT) -> list[str]:
    """Return text broken into lines no wider than width; number and unit stay together."""
    lines: list[str] = []
    line = ""
    for word in glued(clean(text)).split(" "):
        longer = f"{line} {word}" if line else word
        if advance(longer, size, weight) <= width:
            line = longer
            continue
        lines += [line] if line else []
        *whole, line = _broken(word, width, size, weight)
        lines += whole
    return [part.replace(GLUE, " ") for part in [*lines, line] if part]


def balanced(text: str, width: float, size: float, weight: int = TEXT) -> list[str]:
    """Return text in as few lines as the width allows, of about the same length: no word left alone."""
    lines = wrapped(text, width, size, weight)
    while len(lines) > 1:
        width *= 0.96
        narrower = wrapped(text, width, size, weight)
        if len(narrower) > len(lines):
            break
        lines = narrower
    return lines


def cut(text: str, width: float, size: float, weight: int = TEXT) -> str:
    """Return text, ended by an ellipsis if it is wider than width."""
    text = clean(text)
    if advance(text, size, weight) <= width:
        return text
    while text and advance(f"{text.rstrip()}…", size, weight) > width:
        text = text[:-1]
    return f"{text.rstrip(' ,;:.')}…"


def _broken(word: str, width: float, size: float, weight: int) -> list[str]:
    """Return a word that is wider than the line in pieces that are not."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and advance(pieces[-1] + letter, size, weight) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


@lru_cache(maxsize=1)
def font_faces() -> str:
    """Return the style rules that carry both weights inside the file."""
    rules = []
    for weight in (TEXT, STRONG):
        data = base64.b64encode(fonts().joinpath(f"commissioner-{weight}.woff2").read_bytes()).decode("ascii")
        source = f'src:url(data:font/woff2;base64,{data}) format("woff2")'
        rules.append(f"@font-face{{font-family:Commissioner;font-weight:{DECLARED[weight]};{source}}}")
    return "".join(rules)
