"""What headings say about columns, and thousands, decimals and remarks inside cells."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pullbench.errors import RecordingError
from pullbench.sources import TableChoices, open_table, read_table
from pullbench.sources.cells import read_cell
from pullbench.sources.headings import read_heading


@pytest.mark.parametrize(
    ("text", "name", "symbol"),
    [
        ("Force [N]", "Force", "N"),
        ("Force (mN)", "Force", "mN"),
        ("F / kN", "F", "kN"),
        ("F/N", "F", "N"),
        ("Force, N", "Force", "N"),
        ("Kraft in gf", "Kraft", "gf"),
        ("force_uN", "force", "µN"),
        ("t_ms", "t", "ms"),
        ("m/s²", "", "m/s²"),
        ("v/m/s", "v", "m/s"),
        ("a_m_s2", "a", "m/s2"),
        ("Normal force", "Normal force", None),
    ],
)
def test_a_heading_is_parted_into_name_and_unit(text, name, symbol):
    heading = read_heading(text)

    assert (heading.name, heading.unit.symbol if heading.unit else None) == (name, symbol)


@pytest.mark.parametrize(
    "text", ["a [m/s²]", "m/s", "x (mm)", "U / V", "p [bar]", "Accel (g)", "Time (s)", "T [°C]", "s/mm"]
)
def test_other_quantities_are_never_taken_for_a_force(text):
    assert not read_heading(text).is_force


@pytest.mark.parametrize("text", ["m/s", "m/s²", "a (m/s2)", "s/mm", "Force (N)"])
def test_other_quantities_are_never_taken_for_a_time(text):
    assert not read_heading(text).is_time


@pytest.mark.parametrize(
    "text", ["Zeit", "temps", "t", "Tiempo (ms)", "Elapsed s", "timestamp_us", "czas [s]"]
)
def test_times_are_known_in_several_languages(text):
    assert read_heading(text).is_time


@pytest.mark.parametrize(
    "text", ["Zugkraft", "fuerza (N)", "forza", "Pull", "Friction [uN]", "Load (kg)", "FORCE1"]
)
def test_forces_are_known_in_several_languages(text):
    assert read_heading(text).is_force


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [
        ("1,234.5", ".", 1234.5),
        ("1.234,5", ",", 1234.5),
        ("1'234.5", ".", 1234.5),
        ("1\u202f234,5", ",", 1234.5),
        ("1,234,567", ".", 1234567.0),
        ("\u22120.25", ".", -0.25),
        ('"2.5"', ".", 2.5),
        ("+.5e-3", ".", 0.0005),
        ("0.02 N1", ".", 0.02),
        ("2.83 N", ".", 2.83),
    ],
)
def test_a_cell_is_read_with_its_decimal_mark(text, decimal, value):
    cell = read_cell(text, decimal)

    assert (cell.kind, cell.value) == ("number", value)


@pytest.mark.parametrize(
    "text", ["12,34", "1,2345", "0,123", "1.2.3", "1_000", "5 6", "1e", "0x10", "12 apples"]
)
def test_what_only_looks_like_a_number_is_text(text):
    assert read_cell(text, ".").kind == "text"


@pytest.mark.parametrize("text", ["", "NaN", "-", "---", "ERR", "inf", "1e999"])
def test_signs_for_missing_are_known(text):
    assert read_cell(text, ".").kind == "missing"


def read(tmp_path: Path, text: str, **choices: object) -> tuple[list[float], str]:
    path = tmp_path / "pull.csv"
    path.write_text(text)
    trace, assumed = read_table(path, TableChoices(**choices))  # type: ignore[arg-type]
    return trace.force_N.tolist(), assumed


def test_thousands_are_understood_where_other_cells_prove_the_decimal_mark(tmp_path):
    rows = "t (s);F (mN)\n0,1;1.234\n0,2;998\n0,3;1.002,5\n"

    assert read(tmp_path, rows)[0] == [1.234, 0.998, 1.0025]


def test_one_proof_far_down_settles_the_decimal_mark(tmp_path):
    rows = "".join(f"{1 + i // 1000},{i % 1000:03d};5,678\n" for i in range(3000)) + "4,000;0,5\n"

    force_N, assumed = read(tmp_path, "t (s);F (N)\n" + rows)

    assert force_N[0] == 5.678
    assert "decimal comma" in assumed


def test_a_cell_that_changes_to_another_unit_is_converted(tmp_path):
    force_N, _ = read(tmp_path, "t (s);F\n0.1;998 mN\n0.2;999 mN\n0.3;1.25 N\n0.4;990 mN\n")

    np.testing.assert_allclose(force_N, [0.998, 0.999, 1.25, 0.99], rtol=1e-15)


def test_a_remark_behind_a_row_does_no_harm_but_a_second_row_does(tmp_path):
    rows = "t (s),F (N)\n0.1,1\n0.2,2,next load\n0.3,3\n0.4,40.5,5\n0.6,6\n"

    assert read(tmp_path, rows)[0] == [1.0, 2.0, 3.0, 6.0]


def test_a_header_in_the_middle_is_left_out(tmp_path):
    rows = "t (s),F (N)\n0.1,1\n0.2,2\nt (s),F (N)\n0.3,3\n"

    assert read(tmp_path, rows)[0] == [1.0, 2.0, 3.0]


def test_friction_alone_is_chosen_beside_other_quantities(tmp_path):
    force_N, assumed = read(tmp_path, "Time [s]\tx [mm]\tFriction\n0.1\t5\t1\n0.2\t6\t2\n0.3\t7\t3\n")

    assert force_N == [1.0, 2.0, 3.0]
    assert 'column 3, "Friction"; unit assumed' in assumed


def test_a_row_counter_is_no_clock(tmp_path):
    with pytest.raises(RecordingError) as caught:
        read(tmp_path, "No;F (N)\n1;0.5\n2;0.6\n3;0.7\n")

    assert caught.value.code == "rate-missing"


def test_a_rate_replaces_the_times_of_the_file(tmp_path):
    path = tmp_path / "pull.csv"
    path.write_text("time,F (N)\n5,1\n6,2\n7,3\n")

    trace, assumed = read_table(path, TableChoices(rate_Hz=20))

    assert trace.time_s.tolist() == [0.0, 0.05, 0.1]
    assert "rate of 20 Hz" in assumed


def test_a_table_tells_how_it_is_read_in_one_sentence(tmp_path):
    path = tmp_path / "pull.csv"
    path.write_text("Zeit;Weg;Kraft\nms;mm;gf\n" + "".join(f"{10 * i};0,5;{i},5\n" for i in range(9)))

    assert open_table(path).assumed == (
        'semicolon table, decimal comma, time in ms (column 1, "Zeit"), force in gf (column 3, "Kraft")'
    )


def test_as_many_names_as_whole_numbers_settle_that_the_comma_parts_cells(tmp_path):
    force_N, assumed = read(tmp_path, "t_ms,F_mN\n7,05\n19,15\n31,25\n")

    assert force_N == [0.005, 0.015, 0.025]
    assert "comma table, decimal point" in assumed
