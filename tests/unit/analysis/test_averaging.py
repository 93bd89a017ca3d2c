"""A converter that averages trails a ramp: it shows in the noise at rest, and the breakaway is put right for it.

Derived: the mean of the last N conversions reads a ramp of R N/s low by R·NΔ/2 (../shared/checks/signal.json, ramp_*).
"""

from dataclasses import replace

import numpy as np
import pytest

from pullbench.analysis import analyse
from pullbench.analysis.noise import averaged_over
from pullbench.detect import windows
from pullbench.model import Chunk
from pullbench.physics.bench import CONVERTER_10, record
from simulated.pulls import simulated


@pytest.mark.parametrize("length", [2, 3, 4, 6])
def test_a_moving_mean_is_recognised_by_its_noise(length):
    white = np.random.default_rng(3).normal(size=2000 + length)
    assert averaged_over(np.convolve(white, np.ones(length) / length, mode="valid")) == length


def test_white_noise_and_a_wandering_rest_are_not_taken_for_averaging():
    rng = np.random.default_rng(4)
    assert averaged_over(rng.normal(size=400)) == 1
    assert averaged_over(np.cumsum(rng.normal(size=400))) == 1
    assert averaged_over(np.zeros(400)) == 1


def test_a_few_samples_on_each_side_of_a_pull_show_averaging_but_never_invent_it():
    rng = np.random.default_rng(5)

    def shares(taps: int) -> float:
        found = 0
        for _ in range(200):
            sides = (rng.normal(size=20 + taps - 1) for _ in range(2))
            found += (
                averaged_over(*(np.convolve(one, np.ones(taps) / taps, mode="valid") for one in sides)) > 1
            )
        return found / 200

    assert shares(1) < 0.02
    assert shares(4) > 0.4


def test_a_slow_averaging_converter_gives_a_bound_on_the_peak_never_a_blunted_value():
    told = []
    for seed in range(12):
        case = simulated("plain", seed, law="coulomb")
        level_N = case.kinetic_N or 1.0
        slow = replace(CONVERTER_10, noise_N=0.002 * level_N, resolution_N=5e-4 * level_N, range_N=1e9)
        trace = record(case.run, slow, np.random.default_rng(seed))
        caught = windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])
        told += [(analyse(window).breakaway.force, case.static_N) for window in caught]
    assert not [force for force, _ in told if force.kind == "value"]
    bounds = [(force.limits[0], truth_N) for force, truth_N in told if force.kind == "lower bound"]
    assert len(bounds) >= 8
    assert all(bound_N <= truth_N for bound_N, truth_N in bounds)
