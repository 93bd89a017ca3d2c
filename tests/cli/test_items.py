"""`pullbench items` as a person types it."""

import csv
import io
import zipfile
from pathlib import Path

import pytest

from pullbench.cli import run
from pullbench.cli.items import command
from unit.render.qti_reader import read_package
from unit.render.qti_rules import faults_of_package

HANDBOOK = ["items", "--day", "none", "--seed", "3", "--variants", "2"]


def made(tmp_path, *arguments, name="a.zip"):
    assert run([*HANDBOOK, "--out", str(tmp_path / name), *arguments]) == 0
    return (tmp_path / name).read_bytes()


def refused(capsys, *arguments):
    assert run(list(arguments)) == 2
    told = capsys.readouterr().err
    assert "Traceback" not in told
    assert told.count("\n") == 1
    return told


def test_all_kinds_make_one_package_by_the_rules_and_the_count_is_told(tmp_path, capsys):
    data = made(tmp_path)
    assert faults_of_package(data) == []
    items, _ = read_package(data)
    assert f"{len(items)} items" in capsys.readouterr().out


def test_two_runs_differ_in_no_byte_and_another_seed_gives_other_numbers(tmp_path):
    first, second = (
        made(tmp_path, "--kinds", "level-pull"),
        made(tmp_path, "--kinds", "level-pull", name="b.zip"),
    )
    assert first == second
    assert made(tmp_path, "--kinds", "level-pull", "--seed", "4", name="c.zip") != first


def test_variants_share_no_answer_and_questions_without_numbers_come_once(tmp_path):
    items, _ = read_package(made(tmp_path, "--kinds", "level-pull,which-area", "--variants", "6"))
    answers = [
        one.right for name, one in items.items() if name.startswith("level-pull") and name.endswith("-a")
    ]
    assert len(set(answers)) == len(answers) == 6
    assert len([name for name in items if name.startswith("which-area")]) == 1


def test_a_level_leaves_out_the_others(tmp_path):
    items, _ = read_package(made(tmp_path, "--level", "1"))
    assert items
    assert not [name for name in items if name.startswith("level-pull")]


def test_text_and_csv_say_the_same_as_the_package(tmp_path):
    data = made(
        tmp_path, "--kinds", "level-pull", "--text", str(tmp_path / "a.txt"), "--csv", str(tmp_path / "a.csv")
    )
    items, _ = read_package(data)
    rows = list(csv.DictReader(io.StringIO((tmp_path / "a.csv").read_text("utf-8-sig"))))
    assert {row["item"]: row["answer"] for row in rows} == {name: one.right for name, one in items.items()}
    assert "Key" in (tmp_path / "a.txt").read_text("utf-8")


def test_numbers_of_the_handbook_say_so_in_every_item_that_uses_them(tmp_path):
    items, _ = read_package(made(tmp_path, "--kinds", "level-pull"))
    assert all("from the handbook" in one.asked for one in items.values())


def test_a_package_holds_no_file_but_its_own(tmp_path):
    with zipfile.ZipFile(io.BytesIO(made(tmp_path, "--kinds", "level-pull"))) as archive:
        assert {name.split("/")[0] for name in archive.namelist()} == {"imsmanifest.xml", "items", "pictures"}
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(("arguments", "words"), [
    (("--variants", "0"), "--variants is 0"), (("--variants", "101"), "from 1 to 100"),
    (("--seed", "-1"), "--seed is -1"),
    (("--kinds", "pull-the-moon"), "pull-the-moon"), (("--kinds", ","), "no kind"), (("--level", "9"), "level 9"),
    (("--kinds", "level-pull", "--level", "4"), "level 2"), (("--surfaces", "cheese on chalk"), "cheese"),
    (("--day", "2026-01-01", "--logbook", "nowhere.sqlite"), "nowhere.sqlite"),
])  # fmt: skip
def test_what_cannot_be_made_is_refused_in_one_line(arguments, words, tmp_path, capsys):
    out = str(tmp_path / "a.zip")
    day = () if "--day" in arguments else ("--day", "none")
    assert words in refused(capsys, "items", "--out", out, *day, *arguments)
    assert not (tmp_path / "a.zip").exists()


def test_a_place_that_cannot_be_written_is_told(tmp_path, capsys):
    told = refused(capsys, *HANDBOOK, "--kinds", "level-pull", "--out", str(tmp_path / "no" / "a.zip"))
    assert "cannot be written" in told
    assert not (tmp_path / "no").exists()


def test_no_place_at_all_and_the_same_place_twice_are_refused(tmp_path, capsys):
    assert "--out" in refused(capsys, *HANDBOOK)
    one = str(tmp_path / "a.zip")
    assert "twice" in refused(capsys, *HANDBOOK, "--out", one, "--text", one)


def test_every_option_is_in_the_page():
    page = Path(__file__).parents[2].joinpath("docs", "items.md").read_text("utf-8")
    options = {name for one in command.params for name in one.opts}
    assert not [name for name in options if f"`{name}" not in page]


def test_without_a_logbook_the_handbook_stands_in_and_is_said(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(["items", "--kinds", "level-pull", "--variants", "1", "--out", "a.zip"]) == 0
    assert "handbook" in capsys.readouterr().err
