"""Question packages: by the standard's rules, the same bytes each time, and read back with all that went in."""

import csv
import io
from xml.etree import ElementTree

import pytest

from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction, Part, Problem, Step, WrongAnswer
from pullbench.render.formula import plain_words
from pullbench.render.items import Bank, bank_csv, bank_text, package
from pullbench.render.items.bank import identifier
from pullbench.render.items.item import item
from pullbench.teach.ideas import IDEAS
from pullbench.teach.problems import ENGLISH, KINDS, make
from unit.render.qti_reader import Q, read_package, words_of
from unit.render.qti_rules import faults_of_item, faults_of_package

PAIR = PairFriction(
    sole="felt", floor="the painted stage floor", mu_s=0.42, mu_k=0.31, u_mu_s=0.01, u_mu_k=0.01, source="handbook",
    told="invented numbers",
)  # fmt: skip
SENTENCES = {name: idea.sentence for name, idea in IDEAS.items()}
LETTERS = "ABCDEFGHIJ"


def bank(*columns, ideas=SENTENCES):
    return Bank(
        pair=PAIR, variants=columns, made_with="Coefficients: `mu_s = 0.42`, `mu_k = 0.31`.", ideas=ideas
    )


def column(name, count=2):
    found = []
    for seed in range(count):
        try:
            found.append(make(KINDS[name], ENGLISH[name], PAIR, seed))
        except ConditionsError:
            pytest.skip(f"{name} is not possible with these coefficients")
    return tuple(found)


ALL = bank(
    *(column(name) for name in ("level-pull", "string-between", "work-and-heat", "compare-pairs", "rider"))
)


def part_with(*wrong, answer=5.0, **more):
    told = {"solution": (Step("Balance.", "F = mu_k N"),), **more}
    return Part(
        key="a", ask="How much?", form="number", answer=answer, unit="N", tolerance=0.1,
        wrong=tuple(WrongAnswer(idea=idea, value=value) for idea, value in wrong), **told,
    )  # fmt: skip


def single(part):
    problem = Problem(kind="one", level=1, seed=7, title="One", text="A sled.", given=(), parts=(part,))
    return bank((problem,))


def one_item(part):
    items, _ = read_package(package(single(part)))
    return next(iter(items.values()))


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_gives_a_package_by_the_rules_of_the_standard(name):
    assert faults_of_package(package(bank(column(name)))) == []


@pytest.mark.parametrize("name", KINDS)
def test_reading_a_package_back_recovers_answers_tolerances_options_and_feedback(name):
    made = bank(column(name))
    items, _ = read_package(package(made))
    entries = {entry.name: entry for entry in made.entries()}
    assert set(items) == set(entries)
    for key, back in items.items():
        part, problem = entries[key].part, entries[key].problem
        assert back.form == part.form
        assert plain_words(problem.text) in back.asked
        assert plain_words(part.ask) in back.asked
        assert back.options == tuple(plain_words(option) for option in part.options)
        if part.form == "choice":
            assert back.right == LETTERS[round(part.answer)]
        else:
            assert float(back.right) == pytest.approx(part.answer, rel=1e-5)
            assert back.tolerance == pytest.approx(part.tolerance, rel=1e-5)
        for wrong in part.wrong:
            assert back.feedback[identifier(wrong.idea)] == plain_words(SENTENCES[wrong.idea])
        assert set(back.feedback) - {"UNCLEAR"} == {
            "RIGHT", "OTHER", *(identifier(wrong.idea) for wrong in part.wrong),
        }  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_an_answer_gets_its_score_and_the_sentence_for_its_idea(name):
    made = bank(column(name))
    items, _ = read_package(package(made))
    for entry in made.entries():
        part, back = entry.part, items[entry.name]
        assert back.answered(None) == (0.0, None)
        if part.form == "choice":
            assert back.answered(LETTERS[round(part.answer)]) == (1.0, "RIGHT")
            for wrong in part.wrong:
                assert back.answered(LETTERS[wrong.option]) == (0.0, identifier(wrong.idea))
            continue
        for off in (-0.99, 0, 0.99):
            assert back.answered(part.answer + off * part.tolerance) == (1.0, "RIGHT")
        for wrong in part.wrong:
            score, feedback = back.answered(wrong.value)
            assert score == 0.0
            assert feedback in (identifier(wrong.idea), "UNCLEAR")
        far = 1e3 * (abs(part.answer) + max((abs(wrong.value) for wrong in part.wrong), default=0.0))
        assert back.answered(far) == (0.0, "OTHER")


def test_a_number_two_slips_lead_to_gets_neither_name():
    back = one_item(part_with(("one slip", 2.0), ("another", 2.02), ("a third", 9.0), answer=5.0))
    assert back.answered(2.01) == (0.0, "UNCLEAR")
    assert back.answered(9.0) == (0.0, "IDEA_a_third")


def test_slips_far_apart_leave_no_unclear_feedback():
    assert "UNCLEAR" not in one_item(part_with(("one slip", 2.0), ("another", 3.0))).feedback


def test_hints_are_the_feedback_of_an_unknown_answer_and_the_working_that_of_the_right_one():
    back = one_item(part_with(hints=("Look at `mu_k N`.",)))
    assert "Look at μk N." in back.feedback["OTHER"]
    assert "F = μk N" in back.feedback["RIGHT"]


def test_a_later_question_tells_the_ones_before_it_and_not_their_answers():
    made = bank(column("string-between", 1))
    later = next(entry for entry in made.entries() if entry.part.key == "b")
    back = read_package(package(made))[0][later.name]
    assert plain_words(later.earlier[0].ask) in back.asked
    assert f"{later.earlier[0].answer:.3g}" not in back.asked


def test_pictures_carry_their_description_and_equal_figures_are_one_file():
    made = bank(column("level-pull", 3))
    items, files = read_package(package(made))
    assert {back.pictures for back in items.values()} == {
        ((f"../{next(name for name in files if name.startswith('pictures/'))}",
          "A loaded sled on a level floor, a level string pulling it to the right."),)
    }  # fmt: skip
    pictures = [name for name in files if name.startswith("pictures/")]
    assert len(pictures) == 1
    assert ElementTree.fromstring(files[pictures[0]]).tag == "{http://www.w3.org/2000/svg}svg"


def test_pictures_can_be_png():
    pytest.importorskip("resvg_py", reason="the part that draws PNG is not installed")
    _, files = read_package(package(bank(column("level-pull", 1)), pictures="png"))
    assert [data[:8] for name, data in files.items() if name.endswith(".png")] == [b"\x89PNG\r\n\x1a\n"]


def test_the_same_bank_gives_the_same_bytes_and_nothing_tells_when_or_by_whom():
    first, second = package(ALL), package(ALL)
    assert first == second
    _, files = read_package(first)
    for data in files.values():
        assert not any(
            word in data.lower() for word in (b"author", b"creator", b"date", b"/home", b"/root", b"/tmp")
        )


def test_names_differ_between_coefficients_so_that_one_day_never_overwrites_another():
    other = make(KINDS["level-pull"], ENGLISH["level-pull"], PairFriction(
        sole="felt", floor="the painted stage floor", mu_s=0.44, mu_k=0.31, u_mu_s=0.01, u_mu_k=0.01,
        source="handbook", told="invented numbers",
    ), 0)  # fmt: skip
    names = [
        {entry.name for entry in bank(problems).entries()} for problems in (column("level-pull", 1), (other,))
    ]
    assert not names[0] & names[1]


def test_formulas_are_mathml_that_a_voice_can_read():
    items, _ = read_package(package(bank(column("level-pull", 1))))
    formulas = [
        one for back in items.values() for one in back.root.iter("{http://www.w3.org/1998/Math/MathML}math")
    ]
    assert formulas
    assert all(one.get("alttext") for one in formulas)


def test_a_decimal_comma_changes_words_and_formulas_and_no_number_that_a_program_reads():
    made = bank(column("level-pull", 1))
    point, comma = (read_package(package(made, comma=comma))[0] for comma in (False, True))
    for name, back in comma.items():
        assert back.right == point[name].right
        assert "0,42" in back.asked
        assert "0.42" not in back.asked


def test_an_idea_without_a_sentence_is_told_by_its_name():
    problem = Problem(
        kind="one",
        level=1,
        seed=7,
        title="One",
        text="A sled.",
        given=(),
        parts=(part_with(("weight lost", 2.0)),),
    )
    back = next(iter(read_package(package(bank((problem,), ideas={})))[0].values()))
    assert "weight lost" in back.feedback["IDEA_weight_lost"]


def test_words_with_signs_of_markup_come_through_unharmed():
    problem = Problem(
        kind="one",
        level=1,
        seed=7,
        title='A < "B" & C',
        text='Less than <b> & "more".',
        given=(),
        parts=(part_with(),),
    )
    back = next(iter(read_package(package(bank((problem,))))[0].values()))
    assert 'Less than <b> & "more".' in back.asked
    assert back.root.get("title") == 'A < "B" & C, a'


def test_text_holds_every_question_and_the_key_after_them():
    told = bank_text(ALL)
    questions, _, key = told.partition("\nKey\n")
    for problems in ALL.variants:
        for problem in problems:
            assert plain_words(problem.text) in questions
    assert "accept" in key
    assert "accept" not in questions


def test_csv_has_one_row_an_item_and_its_numbers_come_back():
    rows = list(csv.DictReader(io.StringIO(bank_csv(ALL))))
    entries = list(ALL.entries())
    assert [row["item"] for row in rows] == [entry.name for entry in entries]
    for row, entry in zip(rows, entries, strict=True):
        part = entry.part
        if part.form == "number":
            assert float(row["answer"]) == pytest.approx(part.answer, rel=1e-5)
            assert float(row["accepted_from"]) == pytest.approx(
                part.answer - part.tolerance, rel=1e-4, abs=1e-9
            )
        else:
            assert row["options"].split(" | ")[LETTERS.index(row["answer"])] == plain_words(
                part.options[round(part.answer)]
            )
        assert len([one for one in row["wrong"].split(" | ") if one]) == len(part.wrong)


def test_no_cell_of_the_csv_is_a_formula_for_a_spreadsheet():
    problem = Problem(
        kind="one", level=1, seed=7, title="One", text="=1+1", given=(), parts=(part_with(),)
    )  # fmt: skip
    row = next(csv.DictReader(io.StringIO(bank_csv(bank((problem,))))))
    assert row["text"] == "'=1+1"


@pytest.mark.parametrize(("change", "fault"), [
    (lambda root: root.find(f"{Q}modalFeedback").set("identifier", "NOBODY"), "is set and not written"),
    (lambda root: root.find(f".//{Q}equal").attrib.pop("toleranceMode"), "lacks toleranceMode"),
    (lambda root: root.insert(0, root[-1]), "out of order"),
    (lambda root: setattr(root.find(f"{Q}itemBody"), "text", "words"), "bare words in itemBody"),
    (lambda root: root.find(f".//{Q}variable").set("identifier", "ANSWER"), "was not declared"),
    (lambda root: root.set("identifier", "1 one"), "is no identifier"),
])  # fmt: skip
def test_the_checker_sees_a_broken_rule(change, fault):
    made = single(part_with(("one slip", 2.0)))
    root = ElementTree.fromstring(item(made, next(made.entries()), None, comma=False))
    assert faults_of_item(root) == []
    change(root)
    assert any(fault in found for found in faults_of_item(root))


def test_the_unit_stands_behind_the_field_and_not_in_the_answer():
    back = one_item(part_with())
    line = next(p for p in back.root.iter(f"{Q}p") if p.find(f"{Q}textEntryInteraction") is not None)
    assert words_of(line) == "Answer:  N"
    assert "in N" in back.asked
