import numpy as np
import pytest

from pullbench.detect.excursion import Excursion, is_pull


def excursion(noise_N=0.01, side=1):
    return Excursion(1, 0.0, noise_N, 2 * noise_N, 0.5 * noise_N, side)


def judged(shape, *, duration_s=3.0, noise_N=0.01, rest_after_N=0.0, side=1):
    time_s = np.linspace(0.0, duration_s, round(duration_s / 0.05) + 1)
    level_N = side * np.array([shape(t / duration_s) for t in time_s])
    one = excursion(noise_N, side)
    for index, (t, level) in enumerate(zip(time_s, level_N, strict=True)):
        one.follow(index, float(t), float(level))
    return is_pull(one, time_s.tolist(), level_N.tolist(), 10 * time_s.size, rest_after_N=rest_after_N)


def box(share):
    return 1.0 if 0.05 < share < 0.95 else 0.0


@pytest.mark.parametrize("side", [1, -1])
def test_a_force_that_is_held_and_let_go_is_a_pull_on_either_side(side):
    assert judged(box, side=side)


def test_a_smooth_bump_is_drift_however_high_it_is():
    for duration_s in (3.0, 10.0, 60.0):
        assert not judged(lambda share: 1000.0 * np.sin(np.pi * share), duration_s=duration_s)


def test_a_knock_is_too_short_to_be_a_pull():
    assert not judged(box, duration_s=0.2)


def test_a_force_that_hardly_leaves_the_noise_is_no_pull():
    assert not judged(box, noise_N=0.2)
    assert judged(box, noise_N=0.04)


def test_noise_that_swells_is_on_both_sides_and_no_pull():
    swelling = np.random.default_rng(5).normal(size=1000)
    assert not judged(lambda share: float(swelling[int(share * 999)]))


def test_a_pull_cut_off_before_its_end_must_stand_out_more():
    assert judged(box, noise_N=0.1)
    assert not judged(box, noise_N=0.1, rest_after_N=None)
    assert judged(box, noise_N=0.02, rest_after_N=None)


def test_rest_counts_as_regained_within_a_share_of_the_height():
    one = excursion()
    for index in range(10):
        one.follow(index, index * 0.05, 1.0)
    one.follow(10, 0.5, 0.1)
    assert one.near_since == (10, 0.5)
    one.follow(11, 0.55, 0.2)
    assert one.near_since is None
