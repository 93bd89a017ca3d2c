"""Readings of a spring scale, typed by the person who reads it."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.errors import SourceError
from pullbench.model import Ended, PullWindow
from pullbench.sources import TableChoices, TypedReadings
from sources.live_bench import FakeClock, news


def typed(text, division=0.1, **choices):
    clock = FakeClock()
    source = TypedReadings(division, TableChoices(**choices), stream=io.StringIO(text))
    return list(source.deliveries(clock=clock, sleep=clock.sleep))


def pulls(told):
    return [one.by_eye for one in told if isinstance(one, PullWindow)]


def test_a_rest_reading_and_a_pull_are_understood():
    (pull,) = pulls(typed("0.1\ns 2.8 k 2.1\n"))
    assert (pull.rest_N, pull.static_N, pull.kinetic_N, pull.half_division_N) == (0.1, 2.8, 2.1, 0.05)
    assert pull.text == "s 2.8 k 2.1"


def test_a_rest_reading_holds_until_the_next_one():
    told = typed("s 2 k 1\n0.1\ns 2 k 1\ns 2 k 1\nr 0.2 s 2 k 1\n")
    assert [pull.rest_N for pull in pulls(told)] == [None, 0.1, 0.1, 0.2]


@pytest.mark.parametrize(
    ("line", "static_N", "kinetic_N"),
    [
        ("s2.8k2.1", 2.8, 2.1),
        ("S: 2,8  K: 2,1", 2.8, 2.1),
        ("k 2.1 s 2.8", 2.8, 2.1),
        ("s 2.8", 2.8, None),
        ("k=2.1", None, 2.1),
        ("s 2.8N k 2100mN", 2.8, 2.1),
        ("s 280gf k 200gf", 280 * 9.80665e-3, 200 * 9.80665e-3),
        ("s 280g k 200g", 280 * 9.80665e-3, 200 * 9.80665e-3),
    ],
)
def test_a_pull_may_be_written_in_several_ways(line, static_N, kinetic_N):
    (pull,) = pulls(typed(line + "\n"))
    assert pull.static_N == (None if static_N is None else pytest.approx(static_N))
    assert pull.kinetic_N == (None if kinetic_N is None else pytest.approx(kinetic_N))


def test_a_scale_in_grams_is_turned_to_newtons():
    (pull,) = pulls(typed("s 280 k 200\n", division=10, force_unit="g", g_m_s2=9.81))
    assert pull.static_N == pytest.approx(0.28 * 9.81)
    assert pull.half_division_N == pytest.approx(0.005 * 9.81)


@pytest.mark.parametrize(
    "line", ["two point eight", "s k 2", "s 2.8 s 2.9", "s 2.8 x 3", "s 2.8 m", "s nan", "s 1e99"]
)
def test_a_line_that_is_not_understood_is_left_out_and_the_form_is_said_again(line):
    told = typed(line + "\ns 2.8 k 2.1\n")
    assert len(pulls(told)) == 1
    (said,) = news(told, "not numbers")
    assert "left out" in said
    assert "s 2.8 k 2.1" in said


def test_readings_that_may_be_swapped_are_asked_about_but_kept():
    told = typed("s 2.1 k 2.8\n")
    assert "swapped" in news(told, "found out")[0]
    assert len(pulls(told)) == 1


@pytest.mark.parametrize("end", ["q\ns 1 k 1\n", ""])
def test_q_or_the_end_of_the_input_ends_the_watch(end):
    told = typed("s 2.8 k 2.1\n" + end)
    assert isinstance(told[-1], Ended)
    assert len(pulls(told)) == 1


@pytest.mark.parametrize(
    ("division", "choices"), [(0.0, {}), (-0.1, {}), (float("nan"), {}), (1.0, {"force_unit": "mV"})]
)
def test_a_scale_that_cannot_be_is_refused(division, choices):
    with pytest.raises(SourceError) as refused:
        TypedReadings(division, TableChoices(**choices))
    assert refused.value.code == "division-impossible"


@given(st.text(max_size=40))
def test_nothing_that_is_typed_brings_it_down(text):
    assert isinstance(typed(text)[-1], Ended)


def test_the_window_holds_the_numbers_as_they_were_read_and_time_goes_on():
    windows = [one for one in typed("0.1\ns 2.8 k 2.1\nk 2\n") if isinstance(one, PullWindow)]
    assert [window.trace.force_N.tolist() for window in windows] == [[0.1, 2.8, 2.1], [0.1, 2.0]]
    times = [moment for window in windows for moment in window.trace.time_s.tolist()]
    assert times == sorted(set(times))
