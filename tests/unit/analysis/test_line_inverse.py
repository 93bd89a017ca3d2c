"""Ratios and hidden loads with Fieller's limits."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pullbench.analysis import coverage_factor, ladder
from pullbench.analysis.lines.ratio import ratio_limits
from pullbench.model import LoadedPull


@given(
    above=st.floats(-5, 5), below=st.floats(0.5, 5), u_above=st.floats(0.01, 1), u_below=st.floats(0.01, 0.5),
    r=st.floats(-0.9, 0.9), dof=st.integers(1, 40),
)  # fmt: skip
def test_at_a_limit_the_difference_is_just_told_from_nought(above, below, u_above, u_below, r, dof):
    """The definition: above - q · below is t standard uncertainties from nought at both limits."""
    t = coverage_factor(dof)
    assume(below > 1.05 * t * u_below)
    covariance = r * u_above * u_below
    told = ratio_limits(above, below, u_above**2, u_below**2, covariance, dof, unit="1")
    assert told.limits[0] <= told.value <= told.limits[1]
    for q in told.limits:
        u = math.sqrt(u_above**2 - 2 * q * covariance + (q * u_below) ** 2)
        assert abs(above - q * below) == pytest.approx(t * u, rel=1e-6)


@pytest.mark.parametrize("u_below", [0.5, 0.9, 2.0])
def test_a_slope_that_could_be_nought_bounds_nothing(u_below):
    told = ratio_limits(1.0, 1.0, 0.01, u_below**2, 0.0, 10, unit="kg")
    assert told.kind == "cannot tell"
    assert "nothing bounds it" in told.reason


def test_a_well_known_slope_gives_the_law_of_propagation():
    told = ratio_limits(6.0, 2.0, 0.01**2, 0.002**2, 0.0, 1000, unit="1", over=10.0)
    u = 3 * math.hypot(0.01 / 6, 0.002 / 2) / 10  # relative variances add (GUM 5.1.6)
    assert told.value == pytest.approx(0.3)
    assert told.standard_uncertainty == pytest.approx(u)
    assert told.limits == pytest.approx((0.3 - 1.962 * u, 0.3 + 1.962 * u), abs=1e-5)


LOADS_N = np.repeat([5.0, 10.0, 15.0, 20.0, 25.0], 3)
WOBBLE = np.resize([0.012, -0.02, 0.008, -0.011, 0.016, -0.006, 0.003], 15)


def some(scatter=1.0):
    return [
        LoadedPull(
            normal_N=n,
            kinetic_N=(0.3 * n + 0.4) * (1 + scatter * w),
            static_N=(0.4 * n + 0.5) * (1 + scatter * w),
        )
        for n, w in zip(LOADS_N, WOBBLE, strict=True)
    ]


def test_a_hidden_load_is_read_back_from_either_line():
    hidden = LoadedPull(normal_N=0.0, kinetic_N=0.3 * 12 + 0.4, static_N=0.4 * 12 + 0.5)
    told = ladder(some(), mystery=[hidden]).mystery
    for force in (told.static, told.kinetic):
        assert force.unit == "N"
        assert force.limits[0] < 12 < force.limits[1]
        assert force.value == pytest.approx(12, rel=0.03)


def test_more_pulls_of_the_hidden_load_know_it_better():
    hidden = LoadedPull(normal_N=0.0, kinetic_N=4.0)
    one, four = (ladder(some(), mystery=[hidden] * n).mystery.kinetic for n in (1, 4))
    width = [told.limits[1] - told.limits[0] for told in (one, four)]
    assert 0.45 < width[1] / width[0] < 0.8
    assert ladder(some(), mystery=[hidden]).mystery.static is None


def test_a_hidden_load_behind_a_line_without_slope_cannot_be_told():
    rng = np.random.default_rng(2)
    flat = [LoadedPull(normal_N=n, kinetic_N=4 * (1 + 0.2 * rng.standard_normal())) for n in LOADS_N]
    told = ladder(flat, mystery=[LoadedPull(normal_N=0.0, kinetic_N=4.0)]).mystery.kinetic
    assert told.kind == "cannot tell"
