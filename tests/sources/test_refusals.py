"""Bad input: one clear error each, with its own code and what to do."""

from __future__ import annotations

import gzip
import math
import os
import struct
from pathlib import Path

import pytest

from pullbench.errors import RecordingError
from pullbench.sources import TableChoices, open_table, read_table

GOOD = "time [s],force [N]\n" + "".join(f"{i / 100},{i % 7}.5\n" for i in range(40))


def refused(path: Path, **choices: object) -> RecordingError:
    with pytest.raises(RecordingError) as caught:
        read_table(path, TableChoices(**choices))  # type: ignore[arg-type]
    return caught.value


def written(tmp_path: Path, content: str | bytes) -> Path:
    path = tmp_path / "pull.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


@pytest.mark.parametrize(
    ("content", "code"),
    [
        pytest.param("", "recording-empty", id="empty"),
        pytest.param("\n\n  \n", "no-numbers", id="blank lines"),
        pytest.param("# a\n# b\n", "no-numbers", id="comments"),
        pytest.param("ready\nset\ngo\n", "no-numbers", id="words"),
        pytest.param("1.0\n1.1\n1.2\n", "rate-missing", id="one column"),
        pytest.param("time [s],force [N]\n0.0,1.0\n", "too-few-samples", id="one sample"),
        pytest.param("time [s],force [N]\n" + "0.1,nan\n0.2,nan\n0.3,NaN\n", "no-readings", id="all missing"),
        pytest.param(
            "time [s],force [N]\n0.1,low\n0.2,high\n0.3,low\n", "column-not-numbers", id="words for force"
        ),
        pytest.param("time [s],force [N]\n" + "5,1\n" * 30, "time-not-advancing", id="clock stands still"),
        pytest.param(
            "time [s],force [N]\n" + "".join(f"{9 - i},{i}\n" for i in range(9)),
            "time-not-advancing",
            id="clock runs back",
        ),
        pytest.param("0,5;1.5\n0,6;1.6\n0,7;1.7\n", "decimal-mixed", id="comma and point"),
        pytest.param("0,01,2,34\n0,02,2,4\n0,03,3\n0,04,2,51\n", "decimal-ambiguous", id="ragged commas"),
        pytest.param(
            "a;b\n1,234;5,678\n1,244;5,699\n1,254;5,700\n", "decimal-ambiguous", id="groups or decimals"
        ),
        pytest.param("7,12\n9,55\n3,41\n", "decimal-ambiguous", id="pairs or whole numbers"),
        pytest.param("t (s),a (N),b (N)\n0.1,1,2\n0.2,1,2\n0.3,1,3\n", "column-ambiguous", id="two forces"),
        pytest.param("0.1 5.5 2.5\n0.2 5.3 2.1\n0.3 5.8 3.7\n", "column-ambiguous", id="two without names"),
        pytest.param("t (s),x (mm)\n0.1,1\n0.2,1\n0.3,1\n", "no-force-column", id="a length only"),
        pytest.param("t (s),a (m/s²)\n0.1,1\n0.2,1\n0.3,1\n", "no-force-column", id="an acceleration only"),
        pytest.param("t (s),p (bar)\n0.1,1\n0.2,1\n0.3,1\n", "no-force-column", id="a pressure only"),
        pytest.param("t (s),az (g)\n0.1,1\n0.2,1\n0.3,1\n", "no-force-column", id="an acceleration in g"),
        pytest.param("t (s),force (mV/V)\n0.1,1\n0.2,1\n0.3,1\n", "scale-missing", id="raw signal"),
        pytest.param('{"data": [[0.0, 1.0], [0.1, 1.1]]}', "recording-json", id="JSON object"),
        pytest.param("[[0.0, 1.0],\n [0.1, 1.1]]", "recording-json", id="JSON array"),
        pytest.param("<html><table><tr><td>1</td></tr></table>", "recording-markup", id="HTML"),
        pytest.param(
            b"MATLAB 5.0 MAT-file, invented" + b" " * 99 + b"\0\1IM" + bytes(200),
            "recording-matlab",
            id="MATLAB",
        ),
        pytest.param(b"PK\x03\x04" + bytes(range(256)) * 4, "recording-spreadsheet", id="spreadsheet"),
        pytest.param(gzip.compress(GOOD.encode()), "recording-binary", id="gzip"),
        pytest.param(
            struct.pack("<300d", *[i * 0.1 for i in range(300)]), "recording-binary", id="raw floats"
        ),
    ],
)
def test_what_is_no_recording_is_refused_with_its_own_code(content, code, tmp_path):
    error = refused(written(tmp_path, content))

    assert error.code == code
    assert error.what
    assert error.allowed
    assert error.next_step


@pytest.mark.parametrize(
    ("choices", "code"),
    [
        ({"rate_Hz": 0.0}, "rate-not-positive"),
        ({"rate_Hz": -4.0}, "rate-not-positive"),
        ({"rate_Hz": math.nan}, "rate-not-positive"),
        ({"rate_Hz": math.inf}, "rate-not-positive"),
        ({"scale_N": 0.0}, "scale-not-positive"),
        ({"scale_N": -1.0}, "scale-not-positive"),
        ({"g_m_s2": math.nan}, "gravity-not-positive"),
        ({"time_unit": "N"}, "unit-unknown"),
        ({"force_unit": "furlong"}, "unit-unknown"),
        ({"force_unit": "m/s²"}, "unit-unknown"),
        ({"force_unit": "N", "scale_N": 2.0}, "scale-and-unit"),
        ({"column": "pressure"}, "column-unknown"),
        ({"column": "3"}, "column-unknown"),
        ({"column": "0"}, "column-unknown"),
        ({"time_column": "zeit"}, "column-unknown"),
        ({"time_column": "2", "column": "2"}, "column-twice"),
        ({"column": "1", "time_column": "2"}, "column-not-force"),
        ({"time_column": "1", "rate_Hz": 4.0}, "rate-and-time-column"),
        ({"separator": "dash"}, "separator-unknown"),
        ({"decimal": ";"}, "decimal-unknown"),
        ({"encoding": "utf-99"}, "encoding-unknown"),
        ({"encoding": "rot13"}, "encoding-unknown"),
    ],
)
def test_an_impossible_choice_is_refused_with_its_own_code(choices, code, tmp_path):
    assert refused(written(tmp_path, GOOD), **choices).code == code


def test_an_unknown_column_is_answered_with_those_there_are(tmp_path):
    error = refused(written(tmp_path, GOOD), column="kraft")

    assert '1 "time [s]" (0.0), 2 "force [N]" (0.5)' in str(error)


@pytest.mark.parametrize(
    ("content", "option"),
    [
        ("1.0\n1.1\n", "--rate"),
        ("0 5\n1 7\n2 6\n", "--time-unit"),
        ("0.1 5.5 2\n0.2 5.3 2\n0.3 5.8 3\n", "--column"),
    ],
)
def test_a_question_names_the_option_that_answers_it(content, option, tmp_path):
    assert option in refused(written(tmp_path, content)).next_step


def test_a_folder_and_a_missing_file_are_told_apart(tmp_path):
    assert refused(tmp_path).code == "recording-is-folder"
    assert refused(tmp_path / "nowhere.csv").code == "recording-missing"
    assert refused(tmp_path / "zero\0byte").code == "recording-unreadable"


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")

    assert refused(tmp_path / "pipe").code == "recording-not-a-file"


def test_a_file_that_may_not_be_read_says_so(tmp_path, monkeypatch):
    path = written(tmp_path, GOOD)

    def forbidden(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", forbidden)  # the user of a test may be allowed everything
    assert refused(path).code == "recording-forbidden"


@pytest.mark.parametrize("start", [b"time [s],force [N]\n0.0,1.0\n0.1,1.1\n", b""])
def test_a_line_of_two_gigabytes_is_not_read_to_its_end(start, tmp_path):
    path = written(tmp_path, start + b"1.5," * 300_000)
    os.truncate(path, 2_000_000_000)  # sparse: takes no room on the disk

    assert refused(path).code == "line-too-long"


def test_every_error_names_what_is_allowed_for_a_force_in_metres(tmp_path):
    error = refused(written(tmp_path, "t (s),way (mm)\n0.1,1\n0.2,2\n"), column="way")

    assert error.code == "column-not-force"
    assert "mm" in error.what
    assert "N" in error.allowed
    assert open_table(
        written(tmp_path, "t (s),way (mm)\n0.1,1\n0.2,2\n"), TableChoices(column="way", scale_N=2.0)
    )
