import math

import numpy as np
import pytest

from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction
from pullbench.teach.problems import ENGLISH, KINDS, make
from pullbench.teach.problems.make import significant
from second_route_level import SECOND_LEVEL, read_trace

OURS = ("read-trace", *SECOND_LEVEL)
COEFFICIENTS = ((0.40, 0.30), (0.10, 0.07), (0.31, 0.30), (0.60, 0.30), (0.70, 0.50), (1.20, 0.95))
SEEDS = range(200)


def pair(mu_s, mu_k):
    return PairFriction(
        sole="felt", floor="the painted stage floor", mu_s=mu_s, mu_k=mu_k, u_mu_s=0.01, u_mu_k=0.01,
        source="today", told="from today's pulls",
    )  # fmt: skip


def made(name, seed, at=None):
    mu_s, mu_k = COEFFICIENTS[seed % len(COEFFICIENTS) if at is None else at]
    return make(KINDS[name], ENGLISH[name], pair(mu_s, mu_k), seed)


def numbers(problem):
    return {one.symbol: one.value for one in problem.given}


@pytest.mark.parametrize("name", SECOND_LEVEL)
def test_every_answer_agrees_with_a_second_road_to_it(name):
    for seed in SEEDS:
        given = numbers(made(name, seed))
        solved, found = KINDS[name].solve(given, {}), SECOND_LEVEL[name](given)
        assert solved.keys() == found.keys()
        for key, value in found.items():
            assert solved[key] == pytest.approx(value, rel=1e-9, abs=1e-12), (seed, key)


def test_peak_and_level_are_what_the_drawn_trace_shows_above_its_rest():
    for seed in SEEDS:
        problem = made("read-trace", seed)
        found = read_trace(numbers(problem), problem.figure)
        assert {part.key: part.answer for part in problem.parts} == pytest.approx(found, rel=1e-9)


def test_a_drawn_trace_is_highest_where_it_breaks_and_never_again():
    for seed in range(40):
        figure = made("read-trace", seed).figure
        top = int(np.argmax(figure.y))
        assert figure.x[top] == 4.5  # rest 1.5 s, ramp 3 s
        assert max(figure.y[top + 8 :]) < figure.y[top]


def test_what_is_read_off_a_figure_lies_on_tenths_of_its_grid_and_a_tenth_off_is_accepted():
    for seed in range(60):
        problem = made("read-trace", seed)
        tops = [part.answer + max(0.0, numbers(problem)["r"]) for part in problem.parts]
        step = next(
            size for power in range(-3, 3) for times in (1, 2, 5)
            if max(tops) / (size := times * 10.0**power) <= 6
        )  # fmt: skip
        for part in problem.parts:
            assert part.answer / (step / 10) == pytest.approx(round(part.answer / (step / 10)))
            assert part.tolerance >= step / 10 * (1 - 1e-9)


@pytest.mark.parametrize("name", OURS)
def test_an_ordinary_pair_keeps_two_to_four_wrong_answers_in_each_part(name):
    for seed in range(30):
        for part in made(name, seed, at=0).parts:
            assert 2 <= len(part.wrong) <= 4, part.key


@pytest.mark.parametrize("name", [name for name in OURS if name != "read-trace"])
def test_every_given_value_is_used_as_it_is_printed(name):
    for seed in SEEDS:
        for given in made(name, seed).given:
            assert float(significant(given.value, given.digits)) == given.value


@pytest.mark.parametrize(
    ("name", "part", "idea", "formula"),
    [
        ("mu-from-pull", "c", "peak read as kinetic", lambda q: q["F_s"] / ((q["m_sled"] + q["m_load"]) * q["g"])),
        ("mu-from-pull", "b", "sled's mass left out", lambda q: q["F_s"] / (q["m_load"] * q["g"])),
        ("mu-from-pull", "b", "upside down", lambda q: (q["m_sled"] + q["m_load"]) * q["g"] / q["F_s"]),
        ("level-pull", "a", "mass for weight", lambda q: q["mu_s"] * (q["m_sled"] + q["m_load"])),
        ("level-pull", "a", "kinetic for static", lambda q: q["mu_k"] * (q["m_sled"] + q["m_load"]) * q["g"]),
        ("held-still", "b", "friction at rest is always at its limit", lambda q: q["mu_s"] * q["m"] * q["g"]),
        ("held-still", "b", "friction only when it slides", lambda q: 0.0),
        ("tilt-stays", "b", "normal force is the weight", lambda q: q["mu_s"] * q["m"] * q["g"]),
        ("tilt-slide", "a", "sine and cosine swapped",
         lambda q: q["g"] * (math.cos(math.radians(q["theta"])) - q["mu_k"] * math.sin(math.radians(q["theta"])))),
        ("slip-height", "b", "sine for tangent", lambda q: q["h_1"] / q["L"]),
        ("angled-pull", "a", "string's vertical part forgotten",
         lambda q: q["mu_s"] * q["m"] * q["g"] / math.cos(math.radians(q["alpha"]))),
        ("angled-pull", "a", "string's vertical part with the wrong sign",
         lambda q: q["mu_s"] * q["m"] * q["g"]
         / (math.cos(math.radians(q["alpha"])) - q["mu_s"] * math.sin(math.radians(q["alpha"])))),
        ("angled-pull", "a", "sine and cosine of the string swapped",
         lambda q: q["mu_s"] * q["m"] * q["g"]
         / (math.sin(math.radians(q["alpha"])) + q["mu_s"] * math.cos(math.radians(q["alpha"])))),
        ("speed-up", "b", "static for kinetic", lambda q: q["F"] / (q["m_sled"] + q["m_load"]) - q["mu_s"] * q["g"]),
        ("speed-up", "b", "friction left out", lambda q: q["F"] / (q["m_sled"] + q["m_load"])),
        ("push-off", "a", "the 2 lost", lambda q: q["v"] ** 2 / (q["mu_k"] * q["g"])),
        ("push-off", "a", "g lost", lambda q: q["v"] ** 2 / (2 * q["mu_k"])),
        ("push-off", "a", "mass left in", lambda q: q["v"] ** 2 / (2 * q["mu_k"] * q["m"] * q["g"])),
        ("up-the-board", "a", "friction left out", lambda q: q["g"] * math.sin(math.radians(q["theta"]))),
        ("load-line", "a", "one point for the slope", lambda q: q["F_5"] / q["W_5"]),
        ("limits-of-mu", "b", "limits added straight",
         lambda q: q["F_k"] / q["N"] * (q["U_F"] / q["F_k"] + q["U_N"] / q["N"])),
        ("level-to-tilt", "b", "calculator in radians",
         lambda q: math.atan(q["F_s"] / ((q["m_sled"] + q["m_load"]) * q["g"]))),
    ],
)  # fmt: skip
def test_a_listed_slip_leads_to_the_number_of_its_formula(name, part, idea, formula):
    seen = 0
    for seed in range(40):
        problem = made(name, seed)
        wrong = {one.idea: one.value for own in problem.parts if own.key == part for one in own.wrong}
        if idea in wrong:
            seen += 1
            assert wrong[idea] == pytest.approx(formula(numbers(problem)), rel=1e-9, abs=1e-12)
    assert seen > 5


def test_friction_of_a_tin_that_is_held_does_not_depend_on_its_sole():
    for seed in range(40):
        first, second = made("held-still", seed).parts[1:]
        assert first.answer == second.answer == numbers(made("held-still", seed))["F"]


def test_both_answers_come_up_to_whether_a_block_stays():
    for name in ("tilt-stays", "up-the-board"):
        rights = [
            problem.parts[2].options[int(problem.parts[2].answer)]
            for seed in range(40)
            for problem in [made(name, seed)]
        ]
        assert len(set(rights)) == 2
        assert 8 <= rights.count("it stays") <= 32


def test_a_wrong_share_of_the_weight_carried_on_tips_whether_it_stays():
    given = numbers(made("tilt-stays", 0))
    right = KINDS["tilt-stays"].solve(given, {})
    assert KINDS["tilt-stays"].solve(given, {"a": right["b"] * 1.2})["c"] == 1
    assert KINDS["tilt-stays"].solve(given, {"a": right["b"] / 1.2})["c"] == 0


def test_no_other_angle_of_the_string_needs_less_pull_than_the_best_one():
    for seed in range(40):
        problem = made("best-angle", seed)
        mu, best_deg, least_N = (part.answer for part in problem.parts)
        weight_N = numbers(problem)["m"] * numbers(problem)["g"]
        angles = np.radians(np.linspace(0, 80, 400))
        pulls_N = mu * weight_N / (np.cos(angles) + mu * np.sin(angles))
        assert least_N <= pulls_N.min() * (1 + 1e-12)
        assert math.degrees(angles[int(np.argmin(pulls_N))]) == pytest.approx(best_deg, abs=0.25)


def test_a_fair_line_by_eye_through_the_end_points_gives_an_accepted_slope_and_sled():
    for seed in SEEDS:
        problem = made("load-line", seed)
        q, (slope, sled) = numbers(problem), problem.parts
        by_eye = (q["F_5"] - q["F_1"]) / (q["W_5"] - q["W_1"])
        assert abs(by_eye - slope.answer) <= slope.tolerance
        assert abs((q["F_1"] - by_eye * q["W_1"]) / by_eye - sled.answer) <= 2 * sled.tolerance


def test_a_result_is_written_with_one_figure_of_its_limits_and_the_value_to_the_same_place():
    for seed in SEEDS:
        value, limit, written = made("limits-of-mu", seed).parts
        number, half = written.options[int(written.answer)].split(" ± ")
        assert len(half.replace("0.", "").lstrip("0")) == 1
        assert len(number.split(".")[1]) == len(half.split(".")[1])
        place = 10.0 ** -len(half.split(".")[1])
        assert abs(float(number) - value.answer) <= place / 2 * (1 + 1e-9)
        assert abs(float(half) - limit.answer) <= place / 2 * (1 + 1e-9)


def test_what_cannot_be_told_apart_with_close_coefficients_is_left_out():
    ideas = {wrong.idea for part in made("level-pull", 0, at=2).parts for wrong in part.wrong}
    assert "kinetic for static" not in ideas
    assert "static for kinetic" not in ideas
    assert "mass for weight" in ideas


@pytest.mark.parametrize("name", OURS)
def test_a_pair_whose_static_coefficient_is_not_above_the_kinetic_one_is_refused(name):
    with pytest.raises(ConditionsError) as caught:
        make(KINDS[name], ENGLISH[name], pair(0.30, 0.30), 1)
    assert caught.value.code == "static-not-above-kinetic"
    assert str(caught.value) == (
        "The static coefficient 0.3 of felt on the painted stage floor is not above the kinetic one 0.3. "
        "Problems about "
        "starting and sliding need one that is. Take another pair of surfaces, or questions without numbers."
    )


@pytest.mark.parametrize("name", OURS)
def test_a_pair_whose_limits_reach_nought_is_refused(name):
    with pytest.raises(ConditionsError) as caught:
        make(KINDS[name], ENGLISH[name], pair(0.05, 0.015), 1)
    assert caught.value.code == "coefficient-includes-nought"
    assert str(caught.value) == (
        "The kinetic coefficient of felt on the painted stage floor is 0.015 ± 0.02: its limits reach nought. Problems "
        "need a coefficient whose limits stay above nought. Pull a few more times, with more load, or use the handbook."
    )
