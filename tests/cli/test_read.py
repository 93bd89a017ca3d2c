"""`pullbench read`, as a person and as a script use it: what it prints, and what it says of bad input."""

import json
import os
import subprocess
import sys

import numpy as np
import pytest

from pullbench.cli import run
from pullbench.physics import Coulomb
from pullbench.physics.bench import Bench, Sensor, hand, in_a_row, record, simulate


@pytest.fixture(scope="module")
def recording(tmp_path_factory):
    """One pull of an invented 1 kg sled, μs 0.4 and μk 0.3, as a comma table."""
    rng = np.random.default_rng(7)
    bench = Bench(mass_kg=1.0, stiffness_N_m=600.0, law=Coulomb(0.4, 0.3), damping_N_s_m=5.0)
    run_ = in_a_row([simulate(bench, hand("smooth", rng, stretch_m=bench.stretch_m), rng=rng)])
    trace = record(run_, Sensor(rate_Hz=100.0, noise_N=0.01), rng)
    path = tmp_path_factory.mktemp("read") / "pull.csv"
    _write(path, trace.time_s, trace.force_N)
    return path


def _write(path, time_s, force_N):
    rows = "\n".join(f"{t:.4f},{f:.4f}" for t, f in zip(time_s, force_N, strict=True))
    path.write_text(f"time (s),force (N)\n{rows}\n")


def test_json_has_the_fixed_form_and_holds_the_truth(recording, capsys):
    assert run(["read", str(recording), "--json", "--load", "1kg"]) == 0
    (line,) = capsys.readouterr().out.splitlines()
    pull = json.loads(line)
    assert list(pull) == [
        "file", "pull", "start_s", "end_s", "direction", "breakaway_time_s", "breakaway_force_N", "sliding_s",
        "kinetic_force_N", "rest_reading_N", "stick_slip", "static_coefficient", "kinetic_coefficient", "findings",
        "verdict",
    ]  # fmt: skip
    low, high = pull["static_coefficient"]["limits"]
    assert low <= 0.4 <= high
    low, high = pull["kinetic_coefficient"]["limits"]
    assert low <= 0.3 <= high


def test_the_table_for_people_ends_with_what_was_assumed(recording, capsys):
    assert run(["read", str(recording)]) == 0
    printed = capsys.readouterr().out
    assert "breakaway" in printed
    assert "Read as: comma table" in printed
    assert all(len(line) <= 120 for line in printed.splitlines())


def test_one_pull_is_labelled_as_one_pull(recording, capsys):
    run(["read", str(recording), "--load", "1kg"])
    assert "repeats usually scatter 3–5 %" in " ".join(capsys.readouterr().out.split())


def test_explain_prints_the_budget(recording, capsys):
    assert run(["read", str(recording), "--explain", "1"]) == 0
    printed = capsys.readouterr().out
    assert "when it broke away" in printed
    assert "sled's own momentum" in printed


def test_a_picture_is_drawn_without_any_request_to_elsewhere(recording, tmp_path):
    assert run(["read", str(recording), "--picture", str(tmp_path / "p.svg")]) == 0
    svg = (tmp_path / "p.svg").read_text("utf-8")
    assert svg.count("http") == svg.count("http://www.w3.org/")


def test_a_file_without_a_pull_says_so_as_one_object(tmp_path, capsys):
    rng = np.random.default_rng(1)
    _write(tmp_path / "idle.csv", np.arange(1000) / 100, 0.01 * rng.normal(size=1000))
    assert run(["read", str(tmp_path / "idle.csv"), "--json"]) == 0
    record_ = json.loads(capsys.readouterr().out)
    assert record_["pull"] is None
    assert record_["findings"][0]["name"] == "no pull"


def test_a_bad_file_among_good_ones_leaves_the_good_ones_read(recording, tmp_path, capsys):
    (tmp_path / "empty.csv").write_text("")
    status = run(["read", str(tmp_path / "empty.csv"), str(recording), "--json"])
    out, err = capsys.readouterr()
    assert status == 2
    assert len(err.splitlines()) == 1
    assert json.loads(out)["pull"] == 1


def test_the_same_pull_reversed_and_scaled_gives_the_same_digits(recording, tmp_path, capsys):
    rows = [line.split(",") for line in recording.read_text().splitlines()[1:]]
    mirrored = "\n".join(f"{t};{format(-float(f) * 1000, '.1f').replace('.', ',')}" for t, f in rows).replace(
        ".", ","
    )
    (tmp_path / "m.txt").write_text(f"Zeit (s);Kraft (mN)\n{mirrored}\n")
    run(["read", str(recording), str(tmp_path / "m.txt"), "--json"])
    first, second = map(json.loads, capsys.readouterr().out.splitlines())
    assert second["direction"] == -first["direction"]
    for force in ("breakaway_force_N", "kinetic_force_N"):
        assert second[force]["value"] == pytest.approx(first[force]["value"], rel=1e-9)
        assert second[force]["limits"] == pytest.approx(first[force]["limits"], rel=1e-9)


BAD = {
    "empty": (b"", []),
    "one column": (b"force\n1\n2\n3\n", []),
    "one sample": (b"t (s),f (N)\n0,1\n", []),
    "all NaN": (b"t (s),f (N)\n" + b"0.1,nan\n" * 50, []),
    "text in numbers": (b"t (s),f (N)\n" + b"a,b\n" * 50, []),
    "binary": (bytes(range(256)) * 40, []),
    "time not advancing": (b"t (s),f (N)\n" + b"1.0,2.0\n" * 50, []),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_content_gives_one_line_and_status_2(name, tmp_path, capsys):
    content, options = BAD[name]
    (tmp_path / "bad.csv").write_bytes(content)
    assert run(["read", str(tmp_path / "bad.csv"), *options]) == 2
    _said_once(capsys)


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (["--load", "-1kg"], "above nought"),
        (["--load", "1stone"], "unit"),
        (["--load", "heavy"], "number"),
        (["--string-angle", "95"], "95°"),
        (["--tilt", "-91deg"], "90°"),
        (["--g", "0"], "m/s²"),
        (["--g", "9.8", "--latitude", "50"], "one of the two"),
        (["--latitude", "95"], "95"),
        (["--force-unit", "stone"], "unit"),
        (["--column", "7"], "column"),
        (["--rate", "0"], "0 Hz"),
        (["--picture", "pull.jpg"], ".svg"),
        (["--explain", "9"], "There is no pull 9"),
        (["--no-such-option"], "--no-such-option"),
    ],
)
def test_a_bad_option_gives_one_line_that_says_what_is_allowed(options, word, recording, capsys):
    assert run(["read", str(recording), *options]) == 2
    assert word in _said_once(capsys)


def test_a_missing_file_a_folder_and_a_locked_file_each_give_one_line(tmp_path, capsys):
    locked = tmp_path / "locked.csv"
    locked.write_text("t (s),f (N)\n0,1\n1,2\n")
    locked.chmod(0)
    for path in (tmp_path / "none.csv", tmp_path, locked):
        if path == locked and os.geteuid() == 0:
            continue  # root may read everything
        assert run(["read", str(path)]) == 2
        _said_once(capsys)


def test_an_unknown_command_and_no_file_give_one_line_each(capsys):
    assert run(["raed"]) == 2
    _said_once(capsys)
    assert run(["read"]) == 2
    _said_once(capsys)


def test_a_picture_never_overwrites_its_recording(recording, tmp_path, capsys):
    copy = tmp_path / "pull.svg"
    copy.write_bytes(recording.read_bytes())
    assert run(["read", str(copy), "--picture", str(copy)]) == 2
    assert "never written over" in _said_once(capsys)
    assert copy.read_bytes() == recording.read_bytes()


def test_help_imports_neither_numpy_nor_click():
    code = """
import sys
sys.argv = ["pullbench", "--help"]
from pullbench.cli import main
try:
    main()
except SystemExit:
    pass
assert not {"numpy", "click"} & set(sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "read" in done.stdout


def _said_once(capsys) -> str:
    err = capsys.readouterr().err
    assert "Traceback" not in err
    assert err.startswith("pullbench: ")
    assert len(err.splitlines()) == 1, err
    return err
