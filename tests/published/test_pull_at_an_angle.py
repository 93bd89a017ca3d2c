"""Pull at an angle, on a tilt and while speeding up: values derived from Newton's second law.

From F = μ m g / (cos α + μ sin α) and F / m g = μ cos θ + sin θ, to nine digits.
"""

import pytest

from pullbench.physics import (
    acceleration_pulled_m_s2,
    coefficient_from_pull,
    least_pull,
    normal_force_N,
    pull_needed_N,
)


@pytest.mark.parametrize(
    ("mu", "string_deg", "pull", "along", "normal"),
    [
        (0.3, 0.0, 0.3, 0.3, 1.0),
        (0.3, 10.0, 0.289323331, 0.284927859, 0.949759531),
        (0.3, 16.6992442, 0.287347886, 0.275229358, 0.917431193),
        (0.5, 30.0, 0.448018475, 0.387995381, 0.775990762),
        (0.5, -20.0, 0.650463576, 0.611235823, 1.22247165),
    ],
)
def test_string_at_an_angle_changes_pull_and_normal_force(mu, string_deg, pull, along, normal):
    needed_N = pull_needed_N(mu, 1.0, string_deg=string_deg)
    assert needed_N == pytest.approx(pull, rel=1e-8)
    assert normal_force_N(1.0, needed_N, string_deg=string_deg) == pytest.approx(normal, rel=1e-8)
    assert mu * normal == pytest.approx(along, rel=1e-8)
    assert coefficient_from_pull(pull, 1.0, string_deg=string_deg).value == pytest.approx(mu, rel=1e-8)


def test_least_pull_is_at_the_angle_whose_tangent_is_the_coefficient():
    string_deg, pull_N = least_pull(0.3, 1.0)
    assert string_deg == pytest.approx(16.6992442, rel=1e-8)
    assert pull_N == pytest.approx(0.287347886, rel=1e-8)


@pytest.mark.parametrize(
    ("mu", "tilt_deg", "pull", "mean_of_both_ways", "half_difference"),
    [
        (0.3, 1.0, 0.317406715, 0.299954309, 0.0174524064),
        (0.3, -1.0, 0.282501902, 0.299954309, -0.0174524064),
        (0.1, 0.5, 0.108722728, 0.0999961923, 0.0087265355),
        (0.5, 2.0, 0.53459491, 0.499695414, 0.0348994967),
    ],
)
def test_pulling_both_ways_takes_out_a_tilt(mu, tilt_deg, pull, mean_of_both_ways, half_difference):
    there, back = pull_needed_N(mu, 1.0, tilt_deg=tilt_deg), pull_needed_N(mu, 1.0, tilt_deg=-tilt_deg)
    assert there == pytest.approx(pull, rel=1e-8)
    assert (there + back) / 2 == pytest.approx(mean_of_both_ways, rel=1e-8)
    assert (there - back) / 2 == pytest.approx(half_difference, rel=1e-8)


@pytest.mark.parametrize(
    ("acceleration_m_s2", "mu_k", "apparent"),
    [(0.1, 0.3, 0.310204082), (0.5, 0.3, 0.351020408), (0.05, 0.1, 0.105102041)],
)
def test_a_sled_that_speeds_up_seems_rougher(acceleration_m_s2, mu_k, apparent):
    """F / m g = μk + a / g with g = 9.8 m/s²."""
    pull_N = apparent * 1.0 * 9.8
    assert acceleration_pulled_m_s2(pull_N, 1.0, mu_k, g_m_s2=9.8) == pytest.approx(
        acceleration_m_s2, abs=1e-8
    )
