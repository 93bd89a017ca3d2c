import numpy as np
import pytest

from pullbench.analysis.plateau import bell, level_after, slide_end
from pullbench.analysis.rest import rest_line
from pullbench.analysis.shape import shape_of
from unit.analysis.drawn import KINETIC_N, drawn, window_of


def shape(time_s, force_N, **more):
    window = window_of(time_s, force_N, **more)
    return shape_of(window, rest_line(window))


def test_bell_is_nought_at_both_ends_whole_in_the_middle_and_symmetric():
    t = np.linspace(2.0, 5.0, 301)
    weight = bell(t, 2.0, 5.0)
    assert weight[[0, -1]] == pytest.approx([0, 0], abs=1e-12)
    assert weight[100:201] == pytest.approx(np.ones(101))
    assert weight == pytest.approx(weight[::-1])


@pytest.mark.parametrize("cycles", [3.5, 6.25, 10.75])
def test_bell_averages_an_unfinished_wave_better_than_a_flat_window(cycles):
    t = np.linspace(0.0, 1.0, 5001)
    wave = np.sin(2 * np.pi * cycles * t)
    flat = abs(np.trapezoid(wave, t))
    weight = bell(t, 0.0, 1.0)
    assert abs(np.trapezoid(weight * wave, t) / np.trapezoid(weight, t)) < 0.35 * flat


def test_slide_ends_before_the_hand_that_stopped_and_held_on():
    time_s, force_N = drawn()
    held = (time_s >= 6.4) & (time_s < 7.0)
    force_N[held] -= 0.5  # stopped at 6.4 s; the string keeps a force below the level
    pull = shape(time_s, force_N)
    end_s = pull.time_s[slide_end(pull, int(np.searchsorted(time_s, 4.2)))]
    assert 5.9 < end_s < 6.45


def test_level_starts_after_the_swing_and_ignores_it():
    time_s, force_N = drawn(noise_N=0.002)
    pull = shape(time_s, force_N)
    start = int(np.searchsorted(time_s, 4.0))
    level = level_after(pull, None, start=start, end=slide_end(pull, start))
    assert level.start_s > 4.1
    assert level.mean_N == pytest.approx(KINETIC_N, abs=0.003)


def test_a_slide_of_a_quarter_second_tells_no_level():
    pull = shape(*drawn())
    start = int(np.searchsorted(pull.time_s, 5.0))
    assert level_after(pull, None, start=start, end=start + 50) is None


def test_a_level_that_climbs_says_by_how_much():
    time_s, force_N = drawn(noise_N=0.002)
    sliding = (time_s > 4) & (time_s < 7)
    force_N[sliding] += 0.1 * (time_s[sliding] - 4)
    pull = shape(time_s, force_N)
    start = int(np.searchsorted(time_s, 5.0))
    level = level_after(pull, None, start=start, end=int(np.searchsorted(time_s, 6.9)))
    assert level.slope_N_s == pytest.approx(0.1, rel=0.05)
