"""docs/accuracy.md: its command runs as printed, its tables parse, and what it says of them follows from them."""

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/accuracy.md").read_text("utf-8")
FORCES = ("Breakaway", "Kinetic level")


def measured(folder, *more):
    """Run the page's own command with more options; return what it wrote."""
    command = shlex.split(re.search(r"^\$ (python -m .*)$", PAGE, re.M)[1])
    into = folder / "accuracy.md"
    done = subprocess.run(
        [sys.executable, *command[1:], "--into", str(into), *more],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=300,
    )
    return done, into


def table(title, page=PAGE):
    """Return the rows below a heading as dicts."""
    body = re.search(rf"^## {re.escape(title)}\n(.*?)(?=^## |\Z)", page, re.M | re.S)[1]
    lines = [line for line in body.splitlines() if line.startswith("|")]
    head, _, *rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    assert all(len(row) == len(head) for row in rows)
    return [dict(zip(head, row, strict=True)) for row in rows]


def test_the_command_of_the_page_writes_a_page_of_the_same_shape(tmp_path):
    done, into = measured(tmp_path, "--pulls", "6", "--processes", "1")
    assert done.returncode == 0, done.stderr
    written = into.read_text("utf-8")
    assert re.findall(r"^#+ .*$", written, re.M) == re.findall(r"^#+ .*$", PAGE, re.M)
    assert "6 of 6 pulls" in done.stderr
    for title in ("Catching", *FORCES):
        assert table(title, written)[0].keys() == table(title)[0].keys()


def test_processes_do_not_change_the_figures(tmp_path):
    _, one = measured(tmp_path, "--pulls", "6", "--processes", "1")
    alone = one.read_text("utf-8")
    _, two = measured(tmp_path, "--pulls", "6", "--processes", "2")
    assert two.read_text("utf-8") == alone


def test_no_pulls_at_all_are_refused_in_one_line(tmp_path):
    done, into = measured(tmp_path, "--pulls", "0")
    assert done.returncode == 2
    assert "--pulls" in done.stderr.splitlines()[-1]
    assert not into.exists()


def test_the_page_says_how_many_pulls_it_counted_and_that_they_are_simulated():
    pulls = re.search(r"--pulls (\d+)", PAGE)[1]
    assert f"**Simulated**, every one of them: {pulls} pulls" in PAGE
    assert table("Catching")[0] == {**table("Catching")[0], "by": "all", "pulls": pulls}


def test_every_group_counts_every_pull_once():
    rows = table("Catching")
    whole, missed = int(rows[0]["pulls"]), int(rows[0]["missed"])
    for group in dict.fromkeys(row["by"] for row in rows):
        counted = sum(int(row["pulls"]) for row in rows if row["by"] == group)
        assert counted == whole - (missed if group == "verdict" else 0), (
            group
        )  # no verdict on what was missed


@pytest.mark.parametrize("title", FORCES)
def test_the_cells_said_to_fail_are_those_whose_share_leaves_93_to_97_per_cent(title):
    low_high = {}
    for row in table(title):
        # A share printed as 93.0 or 97.0 may lie on either side before rounding.
        share, count = row["limits hold"].partition(" ")[0], int(row["values"])
        if count >= 20:
            low_high[row["by"], row["cell"]] = float(share)
    section = PAGE.split("## Where it still fails")[1].split(f"### {title}\n")[1].split("###")[0]
    said = set(re.findall(r"^- (\w+), \*\*(.*?)\*\*", section, re.M))
    assert {key for key, share in low_high.items() if not 92.95 <= share <= 97.05} <= said
    assert said <= {key for key, share in low_high.items() if not 93.05 <= share <= 96.95}


LAWS = PAGE.split("## The laws of many pulls\n")[1]
SHARE = re.compile(r"\d+\.\d")
ASKED = re.compile(r", (?:(\d+)–(\d+)|≤ (\d+)|≥ (\d+)) %$")


def law_tables(section):
    """Return the tables of the laws by title: rows as dicts."""
    told = {}
    for title, body in re.findall(r"^### (.*?)\n(.*?)(?=^### |\Z)", section, re.M | re.S):
        lines = [line for line in body.splitlines() if line.startswith("|")]
        if lines:
            head, _, *rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
            assert len(set(head)) == len(head)
            assert all(len(row) == len(head) for row in rows)
            told[title] = [dict(zip(head, row, strict=True)) for row in rows]
    return told


def outside(share, head, slack):
    """Return whether a share leaves what its column's head asks by more than the slack; None if nothing is asked."""
    asked = ASKED.search(head)
    if asked is None or SHARE.fullmatch(share) is None:
        return None
    low, high = asked[1] or asked[4] or 0, asked[2] or asked[3] or 100
    return not float(low) - slack <= float(share) <= float(high) + slack


def test_the_laws_said_to_fall_short_are_those_whose_share_leaves_what_is_asked():
    said = set(
        re.findall(r"^- (.*?), \*\*(.*?)\*\*, (.*?): [\d.]+ %, (?:surely|perhaps by chance)\.$", LAWS, re.M)
    )
    surely, perhaps = set(), set()
    for title, rows in law_tables(LAWS).items():
        for row in rows:
            name, *cells = row.items()
            for head, share in cells:
                # A share printed as 93.0 may lie on either side before rounding.
                surely |= {(title, name[1], head)} if outside(share, head, 0.05) else set()
                perhaps |= {(title, name[1], head)} if outside(share, head, -0.05) else set()
    assert surely <= said <= perhaps


def test_every_table_of_the_laws_asks_something_and_stands_beside_a_spreadsheet_where_there_is_one():
    tables = law_tables(LAWS)
    assert list(tables) == [
        "Load lines", "Diagnoses", "A hidden load", "Two surfaces", "Several equal surfaces", "Pools", "Pools of pulls",
    ]  # fmt: skip
    assert all(any(ASKED.search(head) for head in rows[0]) for rows in tables.values())
    assert {"spreadsheet, t: slope", "± 2 s: intercept"} <= tables["Load lines"][0].keys()
    assert "Student, common scatter" in tables["Two surfaces"][0]


def test_the_laws_are_written_alone_and_leave_the_rest_of_the_page_as_it_was(tmp_path):
    into = tmp_path / "accuracy.md"
    into.write_text(PAGE, "utf-8")
    command = shlex.split(re.search(r"^\$ (python -m .* --laws) \d+$", LAWS, re.M)[1])
    done = subprocess.run(
        [sys.executable, *command[1:], "8", "--processes", "1", "--into", str(into)],
        cwd=ROOT, capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    before, after = into.read_text("utf-8").split("## The laws of many pulls\n")
    assert before == PAGE.split("## The laws of many pulls\n")[0]
    assert law_tables(after).keys() == law_tables(LAWS).keys()
    assert "--laws 8" in after
    assert "**Simulated**" in after


def test_the_makefile_writes_this_page():
    recipe = (ROOT / "Makefile").read_text("utf-8").split("accuracy: ")[1]
    assert "-m benchmarks.wide --pulls $(PULLS)" in recipe
