"""Breakaway of two series whose change point was found by exhaustive least squares (line, then mean).

The series come from an integer recurrence; the search over every split was done apart from this project.
Rest with the same noise is put before and after, as a pull needs, and a hundred samples make a second.
"""

import numpy as np
import pytest

from published.recurrence import loading_then_level, near_normal
from pullbench.analysis import analyse
from pullbench.analysis.plateau import level_after, slide_end
from pullbench.analysis.rest import rest_line
from pullbench.analysis.shape import shape_of
from pullbench.detect import windows
from pullbench.model import Chunk, Pull, PullWindow

STEP_S = 0.01
REST = 200  # samples

CASES = [
    pytest.param(555, 150, 0.0163333333, 1.47, 0.02, 549.809359831, 2.44070846, 1.46876195, id="b1"),
    pytest.param(556, 100, 0.02, 1.2, 0.05, 458.741640871, 1.98145648, 1.20088527, id="b2"),
]


def window_of(series: np.ndarray, s: float) -> PullWindow:
    before, after = s * near_normal(71, REST), s * near_normal(72, REST)
    force_N = np.concatenate([before, series, after])
    (window,) = windows([Chunk(time_s=STEP_S * np.arange(force_N.size), force_N=force_N)])
    return window


def one_pull(series: np.ndarray, s: float) -> Pull:
    return analyse(window_of(series, s))


@pytest.mark.parametrize(("seed", "k", "rate", "level", "s", "total", "line_N", "mean_N"), CASES)
def test_break_is_where_least_squares_splits_line_from_mean(seed, k, rate, level, s, total, line_N, mean_N):
    series = loading_then_level(seed, 400, k, rate, level, s)
    assert series.sum() == pytest.approx(total, rel=1e-9)  # the series is the published one
    pull = one_pull(series, s)
    # On a ramp, noise of s is worth s / rate samples.
    assert pull.breakaway.time_s == pytest.approx((REST + k - 0.5) * STEP_S, abs=(0.5 + s / rate) * STEP_S)
    force = pull.breakaway.force
    low, high = force.limits
    assert low <= line_N
    assert high is None or high >= line_N
    assert low > 0.9 * line_N  # no empty promise


@pytest.mark.parametrize(("seed", "k", "rate", "level", "s", "total", "line_N", "mean_N"), CASES)
def test_level_after_the_break_is_the_mean_of_the_split(seed, k, rate, level, s, total, line_N, mean_N):
    window = window_of(loading_then_level(seed, 400, k, rate, level, s), s)
    shape = shape_of(window, rest_line(window))
    start = REST + k + 2
    found = level_after(shape, None, start=start, end=slide_end(shape, start))
    # The bell weights the same samples unevenly: two means of n values differ by a few s/√n.
    assert found.mean_N == pytest.approx(mean_N, abs=4 * s / np.sqrt(400 - k))


def test_a_level_without_any_motion_in_it_is_not_passed_off_as_kinetic():
    """A step to a flat line may as well be a sled that slipped once and was held: nothing in it tells."""
    plateau = one_pull(loading_then_level(555, 400, 150, 0.0163333333, 1.47, 0.02), 0.02).plateau.force
    assert plateau.kind == "cannot tell"
    assert "held" in plateau.reason
