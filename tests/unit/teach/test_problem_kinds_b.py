import math
from dataclasses import replace
from itertools import pairwise

import pytest

from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction
from pullbench.model.scene import Scene
from pullbench.physics import Coulomb
from pullbench.render.formula import parse, pieces
from pullbench.teach.problems import ENGLISH, KINDS, make, versions
from pullbench.teach.problems.kind import Texts
from pullbench.teach.problems.make import significant
from pullbench.teach.solver import Link, motion, ride, stopping
from second_route import SECOND

WHICH = tuple(name for name in KINDS if name.startswith("which-"))
OURS = (*SECOND, *WHICH)
COEFFICIENTS = ((0.40, 0.30), (0.12, 0.10), (0.31, 0.30), (0.55, 0.31), (0.70, 0.50), (1.20, 0.95))
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


@pytest.mark.parametrize("name", SECOND)
def test_every_answer_agrees_with_newtons_laws_solved_as_a_linear_system(name):
    for seed in SEEDS:
        problem = made(name, seed)
        found = SECOND[name](numbers(problem))
        solved = KINDS[name].solve(numbers(problem), {})
        assert solved.keys() == found.keys() == {part.key for part in problem.parts}
        for part in problem.parts:
            assert solved[part.key] == pytest.approx(found[part.key], rel=1e-9, abs=1e-12)
            if part.form == "number":
                assert part.answer == solved[part.key]


@pytest.mark.parametrize("name", OURS)
def test_every_given_value_is_used_as_it_is_printed(name):
    for seed in SEEDS:
        for given in made(name, seed).given:
            assert float(significant(given.value, given.digits)) == given.value


@pytest.mark.parametrize("name", OURS)
def test_every_wrong_answer_can_be_told_from_the_right_one_and_from_the_others(name):
    for seed in SEEDS:
        for part in made(name, seed).parts:
            assert part.wrong
            if part.form == "choice":
                options = [part.answer, *(wrong.option for wrong in part.wrong)]
                assert len(set(options)) == len(options)
                assert all(0 <= option < len(part.options) for option in options)
            else:
                values = sorted([part.answer, *(wrong.value for wrong in part.wrong)])
                for low, high in pairwise(values):
                    assert not math.isclose(low, high, rel_tol=0.05)


@pytest.mark.parametrize("name", OURS)
def test_an_ordinary_pair_of_surfaces_leaves_out_no_wrong_answer(name):
    for seed in range(30):
        problem = made(name, seed, at=0)
        asked = {part.key: part for part in KINDS[name].asked(numbers(problem))}
        for part in problem.parts:
            assert 2 <= len(part.wrong) == len(asked[part.key].wrong) <= 4


@pytest.mark.parametrize("name", SECOND)
def test_a_consequential_error_is_carried_only_into_the_parts_that_build_on_it(name):
    kind = KINDS[name]
    for seed in range(20):
        given = numbers(made(name, seed))
        right = kind.solve(given, {})
        builds_on: dict[str, set[str]] = {}  # through the parts between them, too
        for part in kind.asked(given):
            builds_on[part.key] = set(part.uses).union(*(builds_on[earlier] for earlier in part.uses))
        assert kind.solve(given, right) == pytest.approx(right, rel=1e-12)
        for part in kind.asked(given):
            for earlier in right.keys() - {part.key}:
                moved = kind.solve(given, {earlier: right[earlier] * 1.3})[part.key]
                if part.options and earlier in builds_on[part.key]:
                    continue  # a choice need not tip over
                assert (moved != right[part.key]) == (earlier in builds_on[part.key])


def test_a_wrong_limit_carried_on_tips_the_choice_it_decides():
    given = numbers(made("shoes-and-box", 0))
    right = KINDS["shoes-and-box"].solve(given, {})
    assert KINDS["shoes-and-box"].solve(given, {"a": right["b"] * 2})["c"] == 0
    assert KINDS["shoes-and-box"].solve(given, {"a": right["b"] / 2})["c"] == 1


@pytest.mark.parametrize("name", OURS)
def test_all_words_are_filled_in_and_all_formulas_can_be_read(name):
    for seed in range(6):
        problem = made(name, seed)
        sentences = [problem.title, problem.text]
        for part in problem.parts:
            sentences += [part.ask, *part.hints, *part.options, *(step.words for step in part.solution)]
            assert part.hints
            assert part.solution
            for step in part.solution:
                assert step.words or step.formula
                if step.formula:
                    parse(step.formula)
        for sentence in sentences:
            assert "{" not in sentence
            pieces(sentence)


@pytest.mark.parametrize("name", OURS)
def test_a_right_answer_stands_at_the_end_of_its_solution(name):
    problem = made(name, 3)
    for part in problem.parts:
        said = " ".join(f"{step.words} {step.formula}" for step in part.solution)
        if part.form == "number":
            assert significant(part.answer, part.digits + 1) in said
        elif not name.startswith(
            "mistake"
        ):  # there the solution says what is right instead of the wrong line
            assert part.options[int(part.answer)] in said


def net_N(body):
    along = sum(arrow.length_N * math.cos(math.radians(arrow.direction_deg)) for arrow in body.forces)
    off = sum(arrow.length_N * math.sin(math.radians(arrow.direction_deg)) for arrow in body.forces)
    return along, off


@pytest.mark.parametrize("name", [name for name in SECOND if name != "compare-pairs"])
def test_the_forces_drawn_in_the_key_make_the_acceleration_drawn_there(name):
    for seed in range(40):
        problem = made(name, seed)
        scene, g = problem.key_figure, numbers(problem)["g"]
        assert isinstance(scene, Scene)
        for body in scene.bodies:
            heavy = next(arrow.length_N for arrow in body.forces if arrow.kind == "weight")
            expected_N = heavy / g * (scene.acceleration_m_s2 or 0.0)
            along, off = net_N(body)
            if body.on == "hanging":  # no board to count from: it speeds up straight down
                assert along == pytest.approx(0.0, abs=1e-9 * heavy)
                assert off == pytest.approx(-expected_N, abs=1e-9 * heavy)
            else:
                assert along == pytest.approx(expected_N, abs=1e-9 * heavy)
                assert off == pytest.approx(0.0, abs=1e-9 * heavy)


@pytest.mark.parametrize("name", OURS)
def test_the_figure_beside_the_question_gives_no_force_away(name):
    problem = made(name, 1)
    if isinstance(problem.figure, Scene):
        assert all(not body.forces for body in problem.figure.bodies)
        assert problem.figure.acceleration_m_s2 is None
    assert problem.figure.described


@pytest.mark.parametrize("name", OURS)
def test_a_class_of_28_shares_no_number_as_an_answer(name):
    mu_s, mu_k = COEFFICIENTS[0]
    sets = versions([(KINDS[name], ENGLISH[name])], pair(mu_s, mu_k), 1, 28)
    for at in range(len(sets[0][0].parts)):
        parts = [problem.parts[at] for (problem,) in sets]
        if parts[0].form == "number":
            assert len({significant(part.answer, part.digits) for part in parts}) == 28


def right_option(name):
    problem = made(name, 0)
    return problem.parts[0].options[int(problem.parts[0].answer)]


def test_laid_on_a_quarter_of_its_area_a_box_needs_the_same_pull():
    patches = [sum(0.3 * 20.0 / patches for _ in range(patches)) for patches in (4, 1)]
    assert patches[0] == pytest.approx(patches[1])
    assert right_option("which-area") == "about the same"


def test_twice_as_fast_a_sled_needs_the_same_pull():
    law = Coulomb(0.4, 0.3)
    assert law.sliding(0.04, 0.0) == law.sliding(0.02, 0.0)
    assert right_option("which-speed") == "about the same"


def test_twice_as_heavy_a_sled_needs_twice_the_pull_with_the_same_coefficient():
    light_N, heavy_N = (motion([Link(mass_kg=m, mu_k=0.3)], 9.81, moving=True).friction_N for m in (1.0, 2.0))
    assert heavy_N == pytest.approx(2 * light_N)
    assert right_option("which-load") == "the pull doubles, the coefficient stays"


def test_two_tins_held_still_by_equal_pulls_have_equal_friction():
    rough, smooth = (motion([Link(mass_kg=1.0, mu_s=mu, mu_k=0.1, pull_N=1.0)], 9.81) for mu in (0.6, 0.2))
    assert not rough.sliding
    assert not smooth.sliding
    assert rough.friction_N == smooth.friction_N == 1.0
    assert right_option("which-sole-at-rest").startswith("the same on both")


def test_friction_starts_a_rider_forwards():
    found = ride(Link(mass_kg=1.0, pull_N=3.0), Link(mass_kg=0.5, mu_s=0.4, mu_k=0.3), 9.81)
    assert found.together
    assert found.friction_N > 0
    assert right_option("which-way-on-rider") == "to the right"


def test_heavy_and_light_slide_equally_far():
    far = [
        stopping(1.0, -motion([Link(mass_kg=m, mu_k=0.3)], 9.81, moving=True).acceleration_m_s2)[0]
        for m in (1, 2)
    ]
    assert far[0] == pytest.approx(far[1])
    assert right_option("which-slides-farther") == "both slide equally far"


@pytest.mark.parametrize("name", WHICH)
def test_each_version_of_a_question_has_its_own_order_of_options_and_the_same_right_one(name):
    parts = [made(name, seed).parts[0] for seed in range(12)]
    assert len({part.options for part in parts}) > 1
    assert {part.options[int(part.answer)] for part in parts} == {right_option(name)}
    assert len({(wrong.idea, part.options[wrong.option]) for part in parts for wrong in part.wrong}) == 2


def test_the_lines_of_a_wrong_solution_stay_in_order():
    for seed in range(6):
        options = made("mistake-on-tilt", seed).parts[0].options
        assert [option[:6] for option in options] == ["line 1", "line 2", "line 3", "line 4"]


def test_each_verdict_on_two_coefficients_comes_up():
    assert {made("compare-pairs", seed).parts[1].answer for seed in range(40)} == {0, 1, 2}


def test_both_ends_of_the_rope_come_up_as_the_first_to_slip():
    assert {made("shoes-and-box", seed).parts[2].answer for seed in range(40)} == {0, 1}


@pytest.mark.parametrize("name", ["flatbed", "braking-track"])
def test_what_must_not_be_tried_says_so(name):
    assert "not to be tried" in made(name, 0).text


def test_nearly_equal_coefficients_leave_out_the_answers_that_cannot_be_told_apart():
    ideas = {wrong.idea for part in made("flatbed", 0, at=2).parts for wrong in part.wrong}
    assert "kinetic for static" not in ideas
    assert "mass for weight" in ideas


@pytest.mark.parametrize("name", SECOND)
def test_coefficients_that_cannot_be_are_refused(name):
    with pytest.raises(ConditionsError) as caught:
        make(KINDS[name], ENGLISH[name], pair(0.0, 0.0), 1)
    assert caught.value.code == "static-not-above-kinetic"


def test_words_of_another_language_reach_the_options():
    words = ENGLISH["which-load"]
    other = Texts(
        title=words.title, text=words.text, ask=words.ask, hints=words.hints, solution=words.solution,
        options={"a": ("eins", "zwei", "drei", "vier")},
    )  # fmt: skip
    problem = make(KINDS["which-load"], other, pair(0.4, 0.3), 1)
    assert sorted(problem.parts[0].options) == ["drei", "eins", "vier", "zwei"]
    assert problem.parts[0].options[int(problem.parts[0].answer)] == "eins"


def test_the_same_seed_and_pair_give_the_same_problem():
    for name in OURS:
        assert made(name, 7) == made(name, 7)
        assert replace(made(name, 7), seed=8) != made(name, 8) or name.startswith("which-")
