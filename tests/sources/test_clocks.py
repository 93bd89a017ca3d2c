"""Times: coarse clocks, packets, gaps, slips and restarts."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import RecordingError
from pullbench.model import Trace
from pullbench.sources import TableChoices, open_table, read_table


def read(tmp_path: Path, stamps: list[str], force: list[float] | None = None, **choices: object) -> Trace:
    path = tmp_path / "pull.csv"
    force = force or [0.5 + 0.001 * (i % 7) for i in range(len(stamps))]
    path.write_text(
        "time [s],force [N]\n" + "".join(f"{t},{f:.3f}\n" for t, f in zip(stamps, force, strict=True))
    )
    return read_table(path, TableChoices(**choices))[0]  # type: ignore[arg-type]


def kinds(trace: Trace) -> list[str]:
    return [flaw.kind for flaw in trace.flaws]


def cut(t: float) -> str:
    return f"{math.floor(t * 100 + 1e-9) / 100:.2f}"


@pytest.mark.parametrize("rate_Hz", [110.0, 200.0, 333.0, 499.93, 500.0, 1000.0, 2345.6])
@pytest.mark.parametrize("start_s", [0.0, 12.5])
@pytest.mark.parametrize(
    "printed", [pytest.param("{:.2f}".format, id="rounded"), pytest.param(cut, id="cut off")]
)
def test_a_clock_printed_to_10_ms_loses_no_sample_and_no_interval(tmp_path, rate_Hz, start_s, printed):
    true_s = start_s + np.arange(int(4 * rate_Hz)) / rate_Hz

    trace = read(tmp_path, [printed(t) for t in true_s])

    assert trace.time_s.size == true_s.size
    assert np.abs(trace.time_s - true_s).max() <= 1 / rate_Hz
    assert kinds(trace) == ["evenly spaced"]
    assert trace.flaws[0].count == true_s.size


@settings(max_examples=40, deadline=None)
@given(
    rate_Hz=st.floats(130, 3000),
    start_s=st.floats(0, 50),
    samples=st.integers(60, 1500),
)
def test_even_times_keep_the_true_intervals_wherever_the_recording_begins(
    tmp_path_factory, rate_Hz, start_s, samples
):
    true_s = start_s + np.arange(samples) / rate_Hz
    if samples < 5 * rate_Hz * 0.01 * 4:  # fewer than twenty ticks: too short to call the clock coarse
        samples = int(rate_Hz * 0.2) + 1
        true_s = start_s + np.arange(samples) / rate_Hz

    trace = read(tmp_path_factory.mktemp("even"), [f"{t:.2f}" for t in true_s])

    # Where the clock's tick began before the recording, its phase is known to a tick; distances are not
    # touched by that.
    error_s = trace.time_s - true_s
    assert np.ptp(error_s) <= 2 / rate_Hz
    assert np.abs(error_s).max() <= 0.005 + 1 / rate_Hz
    assert np.all(np.diff(trace.time_s) > 0)


def test_packets_of_equal_stamps_are_laid_out_evenly(tmp_path):
    true_s = np.arange(4000) / 800
    arrival_s = true_s[15::16].repeat(16)  # sixteen samples a packet, stamped when the last one is in

    trace = read(tmp_path, [f"{t:.6f}" for t in arrival_s])

    assert np.abs(trace.time_s - true_s).max() <= 1 / 800
    assert kinds(trace) == ["evenly spaced"]


def test_packets_held_up_by_the_port_do_not_bend_the_times(tmp_path):
    rng = np.random.default_rng(5)
    true_s, stamps, row = np.arange(6000) / 1000, [], 0
    while row < true_s.size:
        size = int(rng.integers(4, 12)) if rng.random() > 0.03 else 120  # now and then the port sleeps
        row = min(row + size, true_s.size)
        stamps += [true_s[row - 1]] * (row - len(stamps))

    trace = read(tmp_path, [f"{t:.5f}" for t in stamps])

    assert trace.time_s.size == true_s.size
    assert np.abs(trace.time_s - true_s).max() <= 1 / 1000


def test_a_gap_in_a_coarse_clock_stays_a_gap(tmp_path):
    true_s = np.concatenate((np.arange(1000) / 500, 3.0 + np.arange(1000) / 500))

    trace = read(tmp_path, [f"{t:.2f}" for t in true_s])

    assert np.abs(trace.time_s - true_s).max() <= 1 / 500
    gap = next(flaw for flaw in trace.flaws if flaw.kind == "gap")
    assert gap.count == pytest.approx(500, abs=5)  # one second at 500 Hz, known to a tick


@settings(max_examples=25, deadline=None)
@given(
    block_bytes=st.integers(20, 3000), rate_Hz=st.sampled_from([100.0, 450.0]), seed=st.integers(0, 2**32 - 1)
)
def test_times_do_not_depend_on_how_a_damaged_file_is_cut(tmp_path_factory, block_bytes, rate_Hz, seed):
    rng = np.random.default_rng(seed)
    true_s = np.arange(600) / rate_Hz
    true_s[rng.integers(0, 600, 6)] += rng.choice([-3.0, 0.2, -0.004], 6)
    true_s[400:] -= rng.choice([0.0, 2.0, 400 / rate_Hz])
    path = tmp_path_factory.mktemp("cut") / "pull.csv"
    cells = [
        f"{t:.2f},{i}.5" if rng.random() > 0.03 else rng.choice(["lost", f"{t:.2f},ERR", ""])
        for i, t in enumerate(true_s)
    ]
    path.write_text("time [s],force [N]\n" + "\n".join(cells) + "\n")

    whole, _ = read_table(path)
    pieces = list(open_table(path).chunks(block_bytes=block_bytes))

    np.testing.assert_array_equal(np.concatenate([p.time_s for p in pieces]), whole.time_s)
    np.testing.assert_array_equal(np.concatenate([p.force_N for p in pieces]), whole.force_N)
    assert np.all(np.diff(whole.time_s) > 0)


def test_lost_samples_are_counted_and_not_filled_in(tmp_path):
    stamps = [i for i in range(100) if i not in (40, 41, 42, 70)]

    trace = read(tmp_path, [f"{i / 100:.3f}" for i in stamps])

    assert trace.time_s.size == 96
    assert [(f.kind, f.start_s, f.end_s, f.count) for f in trace.flaws] == [
        ("gap", 0.39, 0.43, 3),
        ("gap", 0.69, 0.71, 1),
    ]
    assert "3 samples did not arrive between 0.390 s and 0.430 s" in trace.flaws[0].sentence


def test_a_clock_of_10_ms_at_90_Hz_has_no_gaps(tmp_path):
    assert kinds(read(tmp_path, [f"{i / 90:.2f}" for i in range(500)])) == []


def test_a_repeated_row_is_left_out_and_told(tmp_path):
    stamps = [f"{i / 100:.2f}" for i in range(50)]

    trace = read(tmp_path, [*stamps[:20], stamps[19], *stamps[20:]])

    np.testing.assert_array_equal(trace.time_s, [float(s) for s in stamps])
    assert [(f.kind, f.count, f.start_s) for f in trace.flaws] == [("repeated times", 1, 0.19)]


def test_rows_written_twice_are_not_a_coarse_clock(tmp_path):
    stamps = [f"{i / 100:.2f}" for i in range(80)]
    force = [round(math.sin(i), 3) for i in range(80)]

    trace = read(tmp_path, [s for s in stamps for _ in "12"], [f for f in force for _ in "12"])

    np.testing.assert_array_equal(trace.force_N, force)
    assert kinds(trace) == ["repeated times"]
    assert trace.flaws[0].count == 80


def test_one_stamp_that_slips_back_is_left_out(tmp_path):
    stamps = [f"{i / 100:.2f}" for i in range(50)]

    trace = read(tmp_path, [*stamps[:30], "0.05", *stamps[31:]])

    np.testing.assert_array_equal(trace.time_s, [float(s) for i, s in enumerate(stamps) if i != 30])
    assert [(f.kind, f.count) for f in trace.flaws] == [("backward times", 1)]


@pytest.mark.parametrize("leap", ["99999.0", "0.60"])
def test_one_stamp_that_leaps_ahead_does_not_take_the_rest_along(tmp_path, leap):
    stamps = [f"{i / 100:.2f}" for i in range(200)]

    trace = read(tmp_path, [*stamps[:30], leap, *stamps[31:]])

    np.testing.assert_array_equal(trace.time_s, [float(s) for i, s in enumerate(stamps) if i != 30])
    assert [(f.kind, f.count) for f in trace.flaws] == [("backward times", 1)]


def test_a_clock_set_anew_goes_on_by_one_step(tmp_path):
    stamps = [f"{i / 100:.2f}" for i in range(150)]

    trace = read(tmp_path, stamps + stamps)

    assert trace.time_s.size == 300
    np.testing.assert_allclose(np.diff(trace.time_s), 0.01, rtol=1e-9)
    assert [(f.kind, f.count) for f in trace.flaws] == [("backward times", 1)]
    assert "set anew" in trace.flaws[0].sentence


def test_a_counter_of_32_bits_that_runs_over_is_no_flaw(tmp_path):
    path = tmp_path / "pull.csv"
    stamps = [(2**32 - 1_000_000 + 10_000 * i) % 2**32 for i in range(300)]
    path.write_text("micros,force\n" + "".join(f"{t},{i % 9}\n" for i, t in enumerate(stamps)))

    trace, _ = read_table(path)

    np.testing.assert_allclose(np.diff(trace.time_s), 0.01, rtol=1e-6)
    assert trace.flaws == ()


def test_missing_cells_are_left_out_and_their_place_is_kept(tmp_path):
    path = tmp_path / "pull.csv"
    signs = ["", "NaN", "nan", "-", "---", "ERR", "n/a"]
    rows = [f"{i / 10:.1f};{signs[i - 20] if 20 <= i < 27 else i}" for i in range(60)]
    path.write_text("t [s];F [N]\n" + "\n".join(rows))

    trace, _ = read_table(path)

    np.testing.assert_array_equal(trace.force_N, [*range(20), *range(27, 60)])
    assert [(f.kind, f.start_s, f.end_s, f.count) for f in trace.flaws] == [("missing values", 1.9, 2.7, 7)]


def test_lost_readings_without_a_clock_keep_their_place_in_line(tmp_path):
    path = tmp_path / "pull.txt"
    path.write_text("1.0\n1.1\nNaN\n1.3\nsensor not found\n1.5\n# a remark\n1.6\n")

    trace, _ = read_table(path, TableChoices(rate_Hz=10))

    np.testing.assert_allclose(trace.time_s, [0.0, 0.1, 0.3, 0.5, 0.6])
    assert kinds(trace) == ["missing values", "unreadable lines"]


def test_a_last_line_cut_off_in_writing_is_told(tmp_path):
    path = tmp_path / "pull.csv"
    path.write_text("t (s),x (mm),F (N)\n" + "".join(f"{i / 10},0,{i}\n" for i in range(30)) + "3.0,0")

    trace, _ = read_table(path)

    assert trace.time_s.size == 30
    assert kinds(trace) == ["unreadable lines"]


def test_thousands_of_gaps_become_few_flaws(tmp_path):
    rng = np.random.default_rng(3)
    kept = np.flatnonzero(rng.random(60_000) > 0.02)

    trace = read(tmp_path, [f"{i / 1000:.3f}" for i in kept])

    assert len(trace.flaws) <= 50
    lost = int(kept[-1]) + 1 - kept.size
    assert sum(flaw.count for flaw in trace.flaws) == lost


def test_seconds_since_1970_keep_their_digits(tmp_path):
    stamps = [f"{1_900_000_000 + i // 500}.{i % 500 * 2:03d}" for i in range(3000)]

    trace = read(tmp_path, stamps)

    np.testing.assert_allclose(
        trace.time_s, np.arange(3000) / 500, rtol=0, atol=3e-7
    )  # half a float's step there


@pytest.mark.parametrize(
    ("step", "unit"),
    [(0.01, "s"), (0.1, "s"), (0.5, "s"), (10.0, "ms"), (20.0, "ms"), (10_000.0, "µs")],
)
def test_the_unit_of_nameless_times_is_the_first_that_makes_sense(tmp_path, step, unit):
    path = tmp_path / "pull.txt"
    path.write_text("".join(f"{i * step:g} {i % 5}.1\n" for i in range(40)))

    trace, assumed = read_table(path)

    assert f"time in {unit} (column 1; unit assumed" in assumed
    assert np.diff(trace.time_s)[0] == pytest.approx(step / {"s": 1, "ms": 1e3, "µs": 1e6}[unit])


@pytest.mark.parametrize("step", [1.0, 1.5, 1000.0, 1e-6, 1e9])
def test_a_step_that_fits_two_units_or_none_is_asked_about(tmp_path, step):
    path = tmp_path / "pull.txt"
    path.write_text("".join(f"{7 + i * step:.7g} {i % 5}.1\n" for i in range(40)))

    with pytest.raises(RecordingError, match="--time-unit") as caught:
        read_table(path)

    assert caught.value.code in ("time-unit-ambiguous", "time-not-advancing")
    assert read_table(path, TableChoices(time_unit="ms"))[0].time_s.size > 1
