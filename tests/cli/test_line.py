"""`pullbench line` as a person types it."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import get_args

import numpy as np
import pytest

from pullbench.cli import run
from pullbench.cli.line import command
from pullbench.model import DiagnosisName
from pullbench.physics.bench.demo import demo_day

PAGE = Path(__file__).parents[2] / "docs/line.md"

LOADS_KG = np.repeat([0.5, 1.0, 1.5, 2.0, 2.5], 3)
WOBBLE = np.resize([0.012, -0.02, 0.008, -0.011, 0.016, -0.006, 0.003], 15)
G_M_S2 = 9.80665


def table(path, *, left_out_kg=0.0, static=True, head="load_kg", loads=LOADS_KG):
    rows = []
    for kg, w in zip(loads, np.resize(WOBBLE, len(loads)), strict=True):
        weight = (kg + left_out_kg) * G_M_S2 * (1 + w)
        rows.append(f"{kg}{f',{0.42 * weight:.3f}' if static else ''},{0.28 * weight:.3f}")
    names = [head, *(["static_N"] if static else []), "kinetic_N"]
    path.write_text("\n".join([",".join(names), *rows]) + "\n", "utf-8")
    return str(path)


def told(capsys, *arguments):
    assert run(["line", *arguments]) == 0
    return capsys.readouterr().out


def test_json_has_the_promised_form(capsys, tmp_path):
    record = json.loads(told(capsys, table(tmp_path / "t.csv", left_out_kg=0.22), "--json"))
    for series, mu in (("kinetic", 0.28), ("static", 0.42)):
        line = record[series]
        assert {"slope", "intercept_N", "pulls", "loads", "lack_of_fit_p"} <= set(line)
        for number in (line["slope"], line["intercept_N"]):
            assert set(number) == {"value", "standard_uncertainty", "limits"}
        low, high = line["slope"]["limits"]
        assert low < mu < high
        assert (line["pulls"], line["loads"]) == (15, 5)
        assert 0 < line["lack_of_fit_p"] <= 1
    assert isinstance(record["sentence"], str)
    (one,) = record["diagnoses"]
    assert {"name", "sentence", "fix", "size"} <= set(one)
    assert one["name"] == "sled mass left out"
    assert one["size"]["unit"] == "kg"
    assert one["size"]["limits"][0] < 0.22 < one["size"]["limits"][1]


def test_a_table_without_static_forces_has_no_static_line(capsys, tmp_path):
    record = json.loads(told(capsys, table(tmp_path / "t.csv", static=False), "--json"))
    assert record["static"] is None
    assert record["diagnoses"] == []


def test_masses_and_weights_give_the_same_line(capsys, tmp_path):
    by_mass = json.loads(told(capsys, table(tmp_path / "m.csv"), "--json"))
    text = (tmp_path / "m.csv").read_text("utf-8").splitlines()
    rows = [f"{float(row.split(',')[0]) * G_M_S2!r},{row.split(',', 1)[1]}" for row in text[1:]]
    (tmp_path / "n.csv").write_text("\n".join(["normal_N,static_N,kinetic_N", *rows]), "utf-8")
    by_weight = json.loads(told(capsys, str(tmp_path / "n.csv"), "--json"))
    assert by_weight["kinetic"]["slope"]["value"] == pytest.approx(
        by_mass["kinetic"]["slope"]["value"], rel=1e-9
    )


def test_semicolons_with_decimal_commas_are_read_alike(capsys, tmp_path):
    plain = told(capsys, table(tmp_path / "t.csv"), "--json")
    other = (tmp_path / "t.csv").read_text("utf-8").replace(",", ";").replace(".", ",")
    (tmp_path / "c.csv").write_text(other, "utf-8")
    assert json.loads(told(capsys, str(tmp_path / "c.csv"), "--json")) == json.loads(plain)


def test_the_text_states_the_law_the_fault_its_fix_and_the_statistics(capsys, tmp_path):
    text = told(capsys, table(tmp_path / "t.csv", left_out_kg=0.22))
    whole = " ".join(text.split())
    assert "Press 1 N harder on the floor: the sled needs 0.42" in whole
    assert "as if 0.2" in whole
    assert "Weigh the empty sled" in whole
    assert "13 degrees of freedom" in whole
    assert "scatter 1 %" in whole
    assert max(map(len, text.splitlines())) <= 100
    assert "0,42" in told(capsys, str(tmp_path / "t.csv"), "--comma")
    assert len(told(capsys, str(tmp_path / "t.csv"), "--table").splitlines()) == 3


def test_no_number_is_bare(capsys, tmp_path):
    law = told(capsys, table(tmp_path / "t.csv")).split("\n\n")[1].splitlines()[0]
    assert law.count("±") >= 1


def test_without_repeats_it_says_what_it_cannot_know(capsys, tmp_path):
    text = told(capsys, table(tmp_path / "t.csv", loads=[0.5, 1.0, 1.5, 2.0, 2.5]))
    assert "No load was pulled twice" in " ".join(text.split())


def test_three_drags_of_the_classroom_give_the_block_back_and_are_too_few(capsys, tmp_path):
    """From classroom practice, no published source: 0.5, 2.8, 3.9 N with 0, 1, 1.5 kg added; block about 0.2 kg."""
    (tmp_path / "t.csv").write_text("load_kg,kinetic_N\n0,0.5\n1,2.8\n1.5,3.9\n", "utf-8")
    record = json.loads(told(capsys, str(tmp_path / "t.csv"), "--json"))
    assert record["kinetic"]["slope"]["value"] * G_M_S2 == pytest.approx(2.3, abs=0.05)
    names = {one["name"]: one for one in record["diagnoses"]}
    assert names["sled mass left out"]["size"]["value"] == pytest.approx(0.2, abs=0.03)
    assert "too few pulls to tell" in names
    assert record["kinetic"]["lack_of_fit_p"] is None


def test_exact_forces_keep_the_doubt_of_their_last_digit(capsys, tmp_path):
    (tmp_path / "t.csv").write_text(
        "load_kg,kinetic_N\n" + "".join(f"{m},{3 * m}\n" for m in (1, 2, 3, 4)), "utf-8"
    )
    slope = json.loads(told(capsys, str(tmp_path / "t.csv"), "--json"))["kinetic"]["slope"]
    assert slope["standard_uncertainty"] > 0.005  # whole newtons: half a step is not nothing


def test_a_pull_set_aside_stays_counted_and_named(capsys, tmp_path):
    path = table(tmp_path / "t.csv")
    rows = (tmp_path / "t.csv").read_text("utf-8").splitlines()
    rows = [rows[0] + ",set_aside", *(row + "," for row in rows[1:]), "1.5,9.0,6.0,jerked"]
    (tmp_path / "t.csv").write_text("\n".join(rows), "utf-8")
    text = " ".join(told(capsys, path).split())
    assert "Set aside, 1 of 16 pulls: line 17 (jerked). With it it would be static" in text
    assert json.loads(told(capsys, path, "--json"))["set_aside"] == 1


def test_a_hidden_load_from_a_table_is_read_back(capsys, tmp_path):
    (tmp_path / "hidden.csv").write_text("kinetic_N\n3.3\n3.36\n", "utf-8")  # 0.28 · 1.21 kg · g = 3.32 N
    arguments = [table(tmp_path / "t.csv"), "--mystery", str(tmp_path / "hidden.csv")]
    record = json.loads(told(capsys, *arguments, "--json"))
    low, high = record["mystery"]["kinetic"]["load_kg"]["limits"]
    assert low < 1.21 < high
    assert record["mystery"]["static"] is None
    assert "Hidden load by the kinetic line: 1.2" in told(capsys, *arguments)


def test_the_picture_is_written_well_formed_and_says_what_it_is(capsys, tmp_path):
    picture = tmp_path / "ladder.svg"
    told(
        capsys,
        table(tmp_path / "t.csv"),
        "--picture",
        str(picture),
        "--title",
        "felt",
        "--label",
        "simulated",
        "--dark",
    )
    words = " ".join(ET.fromstring(picture.read_text("utf-8")).itertext())
    for said in ("Load ladder, felt", "simulated", "static 0.4", "kinetic 0.2", "2.5 kg"):
        assert said in words


@pytest.fixture(scope="module")
def recordings(tmp_path_factory):
    """The bare birch of the invented day: the sled of 0.35 kg with 1, 2 and 4 tins of 0.5 kg; simulated."""
    folder = tmp_path_factory.mktemp("pulls")
    for recording in demo_day(2026)[:3]:
        trace = recording.trace
        rows = (f"{t:.4f},{f:.4f}" for t, f in zip(trace.time_s, trace.force_N, strict=True))
        (folder / f"{recording.truth.tins}.csv").write_text(
            "time (s),force (N)\n" + "\n".join(rows) + "\n", "utf-8"
        )
    return folder


def test_recordings_with_their_loads_and_the_sled_give_both_lines(capsys, recordings):
    named = [
        f"{load}={recordings / name}"
        for load, name in (("0.5kg", "1.csv"), ("1.0kg", "2.csv"), ("2000g", "4.csv"))
    ]
    record = json.loads(told(capsys, "--sled", "0.35kg", *named, "--json"))
    assert (record["kinetic"]["pulls"], record["kinetic"]["loads"]) == (7, 3)
    for series, mu in (("kinetic", 0.29), ("static", 0.38)):
        low, high = record[series]["slope"]["limits"]
        assert low < mu < high
        assert high - low < 0.2 * mu
    hidden = json.loads(
        told(capsys, "--sled", "0.35kg", *named, "--mystery", str(recordings / "2.csv"), "--json")
    )
    low, high = hidden["mystery"]["kinetic"]["load_kg"]["limits"]
    assert low < 1.0 < high


def test_a_hidden_load_in_recordings_is_told_without_the_sled(capsys, recordings):
    named = [
        f"{load}={recordings / name}"
        for load, name in (("0.5kg", "1.csv"), ("1.0kg", "2.csv"), ("2kg", "4.csv"))
    ]
    text = told(capsys, "--sled", "0.35kg", *named, "--mystery", str(recordings / "2.csv"))
    assert "besides the sled" in " ".join(text.split())


MISTAKES = [
    pytest.param("load_kg,kinetic_N\n1,3\n", [], "one load", id="one load only"),
    pytest.param("load_kg,kinetic_N\n1,3\n1,3.1\n1,2.9\n", [], "same load", id="equal loads"),
    pytest.param("load_kg,kinetic_N\n-1,3\n2,6\n", [], "line 2: the load is -1 kg", id="negative mass"),
    pytest.param("load_kg,kinetic_N\n1,3\n2000,6\n", [], "2000 kg", id="absurd mass"),
    pytest.param("load_kg,kinetic_N\n0.5,1.5\n150,3\n", [], "grams", id="units mixed"),
    pytest.param("load_kg,kinetic_N\n500g,1.5\n1,3\n", [], "500g", id="unit in a cell"),
    pytest.param("load_kg,kinetic_N\n0.1,5\n0.2,10\n0.3,15\n", [], "is that so?", id="coefficient above 3"),
    pytest.param("load_kg,kinetic_N\n1,0.01\n2,0.02\n3,0.03\n", [], "is that so?", id="coefficient below 0.01"),
    pytest.param("load_kg,kinetic_N\n1,3\nnan,6\n", [], "line 3: load_kg is 'nan'", id="NaN load"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,nan\n", [], "line 3: kinetic_N is 'nan'", id="NaN force"),
    pytest.param("load_kg,kinetic_N\n1,3\n,6\n", [], "line 3: the load is blank", id="blank load"),
    pytest.param("load_kg,kinetic_N\n1,-3\n2,6\n", [], "kinetic_N is -3 N", id="negative force"),
    pytest.param("load_kg,kinetic_N,u_kinetic_N\n1,3,-1\n2,6,1\n", [], "u_kinetic_N is -1 N", id="negative doubt"),
    pytest.param("load_kg,force\n1,3\n2,6\n", [], "neither kinetic_N nor static_N", id="no force column"),
    pytest.param("mass,kinetic_N\n1,3\n2,6\n", [], "no column 'load_kg'", id="no load column"),
    pytest.param("load_kg,normal_N,kinetic_N\n1,9.8,3\n2,19.6,6\n", [], "both load_kg and normal_N", id="two loads"),
    pytest.param("load_kg,kinetic_N\n" + "1,3\n2,6\n" * 600, [], "1200 pulls", id="thousands of points"),
    pytest.param("load_kg,kinetic_N\n", [], "1 lines", id="no rows"),
    pytest.param("load_kg,kinetic_N\n1,\n2,\n", [], "0 tell a force", id="blank forces"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--sled", "0.35kg"], "--sled 0.35kg", id="sled with a table"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--g", "0"], "Gravity is 0", id="no gravity"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--u-gain", "1 N"], "--u-gain", id="gain in newtons"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--picture", "x.gif"], "x.gif", id="unknown picture"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--mystery", "absent.csv"], "absent.csv", id="no hidden pulls"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["b.csv"], "does not say its load", id="two tables"),
    pytest.param("load_kg,kinetic_N\n1,3\n2,6\n", ["--frobnicate"], "frobnicate", id="unknown option"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "more", "said"), MISTAKES)
def test_a_mistake_is_one_line_on_stderr_and_status_2(capsys, tmp_path, text, more, said):
    path = tmp_path / "t.csv"
    path.write_text(text, "utf-8")
    assert run(["line", str(path), *more]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("pullbench: ")
    assert err.count("\n") == 1
    assert said in err


@pytest.mark.parametrize(
    ("named", "said"),
    [
        (["0.5=a.csv"], "its unit"),
        (["heavy=a.csv"], "heavy"),
        (["-1kg=a.csv"], "-1"),
        (["0kg=a.csv"], "above nought"),
        (["700kg=a.csv"], "grams"),
        (["0.5kg=absent.csv", "1kg=absent.csv"], "absent.csv"),
        (["0.5kg="], "does not say its load"),
    ],
)
def test_a_load_that_is_none_is_told_in_one_line(capsys, named, said):
    assert run(["line", "--", *named] if named[0].startswith("-") else ["line", *named]) == 2
    _, err = capsys.readouterr()
    assert err.count("\n") == 1
    assert said in err


def test_an_odd_coefficient_that_is_meant_is_taken(capsys, tmp_path):
    (tmp_path / "t.csv").write_text("load_kg,kinetic_N\n0.1,5\n0.2,10.1\n0.3,15\n0.4,19.8\n", "utf-8")
    record = json.loads(told(capsys, str(tmp_path / "t.csv"), "--sure", "--json"))
    assert record["kinetic"]["slope"]["value"] > 3


def test_every_option_is_in_its_page():
    missing = [
        o for p in command.params for o in p.opts if o.startswith("--") and o not in PAGE.read_text("utf-8")
    ]
    assert not missing


def test_every_diagnosis_is_in_its_page():
    assert [name for name in get_args(DiagnosisName) if name not in PAGE.read_text("utf-8")] == []
