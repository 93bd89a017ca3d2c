"""Two bars to one scale: the friction a motion asks for, and the friction there is, with its limits hatched."""

from __future__ import annotations

import math
from typing import Any
from xml.sax.saxutils import escape

import numpy as np

from pullbench.model import FloatArray, Measured
from pullbench.model.required import Required
from pullbench.render.free_body_json import column
from pullbench.render.lettering import balanced, clean, font_faces
from pullbench.render.rounding import Scale, fixed
from pullbench.render.scene.rooms import FigureRoom, room_named
from pullbench.render.scene.sketch import Label, Line, Sketch
from pullbench.render.scene.symbols import Piece
from pullbench.render.tokens import STRONG, TEXT, Room
from pullbench.render.told import told
from pullbench.teach.required import BETWEEN, CAUTION, SCENARIOS, answer_at, forces_at, sentence

WIDE, BAR, BETWEEN_BARS = 720.0, 54.0, 74.0
WORDS, LARGE, SMALL = 26.0, 34.0, 21.0
FIGURES = 3


def required_svg(
    found: Required, at: float, *, room: FigureRoom = "light", comma: bool = False, carry_fonts: bool = True
) -> str:
    """Return a scenario at one acceleration, angle or push as a whole SVG picture.  Raises ConditionsError."""
    colours = room_named(room)
    sketch = Sketch(colours, colours.paper)
    words = SCENARIOS[found.scenario]
    answer, margin = answer_at(found, at)
    asked_N, low_N, high_N = forces_at(found, at)
    per_N = WIDE / max(float(found.high_N.max()), float(found.required_N.max()), asked_N)
    _write(
        sketch,
        f"{words.title}, {words.grows} {asked_text(at, found.unit, comma=comma)}",
        0,
        -96,
        LARGE,
        STRONG,
    )
    _bar(sketch, 0.0, asked_N * per_N, f"asked {newtons(asked_N, comma=comma)}", colours.ink)
    there = _between(low_N, high_N, comma=comma)
    _bar(sketch, BAR + BETWEEN_BARS, low_N * per_N, f"there is {there}", colours.static, to=high_N * per_N)
    y = 2 * BAR + BETWEEN_BARS + 24
    for text, size, weight in (
        (sentence(found.scenario, answer), WORDS, STRONG),
        (margin_text(margin, comma=comma), WORDS, TEXT),
        (f"From {found.grip.told}{f', {found.grip.label}' if found.grip.label else ''}.", SMALL, TEXT),
        (CAUTION, SMALL, TEXT),
    ):
        for line in balanced(text, WIDE, size, weight):
            y = _write(sketch, line, 0, y, size, weight)
        y += 8
    return _picture(sketch, words.title, f"{sentence(found.scenario, answer)} {margin_text(margin, comma=comma)}",
                    colours, plain=room == "print", carry_fonts=carry_fonts)  # fmt: skip


def required_record(found: Required) -> dict[str, Any]:
    """Return a scenario as the page takes it: columns of whole steps (see free_body_json), sentences, limits."""
    words = SCENARIOS[found.scenario]
    answers = [answer_at(found, float(at))[0] for at in found.at]
    nothing: FloatArray = np.zeros_like(found.at)
    return {
        "scenario": found.scenario, "title": words.title, "grows": words.grows, "who": words.who, "unit": found.unit,
        "mass_kg": found.mass_kg, "at": column(found.at, nothing), "required": _newton_column(found.required_N, found),
        "low": _newton_column(found.low_N, found), "high": _newton_column(found.high_N, found),
        "margin_low": _newton_column(found.low_N - found.required_N, found),
        "margin_high": _newton_column(found.high_N - found.required_N, found), "answers": answers,
        "sentences": {"holds": words.holds, "slides": words.slides, "cannot tell": BETWEEN},
        "largest": _range_text(found.largest),
        "then": None if found.then is None else f"{words.then} {_range_text(found.then)}.",
        "told": found.grip.told, "label": found.grip.label, "caution": CAUTION,
        "static": told(_coefficient(found.grip.static), scale=Scale("", 1.0)),
    }  # fmt: skip


def margin_text(margin: Measured, *, comma: bool = False) -> str:
    """Return what is to spare or missing, with its limits."""
    low, high = margin.limits or (0.0, 0.0)
    low, high = low or 0.0, high or 0.0
    if low >= 0:
        return f"To spare: {_between(low, high, comma=comma)}."
    if high < 0:
        return f"Missing: {_between(-high, -low, comma=comma)}."
    return f"Between {newtons(-low, comma=comma)} missing and {newtons(high, comma=comma)} to spare."


def asked_text(at: float, unit: str, *, comma: bool = False) -> str:
    """Return what is asked, a chosen number without doubt, with its unit."""
    number = _figures(at, comma=comma)
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}"


def newtons(force_N: float, *, comma: bool = False) -> str:
    """Return a force to three figures, in newtons or from 10 000 N in kilonewtons."""
    if abs(force_N) >= 10_000:
        return f"{_figures(force_N / 1000, comma=comma)} kN"
    return f"{_figures(force_N, comma=comma)} N"


def _figures(value: float, *, comma: bool = False) -> str:
    if value == 0:
        return "0"
    return fixed(value, max(0, FIGURES - 1 - math.floor(math.log10(abs(value)) + 1e-12)), comma=comma)


def _between(low: float, high: float, *, comma: bool) -> str:
    return (
        newtons(low, comma=comma)
        if low == high
        else f"{newtons(low, comma=comma)} to {newtons(high, comma=comma)}"
    )


def _range_text(span: Measured) -> str:
    """Return a range in full, in the span's own unit."""
    low, high = span.limits or (None, None)
    assert low is not None
    assert high is not None
    unit = span.unit if span.unit == "°" else f" {span.unit}"
    numbers = [_figures(one) for one in (low, high)]
    return f"{numbers[0]}{unit}" if numbers[0] == numbers[1] else f"{numbers[0]} to {numbers[1]}{unit}"


def _coefficient(span: tuple[float, float, float]) -> Measured:
    return Measured(
        kind="value", value=span[1], standard_uncertainty=None, limits=(span[0], span[2]), unit="1"
    )


def _newton_column(values: FloatArray, found: Required) -> dict[str, Any]:
    """Return newtons in steps of a thousandth of the largest that may hold, roughly three figures."""
    largest = float(found.high_N.max())
    half = 2 * 10.0 ** (math.floor(math.log10(largest)) - 2)
    return {**column(values, np.full_like(values, half)), "plus_minus": None}


def _bar(sketch: Sketch, y: float, length: float, text: str, colour: str, *, to: float | None = None) -> None:
    _write(sketch, text, 0, y - 40, WORDS, STRONG, colour)
    corners = [(0.0, y), (length, y), (length, y + BAR), (0.0, y + BAR)]
    sketch.line(corners, colour, 3, fill=colour, closed=True)
    if to is not None and to > length:
        sketch.line([(length, y), (to, y), (to, y + BAR), (length, y + BAR)], colour, 3, closed=True)
        for k in range(math.floor((to - length) / 10)):
            x = length + 10 * k
            sketch.line([(x, y + BAR), (min(x + 22, to), y + BAR - min(22, to - x) / 22 * BAR)], colour, 2)
    sketch.line([(0, y - 6), (0, y + BAR + 6)], sketch.room.ink, 4)
    sketch.grow([(WIDE, y)])


def _write(
    sketch: Sketch, text: str, x: float, y: float, size: float, weight: int = TEXT, colour: str = ""
) -> float:
    label = Label((Line((Piece(text),), size, colour or sketch.room.ink, weight),))
    return sketch.write(label, x, y).y1


def _picture(
    sketch: Sketch, title: str, described: str, room: Room, *, plain: bool, carry_fonts: bool
) -> str:
    reach = sketch.reach
    assert reach is not None  # bars are drawn
    x, y = math.floor(reach.x0 - 20), math.floor(reach.y0 - 20)
    wide, high = math.ceil(reach.x1 + 20) - x, math.ceil(reach.y1 + 20) - y
    sheet = "" if plain else f'<rect fill="{room.paper}" x="{x}" y="{y}" width="{wide}" height="{high}"/>'
    style = f"<style>{font_faces()}</style>" if carry_fonts else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img" '
        f'font-family="Commissioner, system-ui, sans-serif"><title>{escape(clean(title))}</title>'
        f"<desc>{escape(clean(described))}</desc>{style}"
        f'<g transform="translate({-x} {-y})">{sheet}{"".join([*sketch.shapes, *sketch.words])}</g></svg>'
    )
