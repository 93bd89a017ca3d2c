"""Laws of all kinds of problems; `python -m benchmarks.problems` holds ten thousand of each kind against them."""

import math

import pytest

from problem_laws import LAWS, sentences
from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction
from pullbench.teach.problems import ENGLISH, KINDS, make, versions
from pullbench.teach.problems.make import significant
from second_route import SECOND
from second_route_level import SECOND_LEVEL

PAIRS = ((0.40, 0.30), (0.10, 0.07), (0.31, 0.30), (0.60, 0.30), (0.24, 0.12), (0.70, 0.50), (1.20, 0.95))
WITHOUT_NUMBERS = tuple(name for name in KINDS if name.startswith("which-"))
SEEDS = 35


def pair(mu_s, mu_k, u=0.01):
    return PairFriction(
        sole="felt", floor="the painted stage floor", mu_s=mu_s, mu_k=mu_k, u_mu_s=u, u_mu_k=u, source="today",
        told="from today's pulls",
    )  # fmt: skip


def made(name, seed):
    return make(KINDS[name], ENGLISH[name], pair(*PAIRS[seed % len(PAIRS)]), seed)


PROBLEMS = {}


def problems(name):
    if name not in PROBLEMS:
        PROBLEMS[name] = [made(name, seed) for seed in range(SEEDS)]
    return PROBLEMS[name]


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.__name__)
@pytest.mark.parametrize("name", KINDS)
def test_every_problem_of_every_kind_obeys(name, law):
    faults = {problem.seed: found for problem in problems(name) if (found := law(problem))}
    assert faults == {}


@pytest.mark.parametrize("name", KINDS)
def test_the_same_seed_gives_the_same_problem(name):
    assert [made(name, seed) for seed in range(7)] == problems(name)[:7]


def test_every_kind_has_words_and_a_second_road_to_its_answers():
    assert ENGLISH.keys() == KINDS.keys()
    assert SECOND.keys() | SECOND_LEVEL.keys() | set(WITHOUT_NUMBERS) | {"read-trace"} == KINDS.keys()


def test_there_are_kinds_of_every_level():
    levels = [kind.level for kind in KINDS.values()]
    assert all(levels.count(level) >= 3 for level in (1, 2, 3, 4))


@pytest.mark.parametrize("at", [(0.40, 0.30), (0.10, 0.07), (0.60, 0.30), (1.20, 0.95)])
@pytest.mark.parametrize("name", [name for name in KINDS if name not in WITHOUT_NUMBERS])
def test_thirty_two_seats_share_no_answer(name, at):
    sets = versions([(KINDS[name], ENGLISH[name])], pair(*at), 5, 32)
    assert len(sets) == 32
    for k, part in enumerate(sets[0][0].parts):
        if part.form == "number":
            answers = [
                tuple(significant(problem.parts[k].answer, part.digits + spare) for spare in (0, 1))
                for (problem,) in sets
            ]
            assert len(set(answers)) == 32


@pytest.mark.parametrize("name", [name for name in KINDS if name not in WITHOUT_NUMBERS])
def test_a_slip_is_carried_on_only_into_the_parts_that_build_on_it(name):
    kind = KINDS[name]
    for problem in problems(name)[:14]:
        given = {one.symbol: one.value for one in problem.given}
        right = kind.solve(given, {})
        assert kind.solve(given, right) == pytest.approx(right, rel=1e-12)
        builds_on: dict[str, set[str]] = {}  # through the parts between them, too
        for part in problem.parts:
            builds_on[part.key] = set(part.uses).union(*(builds_on[earlier] for earlier in part.uses))
        for part in problem.parts:
            for earlier in right.keys() - {part.key}:
                moved = kind.solve(given, {earlier: right[earlier] * 0.9})[part.key]
                if part.form == "choice" and earlier in builds_on[part.key]:
                    continue  # a choice need not tip over
                assert math.isclose(moved, right[part.key], rel_tol=1e-12) != (
                    earlier in builds_on[part.key]
                ), part.key


@pytest.mark.parametrize("name", [name for name in KINDS if name not in WITHOUT_NUMBERS])
@pytest.mark.parametrize(
    ("at", "code"),
    [
        (pair(0.30, 0.30), "static-not-above-kinetic"),
        (pair(0.28, 0.30), "static-not-above-kinetic"),
        (pair(0.0, 0.0), "static-not-above-kinetic"),
        (pair(0.40, 0.30, u=0.16), "coefficient-includes-nought"),
        (pair(0.40, 0.0), "coefficient-includes-nought"),
    ],
)
def test_a_pair_that_no_sensible_number_follows_from_is_refused(name, at, code):
    with pytest.raises(ConditionsError) as caught:
        make(KINDS[name], ENGLISH[name], at, 1)
    assert caught.value.code == code
    assert str(at.mu_k if "kinetic" in caught.value.what else at.mu_s) in caught.value.what or at.mu_k == 0


@pytest.mark.parametrize("name", WITHOUT_NUMBERS)
def test_a_question_without_numbers_can_be_asked_of_any_pair(name):
    assert make(KINDS[name], ENGLISH[name], pair(0.04, 0.04), 1).parts


def test_a_kind_that_never_makes_sense_says_so():
    class Never:
        name, level = "never", 1

        def draw(self, draw, pair):
            return ()

        def sane(self, given):
            return False

    with pytest.raises(ConditionsError) as caught:
        make(Never(), ENGLISH["level-pull"], pair(0.4, 0.3), 1)
    assert caught.value.code == "problem-impossible"
    assert str(caught.value) == (
        "No sensible numbers for never with μs 0.4 and μk 0.3. The coefficients must allow the situation the "
        "problem is "
        "about. Leave this kind out, or take another pair of surfaces."
    )


def test_the_laws_notice_a_broken_problem():
    from dataclasses import replace

    problem = made("level-pull", 0)
    part = problem.parts[0]
    broken = replace(
        problem, text="a {m}", parts=(replace(part, answer=-1.0, solution=()), *problem.parts[1:])
    )
    noticed = {law.__name__ for law in LAWS if law(broken)}
    assert {
        "every_slot_is_filled",
        "answers_are_in_human_ranges",
        "the_right_answer_ends_the_solution",
    } <= noticed
    assert all("{" not in text for text in sentences(problem))
