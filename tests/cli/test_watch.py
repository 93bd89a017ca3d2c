"""`pullbench watch`, `check` and `shelve`, as a person and as a script use them."""

import json
import os
import re
import signal
import subprocess
import sys
import time
import urllib.request

import pytest

from pullbench.cli import run
from pullbench.cli.choosing import duration_s
from pullbench.errors import SourceError
from pullbench.physics.bench import demo_day

ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}


def started(*arguments, cwd, **more):
    return subprocess.Popen(
        [sys.executable, "-m", "pullbench", *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        cwd=cwd, env=ENVIRONMENT, **more,
    )  # fmt: skip


def ran(*arguments, cwd, **more):
    done = subprocess.run(
        [sys.executable, "-m", "pullbench", *arguments], capture_output=True, text=True, cwd=cwd, env=ENVIRONMENT,
        timeout=60, **more,
    )  # fmt: skip
    return done.returncode, done.stdout, done.stderr


@pytest.fixture(scope="module")
def recording(tmp_path_factory):
    trace = demo_day(5)[0].trace
    path = tmp_path_factory.mktemp("watch") / "pulls.csv"
    rows = (f"{t!r},{f!r}" for t, f in zip(trace.time_s.tolist(), trace.force_N.tolist(), strict=True))
    path.write_text("\n".join(["time (s),force (N)", *rows, ""]))
    return path


def test_json_has_the_form_and_the_digits_of_read_and_says_what_is_replayed(recording, tmp_path, capsys):
    status, out, err = ran("watch", "--replay", str(recording), "--speed", "inf", "--json", cwd=tmp_path)
    assert (status, err) == (0, "")
    assert run(["read", str(recording), "--json"]) == 0
    expected = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    live = [json.loads(line) for line in out.splitlines()]
    assert [line.pop("label") for line in live] == ["replayed"] * len(live)
    assert [{**line, "file": ""} for line in live] == [{**line, "file": ""} for line in expected]
    assert list(tmp_path.iterdir()) == []  # what is not measured is kept on request only


def test_lines_from_a_pipe_are_watched_and_kept_in_the_usual_logbook(recording, tmp_path):
    with recording.open() as lines:
        status, out, err = ran("watch", "-", "--plain", cwd=tmp_path, stdin=lines)
    assert (status, err) == (0, "")
    verdicts = re.findall(r"^Pull (\d+): (\S.*?);", out, flags=re.M)
    assert [number for number, _ in verdicts] == ["1", "2"]
    assert "simulated" not in out
    assert (tmp_path / "pullbench-logbook.sqlite").is_file()
    status, out, err = ran("shelve", "--raw", "day.csv", cwd=tmp_path)
    assert (status, err) == (0, "")
    shelved = [line for line in (tmp_path / "day.csv").read_text().splitlines() if line[0].isdigit()]
    assert len(shelved) == len(recording.read_text().splitlines()) - 1
    assert ran("shelve", "--raw", "day.csv", cwd=tmp_path)[0] == 2  # never written over


def test_a_virtual_bench_stands_down_by_itself_and_labels_everything(tmp_path):
    status, out, err = ran("watch", "--virtual", "--speed", "20", "--for", "2s", "--plain", cwd=tmp_path)
    assert (status, err) == (0, "")
    pulls = re.findall(r"^Pull \d+(.*)$", out, flags=re.M)
    assert len(pulls) >= 2
    assert all(line.startswith(" (simulated):") for line in pulls)
    assert out.rstrip().endswith("no logbook was named.")


def test_the_address_is_printed_once_with_its_key_and_the_page_is_there(tmp_path):
    bench = started(
        "watch", "--virtual", "--for", "8s", "--port", "0", "--logbook", "day.sqlite", cwd=tmp_path
    )
    lines = [bench.stdout.readline() for _ in range(3)]
    (address,) = re.findall(r"(http://127\.0\.0\.1:\d+/)#key=[\w-]{22}\n", "".join(lines))
    with urllib.request.urlopen(address, timeout=5) as answer:
        assert b"<title>pullbench</title>" in answer.read()
    began = time.monotonic()
    bench.send_signal(signal.SIGINT)
    out, err = bench.communicate(timeout=15)
    assert time.monotonic() - began < 8
    assert (bench.returncode, err) == (0, "")
    assert "key=" not in out
    assert out.rstrip().endswith("The watch stood down. Everything up to now is kept.")


def test_the_check_alone_says_in_words_what_the_bench_is_good_for(capsys):
    assert run(["check", "--virtual", "--speed", "inf"]) == 0
    out = capsys.readouterr().out
    assert re.search(r"^Good for pulls above 0\.\d N\. \(simulated\)$", out, flags=re.M)
    for row in ("rate", "gaps", "resolution", "noise", "drift", "range seen"):
        assert re.search(rf"^  {row} ", out, flags=re.M)


def test_the_check_as_json(capsys):
    assert run(["check", "--virtual", "--speed", "inf", "--json"]) == 0
    card = json.loads(capsys.readouterr().out)
    assert card["label"] == "simulated"
    assert card["step_s"] == pytest.approx(1 / 80)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["watch"], "No source is named"),
        (["watch", "--virtual", "--folder", "."], "Several sources"),
        (["watch", "--virtual", "--baud", "9600"], "belongs to --serial"),
        (["watch", "-", "--speed", "2"], "belongs to --replay"),
        (["watch", "--virtual", "--speed", "0"], "above 0"),
        (["watch", "--virtual", "--speed", "fast"], "above 0"),
        (["watch", "--tcp", "nowhere"], "HOST:PORT"),
        (["watch", "--tcp", "host:99999"], "HOST:PORT"),
        (["watch", "--virtual", "--for", "soon"], "30s"),
        (["watch", "--virtual", "--plain", "--room"], "Leave one out"),
        (["watch", "--replay", "no-such-file.csv", "--plain"], "no-such-file"),
        (["watch", "--serial", "/dev/no-such-port", "--plain", "--for", "1s"], "no-such-port"),
        (["watch", "--virtual", "--logbook", "no/such/folder/x.sqlite", "--plain"], "folder"),
        (["check", "--serial", "/dev/no-such-port"], "no-such-port"),
        (["shelve", "--logbook", "no-such.sqlite", "--raw", "x.csv"], "no logbook"),
    ],
)
def test_bad_input_is_one_clear_sentence_on_stderr(arguments, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert run(arguments) == 2
    out, err = capsys.readouterr()
    assert err.startswith("pullbench: ")
    assert said in err
    assert "Traceback" not in err + out
    assert len(err.strip().splitlines()) == 1


@pytest.mark.parametrize(("text", "seconds"), [("30s", 30.0), ("5min", 300.0), ("1h", 3600.0), ("2.5", 2.5)])
def test_times_are_read_with_their_unit(text, seconds):
    assert duration_s(text, "--for") == seconds


@pytest.mark.parametrize("text", ["", "s", "-5s", "0", "inf", "nan", "5 minutes"])
def test_what_is_no_time_is_refused(text):
    with pytest.raises(SourceError, match="30s"):
        duration_s(text, "--for")


def test_a_port_that_is_taken_is_one_clear_sentence(tmp_path, monkeypatch, capsys):
    from pullbench.web import bind

    monkeypatch.chdir(tmp_path)
    with bind("127.0.0.1", 0) as taken:
        taken.listen()
        assert run(["watch", "--virtual", "--port", str(taken.getsockname()[1]), "--for", "1s"]) == 2
    assert "--port" in capsys.readouterr().err


def test_readings_of_a_spring_scale_are_typed_judged_and_kept(tmp_path):
    book = tmp_path / "book.sqlite"
    status, out, err = ran(
        "watch",
        "--typed",
        "0.1N",
        "--plain",
        "--logbook",
        str(book),
        cwd=tmp_path,
        input="0.1\ns 2.8 k 2.1\nq\n",
    )
    assert (status, err) == (0, "")
    assert "static: at least" in out
    assert "kinetic 2.0 N ± 0.1" in out
    again = ran(
        "watch", "--typed", "0.1N", "--json", "--logbook", str(book), cwd=tmp_path, input="0\ns 3 k 2\n"
    )
    (line,) = again[1].splitlines()
    assert json.loads(line)["pull"] == 2  # nothing typed before is read once more
    shelved = tmp_path / "raw.csv"
    assert (
        ran("shelve", "--logbook", str(book), "--day", "latest", "--raw", str(shelved), cwd=tmp_path)[0] == 0
    )
    rows = [row.split(",") for row in shelved.read_text().splitlines() if row[0].isdigit()]
    assert [row[1] for row in rows] == ["0.1", "2.8", "2.1", "0.0", "3.0", "2.0"]  # as they were read


@pytest.mark.parametrize("division", ["0.1kg", "-0.1N", "much"])
def test_a_division_that_cannot_be_is_one_clear_error(division, tmp_path):
    status, out, err = ran("watch", "--typed", division, "--plain", cwd=tmp_path, input="")
    assert (status, out) == (2, "")
    assert "--typed is" in err
    assert len(err.splitlines()) == 1


def test_no_page_is_offered_of_a_port_that_is_not_there(tmp_path):
    status, out, err = ran("watch", "--serial", "/dev/ttyNOTHERE", "--port", "0", cwd=tmp_path)
    assert (status, out) == (2, "")
    assert "/dev/ttyNOTHERE" in err
    assert len(err.splitlines()) == 1


def test_a_day_is_read_again_on_request(recording, tmp_path):
    with recording.open() as lines:
        ran("watch", "-", "--plain", cwd=tmp_path, stdin=lines)
    status, out, err = ran("shelve", "--read-again", cwd=tmp_path)
    assert (status, err) == (0, "")
    assert re.search(r"^2 pulls of \d{4}-\d\d-\d\d read again; 0 read otherwise", out)
    status, out, err = ran("shelve", cwd=tmp_path)
    assert (status, out) == (2, "")
    assert "--raw OUT.csv" in err
