"""README is executed: every console line runs as written, in a copy of what `make demo` makes."""

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"```console\n(.*?)```", re.S)


def _commands(page: Path) -> list[str]:
    return [
        line[2:]
        for block in BLOCK.findall(page.read_text("utf-8"))
        for line in block.splitlines()
        if line[:2] == "$ "
    ]


@pytest.fixture(scope="module")
def day(tmp_path_factory):
    folder = tmp_path_factory.mktemp("readme")
    made = subprocess.run(
        [sys.executable, str(ROOT / "examples/demo_day.py"), "demo-day"],
        cwd=folder,
        capture_output=True,
        text=True,
    )
    assert made.returncode == 0, made.stderr
    return folder, made.stdout


def test_the_demo_ends_by_itself_and_says_that_it_is_simulated(day):
    folder, printed = day
    assert "Everything above is simulated" in printed
    assert len(list((folder / "demo-day").glob("*.csv"))) == 6
    assert len(list((folder / "demo-day").glob("*.svg"))) == 7


def test_the_demo_pulls_hold_their_invented_coefficients(day):
    _, printed = day
    assert printed.count("usable") >= 9
    assert "at least" in printed  # the held pull is a bound, not a value


def test_the_readme_commands_run_as_written_one_after_the_other(day):
    folder, _ = day
    pytest.importorskip("resvg_py", reason="PNG pictures need the extra `plots`")
    commands = [line for line in _commands(ROOT / "README.md") if line.startswith(".venv/bin/pullbench")]
    assert len(commands) >= 6
    for command in commands:
        done = subprocess.run(
            [sys.executable, "-m", "pullbench", *shlex.split(command)[1:]],
            cwd=folder, capture_output=True, text=True, stdin=subprocess.DEVNULL,
        )  # fmt: skip
        assert done.returncode == 0, (command, done.stderr)
        assert done.stdout.strip(), command


def test_the_table_in_the_readme_is_what_the_command_prints(day):
    folder, _ = day
    shown = re.search(r"```text\n(pull .*?)```", (ROOT / "README.md").read_text("utf-8"), re.S)
    assert shown is not None
    done = subprocess.run(
        [sys.executable, "-m", "pullbench", "read", "demo-day/2-bare-birch-2-tins.csv", "--table"],
        cwd=folder, capture_output=True, text=True,
    )  # fmt: skip
    assert shown[1].strip() in done.stdout


def test_every_make_target_named_in_the_readme_exists():
    named = set(re.findall(r"`make (\w+)`", (ROOT / "README.md").read_text("utf-8"))) | {"demo"}
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text("utf-8"), re.M))
    assert named <= targets


def test_every_option_of_read_is_in_its_page():
    from pullbench.cli.read import command

    page = (ROOT / "docs/reading.md").read_text("utf-8")
    missing = [
        opt for param in command.params for opt in param.opts if opt.startswith("--") and opt not in page
    ]
    assert not missing
