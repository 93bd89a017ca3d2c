"""The force scale from known masses, against an independent weighted fit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.analysis import Hung, verify
from pullbench.errors import ConditionsError
from pullbench.physics import STANDARD_GRAVITY_M_S2 as G


def hung(masses_kg, gain=1.0, offset_N=0.0, u_N=0.002, noise=(), u_mass_kg=0.0):
    noise = [0.0] * len(masses_kg) if len(noise) == 0 else noise
    return [
        Hung(
            mass_kg=m,
            reading_N=offset_N + gain * m * G + e,
            u_reading_N=u_N,
            u_mass_kg=u_mass_kg if m else 0.0,
        )
        for m, e in zip(masses_kg, noise, strict=True)
    ]


@given(gain=st.floats(0.5, 2.0), offset_N=st.floats(-10.0, 10.0), sign=st.sampled_from([-1, 1]))
def test_a_sensor_without_noise_gives_its_gain_whatever_its_offset_and_sign(gain, offset_N, sign):
    found = verify(hung([0.0, 0.2, 0.5], sign * gain, offset_N))
    assert found.gain.value == pytest.approx(gain, rel=1e-9)
    assert found.masses == 2


def test_slope_and_doubt_are_those_of_a_weighted_least_squares_fit():
    rng = np.random.default_rng(4)
    masses_kg = [0.0, 0.1, 0.2, 0.5, 1.0]
    u_N = 0.01
    readings = hung(masses_kg, 1.01, 0.3, u_N, noise=u_N * rng.normal(size=5))
    x, y = [m * G for m in masses_kg], [one.reading_N for one in readings]
    (slope, _), covariance = np.polyfit(x, y, 1, w=np.full(5, 1 / u_N), cov="unscaled")
    found = verify(readings)
    left = np.asarray(y) - np.polyval(np.polyfit(x, y, 1), x)
    birge = max(1.0, float(np.sqrt(np.sum((left / u_N) ** 2) / 3)))
    assert found.gain.value == pytest.approx(slope, rel=1e-9)
    assert found.gain.standard_uncertainty == pytest.approx(np.sqrt(covariance[0, 0]) * birge, rel=1e-6)


def test_the_limits_hold_the_true_gain_as_often_as_they_say():
    rng = np.random.default_rng(1)
    inside = []
    for _ in range(500):
        found = verify(hung([0.0, 0.2, 0.5, 1.0], 1.02, 0.1, 0.01, noise=0.01 * rng.normal(size=4)))
        low, high = found.gain.limits
        inside.append(low <= 1.02 <= high)
    assert 0.93 <= np.mean(inside) <= 1.0  # scatter only ever widens them (Birge)


def test_a_scale_that_is_off_enters_the_budgets_with_what_it_is_off():
    assert verify(hung([0.0, 0.5], 1.03)).u_gain == pytest.approx(0.03 / 1.03, rel=0.01)
    assert verify(hung([0.0, 0.5], 1.0)).u_gain < 0.001


def test_the_doubt_of_the_masses_is_carried():
    exact, doubtful = (verify(hung([0.0, 0.5], u_mass_kg=u)) for u in (0.0, 0.005))
    assert doubtful.gain.standard_uncertainty == pytest.approx(0.01, rel=0.05)  # 5 g of 500 g
    assert exact.gain.standard_uncertainty < 0.001


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        (hung([0.5, 0.5]), "masses-too-few"),
        ([], "masses-too-few"),
        (hung([0.0, -0.5]), "mass-impossible"),
        (hung([0.0, float("nan")]), "mass-impossible"),
        (hung([0.0, 0.5], gain=0.0001), "masses-not-felt"),
    ],
)
def test_what_gives_no_scale_is_refused(readings, code):
    with pytest.raises(ConditionsError) as refused:
        verify(readings)
    assert refused.value.code == code
