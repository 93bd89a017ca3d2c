"""Rounding: JCGM 100:2008 (GUM), 7.2.6, where named; else common practice, no published source."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.model import Measured
from pullbench.render.rounding import fixed, half_width, plus_minus, rounded_half_width, scale_for


def value(number, half, unit="N", low=None, high=None):
    return Measured(
        kind="value",
        value=number,
        standard_uncertainty=half / 2,
        limits=(number - half if low is None else low, number + half if high is None else high),
        unit=unit,
    )


def bounded(kind, number, u=None):
    limits = (number, None) if kind == "lower bound" else (None, number)
    return Measured(kind=kind, value=number, standard_uncertainty=u, limits=limits, unit="N", reason="held")


@pytest.mark.parametrize(
    ("uncertainty", "estimate", "printed"),
    [
        pytest.param(0.027, 10.05762, "10.058", id="GUM 7.2.6: y = 10,057 62 ohm with u = 27 mohm"),
        pytest.param(28.05, 28.05, "28", id="GUM 7.2.6: 28,05 kHz is rounded down to 28 kHz"),
    ],
)
def test_an_estimate_is_rounded_to_two_figures_of_its_uncertainty_as_in_the_gum(
    uncertainty, estimate, printed
):
    _, decimals = rounded_half_width(uncertainty, figures=2)
    assert fixed(estimate, decimals) == printed


@pytest.mark.parametrize(
    ("number", "half", "unit", "printed"),
    [
        (2.871, 0.03, "N", "2.87 N ± 0.03 N"),
        (2.871, 0.012, "N", "2.871 N ± 0.012 N"),  # a leading 1 keeps two figures
        (2.871, 0.0096, "N", "2.87 N ± 0.01 N"),  # past a figure's end: one is enough again
        (2.871, 0.0199, "N", "2.87 N ± 0.02 N"),
        (2.871, 0.0249, "N", "2.87 N ± 0.03 N"),  # rounded up: 0.02 would be a fifth too narrow
        (0.312, 0.021, "1", "0.31 ± 0.02"),
        (0.312, 0.021, "", "0.31 ± 0.02"),
        (3e-15, 0.0098, "N", "0.00 N ± 0.01 N"),
        (-0.004, 0.02, "N", "0.00 N ± 0.02 N"),
        (-2.871, 0.03, "N", "−2.87 N ± 0.03 N"),
        (0.05, 0.002, "N", "50 mN ± 2 mN"),
        (0.05, 0.02, "N", "0.05 N ± 0.02 N"),
        (4210.0, 40.0, "N", "4.21 kN ± 0.04 kN"),
        (4210.4, 0.3, "N", "4210.4 N ± 0.3 N"),
        (987.0, 30.0, "N", "990 N ± 30 N"),
        (5.0, 0.0, "N", "5 N ± 0"),
    ],
)
def test_a_value_stops_at_the_decimal_of_its_plus_or_minus(number, half, unit, printed):
    assert plus_minus(value(number, half, unit)) == printed


def test_limits_that_are_not_centred_are_both_written_and_rounded_outward():
    assert plus_minus(value(2.87, 0, low=2.803, high=2.988)) == "2.87 N, between 2.80 and 2.99"


@pytest.mark.parametrize(
    ("measured", "printed"),
    [
        (bounded("lower bound", 3.219), "at least 3.21 N"),
        (bounded("lower bound", 3.1999999999999997), "at least 3.20 N"),
        (bounded("lower bound", 3.219, u=0.1), "at least 3.2 N"),
        (bounded("upper bound", 0.4012), "at most 0.402 N"),
        (Measured.cannot_tell("jerked", unit="N"), "cannot tell"),
    ],
)
def test_a_bound_is_rounded_to_its_safe_side_and_no_number_says_so(measured, printed):
    assert plus_minus(measured) == printed


def test_the_decimal_comma_and_the_short_form_change_nothing_else():
    assert plus_minus(value(2.871, 0.03), comma=True, short=True) == "2,87 N ± 0,03"


def test_results_that_share_a_scale_are_written_in_one_unit():
    static, kinetic = value(1042.0, 8.0), value(870.0, 6.0)
    scale = scale_for(static, kinetic)
    assert [plus_minus(m, scale=scale) for m in (static, kinetic)] == [
        "1.042 kN ± 0.008 kN",
        "0.870 kN ± 0.006 kN",
    ]


forces_N = st.floats(-5000, 5000)
halves_N = st.floats(1e-5, 500)


@given(number=forces_N, half=halves_N)
def test_no_reading_shows_a_negative_zero_an_exponent_or_a_hyphen(number, half):
    text = plus_minus(value(number, half))
    assert "e" not in text.replace("between", "")
    assert "-" not in text
    assert not re.search(r"−0(\.0*)?(?![\d.])", text)


@given(number=forces_N, half=halves_N)
def test_the_printed_limits_hold_the_limits_to_a_tenth_and_a_digit(number, half):
    measured = value(number, half)
    size = scale_for(measured).size
    printed, plus = plus_minus(measured, short=True).replace("−", "-").split(" ± ")
    centre, digit = printed.split(" ")[0], Decimal(1).scaleb(int(Decimal(plus).as_tuple().exponent))
    coarse = max(float(digit), half / size)  # tens and hundreds are written without decimals
    assert abs(float(centre) * size - number) <= 0.51 * coarse * size
    assert float(plus) * size >= 0.89 * half_width(measured)
    assert float(plus) * size <= 1.5 * half_width(measured)


@given(bound=st.floats(0.001, 5000), u=st.one_of(st.none(), st.floats(0.001, 10)))
def test_a_printed_lower_bound_never_claims_more_than_was_measured(bound, u):
    measured = bounded("lower bound", bound, u)
    number = plus_minus(measured).split(" ")[2].replace("−", "-")
    assert float(number) * scale_for(measured).size <= bound * (1 + 1e-9)
