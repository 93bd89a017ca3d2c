"""docs/compare.md is kept true: every option is in it, and what it shows of tables runs as written."""

import re
import shlex
from importlib import import_module
from pathlib import Path

import pytest

from pullbench.cli import run

PAGE = (Path(__file__).parents[2] / "docs/compare.md").read_text("utf-8")
TABLES = dict(zip(("soles.csv", "groups.csv"), re.findall(r"```text\n(.*?)```", PAGE, re.S), strict=True))
COMMANDS = [line[len("$ pullbench ") :] for line in PAGE.splitlines() if line.startswith("$ pullbench ")]


@pytest.mark.parametrize("name", ["pair", "tilt", "pool"])
def test_every_option_is_in_the_page(name):
    command = import_module(f"pullbench.cli.{name}").command
    section = PAGE.split(f"## `pullbench {name}`")[1].split("\n## ")[0]
    options = [opt for param in command.params for opt in param.opts if opt.startswith("--")]
    assert not [option for option in options if option not in section]


@pytest.mark.parametrize("words", [c for c in COMMANDS if "--load" not in c])
def test_a_command_that_needs_no_recording_runs_as_written(words, tmp_path, monkeypatch, capsys):
    for name, text in TABLES.items():
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    assert run(shlex.split(words)) == 0
    assert "this sled, this string and this wait" in " ".join(capsys.readouterr().out.split())
