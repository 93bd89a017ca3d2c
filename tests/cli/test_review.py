"""`pullbench review` as a person types it."""

import json
from pathlib import Path

import pytest

from pullbench.cli import run
from pullbench.cli.review import command

SET = ["--seed", "3", "--seats", "3", "--kinds", "level-pull,string-between", "--day", "none"]


@pytest.fixture
def key(capsys):
    assert run(["sheets", *SET, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def part(key, seat, problem, letter):
    parts = key["seats"][seat - 1]["problems"][problem - 1]["parts"]
    return next(one for one in parts if one["key"] == letter)


def wrong_by(part_, idea):
    return next(one["value"] for one in part_["wrong"] if one["idea"] == idea)


def reviewed(tmp_path, capsys, text, *arguments, status=0):
    path = tmp_path / "answers.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    assert run(["review", str(path), *SET, *arguments]) == status
    told = capsys.readouterr()
    assert "Traceback" not in told.err
    return told.out if status == 0 else told.err


def test_answers_of_the_sheets_own_key_are_right_and_a_slip_is_named(key, tmp_path, capsys):
    a, b = part(key, 1, 1, "a"), part(key, 2, 1, "b")
    text = f"1,1,a,{a['answer']:.2f} N\n2,1,b,{wrong_by(b, 'mass for weight'):.3g} N\n"
    told = json.loads(reviewed(tmp_path, capsys, text, "--json"))
    assert told["code"] == key["code"]
    assert [(one["seat"], one["outcome"], one["idea"]) for one in told["answers"]] == [
        (1, "right", None), (2, "idea", "mass for weight"),
    ]  # fmt: skip
    assert told["ideas"] == {"mass for weight": 1}
    assert told["state"] == "proposed"


def test_a_later_part_that_follows_from_a_slip_counts_as_right(key, tmp_path, capsys):
    given = {name: value for name, (value, _) in key["seats"][0]["problems"][1]["given"].items()}
    slip = wrong_by(part(key, 1, 2, "a"), "friction left out")
    follows_N = given["m_1"] * (slip + given["mu_k"] * given["g"])  # the rear sled: pull = m (a + mu g)
    told = json.loads(
        reviewed(tmp_path, capsys, f"1,2,a,{slip:.3g} m/s²\n1,2,b,{follows_N:.3g} N\n", "--json")
    )
    assert [(one["outcome"], one["follows"]) for one in told["answers"]] == [("idea", None), ("follows", "a")]


@pytest.mark.parametrize("line", [
    "1,1,a,{} N", "1;1;a;{} N", "1\t1\ta\t{} N", '"1","1","a","{} N"', "1 1 a {} N", "1, 1a, {} N", "1,1,A),{}",
])  # fmt: skip
@pytest.mark.parametrize("comma", [False, True])
def test_lines_may_be_separated_in_many_ways_and_the_answer_keep_its_comma(
    line, comma, key, tmp_path, capsys
):
    number = f"{part(key, 1, 1, 'a')['answer']:.2f}"
    text = "seat,problem,part,answer\n\n# typed by me\n" + line.format(
        number.replace(".", ",") if comma else number
    )
    told = json.loads(reviewed(tmp_path, capsys, text, "--json"))
    assert [one["outcome"] for one in told["answers"]] == ["right"]
    assert told["complaints"] == []


def test_text_with_a_byte_order_mark_or_of_an_old_spreadsheet_is_read(key, tmp_path, capsys):
    number = f"{part(key, 1, 2, 'a')['answer']:.2f}"
    for data in (f"1,2,a,{number} m/s²".encode("utf-8-sig"), f"1,2,a,{number} m/s²\r\n".encode("cp1252")):
        told = json.loads(reviewed(tmp_path, capsys, data, "--json"))
        assert [(one["outcome"], one["flags"]) for one in told["answers"]] == [("right", [])]


def test_each_bad_line_gets_one_sentence_with_its_number_and_the_rest_is_reviewed(key, tmp_path, capsys):
    right = f"1,1,b,{part(key, 1, 1, 'b')['answer']:.2f} N"
    lines = [
        "1,1,a,3 cows", "9,1,a,1 N", "1,8,a,1 N", "1,1,z,1 N", "Anna,1,a,1 N", "1,1,a", "1,x,a,1 N", "1,1,17,1 N",
        "1,1,a,", "2,1,a," + "7" * 400, right,
    ]  # fmt: skip
    told = json.loads(reviewed(tmp_path, capsys, "\n".join(lines), "--json"))
    assert [int(one.split()[1]) for one in told["complaints"]] == list(range(1, 11))
    for complaint, word in zip(
        told["complaints"],
        ("cows", "seat 9", "problem 8", "part z", "names", "3 of 4", "'x'", "'17'", "no answer", "longer"),
        strict=True,
    ):
        assert word in complaint
    assert told["outcomes"]["right"] == 1


def test_a_name_in_place_of_a_seat_is_never_repeated(tmp_path, capsys):
    told = reviewed(tmp_path, capsys, "Anna Muster,1,a,1 N\n1,1,a,1 N\n")
    assert "Anna" not in told
    assert "Line 1" in told


def test_the_text_says_that_it_is_a_proposal_then_counts_by_slip(key, tmp_path, capsys):
    b = part(key, 2, 1, "b")
    told = reviewed(tmp_path, capsys, f"2,1,b,{wrong_by(b, 'mass for weight'):.3g} N\n")
    assert "Proposed" in told
    assert "By slip\n     1  mass for weight" in told
    assert "from the handbook" in told


def test_only_an_approved_review_is_handed_back(key, tmp_path, capsys):
    a, out = part(key, 1, 1, "a"), tmp_path / "slips.txt"
    text = f"1,1,a,{a['answer']:.2f}\n"
    assert "--approve" in reviewed(tmp_path, capsys, text, "--out", str(out), status=2)
    assert not out.exists()
    assert "Approved" in reviewed(tmp_path, capsys, text, "--out", str(out), "--approve")
    slips = out.read_text("utf-8")
    assert "seat 1" in slips
    assert "Add the unit: N." in slips


def test_the_code_on_the_sheets_guards_against_reviewing_another_set(key, tmp_path, capsys):
    assert key["code"] in reviewed(tmp_path, capsys, "1,1,a,1 N\n", "--set", key["code"].lower())
    told = reviewed(tmp_path, capsys, "1,1,a,1 N\n", "--set", "9ZZ", status=2)
    assert "9ZZ" in told
    assert key["code"] in told


@pytest.mark.parametrize(("data", "words"), [
    (b"", "holds no answers"), (b"\n# nothing\nseat,problem,part,answer\n", "holds no answers"),
    (b"PK\x03\x04\0\0", "not text"), (b"1,1,a,1 N\n" * 100_001, "MB"),
])  # fmt: skip
def test_a_file_without_answers_or_far_too_large_is_refused_in_one_line(data, words, tmp_path, capsys):
    told = reviewed(tmp_path, capsys, data, status=2)
    assert words in told
    assert told.count("\n") == 1


def test_a_file_that_is_not_there_is_told(tmp_path, capsys):
    assert run(["review", str(tmp_path / "none.csv"), *SET]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_every_option_is_in_the_page():
    page = Path(__file__).parents[2].joinpath("docs", "review.md").read_text("utf-8")
    options = {name for one in command.params for name in one.opts if name.startswith("--")}
    assert not [name for name in options if f"`{name}" not in page]


def test_slips_that_cannot_be_written_are_told(key, tmp_path, capsys):
    out = str(tmp_path / "no" / "slips.txt")
    assert "cannot be written" in reviewed(
        tmp_path, capsys, "1,1,a,1 N\n", "--approve", "--out", out, status=2
    )
