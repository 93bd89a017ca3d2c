"""Drawn ladders with known truth: limits hold, clean ladders pass, planted faults are found."""

import numpy as np
import pytest

from pullbench.analysis import ladder
from pullbench.model import LoadedPull
from simulated.ladders import FAULTS, LEFT_OUT_KG, OFFSET_N, OWN, covered, diagnosed, drawn

SHAPES = [
    pytest.param({}, id="4 to 8 loads, 1 to 5 pulls"),
    pytest.param({"loads": 4, "repeats": 1}, id="4 loads, 1 pull"),
    pytest.param({"loads": 5, "repeats": 3}, id="5 loads, 3 pulls"),
    pytest.param({"loads": 8, "repeats": 5}, id="8 loads, 5 pulls"),
]


@pytest.mark.parametrize("shape", SHAPES)
def test_limits_of_slope_and_intercept_hold_as_often_as_they_say(shape):
    told = covered(1000, seed=101, **shape)
    slope, intercept = told["ours"]
    print(f"seed 101, {shape}: {told}")
    assert 0.93 <= slope <= 0.97
    assert 0.93 <= intercept <= 0.97


def test_a_spreadsheets_line_does_not_keep_its_promise():
    told = covered(1000, seed=102, loads=5, repeats=1)
    print(f"seed 102: {told}")
    assert told["normal_limits"][0] < 0.90  # ± two standard errors from five points
    assert told["ordinary"][1] > 0.97  # its intercept is wider than it need be: heavy loads weigh too much


@pytest.mark.parametrize("kinetic_only", [False, True])
@pytest.mark.parametrize("shape", SHAPES)
def test_a_clean_ladder_is_rarely_called_faulty(shape, kinetic_only):
    told = diagnosed(800, seed=103, kinetic_only=kinetic_only, **shape)
    print(f"seed 103, {shape}: {told.names}")
    assert told.share(told.anything) <= 0.05


def test_pulls_made_in_rising_order_do_not_raise_false_alarms():
    told = diagnosed(800, seed=104, shuffled=False)
    assert told.share(told.anything) <= 0.05


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found_where_it_can_be_told(fault):
    """4 to 8 loads with three pulls each."""
    told = diagnosed(250, seed=105, fault=fault, repeats=3)
    print(f"seed 105, {fault}: {told}")
    assert told.share(told.among) >= 0.9


@pytest.mark.parametrize("fault", ["wrong load", "drift"])
def test_a_fault_of_its_own_kind_stands_alone(fault):
    told = diagnosed(200, seed=106, fault=fault, repeats=3)
    assert told.share(told.alone) >= 0.9


@pytest.mark.parametrize(
    ("fault", "other"),
    [("mass left out", "rest reading offset"), ("offset", "sled mass left out")],
)
def test_a_mass_left_out_and_an_offset_are_told_apart_or_both_are_named(fault, other):
    """Static twice kinetic, eight loads, five pulls, 2 % scatter: enough to tell which."""
    rng = np.random.default_rng(107)
    names = []
    for _ in range(100):
        one = drawn(rng, fault=fault, loads=8, repeats=5, scatter=0.02)
        names.append([d.name for d in ladder(one.pulls).diagnoses])
    right = sum(FAULTS[fault] in told for told in names)
    alone = sum(FAULTS[fault] in told and other not in told for told in names)
    wrong = sum(other in told and FAULTS[fault] not in told for told in names)
    assert right >= 95
    assert alone >= 80
    assert wrong <= 2


def test_the_size_of_a_mass_left_out_holds_in_its_limits():
    rng = np.random.default_rng(108)
    held = []
    for _ in range(400):
        for one in ladder(drawn(rng, fault="mass left out", repeats=3).pulls).diagnoses:
            if one.name == "sled mass left out" and one.size.limits is not None:
                low, high = one.size.limits
                held.append(low <= LEFT_OUT_KG <= high)
    assert len(held) > 300
    assert np.mean(held) >= 0.93


def test_the_size_of_an_offset_holds_in_its_limits():
    rng = np.random.default_rng(109)
    held = []
    for _ in range(400):
        for one in ladder(drawn(rng, fault="offset", repeats=3).pulls).diagnoses:
            if one.name == "rest reading offset":
                low, high = one.size.limits
                held.append(low <= OFFSET_N <= high)
    assert len(held) > 300
    assert np.mean(held) >= 0.92


def test_a_hidden_load_lies_in_its_limits_as_often_as_they_say():
    rng = np.random.default_rng(110)
    held = []
    for _ in range(1000):
        one = drawn(rng, loads=5, repeats=2, scatter=0.04)
        hidden_N = rng.uniform(6, 15)
        scatter = np.hypot(0.04, OWN) * rng.standard_normal()  # as the ladder's own pulls
        pull = LoadedPull(normal_N=0.0, kinetic_N=one.slope["kinetic"] * hidden_N * (1 + scatter))
        low, high = ladder(one.pulls, mystery=[pull]).mystery.kinetic.limits
        held.append(low <= hidden_N <= high)
    assert 0.93 <= np.mean(held) <= 0.97


def test_loads_and_doubts_of_loads_widen_the_limits_as_they_should():
    """Loads known to 3 % each, shared by the repeats: limits still hold."""
    rng = np.random.default_rng(111)
    held = []
    for _ in range(600):
        true = np.repeat(np.linspace(5, 25, 6), 4)
        wrong = 1 + 0.03 * np.repeat(rng.standard_normal(6), 4)
        force = 0.3 * true * (1 + 0.02 * rng.standard_normal(24))
        pulls = [
            LoadedPull(normal_N=n * w, kinetic_N=f, u_normal_N=0.03 * n)
            for n, w, f in zip(true, wrong, force, strict=True)
        ]
        slope = ladder(pulls).kinetic.slope
        held.append(slope.limits[0] <= 0.3 <= slope.limits[1])
    assert np.mean(held) >= 0.92
