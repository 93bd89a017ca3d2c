"""Public measured traces, read as they are; counts and quirks as their index tells them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pullbench.errors import RecordingError
from pullbench.sources import TableChoices, read_table

TRACES = Path(__file__).parents[3] / "shared" / "traces"
pytestmark = pytest.mark.skipif(not TRACES.is_dir(), reason="the public traces are not beside the repository")


def test_a_serial_log_with_chatter_and_cell_tags_is_read_at_its_rate():
    trace, assumed = read_table(TRACES / "hx711_slider_stickslip" / "Force7_OG.txt", TableChoices(rate_Hz=4))

    assert trace.force_N.size == 4261  # the index counts 4261 readings
    assert trace.force_N[0] == 0.0
    assert "force in N" in assumed
    (lost,) = trace.flaws
    assert lost.kind == "unreadable lines"
    assert lost.count == 1
    assert "HX711 loadcell 1 not found.826091 ms" in lost.sentence
    at = int(np.searchsorted(trace.time_s, lost.start_s))
    assert trace.force_N[at : at + 2].tolist() == [10.31, 10.53]  # "between 10.31 and 10.53 N"
    assert trace.force_N.max() == 14.44


def test_the_serial_log_asks_for_its_rate():
    with pytest.raises(RecordingError, match="--rate") as caught:
        read_table(TRACES / "hx711_slider_stickslip" / "Force7_OG.txt")
    assert caught.value.code == "rate-missing"


@pytest.mark.parametrize("name", sorted(p.name for p in (TRACES / "oring_piston_seal").glob("*.csv")))
def test_seven_columns_without_names_need_the_column_and_then_read_in_ms(name):
    path = TRACES / "oring_piston_seal" / name
    with pytest.raises(RecordingError, match="--column") as caught:
        read_table(path)
    assert caught.value.code == "column-ambiguous"

    trace, assumed = read_table(path, TableChoices(column="7"))

    lines = path.read_text().split()
    assert trace.force_N.tolist() == [float(cell) for cell in lines[6::7]]
    assert trace.time_s.tolist() == [float(cell) / 1000 for cell in lines[0::7]]
    assert "time in ms (column 1; unit assumed, it makes 100 Hz)" in assumed
    hole = max(
        (flaw for flaw in trace.flaws if flaw.kind == "gap"), key=lambda flaw: flaw.end_s - flaw.start_s
    )
    if name == "2_O-ring257_5bar.csv":  # index: a hole of about 0.27 s right after the first breakaway
        assert trace.flaws[0].end_s - trace.flaws[0].start_s == pytest.approx(0.27, abs=0.02)
    assert hole.end_s - hole.start_s >= 0.25


def test_two_forces_in_micronewtons_are_asked_about_and_then_read():
    path = TRACES / "slider_constant_load" / "test_data_2.txt"
    with pytest.raises(RecordingError, match=r'4 "Friction \[uN\]"') as caught:
        read_table(path)
    assert caught.value.code == "column-ambiguous"

    trace, _ = read_table(path, TableChoices(column="Friction"))

    rows = np.loadtxt(path, skiprows=1)
    np.testing.assert_array_equal(trace.force_N, rows[:, 3] / 1e6)
    np.testing.assert_array_equal(trace.time_s, rows[:, 0])
    half_rate = next(flaw for flaw in trace.flaws if flaw.start_s < 2.5)
    assert (half_rate.start_s, half_rate.end_s) == pytest.approx((2.0, 3.8), abs=0.02)  # as the index says


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("band_damper_reversing/0.5Hz20lbtension.json", "recording-json"),
        ("paper_slider_spring/k168Nm_v1100.mat", "recording-matlab"),
    ],
)
def test_other_kinds_of_file_say_what_they_are(name, code):
    with pytest.raises(RecordingError, match="not a text table") as caught:
        read_table(TRACES / name)
    assert caught.value.code == code
