"""Sheets are handed out in the middle of a day; their code finds their key again after more pulls."""

import pytest

from pullbench.analysis import Conditions, with_coefficients
from pullbench.errors import ConditionsError
from pullbench.live.handed_out import set_of_code
from pullbench.live.lesson import DayRead, handbook_lesson
from pullbench.render.sheets import ClassSet
from pullbench.teach.lesson import TodaysPull, pair_from
from pullbench.teach.set_making import set_versions
from unit.render.fake_pulls import pull

DAY = "2026-11-25"
SURFACES = "wood on wood"


def a_day(mus):
    """Return pulls of 1 kg with these static coefficients, each a tenth above its kinetic one."""
    weight_N = 9.80665
    pulls = (pull(static_N=mu * weight_N, kinetic_N=(mu - 0.1) * weight_N) for mu in mus)
    return tuple(
        TodaysPull(number=n, pull=with_coefficients(one, Conditions.of_mass(1.0)))
        for n, one in enumerate(pulls, 1)
    )


def read_of(pulls):
    return DayRead(lesson=pair_from(pulls, day=DAY), day=DAY, pulls=pulls)


def make(lesson, seed=4):
    problems, _ = set_versions(["level-pull"], lesson.pair, seed, 2, chosen=True)
    return ClassSet(seed=seed, lesson=lesson, versions=problems)


def test_the_set_of_a_code_is_the_one_that_was_printed_whatever_was_pulled_since():
    pulls = a_day([0.40, 0.41, 0.42, 0.46, 0.47, 0.48, 0.52])
    printed = make(read_of(pulls[:3]).lesson)
    now = read_of(pulls)
    assert make(now.lesson).code != printed.code
    found, then = set_of_code(printed.code, make(now.lesson), now, make, SURFACES)
    assert found.versions == printed.versions
    assert found.pair == printed.pair
    assert [one.number for one in then.pulls] == [1, 2, 3]


def test_the_set_as_it_is_now_is_found_first():
    now = read_of(a_day([0.40, 0.41, 0.42]))
    made = make(now.lesson)
    assert set_of_code(made.code, made, now, make, SURFACES) == (made, now)


def test_a_code_of_other_sheets_is_refused_with_both_codes():
    now = read_of(a_day([0.40, 0.41, 0.52]))
    made = make(now.lesson)
    with pytest.raises(ConditionsError) as caught:
        set_of_code("5XX", made, now, make, SURFACES)
    assert caught.value.code == "set-differs"
    assert "5XX" in caught.value.what
    assert made.code in caught.value.what


def test_sheets_made_before_any_pull_told_have_the_handbooks_coefficients():
    now = read_of(a_day([0.40, 0.41, 0.42]))
    printed = make(handbook_lesson(SURFACES))
    found, then = set_of_code(printed.code, make(now.lesson), now, make, SURFACES)
    assert found.versions == printed.versions
    assert found.pair.source == "handbook"
    assert then.pulls == ()


def test_the_handbooks_set_has_no_earlier_one():
    read = DayRead(lesson=handbook_lesson(SURFACES))
    made = make(read.lesson)
    with pytest.raises(ConditionsError):
        set_of_code("4ZZ", made, read, make, SURFACES)
