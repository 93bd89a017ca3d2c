"""Normal gravity against published constants and series."""

import math

import pytest

from pullbench.physics import STANDARD_GRAVITY_M_S2, normal_gravity_m_s2


@pytest.mark.parametrize(
    ("latitude_deg", "series_m_s2"),
    [
        (0, 9.7803267715),
        (15, 9.7837863976),
        (30, 9.7932487037),
        (33.75, 9.7962847505),
        (40.0, 9.8016982965),
        (45, 9.8061992026),  # this one is printed in the regulation
        (51.4778, 9.812015408),
        (60, 9.8191783851),
        (60.17, 9.8193117074),
        (75, 9.8286980584),
        (90, 9.8321863684),
    ],
)
def test_agrees_with_the_grs_80_series_of_40_cfr_1065_630(latitude_deg, series_m_s2):
    # Equation 1065.630-1 belongs to GRS 80; WGS 84 differs from it by 1.43e-6 m/s² at every latitude
    # (their gravitational constants differ by 1.5e-7).
    assert normal_gravity_m_s2(latitude_deg) - series_m_s2 == pytest.approx(-1.433e-6, abs=4e-9)


@pytest.mark.parametrize(
    ("latitude_deg", "printed_m_s2"),
    [
        pytest.param(0, 9.7803253359, id="equator"),
        pytest.param(90, 9.8321849378, id="pole"),
    ],
)
def test_gives_the_defining_values_of_wgs_84(latitude_deg, printed_m_s2):
    """NIMA TR8350.2, WGS 84: theoretical gravity at the equator and at the poles."""
    assert normal_gravity_m_s2(latitude_deg) == pytest.approx(printed_m_s2, abs=2e-10)


@pytest.mark.parametrize(
    ("latitude_deg", "height_m", "expected_m_s2"),
    [
        (45, 0, 9.806197769),
        (45, 300, 9.80527217),
        (45, 1000, 9.803112944),
        (0, 2000, 9.77415284),
        (51.5, 35, 9.811925599),
        (39.74, 1609, 9.796502071),
        (27.99, 5364, 9.775171975),
    ],
)
def test_falls_with_height_as_the_second_order_formula_of_nga_stnd_0036(
    latitude_deg, height_m, expected_m_s2
):
    assert normal_gravity_m_s2(latitude_deg, height_m) == pytest.approx(expected_m_s2, abs=2e-9)


def test_falls_by_the_textbook_gradient_near_the_ground():
    drop = normal_gravity_m_s2(45) - normal_gravity_m_s2(45, 300)
    assert drop == pytest.approx(3.086e-6 * 300, rel=1e-3)  # free-air gradient, 0.3086 mGal per metre


def test_is_the_same_north_and_south():
    assert normal_gravity_m_s2(-33.9) == normal_gravity_m_s2(33.9)


def test_standard_gravity_is_the_value_of_the_third_cgpm():
    assert STANDARD_GRAVITY_M_S2 == 9.80665


def test_using_9_80_misses_by_up_to_a_third_of_a_percent_on_earth():
    misses = [normal_gravity_m_s2(latitude) / 9.80 - 1 for latitude in range(91)]
    assert min(misses) > -0.00204082
    assert max(misses) < 0.00330
    assert math.isclose(normal_gravity_m_s2(0) / 9.80 - 1, -0.0020, abs_tol=1e-4)
