"""Diagnoses on ladders whose fault is plain."""

import numpy as np
import pytest

from pullbench.analysis import ladder
from pullbench.model import LoadedPull

G_M_S2 = 9.80665
LOADS_KG = np.repeat([0.5, 1.0, 1.5, 2.0, 2.5], 3)
WOBBLE = np.resize([0.012, -0.02, 0.008, -0.011, 0.016, -0.006, 0.003], 15)  # share of the force, no trend


def pulls(static, kinetic, loads_kg=LOADS_KG, wobble=WOBBLE):
    wobble = np.resize(wobble, len(loads_kg))
    return [
        LoadedPull(normal_N=m * G_M_S2, static_N=s * (1 + w), kinetic_N=k * (1 + w))
        for m, s, k, w in zip(loads_kg, static, kinetic, wobble, strict=True)
    ]


def law(loads_kg=LOADS_KG, mu=(0.42, 0.28), left_out_kg=0.0, offset_N=0.0, share=1.0):
    normal = (loads_kg + left_out_kg) * G_M_S2
    return [mu * normal * share + offset_N for mu in mu]


def said(some):
    return {one.name: one for one in ladder(some).diagnoses}


def test_a_straight_line_through_nought_has_nothing_wrong():
    assert said(pulls(*law())) == {}


def test_a_mass_left_out_gives_its_size_in_kilograms():
    told = said(pulls(*law(left_out_kg=0.22)))
    assert set(told) == {"sled mass left out"}
    one = told["sled mass left out"]
    assert one.size.unit == "kg"
    assert one.size.limits[0] < 0.22 < one.size.limits[1]
    assert one.size.limits[1] - one.size.limits[0] < 0.1
    assert one.series == ("static", "kinetic")


@pytest.mark.parametrize("offset_N", [0.3, -0.3])
def test_a_rest_offset_gives_its_size_and_sign_in_newtons(offset_N):
    told = said(pulls(*law(offset_N=offset_N)))
    assert set(told) == {"rest reading offset"}
    low, high = told["rest reading offset"].size.limits
    assert low < offset_N < high


@pytest.mark.parametrize("fault", [{"left_out_kg": 0.3}, {"offset_N": 0.4}])
def test_one_line_alone_cannot_tell_a_mass_from_an_offset_and_says_both(fault):
    _, kinetic = law(**fault)
    some = [
        LoadedPull(normal_N=m * G_M_S2, kinetic_N=k * (1 + w))
        for m, k, w in zip(LOADS_KG, kinetic, WOBBLE, strict=True)
    ]
    told = said(some)
    assert {"sled mass left out", "rest reading offset"} <= set(told)
    assert "rest reading offset" in told["sled mass left out"].rivals
    assert "sled mass left out" in told["rest reading offset"].rivals


def test_a_load_counted_twice_is_never_called_a_mass_left_out():
    assert "sled mass left out" not in said(pulls(*law(left_out_kg=-0.2)))


def test_a_bend_gives_the_change_of_the_coefficient():
    """Friction as the power 2/3 of the load: from 0.5 to 2.5 kg the share falls by ln 5 / 3 = 54 % of the middle."""
    share = (LOADS_KG / 1.5) ** (-1 / 3)
    told = said(pulls(*law(share=share), wobble=0.3 * WOBBLE))
    assert set(told) == {"not proportional"}
    assert told["not proportional"].size.unit == "%"
    assert told["not proportional"].size.value == pytest.approx(-54, abs=6)


def test_a_wrongly_weighed_load_is_named_with_its_size():
    share = np.where(LOADS_KG == 1.5, 1.25, 1.0)
    told = said(pulls(*law(share=share)))
    assert set(told) == {"a load that does not belong"}
    one = told["a load that does not belong"]
    assert one.at_N == pytest.approx(1.5 * G_M_S2)
    assert one.size.limits[0] < 25 < one.size.limits[1]


def test_a_drift_is_given_per_pull_when_loads_go_up_and_down():
    loads = np.array([0.5, 1.0, 1.5, 2.0, 2.5, 2.5, 2.0, 1.5, 1.0, 0.5, 0.5, 1.5, 2.5])
    share = 1 - 0.015 * np.arange(loads.size)
    told = said(pulls(*law(loads, share=share), loads))
    assert set(told) == {"drifts with the order of pulls"}
    low, high = told["drifts with the order of pulls"].size.limits
    assert told["drifts with the order of pulls"].size.unit == "% per pull"
    assert low < -1.2
    assert high < -0.8


def test_a_drift_while_the_loads_only_rise_cannot_be_told_from_a_bend():
    loads = np.arange(1, 9) * 0.5
    told = said(pulls(*law(loads, share=1 + 0.03 * np.arange(8)), loads))
    assert "drifts with the order of pulls" in told
    assert "not proportional" in told["drifts with the order of pulls"].rivals


def test_a_load_of_nought_says_that_the_sled_is_left_out():
    """From classroom practice: about 0.5, 2.8 and 3.9 N with 0, 1 and 1.5 kg added give the block back at 0.2 kg."""
    some = [
        LoadedPull(normal_N=m * G_M_S2, kinetic_N=f, u_kinetic_N=0.1 / 12**0.5)
        for m, f in ((0.0, 0.5), (1.0, 2.8), (1.5, 3.9))
    ]
    told = ladder(some)
    assert told.kinetic.slope.value * G_M_S2 == pytest.approx(2.3, abs=0.05)
    assert [one.name for one in told.diagnoses] == ["sled mass left out", "too few pulls to tell"]
    assert told.diagnoses[0].size.value == pytest.approx(0.2, abs=0.03)
    assert told.diagnoses[0].told_by == "a load of nought"


@pytest.mark.parametrize(
    ("loads_kg", "name"),
    [
        ([0.5, 1.0], "too few pulls to tell"),
        ([0.5, 1.0, 1.5], "too few pulls to tell"),
        ([0.5, 2.5, 0.5, 2.5, 0.5, 2.5], "too few pulls to tell"),
        ([2.0, 2.1, 2.2, 2.3], "loads too close to tell"),
        ([1.0, 1.1, 1.2, 1.3, 1.2, 1.1], "loads too close to tell"),
    ],
)
def test_a_ladder_that_cannot_tell_says_so(loads_kg, name):
    loads = np.array(loads_kg)
    assert name in said(pulls(*law(loads), loads, wobble=2 * WOBBLE))


@pytest.mark.parametrize("fault", [{}, {"left_out_kg": 0.3}, {"offset_N": 0.3}])
def test_forces_without_any_scatter_are_judged_without_a_fault(fault):
    names = {"left_out_kg": "sled mass left out", "offset_N": "rest reading offset"}
    told = said(pulls(*law(**fault), wobble=[0.0]))
    assert set(told) == {names[key] for key in fault}
