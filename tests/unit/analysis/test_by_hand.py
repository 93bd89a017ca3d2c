"""Moments moved by hand: numbers follow, impossible places are refused, no mark changes nothing."""

import numpy as np
import pytest

from pullbench.analysis import ByHand, analyse
from pullbench.detect import windows
from pullbench.errors import ConditionsError
from pullbench.model import Chunk
from pullbench.physics.bench import demo_day
from pullbench.render import pull_record


@pytest.fixture(scope="module")
def window():
    trace = demo_day(0)[0].trace
    return next(iter(windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])))


def test_no_mark_gives_the_digits_of_no_hand(window):
    assert pull_record("x", 1, analyse(window, by_hand=ByHand())) == pull_record("x", 1, analyse(window))


def test_the_static_force_is_the_force_at_the_mark(window):
    own = analyse(window)
    at_s = own.breakaway.time_s - 0.4
    moved = analyse(window, by_hand=ByHand(breakaway_s=at_s))
    trace = window.trace
    near = np.abs(trace.time_s - at_s) < 0.05
    there_N = (
        np.polyval(np.polyfit(trace.time_s[near], trace.force_N[near], 1), at_s) - own.rest_reading.value
    )
    assert moved.breakaway.time_s == at_s
    assert moved.breakaway.force.limits[0] <= there_N <= moved.breakaway.force.limits[1]
    assert "marked by hand" in moved.chosen[0]


def test_the_kinetic_level_is_the_weighted_mean_over_the_marked_stretch(window):
    own = analyse(window)
    middle_s = (own.plateau.start_s + own.plateau.end_s) / 2
    stretch = (middle_s - 0.5, middle_s + 0.4)
    moved = analyse(window, by_hand=ByHand(sliding_s=stretch)).plateau
    trace = window.trace
    inside = (trace.time_s >= stretch[0]) & (trace.time_s <= stretch[1])
    plain_N = float(trace.force_N[inside].mean()) - own.rest_reading.value
    assert (moved.start_s, moved.end_s) == pytest.approx(stretch, abs=0.0126)  # one sample
    assert moved.force.value == pytest.approx(plain_N, rel=0.02)


@pytest.mark.parametrize(
    ("marks", "code"),
    [
        (ByHand(breakaway_s=1e6), "mark-outside-pull"),
        (ByHand(breakaway_s=float("nan")), "mark-outside-pull"),
        (ByHand(sliding_s=(6.0, 6.1)), "stretch-too-short"),
        (ByHand(sliding_s=(7.0, 6.0)), "stretch-too-short"),
    ],
)
def test_impossible_marks_are_refused(window, marks, code):
    with pytest.raises(ConditionsError) as refused:
        analyse(window, by_hand=marks)
    assert refused.value.code == code
