"""`pullbench plan` as a person types it."""

import json
import subprocess
import sys

import pytest

from pullbench.cli import run

SMALL = ["plan", "--masses", "1kg"]


def told(capsys, *arguments):
    assert run([*SMALL, *arguments]) == 0
    return capsys.readouterr().out


def test_json_has_the_promised_form(capsys):
    told_ = json.loads(
        told(
            capsys, "--range", "50N", "--resolution", "0.01N", "--rate", "50", "--sled", "0.35kg",
            "--mu", "0.2-0.5", "--pulls", "3", "--json",
        )
    )  # fmt: skip
    assert [load["load_kg"] for load in told_["loads"]] == [0.35, 1.35]
    for load in told_["loads"]:
        assert set(load) == {"load_kg", "static_N", "kinetic_N", "clips"}
        assert 0.2 * 9.8 * load["load_kg"] <= load["kinetic_N"][0] < load["kinetic_N"][1]
        assert load["static_N"][1] <= 0.5 * 9.81 * load["load_kg"]
        assert load["clips"] is False
    for name in ("kinetic_coefficient", "static_coefficient"):
        known = told_[name]
        assert known["limits"][0] < known["value"] < known["limits"][1]
    assert all(set(one) == {"name", "sentence"} for one in told_["advice"])
    assert told_["simulated"] is True


def test_the_text_says_loads_forces_limits_and_that_it_is_simulated(capsys):
    text = told(capsys)
    assert "simulated" in text.splitlines()[0]
    assert "0.35 kg" in text
    assert "1.35 kg" in text
    assert "±" in text
    assert max(map(len, text.splitlines())) <= 100
    comma = told(capsys, "--comma")
    assert "0,35 kg" in comma
    assert "1.35 kg  " not in comma


def test_surfaces_of_the_handbook_come_with_source_and_disagreement(capsys):
    text = told(capsys, "--surfaces", "oak on oak")
    for words in ("oak on oak, dry, along the grain", "handbook tables", "0.54 to 0.62", "from memory"):
        assert words in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 100
    record = json.loads(told(capsys, "--surfaces", "steel on ice", "--json"))
    assert len(record["handbook"]) == 3
    assert all(row["source"] and row["licence"] for row in record["handbook"])
    assert any("misprint" in remark for remark in record["remarks"])


def test_a_load_off_the_scale_is_named(capsys):
    text = told(capsys, "--range", "5N")
    assert "do not use: off the scale" in text
    assert "clips: With 1.35 kg" in text


MISTAKES = [
    (["--range", "0N"], "--range"),
    (["--range", "50"], "--range"),
    (["--range", "50 furlongs"], "N, mN, kN"),
    (["--resolution", "nan"], "--resolution"),
    (["--resolution", "40N"], "resolution"),
    (["--rate", "-3"], "--rate"),
    (["--rate", "0.01"], "rate"),
    (["--sled", "heavy"], "--sled"),
    (["--masses", "1kg,-1kg"], "--masses"),
    (["--masses", ",".join(["1kg"] * 13)], "13 masses"),
    (["--mu", "0.5-0.2"], "--mu"),
    (["--mu", "0.2-0.5-0.7"], "--mu"),
    (["--mu", "slippery"], "--mu"),
    (["--mu", "7-9"], "coefficient"),
    (["--mu", "0.2-0.5", "--surfaces", "oak on oak"], "--surfaces"),
    (["--surfaces", "cheese on oak"], "cheese"),
    (["--surfaces", "steel on steel, sandy"], "sandy"),
    (["--string", "0N/m"], "--string"),
    (["--pulls", "0"], "0 pulls"),
    (["--pulls", "many"], "many"),
    (["--seed", "-1"], "seed"),
    (["--frobnicate"], "frobnicate"),
]


@pytest.mark.parametrize(("arguments", "said"), MISTAKES)
def test_a_mistake_is_one_line_on_stderr_and_status_2(capsys, arguments, said):
    assert run([*SMALL, *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("pullbench: ")
    assert err.count("\n") == 1
    assert said in err


def test_it_runs_as_a_program_and_its_help_names_every_fixed_option():
    done = subprocess.run(
        [sys.executable, "-m", "pullbench", "plan", "--help"], capture_output=True, text=True, check=True
    )
    for option in (
        "--range",
        "--resolution",
        "--rate",
        "--sled",
        "--masses",
        "--mu",
        "--pulls",
        "--surfaces",
    ):
        assert option in done.stdout


def test_surfaces_too_slippery_for_any_load_get_that_said_and_no_absurd_mass(capsys):
    out = told(capsys, "--mu", "0.001-0.002")
    assert "Take a rougher pair of surfaces." in " ".join(out.split())
    assert "e+" not in out
