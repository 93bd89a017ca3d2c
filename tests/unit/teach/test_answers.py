"""Typed answers: numbers and units as people write them, options by letter or words, nonsense refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.teach.answers import UNITS, quantity_of, typed_number, typed_option


@pytest.mark.parametrize(("text", "in_SI", "quantity"), [
    ("4.2 N", 4.2, "force"), ("4,2N", 4.2, "force"), ("4.2 newtons", 4.2, "force"), ("4.2 Newton.", 4.2, "force"),
    ("F_max = 4.2 N", 4.2, "force"), ("about 4.2 N", 4.2, "force"), ("4.2 ± 0.1 N", 4.2, "force"),
    ("4200 mN", 4.2, "force"), ("1 kgf", 9.80665, "force"), ("100 gf", 0.980665, "force"),
    ("5 kg m/s²", 5.0, "force"), ("−3.1 N", -3.1, "force"),
    ("0.35kg", 0.35, "mass"), ("350 g", 0.35, "mass"), ("22°", 22, "angle"), ("22 deg", 22, "angle"),
    ("3.2 m/s^2", 3.2, "acceleration"), ("3.2 m/s2", 3.2, "acceleration"), ("3.2 ms^-2", 3.2, "acceleration"),
    ("3,2 m s⁻²", 3.2, "acceleration"), ("9.81 N/kg", 9.81, "acceleration"), ("320 cm/s²", 3.2, "acceleration"),
    ("54 km/h", 15.0, "speed"), ("15 m s-1", 15.0, "speed"), ("15 metres per second", 15.0, "speed"),
    ("12 cm", 0.12, "length"), ("1.5·10^-2 m", 0.015, "length"), ("1,5e3 mm", 1.5, "length"),
    ("3 N m", 3.0, "work"), ("3 J/s", 3.0, "power"), ("7 sec", 7.0, "time"), ("0,31", 0.31, "no unit"),
    ("31 %", 0.31, "no unit"),
])  # fmt: skip
def test_a_number_is_read_with_its_unit_in_whatever_way_it_is_typed(text, in_SI, quantity):
    typed = typed_number(text)
    assert typed.fault == ""
    assert typed.quantity == quantity
    assert typed.numbers[0] * typed.size == pytest.approx(in_SI, rel=1e-12)


@pytest.mark.parametrize(("text", "fault"), [
    ("", "empty"), ("   ", "empty"), ("?", "not a number"), ("ten N", "not a number"), ("nan", "not a number"),
    ("1e999", "not a number"), ("4..2 N", "not a number"), ("1.2.3", "not a number"), ("4.2 bananas", "not a unit"),
    ("3/4", "not a unit"), ("9" * 5000, "not a number"), ("4.2 N to the left", "not a unit"),
])  # fmt: skip
def test_what_is_no_number_with_a_known_unit_is_told_apart_and_never_guessed(text, fault):
    assert typed_number(text).fault == fault


def test_three_digits_after_one_mark_may_mean_thousandths_or_thousands():
    assert typed_number("1,500 N").numbers == (1.5, 1500.0)
    assert typed_number("1.500,5 N").numbers == (1500.5,)
    assert typed_number("0,500 N").numbers == (0.5,)


@pytest.mark.parametrize(("text", "fewest", "most"), [
    ("4.2", 2, 2), ("4.20", 3, 3), ("0.050 m", 2, 2), ("40 N", 1, 2), ("1200", 2, 4), ("7", 1, 1),
])  # fmt: skip
def test_significant_figures_are_counted_and_zeros_at_the_end_of_a_whole_number_may_go_both_ways(
    text, fewest, most
):
    assert typed_number(text).figures == (fewest, most)


@given(st.text(max_size=80))
def test_any_text_at_all_is_read_or_refused_without_an_exception(text):
    typed = typed_number(text)
    assert bool(typed.numbers) == (typed.fault not in ("empty", "not a number"))
    typed_option(text, ("forwards", "backwards"))


@given(st.floats(1e-3, 1e4), st.sampled_from([name for name in UNITS if name != "1"]), st.booleans())
def test_a_number_written_out_with_any_unit_comes_back(value, unit, comma):
    text = f"{value:.4g}" if value < 1e3 else f"{value:.0f}"
    typed = typed_number(f"{text.replace('.', ',') if comma else text} {unit}")
    assert float(text) in [pytest.approx(one) for one in typed.numbers]
    assert (typed.quantity, typed.size) == quantity_of(unit)


OPTIONS = ("about a quarter", "about half", "about the same", "about four times as much")


@pytest.mark.parametrize(("text", "index"), [
    ("A", 0), ("b", 1), ("(c)", 2), ("D)", 3), ("4", 3), ("About half.", 1), ("B) about half", 1),
    ("about the", 2), ("about", None), ("E", None), ("5", None), ("", None), ("half", None),
])  # fmt: skip
def test_an_option_is_meant_by_its_letter_its_words_or_its_number(text, index):
    assert typed_option(text, OPTIONS) == index
