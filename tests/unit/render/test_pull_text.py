"""What a person reads in a terminal."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.model import Finding
from pullbench.render import explain, table
from unit.render import fake_pulls

NOTE = "one pull: repeats usually scatter 3–5 %"


def test_the_table_is_aligned_and_the_first_finding_gives_the_only_fix():
    twice = fake_pulls.pull(findings=(fake_pulls.JERKED, fake_pulls.HELD))
    text = table([fake_pulls.pull(), twice], "tins.csv")
    heading, first, second = text.splitlines()[2:5]
    assert heading.index("breakaway") == first.index("3.12") == second.index("3.12")
    assert heading.index("verdict") == first.index("usable")
    assert text.count("Next time: ") == 1
    assert "Next time: take a slow count of three" in text
    assert fake_pulls.HELD.sentence not in text


def test_a_pull_without_findings_has_nothing_to_change():
    assert "Nothing to change." in table([fake_pulls.pull()], "tins.csv")


def test_a_fix_that_is_nothing_is_not_told_as_next_time():
    calm = Finding("creeps", "It creeps before it lets go.", "Nothing wrong: tell the room it creeps.")
    text = table([fake_pulls.pull(findings=(calm,))], "tins.csv")
    assert "Next time" not in text
    assert "Nothing wrong: tell the room" in text


def test_coefficients_carry_the_note_of_the_caller():
    text = table([fake_pulls.pull(coefficients=True)], "tins.csv", note=NOTE)
    assert f"static 0.318 ± 0.008, kinetic 0.228 ± 0.006 ({NOTE[:20]}" in text
    assert explain(fake_pulls.pull(coefficients=True), note=NOTE).count(NOTE) == 2


def test_a_recording_without_a_pull_says_so():
    assert table([], "quiet.csv") == "quiet.csv: no pull in this recording."


def test_the_budget_is_told_biggest_first_and_its_shares_are_those_of_the_variance():
    lines = explain(fake_pulls.pull()).splitlines()
    start = lines.index("breakaway (static maximum): 3.12 N ± 0.03 N")
    names = [line.strip().split("  ")[0] for line in lines[start + 1 : start + 5]]
    assert names == [name for name, _ in fake_pulls.STATIC]
    # by hand: shares of 0.8² : 0.5² : 0.25² : 0.2² of their sum 0.9925
    assert [line.split("  ")[-1].strip() for line in lines[start + 1 : start + 5]] == [
        "64 %",
        "25 %",
        "6 %",
        "4 %",
    ]


def test_the_reasoning_tells_how_the_moment_was_chosen_and_every_finding():
    pull = fake_pulls.pull(findings=(fake_pulls.JERKED, fake_pulls.HELD))
    text = " ".join(explain(pull).split())
    assert pull.chosen[0] in text
    assert fake_pulls.JERKED.sentence in text
    assert fake_pulls.HELD.fix in text


def test_the_decimal_comma_reaches_every_number_of_ours():
    text = table([fake_pulls.pull(coefficients=True)], "tins.csv", comma=True)
    assert "3,12 N ± 0,03 N" in text
    assert not any(a.isdigit() and b.isdigit() for a, _, b in _around(text, "."))


def _around(text, mark):
    return [(text[i - 1], mark, text[i + 1]) for i in range(1, len(text) - 1) if text[i] == mark]


@pytest.mark.parametrize("name", sorted(fake_pulls.EVERY))
def test_no_line_is_longer_than_a_hundred_columns(name):
    pull = fake_pulls.EVERY[name]()
    for text in (table([pull] * 12, "tins.csv", note=NOTE), explain(pull, note=NOTE)):
        assert max(map(len, text.splitlines())) <= 100


@given(words=st.lists(st.text("abcdef .,", min_size=1, max_size=150), min_size=3, max_size=3))
def test_no_finding_and_no_file_name_makes_a_line_longer(words):
    name, sentence, fix = words
    pull = fake_pulls.pull(rate_Hz=20, findings=(Finding(name, sentence, fix),))
    for text in (table([pull], name * 2), explain(pull)):
        assert max(map(len, text.splitlines())) <= 100
