"""Laws that hold for every problem of every kind; each returns what is wrong, or nothing."""

import math
import re
from itertools import combinations

from pullbench.model.scene import Scene, TraceFigure
from pullbench.render.formula import parse, pieces
from pullbench.teach.ideas import IDEAS

# What a class meets, by unit: from a light tin to scenery, from a nudge to a car on a track.
HUMAN = {
    "N": (0.05, 4000), "kg": (0.02, 150), "m/s²": (0.02, 25), "m/s": (0.05, 60), "m": (0.005, 500), "s": (0.02, 60),
    "°": (1, 80), "J": (0.005, 5000), "W": (0.002, 500), "1": (0.0005, 3),
}  # fmt: skip
_LEFT_OVER = re.compile(r"[{}]|\bnan\b|\binf\b|\bNone\b|\d{9}")


def sentences(problem):
    """Return every text of a problem that somebody reads, formulas in backticks."""
    found = [problem.title, problem.text]
    for part in problem.parts:
        found += [part.ask, *part.options, *part.hints]
        found += [step.words for step in part.solution]
        found += [f"`{step.formula}`" for step in part.solution if step.formula]
    return found + [figure.described for figure in (problem.figure, problem.key_figure) if figure is not None]


def every_slot_is_filled(problem):
    return [text for text in sentences(problem) if _LEFT_OVER.search(text)]


def every_formula_can_be_read(problem):
    faults = []
    for text in sentences(problem):
        try:
            pieces(text)
            for formula in text.split("`")[1::2]:
                parse(formula)
        except ValueError as mistake:
            faults.append(f"{text}: {mistake}")
    return faults


def every_wrong_answer_names_an_idea_with_a_sentence(problem):
    return [wrong.idea for part in problem.parts for wrong in part.wrong if wrong.idea not in IDEAS]


def right_and_wrong_differ_by_more_than_five_percent(problem):
    faults = []
    for part in problem.parts:
        if part.form == "choice":
            marks = [part.answer, *(wrong.option for wrong in part.wrong)]
            faults += [
                f"{part.key}: option {one} twice" for one, other in combinations(marks, 2) if one == other
            ]
        else:
            named = [("right", part.answer), *((wrong.idea, wrong.value) for wrong in part.wrong)]
            faults += [
                f"{part.key}: {one} {value} and {other} {rival}"
                for (one, value), (other, rival) in combinations(named, 2)
                if math.isclose(value, rival, rel_tol=0.05)
            ]
    return faults


def no_wrong_answer_is_accepted_as_right(problem):
    return [
        f"{part.key}: {wrong.idea} {wrong.value} within {part.tolerance} of {part.answer}"
        for part in problem.parts if part.form == "number"
        for wrong in part.wrong if abs(wrong.value - part.answer) <= part.tolerance
    ]  # fmt: skip


def each_part_has_one_to_four_wrong_answers(problem):
    return [f"{part.key}: {len(part.wrong)}" for part in problem.parts if not 1 <= len(part.wrong) <= 4]


def answers_are_in_human_ranges(problem):
    faults = []
    for part in problem.parts:
        if part.form == "choice":
            inside = 0 <= part.answer < len(part.options) and part.answer == int(part.answer)
        else:
            low, high = HUMAN[part.unit]
            inside = low <= part.answer <= high
        if not inside:
            faults.append(f"{part.key}: {part.answer} {part.unit}")
    return faults


def every_body_is_pressed_to_what_it_stands_on(problem):
    return [
        f"{body.name}: {arrow.value_N} N" for body in _drawn(problem) for arrow in body.forces
        if arrow.kind == "normal" and not arrow.length_N > 0
    ]  # fmt: skip


def no_arrow_is_negative(problem):
    return [
        f"{body.name}: {arrow.words} {arrow.length_N}" for body in _drawn(problem) for arrow in body.forces
        if not 0 <= arrow.length_N < math.inf
    ]  # fmt: skip


def forces_in_the_key_make_the_acceleration_there(problem):
    """Newton's second law for each body drawn; one that hangs has no board and speeds up straight down."""
    faults = []
    for body in _drawn(problem):
        weights = [arrow.length_N for arrow in body.forces if arrow.kind == "weight"]
        if not weights:
            continue
        g = next((one.value for one in problem.given if one.symbol == "g"), 9.81)
        expected = weights[0] / g * (problem.key_figure.acceleration_m_s2 or 0.0)
        along, off = (
            sum(arrow.length_N * turned(math.radians(arrow.direction_deg)) for arrow in body.forces)
            for turned in (math.cos, math.sin)
        )
        wanted = (0.0, -expected) if body.on == "hanging" else (expected, 0.0)
        if math.hypot(along - wanted[0], off - wanted[1]) > 1e-9 * weights[0]:
            faults.append(f"{body.name}: {along} along, {off} off, wanted {wanted}")
    return faults


def the_figure_beside_the_question_gives_no_force_away(problem):
    if problem.figure is None or isinstance(problem.figure, TraceFigure):
        return []
    told = any(body.forces for body in problem.figure.bodies) or problem.figure.acceleration_m_s2 is not None
    return ["forces or acceleration drawn"] if told else []


def the_right_answer_ends_the_solution(problem):
    faults = []
    for part in problem.parts:
        if part.form == "number":
            said = " ".join(f"{step.words} {step.formula}" for step in part.solution)
            numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", said)]
            if not any(math.isclose(number, part.answer, rel_tol=0.006) for number in numbers):
                faults.append(f"{part.key}: {part.answer} not in {said}")
    return faults


def _drawn(problem):
    return problem.key_figure.bodies if isinstance(problem.key_figure, Scene) else ()


LAWS = (
    every_slot_is_filled, every_formula_can_be_read, every_wrong_answer_names_an_idea_with_a_sentence,
    right_and_wrong_differ_by_more_than_five_percent, no_wrong_answer_is_accepted_as_right,
    each_part_has_one_to_four_wrong_answers, answers_are_in_human_ranges, every_body_is_pressed_to_what_it_stands_on,
    no_arrow_is_negative, forces_in_the_key_make_the_acceleration_there,
    the_figure_beside_the_question_gives_no_force_away, the_right_answer_ends_the_solution,
)  # fmt: skip
