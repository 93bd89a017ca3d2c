"""`pullbench sheets` as a person types it."""

import json
import re
import shlex
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from archive import books
from pullbench.analysis import Conditions, with_coefficients
from pullbench.cli import run
from pullbench.cli.sheets import command
from pullbench.model import Chunk, Measured
from pullbench.render import pull_record
from pullbench.teach.problems import KINDS
from unit.render import fake_pulls

PAGE = Path(__file__).parents[2] / "docs/sheets.md"


def fill(path, *, loads_kg=(0.85, 1.35, 1.85), mu=(0.42, 0.30), label=None, change=lambda pull: pull):
    """Write a day with one pull at each load."""
    with books.opened(path) as logbook:
        recording = logbook.begin_recording(source="invented", label=label)
        for number, load_kg in enumerate(loads_kg, 1):
            weight_N, at_s = load_kg * 9.80665 * (1 + 0.01 * (-1) ** number), 7.0 * number
            moments = {name: at_s + s for name, s in (("first_s", 0), ("start_s", 0.7), ("break_s", 2.1))}
            moments |= {name: at_s + s for name, s in (("slide_s", 2.65), ("end_s", 5.0), ("last_s", 6.0))}
            pull = fake_pulls.pull(static_N=mu[0] * weight_N, kinetic_N=mu[1] * weight_N, **moments)
            pull = change(with_coefficients(pull, Conditions.of_mass(load_kg)))
            trace = pull.window.trace
            logbook.keep(recording, Chunk(time_s=trace.time_s, force_N=trace.force_N))
            logbook.commit()
            logbook.add_reading(
                recording, window=pull.window, record=pull_record("invented", number, pull), version="0.1"
            )
        logbook.end_recording(recording, "The string was untied.")
    return path


@pytest.fixture(scope="module")
def logbook(tmp_path_factory):
    return fill(tmp_path_factory.mktemp("day") / "logbook.sqlite")


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def told(capsys, *arguments, status=0):
    assert run(["sheets", *map(str, arguments)]) == status
    return capsys.readouterr()


def refused(capsys, *arguments):
    said = told(capsys, *arguments, status=2)
    assert "Traceback" not in said.err
    assert said.err.count("\n") == 1
    return said.err


def test_a_day_gives_sheets_a_key_and_a_lab_sheet_each_as_pdf_and_html(capsys, tmp_path, logbook):
    pytest.importorskip("typst")
    said = told(capsys, "--logbook", logbook, "--out", tmp_path / "new" / "folder", "--seats", 2)
    names = sorted(path.name for path in (tmp_path / "new" / "folder").iterdir())
    assert sorted(re.sub(r"1[A-Z]{2}", "CODE", name) for name in names) == [
        "key-CODE.html", "key-CODE.pdf", "lab-2026-11-25.html", "lab-2026-11-25.pdf", "sheets-CODE.html",
        "sheets-CODE.pdf",
    ]  # fmt: skip
    assert all(name in said.out for name in names)
    assert said.err == ""


def test_the_numbers_of_the_day_are_in_the_problems(capsys, logbook):
    record = json.loads(told(capsys, "--logbook", logbook, "--kinds", "level-pull", "--json").out)
    assert (record["pair"]["mu_s"], record["pair"]["mu_k"]) == (0.42, 0.30)  # as the pulls were made
    assert record["pair"]["source"] == "today"
    (problem,) = record["seats"][0]["problems"]
    given = {name: value for name, (value, _) in problem["given"].items()}
    weight_N = (given["m_sled"] + given["m_load"]) * given["g"]
    assert problem["parts"][0]["answer"] == pytest.approx(0.42 * weight_N)  # Coulomb's law, on the level


def test_the_same_seed_gives_the_same_record_and_another_seed_another(capsys):
    arguments = ("--day", "none", "--kinds", "level-pull", "--seats", "3", "--json", "--seed")
    first, again, other = (told(capsys, *arguments, seed).out for seed in (5, 5, 6))
    assert first == again != other


def test_no_two_seats_share_a_number_as_an_answer(capsys):
    arguments = ("--day", "none", "--kinds", "level-pull", "--seats", 12, "--json")
    seats = json.loads(told(capsys, *arguments).out)["seats"]
    assert [one["seat"] for one in seats] == list(range(1, 13))
    answers = [f"{one['problems'][0]['parts'][0]['answer']:.2g}" for one in seats]
    assert len(set(answers)) == 12


def test_without_a_day_there_is_no_lab_sheet_and_the_handbook_is_named(capsys, tmp_path):
    pytest.importorskip("typst")
    told(capsys, "--day", "none", "--out", tmp_path, "--kinds", "level-pull")
    assert not list(tmp_path.glob("lab*"))
    page = next(tmp_path.glob("sheets*.html")).read_text("utf-8")
    assert "from the handbook, wood on wood" in page.replace("\u00a0", " ")


def test_without_a_logbook_yet_it_goes_on_with_the_handbook_and_says_so(capsys):
    said = told(capsys, "--kinds", "level-pull", "--json")
    assert (
        "There is no logbook pullbench-logbook.sqlite yet; the coefficients come from the handbook"
        in said.err
    )
    assert json.loads(said.out)["pair"]["source"] == "handbook"
    assert json.loads(said.out)["notes"] == [said.err.removeprefix("pullbench: ").strip()]


def test_a_day_without_a_usable_pull_goes_on_with_the_handbook_and_says_so(capsys, tmp_path):
    path = fill(tmp_path / "book", change=lambda pull: replace(pull, static_coefficient=None))
    said = told(capsys, "--logbook", path, "--kinds", "level-pull", "--json")
    assert (
        "2026-11-25 has no pull that tells both coefficients; the coefficients come from the handbook"
        in said.err
    )
    assert json.loads(said.out)["pair"]["source"] == "handbook"


def test_pulls_set_aside_and_records_of_no_pull_are_left_out(capsys, tmp_path):
    path = fill(tmp_path / "book", loads_kg=(1.0, 1.0, 1.0))
    with books.opened(path) as book:
        book.set_aside(book.pulls("2026-11-25")[-1].id, "the tin fell off")
        recording = book.begin_recording(source="invented", label=None)
        chunk = books.invented(0, 100)
        book.keep(recording, chunk)
        book.commit()
        book.add_reading(recording, window=books.window_over(chunk), record=b'{"pull":9}', version="0.1")
    record = json.loads(told(capsys, "--logbook", path, "--kinds", "level-pull", "--json").out)
    assert record["pair"]["told"] == "2 pulls of 2026-11-25"


def test_simulated_pulls_label_every_file(capsys, tmp_path):
    pytest.importorskip("typst")
    path = fill(tmp_path / "book", label="simulated")
    told(capsys, "--logbook", path, "--kinds", "level-pull", "--out", tmp_path / "out")
    for page in (tmp_path / "out").glob("*.html"):
        assert "simulated numbers" in page.read_text("utf-8").replace("\u00a0", " ")


def test_a_coefficient_with_limits_that_include_nought_is_refused(capsys, tmp_path):
    wide = Measured(kind="value", value=0.3, standard_uncertainty=0.2, limits=(-0.1, 0.7), unit="1")
    path = fill(
        tmp_path / "book", loads_kg=(1.0,), change=lambda pull: replace(pull, kinetic_coefficient=wide)
    )
    error = refused(capsys, "--logbook", path, "--json")
    assert "kinetic coefficient of 2026-11-25 is 0.3, with limits from -0.1 to 0.7" in error
    assert "--day none" in error


@pytest.mark.parametrize(
    ("arguments", "told_in_it"),
    [
        (("--seats", "0", "--json"), "--seats is 0. It must be from 1 to 60."),
        (("--seats", "61", "--json"), "--seats is 61. It must be from 1 to 60."),
        (("--level", "5", "--json"), "--level is 5. It must be 1, 2, 3 or 4."),
        (("--level", "0", "--json"), "--level is 0. It must be 1, 2, 3 or 4."),
        (("--seed", "-1", "--json"), "--seed is -1. It must be from 0 to 999999999."),
        (("--kinds", "level-pull,banana", "--json"), "There is no kind 'banana'. Known are "),
        (("--kinds", ",", "--json"), "--kinds names no kind. Known are "),
        (("--kinds", "level-pull", "--level", "4", "--json"), "level-pull is of level 2, and --level is 4."),
        ((), "Neither --out nor --json is given."),
        (("--day", "2026-01-01", "--json"), "There is no logbook pullbench-logbook.sqlite."),
        (("--logbook", "nowhere.sqlite", "--json"), "There is no logbook nowhere.sqlite."),
        (
            ("--day", "none", "--surfaces", "cheese on moon", "--json"),
            "The handbook has no 'cheese on moon'.",
        ),
    ],
)
def test_bad_input_is_one_clear_line(capsys, arguments, told_in_it):
    assert told_in_it in refused(capsys, *arguments)


def test_an_unknown_kind_lists_all_that_are_known(capsys):
    error = refused(capsys, "--kinds", "banana", "--json")
    assert all(name in error for name in KINDS)


def test_a_day_that_is_not_in_the_logbook_lists_those_that_are(capsys, logbook):
    error = refused(capsys, "--logbook", logbook, "--day", "2026-01-01", "--json")
    assert "no day '2026-01-01'. Its last days are 2026-11-25." in error


def test_a_file_that_is_no_logbook_is_said_so(capsys, tmp_path):
    (tmp_path / "notes.txt").write_text("shopping\n" * 500)
    assert "Traceback" not in refused(capsys, "--logbook", tmp_path / "notes.txt", "--json")


def test_a_folder_that_cannot_be_written_is_said_so(capsys, tmp_path):
    (tmp_path / "out").write_text("a file where the folder should be")
    error = refused(capsys, "--day", "none", "--out", tmp_path / "out")
    assert "cannot be written to" in error
    assert (tmp_path / "out").read_text() == "a file where the folder should be"


def test_without_the_extra_the_html_is_written_and_the_way_to_a_pdf_is_told(capsys, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    error = refused(capsys, "--day", "none", "--kinds", "level-pull", "--out", tmp_path)
    assert "pip install 'pullbench[pdf]'" in error
    assert f"It was written to {tmp_path}" in error
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".html", ".html"]


def test_a_class_set_of_32_has_two_pages_a_seat(capsys, tmp_path):
    pypdf = pytest.importorskip("pypdf")
    pytest.importorskip("typst")
    told(capsys, "--day", "none", "--seats", 32, "--out", tmp_path)
    pages = len(pypdf.PdfReader(next(tmp_path.glob("sheets*.pdf"))).pages)
    assert pages in (63, 64)  # two a seat


def test_every_kind_can_be_set_as_pdf(capsys, tmp_path):
    pytest.importorskip("typst")
    told(capsys, "--day", "none", "--kinds", ",".join(KINDS), "--out", tmp_path)
    assert next(tmp_path.glob("key*.pdf")).read_bytes().startswith(b"%PDF")
    for page in tmp_path.glob("*.html"):
        assert "<p></p>" not in page.read_text("utf-8")  # a step may be a formula without words


def test_the_docs_run_as_written(capsys):
    pytest.importorskip("typst")
    for line in re.findall(r"^\$ pullbench sheets (.*)$", PAGE.read_text("utf-8"), re.M):
        told(capsys, *shlex.split(line))


def test_every_option_is_in_the_docs():
    page = PAGE.read_text("utf-8")
    options = [option for param in command.params for option in param.opts if option.startswith("--")]
    assert not [option for option in options if option not in page]
