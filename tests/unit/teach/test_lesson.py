"""Today's coefficients: from kept pulls, or from the handbook."""

import math

import pytest

from pullbench.errors import ConditionsError
from pullbench.model import (
    BreakawayForce,
    Measured,
    PlateauForce,
    Pull,
    PullWindow,
    Trace,
    Verdict,
)
from pullbench.teach import handbook_from
from pullbench.teach.lesson import TodaysPull, pair_from, pair_of_handbook


def measured(value, u=0.004, unit="1"):
    return Measured(
        kind="value", value=value, standard_uncertainty=u, limits=(value - 2 * u, value + 2 * u), unit=unit
    )


def pulled(mu_s, mu_k, *, load_N=10.0, verdict=Verdict.USABLE, number=1, u=0.004, **more):
    pull = Pull(
        window=PullWindow(trace=Trace(time_s=[], force_N=[]), start_s=0, end_s=1, direction=1),
        rest_reading=measured(0.0, unit="N"),
        breakaway=BreakawayForce(force=measured((mu_s or 0.5) * load_N, unit="N"), time_s=0.5),
        plateau=PlateauForce(force=measured((mu_k or 0.5) * load_N, unit="N"), start_s=0.6, end_s=0.9),
        stick_slip=None, phases=(), findings=(), verdict=verdict,
        static_coefficient=None if mu_s is None else measured(mu_s, u),
        kinetic_coefficient=None if mu_k is None else measured(mu_k, u),
    )  # fmt: skip
    return TodaysPull(number=number, pull=pull, **more)


def test_repeats_give_their_mean_rounded_as_printed_and_the_doubt_of_a_mean():
    lesson = pair_from([pulled(mu, mu - 0.1) for mu in (0.40, 0.42, 0.45)], day="2026-11-25")
    assert lesson.static.value == pytest.approx((0.40 + 0.42 + 0.45) / 3)
    assert (lesson.pair.mu_s, lesson.pair.mu_k) == (0.42, 0.32)
    # standard deviation of the mean, JCGM 100:2008 4.2.3
    mean = (0.40 + 0.42 + 0.45) / 3
    of_mean = math.sqrt(sum((mu - mean) ** 2 for mu in (0.40, 0.42, 0.45)) / 2 / 3)
    assert lesson.pair.u_mu_s == pytest.approx(of_mean)
    assert lesson.pair.source == "today"
    assert lesson.pair.told == "3 pulls of 2026-11-25"


def test_one_pull_is_enough_and_keeps_its_own_limits():
    lesson = pair_from([pulled(0.42, 0.31)], day="2026-11-25")
    assert lesson.static == measured(0.42)
    assert lesson.pair.told == "1 pull of 2026-11-25"


def test_the_pair_of_surfaces_with_most_pulls_is_taken_and_the_later_of_equals():
    felt = [pulled(0.25, 0.2, sole="felt", floor="stage"), pulled(0.26, 0.2, sole="felt", floor="stage")]
    birch = [pulled(0.40, 0.3, sole="birch", floor="stage"), pulled(0.41, 0.3, sole="birch", floor="stage")]
    carpet = pulled(0.8, 0.7, sole="carpet", floor="stage")
    assert pair_from([*felt, carpet], day="d").pair.sole == "felt"
    assert pair_from([*felt, carpet, *birch], day="d").pair.sole == "birch"


@pytest.mark.parametrize(
    "pulls",
    [
        [],
        [pulled(None, 0.3)],
        [pulled(0.4, None)],
        [pulled(0.4, 0.3, verdict=Verdict.PULL_AGAIN)],
    ],
    ids=["none", "no static", "no kinetic", "pull again"],
)
def test_a_day_without_a_pull_that_tells_both_says_so(pulls):
    with pytest.raises(ConditionsError) as fault:
        pair_from(pulls, day="2026-11-25")
    assert fault.value.code == "no-usable-pull"
    assert "2026-11-25" in fault.value.what


def test_a_coefficient_with_limits_that_reach_nought_is_refused():
    with pytest.raises(ConditionsError) as fault:
        pair_from([pulled(0.10, 0.05), pulled(0.40, 0.35)], day="2026-11-25")
    assert fault.value.code == "coefficient-includes-nought"
    assert "static coefficient of 2026-11-25 is 0.25, with limits from -" in fault.value.what


def test_simulated_pulls_label_the_pair():
    assert pair_from([pulled(0.4, 0.3, label="simulated")], day="d").pair.label == "simulated"
    assert pair_from([pulled(0.4, 0.3)], day="d").pair.label is None


def test_the_load_of_a_pull_is_force_over_coefficient():
    loaded = pulled(0.42, 0.30, load_N=13.2, number=7).loaded()
    assert loaded.normal_N == pytest.approx(13.2)
    assert loaded.static_N == pytest.approx(0.42 * 13.2)
    assert loaded.kinetic_N == pytest.approx(0.30 * 13.2)
    assert loaded.name == "pull 7"
    assert pulled(None, None).loaded() is None


HEAD = "id,first,second,condition,static_low,static_high,kinetic_low,kinetic_high,source,licence,seen,note\n"


def entry(*rows):
    return handbook_from(HEAD + "".join(f"{row},{{}},CC0,seen,\n".format("a source") for row in rows)).find(
        "oak on oak"
    )


def test_the_handbook_gives_a_printed_pair_and_the_spread_of_the_sources():
    lesson = pair_of_handbook(entry("a,oak,oak,,0.25,0.5,,", "b,oak,oak,,0.5,0.5,0.3,0.3"))
    pair = lesson.pair
    assert (pair.mu_s, pair.mu_k, pair.source) == (0.5, 0.3, "handbook")
    assert pair.u_mu_s == pytest.approx((0.5 - 0.25) / 2 / math.sqrt(3))  # rectangular, JCGM 100:2008 4.3.7
    assert lesson.static is None


def test_a_handbook_entry_without_both_values_takes_the_middle_and_the_usual_ratio():
    pair = pair_of_handbook(entry("a,oak,oak,,,,0.2,0.4")).pair
    assert pair.mu_k == 0.3
    assert pair.mu_s == 0.4  # a third more
