"""Sheet review: units and figures are noted, slips named, consequences followed, nothing named when two ways fit."""

import math
from dataclasses import replace

import pytest
from benchmarks.review import planted, share, tally

from pullbench.model.problem import Given, PairFriction, Part, Problem, WrongAnswer
from pullbench.model.review import TypedRow
from pullbench.teach.class_review import class_review
from pullbench.teach.ideas import IDEAS
from pullbench.teach.problems import KINDS, Asked
from pullbench.teach.review import UNIT_ON_COEFFICIENT, review

G, M, MU, D = 9.81, 2.0, 0.3, 1.5
FRICTION_N = MU * M * G  # 5.886 N
PAIR = PairFriction(
    sole="felt", floor="floor", mu_s=0.4, mu_k=MU, u_mu_s=0, u_mu_k=0, source="handbook", told="invented"
)


class TwoSteps:
    """a: friction μ m g.  b: work over d, from a.  c: which way it acts, in the kind's own order.  d: μ."""

    name, level = "two-steps", 1

    def solve(self, given, carried):
        friction_N = given["mu"] * given["m"] * given["g"]
        return {"a": friction_N, "b": carried.get("a", friction_N) * given["d"], "c": 0, "d": given["mu"]}

    def asked(self, given):
        return (
            Asked(key="a"),
            Asked(key="b", uses=("a",)),
            Asked(key="c", options=("back", "on")),
            Asked(key="d"),
        )


def number(key, answer, unit, *wrong, uses=(), digits=2):
    half_figure = 0.5 * 10.0 ** (math.floor(math.log10(abs(answer))) - digits + 1)
    return Part(
        key=key, ask=f"{key}?", form="number", answer=answer, unit=unit, digits=digits, uses=uses,
        tolerance=max(0.02 * abs(answer), half_figure),
        wrong=tuple(WrongAnswer(idea=idea, value=value) for idea, value in wrong),
    )  # fmt: skip


PROBLEM = Problem(
    kind="two-steps", level=1, seed=1, title="Two steps", text="A sled.", pair=PAIR,
    given=(Given("m", M, "kg"), Given("mu", MU, "1"), Given("g", G, "N/kg"), Given("d", D, "m")),
    parts=(
        number("a", FRICTION_N, "N", ("mass for weight", MU * M), ("weight for friction", M * G)),
        number("b", FRICTION_N * D, "J", ("force without the distance", FRICTION_N), uses=("a",)),
        Part(key="c", ask="Which way?", form="choice", answer=0, options=("back", "on"),
             wrong=(WrongAnswer(idea="friction always forwards", option=1),)),
        number("d", MU, "1", ("upside down", 1 / MU)),
    ),
)  # fmt: skip


def reviewed(**answers):
    done = review(PROBLEM, TwoSteps(), answers)
    return {part.key: part for part in done.parts}


@pytest.mark.parametrize("typed", ["5.9 N", "5,9N", "5.89 newtons", "5900 mN", "0.60 kgf", "F = 5.8 N"])
def test_a_right_answer_is_right_in_any_unit_of_its_quantity(typed):
    assert reviewed(a=typed)["a"].outcome == "right"


def test_a_right_number_without_its_unit_is_right_and_asks_for_the_unit():
    part = reviewed(a="5.9")["a"]
    assert (part.outcome, part.flags) == ("right", ("unit-missing",))
    assert part.told == ("Add the unit: N.",)


def test_another_unit_of_the_same_quantity_is_converted_and_said():
    part = reviewed(a="5900 mN")["a"]
    assert part.value == pytest.approx(5.9)
    assert part.flags == ("unit-other",)


def test_a_right_number_with_a_unit_of_another_quantity_is_not_right_and_says_which_was_asked():
    part = reviewed(a="5.9 kg")["a"]
    assert part.outcome == "unit"
    assert "kg is a unit of mass" in part.told[0]
    assert "a force, in N" in part.told[0]


def test_a_mass_given_for_a_force_is_the_slip_and_not_the_unit():
    part = reviewed(a="0.6 kg")["a"]
    assert (part.outcome, part.idea) == ("idea", "mass for weight")


def test_a_unit_on_a_coefficient_is_an_idea_and_is_named():
    assert reviewed(d="0.3")["d"].outcome == "right"
    part = reviewed(d="0.3 N")["d"]
    assert (part.outcome, part.idea) == ("idea", UNIT_ON_COEFFICIENT)
    assert "no unit" in part.told[0]


@pytest.mark.parametrize(("typed", "flags"), [
    ("5.9 N", ()), ("5.89 N", ()), ("5.886 N", ("figures-many",)), ("6 N", ("figures-few",)),
])  # fmt: skip
def test_figures_are_noted_and_never_marked_wrong(typed, flags):
    part = reviewed(a=typed)["a"]
    assert (part.outcome, part.flags) == ("right", flags)


def test_the_idea_behind_a_wrong_answer_is_told_in_its_own_sentence_or_by_its_name():
    assert reviewed(a="0.59 N")["a"].told == (IDEAS["mass for weight"].sentence,)
    own = review(PROBLEM, TwoSteps(), {"a": "0.59 N"}, ideas={"mass for weight": "A mass is no force."})
    assert own.parts[0].told == ("A mass is no force.",)
    without = review(PROBLEM, TwoSteps(), {"a": "20 N"}, ideas={})
    assert "weight for friction" in without.parts[0].told[0]
    assert reviewed(c="B")["c"].idea == "friction always forwards"


def test_a_later_part_is_right_when_it_follows_from_an_earlier_slip():
    parts = reviewed(a="0.59 N", b="0.885 J")
    assert (parts["a"].outcome, parts["b"].outcome, parts["b"].follows) == ("idea", "follows", "a")
    assert parts["b"].counts


def test_a_later_part_follows_from_a_wrong_number_that_nobody_knows():
    assert reviewed(a="100 N", b="150 J")["b"].outcome == "follows"
    assert reviewed(a="100 N", b="140 J")["b"].outcome == "wrong"


def test_a_later_part_reckoned_from_a_rounded_right_answer_is_simply_right():
    parts = reviewed(a="6 N", b="9.0 J")
    assert (parts["b"].outcome, parts["b"].follows) == ("right", None)


def test_a_right_later_part_is_right_whatever_came_before():
    assert reviewed(a="100 N", b="8.8 J")["b"].outcome == "right"


def test_when_two_ways_lead_to_a_number_neither_is_named_and_the_working_is_asked_for():
    close = number("a", FRICTION_N, "N", ("one slip", 2.00), ("another", 2.03))
    problem = replace(PROBLEM, parts=(close,))
    part = review(problem, TwoSteps(), {"a": "2.0 N"}).parts[0]
    assert (part.outcome, part.idea) == ("unclear", None)
    assert "working" in part.told[0]


def test_enough_figures_tell_two_close_slips_apart():
    close = number("a", FRICTION_N, "N", ("one slip", 2.00), ("another", 2.03))
    part = review(replace(PROBLEM, parts=(close,)), TwoSteps(), {"a": "2.03 N"}).parts[0]
    assert part.idea == "another"


def test_a_figure_too_few_is_asked_for_when_it_leaves_open_which_number_is_meant():
    part = number("a", 14.6, "N", ("a slip", 10.2))
    problem = replace(PROBLEM, parts=(part,))
    done = {
        typed: review(problem, TwoSteps(), {"a": typed}).parts[0] for typed in ("10 N", "10.2 N", "1e1 N")
    }
    assert [(one.outcome, one.idea) for one in done.values()] == [
        ("unclear", None), ("idea", "a slip"), ("unclear", None),
    ]  # fmt: skip


def test_a_thousand_times_too_much_is_grams_left_in():
    assert reviewed(a="5900 N")["a"].idea == "grams left in"
    assert reviewed(d="300")["d"].idea is None


def test_a_part_with_more_tolerance_such_as_a_reading_off_a_graph_has_it_around_every_number():
    part = replace(number("a", 5.0, "N", ("peak read as kinetic", 7.0)), tolerance=0.4)
    problem = replace(PROBLEM, parts=(part,))
    found = {
        typed: review(problem, TwoSteps(), {"a": typed}).parts[0]
        for typed in ("5.4 N", "5.5 N", "7.3 N", "7.5 N")
    }
    assert [one.outcome for one in found.values()] == ["right", "wrong", "idea", "wrong"]


def test_the_other_sign_is_said_to_be_the_other_sign():
    part = reviewed(a="-5.9 N")["a"]
    assert part.outcome == "wrong"
    assert "sign" in part.told[0]


@pytest.mark.parametrize(("typed", "word"), [("4 bananas", "bananas"), ("soon", "number")])
def test_what_cannot_be_read_is_not_marked_and_the_rest_is_reviewed(typed, word):
    parts = reviewed(a=typed, b="8.8 J")
    assert parts["a"].outcome == "unreadable"
    assert word in parts["a"].told[0]
    assert parts["b"].outcome == "right"


def test_a_kind_that_cannot_reckon_on_from_a_nonsense_number_leaves_it_at_wrong():
    class Divides(TwoSteps):
        def solve(self, given, carried):
            return super().solve(given, carried) | {"b": 1 / (carried.get("a", FRICTION_N) - 100)}

    done = review(PROBLEM, Divides(), {"a": "100 N", "b": "77 J"})
    assert [part.outcome for part in done.parts] == ["wrong", "wrong"]


def test_a_converted_speed_where_the_conversion_is_the_question_shows_the_idea():
    part = number("a", 15.0, "m/s", ("speed in km/h", 54.0))
    problem = replace(PROBLEM, parts=(part,), given=(Given("v", 54.0, "km/h"), *PROBLEM.given))
    assert review(problem, TwoSteps(), {"a": "54 km/h"}).parts[0].idea == "speed in km/h"
    assert review(problem, TwoSteps(), {"a": "15 m/s"}).parts[0].outcome == "right"


def test_a_review_is_a_proposal_until_it_is_approved():
    done = review(PROBLEM, TwoSteps(), {"a": "5.9 N"})
    assert done.state == "proposed"
    assert done.approved().state == "approved"
    assert done.approved().parts == done.parts


def row(line, seat, problem, part, answer):
    return TypedRow(line=line, seat=seat, problem=problem, part=part, answer=answer)


def test_rows_without_a_place_are_told_by_line_and_the_rest_is_reviewed_and_counted():
    rows = (
        row(1, 1, 1, "a", "5.9 N"), row(2, 9, 1, "a", "5.9 N"), row(3, 1, 4, "a", "1"), row(4, 1, 1, "z", "1"),
        row(5, 2, 1, "a", "0.59 N"), row(6, 2, 1, "a", "5.9 N"), row(7, 2, 1, "b", "3 cows"),
    )  # fmt: skip
    done = class_review([(PROBLEM,), (PROBLEM,)], {"two-steps": TwoSteps()}, rows, code="1AC")
    assert [sentence.split(" ")[1] for sentence in done.complaints] == ["2", "3", "4", "6", "7"]
    for sentence, word in zip(
        done.complaints, ("seat 9", "problem 4", "part z", "line 5", "cows"), strict=True
    ):
        assert word in sentence
    assert {outcome: count for outcome, count in done.outcomes.items() if count} == {
        "right": 1, "idea": 1, "unreadable": 1,
    }  # fmt: skip
    assert done.ideas == {"mass for weight": 1}
    assert done.state == "proposed"
    assert {sheet.review.state for sheet in done.approved().sheets} == {"approved"}


@pytest.mark.parametrize("seed", [1, 2])
def test_planted_answers_of_all_kinds_are_accepted_and_named_as_promised(seed):
    counted, _ = tally(planted(600, seed))
    assert {sort for sort, _ in counted} >= {"right", "slip", "follows", "nowhere"}
    assert share(counted, "right")[0] >= 0.98
    assert share(counted, "slip")[0] >= 0.95
    assert share(counted, "follows")[0] >= 0.95
    assert share(counted, "nowhere")[0] >= 0.85


def test_the_tally_of_the_benchmark_sees_a_reviewer_that_names_the_wrong_idea():
    answers = [replace(one, truth="another idea") if one.truth != "right" else one for one in planted(60, 3)]
    counted, _ = tally(answers)
    assert share(counted, "slip")[0] == 0.0


def test_every_kind_can_be_reviewed_with_nothing_typed():
    assert all(review(one.problem, KINDS[one.kind], {}).parts == () for one in planted(40, 4))
