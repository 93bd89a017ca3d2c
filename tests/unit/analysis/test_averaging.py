"""A converter that averages trails a ramp: it shows in the noise at rest, and the breakaway is put right for it.

Derived: the mean of the last N conversions reads a ramp of R N/s low by R·NΔ/2 (../shared/checks/signal.json, ramp_*).
"""

import numpy as np
import pytest

from pullbench.analysis.noise import averaged_over


@pytest.mark.parametrize("length", [2, 3, 4, 6])
def test_a_moving_mean_is_recognised_by_its_noise(length):
    white = np.random.default_rng(3).normal(size=2000 + length)
    assert averaged_over(np.convolve(white, np.ones(length) / length, mode="valid")) == length


def test_white_noise_and_a_wandering_rest_are_not_taken_for_averaging():
    rng = np.random.default_rng(4)
    assert averaged_over(rng.normal(size=400)) == 1
    assert averaged_over(np.cumsum(rng.normal(size=400))) == 1
    assert averaged_over(np.zeros(400)) == 1
