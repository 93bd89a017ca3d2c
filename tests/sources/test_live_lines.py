"""The decoder that all line sources share: bytes in any state to samples, and what it says meanwhile."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import SourceError
from pullbench.model import Chunk, Ended
from pullbench.sources import TableChoices
from pullbench.sources.live.line_cutter import LONGEST_LINE_BYTES, LineCutter
from pullbench.sources.live.line_reader import LineReader
from sources.live_bench import flaws, news, only_recording, read_lines, recordings, steady

DIRTY = st.lists(
    st.sampled_from(
        [
            b"0.12,3.4\n",
            b"\r\n",
            b"\r",
            b"\n",
            b"\x00",
            b"\xff\xfe",
            b"abc",
            b"9" * 3000,
            b"\xef\xbb\xbf",
            b"-,;",
        ]
    ),
    max_size=30,
).map(b"".join)


def cut(octets, cuts):
    edges = [0, *sorted(c % (len(octets) + 1) for c in cuts), len(octets)]
    return [octets[a:b] for a, b in pairwise(edges)]


@given(octets=DIRTY, cuts=st.lists(st.integers(0, 100_000), max_size=12))
def test_lines_are_the_same_however_the_bytes_are_cut(octets, cuts):
    whole, parts = LineCutter(), LineCutter()
    assert (
        whole.feed(octets) + whole.finish()
        == [line for part in cut(octets, cuts) for line in parts.feed(part)] + parts.finish()
    )


@given(octets=DIRTY)
def test_no_line_is_longer_than_the_bound(octets):
    cutter = LineCutter()
    assert all(0 < len(line) <= LONGEST_LINE_BYTES for line in cutter.feed(octets))


@settings(deadline=None, max_examples=60)
@given(
    cuts=st.lists(st.integers(0, 100_000), max_size=20),
    dirt=st.lists(st.tuples(st.integers(0, 198), st.sampled_from([b"@#!\n", b"1,2,3,4\n", b"\n", b"7.5\n"]))),
)
def test_samples_and_flaws_are_the_same_however_the_bytes_are_cut(cuts, dirt):
    head = [octets for _, octets in steady(1200, "{ms},{f}\n")]
    rest = [octets for _, octets in steady(200, "{ms},{f}\n", first=1200)]
    for at, junk in dirt:
        rest[at] += junk
    results = []
    for parts in ([b"".join(rest)], cut(b"".join(rest), cuts)):
        reader = LineReader(TableChoices())
        told = reader.feed(b"".join(head[:600]), 0.0) + reader.feed(b"".join(head[600:]), 1.2)
        for part in parts:
            told += reader.feed(part, 1.4)
        told += reader.finish(1.4)
        results.append((only_recording(told), sum(flaw.count for flaw in flaws(told))))
    (one, damage), (other, other_damage) = results
    np.testing.assert_array_equal(one[0], other[0])
    np.testing.assert_array_equal(one[1], other[1])
    assert damage == other_damage


@pytest.mark.parametrize(
    ("line", "end"),
    [
        ("{ms},{f}", "\n"),
        ("{ms};{f}", "\r\n"),
        ("{ms}\t{f}", "\r"),
        ("  {ms} {f} ", "\n"),
        ("{ms},{f},", "\n"),
    ],
)
def test_a_steady_stream_of_any_writing_is_delivered_whole(line, end):
    time_s, force_N = only_recording(read_lines(steady(3000, line + end)))
    np.testing.assert_array_equal(time_s, np.arange(3000) / 1000)
    np.testing.assert_array_equal(force_N, 0.25 * (np.arange(3000) % 9))


@pytest.mark.parametrize(
    ("per_second", "unit"), [(1, "s"), (1000, "ms"), (1_000_000, "µs")], ids=["s", "ms", "us"]
)
@pytest.mark.parametrize("rate_Hz", [10, 80, 1000])
def test_the_unit_of_time_is_told_by_this_computers_clock(per_second, unit, rate_Hz):
    lines = [
        (50 + i / rate_Hz, b"%.6f,%d\n" % (7 * per_second + i / rate_Hz * per_second, i % 5))
        for i in range(4 * rate_Hz)
    ]
    told = read_lines(lines)
    time_s, _ = only_recording(told)
    assert time_s == pytest.approx(7 + np.arange(4 * rate_Hz) / rate_Hz, abs=1e-6)
    (sentence,) = news(told, "found out")
    assert f"time in {unit} " in sentence
    assert "told by this computer's clock" in sentence


def test_newtons_are_assumed_only_if_that_is_said():
    (said,) = news(read_lines(steady(1500, "{ms},{f}\n")), "found out")
    assert "newtons are assumed" in said
    assert "--force-unit" in said


def test_a_heading_is_honoured_and_nothing_is_called_assumed():
    told = read_lines([(100.0, b"time_ms,force_gf\n"), *steady(1500, "{ms},{f}\n")])
    _, force_N = only_recording(told)
    assert force_N[4] == pytest.approx(1.00 * 9.80665e-3)  # the gram-force: NIST SP 811, B.8
    (said,) = news(told, "found out")
    assert "assumed" not in said


def test_the_persons_choices_outrank_what_is_found():
    told = read_lines(
        steady(1500, "{i},{ms},{f}\n"), time_unit="ms", time_column="2", column="3", force_unit="mN"
    )
    time_s, force_N = only_recording(told)
    assert time_s[-1] == 1.499
    assert force_N.max() == pytest.approx(0.002)


def test_decimal_commas_are_understood():
    lines = [(100 + i / 100, f"{i * 10};{i % 7},{i % 10}5\r\n".encode()) for i in range(300)]
    _, force_N = only_recording(read_lines(lines))
    assert force_N[13] == 6.35


@pytest.mark.parametrize("dirt", [b"\x00\x00", b"\xef\xbb\xbf", b"\xff\xfe"])
def test_zero_bytes_and_byte_order_marks_are_no_damage(dirt):
    lines = [(moment, dirt + octets) for moment, octets in steady(1500, "{ms},{f}\n")]
    told = read_lines(lines)
    assert only_recording(told)[0].size == 1500
    assert flaws(told) == []


def test_utf16_is_read_as_well():
    lines = [(moment, octets.decode().encode("utf-16-le")) for moment, octets in steady(1500, "{ms},{f}\n")]
    assert only_recording(read_lines(lines))[0].size == 1500


def test_chatter_before_the_numbers_is_passed_over():
    greeting = [(100.0, b"Board ready, firmware 1.2\r\n"), (100.0, b"calibrating, please wait\r\n")]
    told = read_lines([*greeting, *steady(1500, "{ms},{f}\r\n")])
    assert only_recording(told)[0].size == 1500


def test_garbage_between_lines_is_a_flaw_and_news_and_costs_only_itself():
    lines = steady(3000, "{ms},{f}\n")
    lines.insert(2000, (101.9995, b"\xfe\x81@@\n"))
    told = read_lines(lines)
    assert only_recording(told)[0].size == 3000
    (flaw,) = flaws(told)
    assert (flaw.kind, flaw.count) == ("unreadable lines", 1)
    assert flaw.start_s == 1.999
    assert "left out" in news(told, "not numbers")[0]


def test_a_line_without_end_costs_only_itself():
    lines = steady(3000, "{ms},{f}\n")
    lines.insert(2000, (101.9995, b"1" * 50_000 + b"\n"))
    told = read_lines(lines)
    assert only_recording(told)[0].size == 3000
    assert [flaw.kind for flaw in flaws(told)] == ["unreadable lines"]


def test_lost_lines_are_a_gap_with_their_number():
    lines = steady(3000, "{ms},{f}\n")
    del lines[2000:2017]
    told = read_lines(lines)
    (flaw,) = flaws(told)
    assert (flaw.kind, flaw.count, flaw.start_s, flaw.end_s) == ("gap", 17, 1.999, 2.017)
    assert "17 samples did not arrive" in news(told, "gap")[0]


@pytest.mark.parametrize(("unit", "per_second"), [("ms", 1000), ("us", 1_000_000)])
def test_a_counter_of_32_bits_that_runs_over_goes_on(unit, per_second):
    first = 2**32 - per_second  # one second before
    lines = [
        (100 + i / 100, b"%d,%d\n" % ((first + i * per_second // 100) % 2**32, i % 7)) for i in range(400)
    ]
    told = read_lines([(100.0, f"time_{unit},force_N\n".encode()), *lines])
    time_s, _ = only_recording(told)
    assert np.diff(time_s) == pytest.approx(0.01, abs=1e-6)
    assert flaws(told) == []


def test_a_clock_that_is_set_back_begins_a_new_recording():
    before, after = steady(2000, "{ms},{f}\n", first=5000), steady(2000, "{ms},{f}\n", begin_s=103.0)
    told = read_lines(before + after)
    first, second = recordings(told)
    assert (first[0].size, second[0].size) == (2000, 2000)
    assert first[0][-1] == 6.999
    assert np.diff(second[0]) == pytest.approx(0.001)
    assert len(news(told, "clock jumped")) == 1


def test_one_slip_of_the_clock_ends_nothing():
    lines = steady(3000, "{ms},{f}\n")
    lines[2000] = (lines[2000][0], b"17,0.5\n")
    told = read_lines(lines)
    assert only_recording(told)[0].size == 2999
    assert [flaw.kind for flaw in flaws(told)] == ["backward times"]


def test_counts_without_a_scale_are_refused_with_what_to_do():
    lines = [(100.0, b"time_us,counts\n"), *steady(5000, "{us},{i}\n")]
    with pytest.raises(SourceError, match="--scale") as refused:
        read_lines(lines)
    assert refused.value.code == "scale-missing"
    _, force_N = only_recording(read_lines(lines, scale_N=0.5))
    assert force_N[7] == 3.5


def test_a_heading_that_comes_late_and_says_the_same_changes_nothing():
    lines = steady(4000, "{us},{i}\n")
    lines.insert(3000, (103.0, b"# time_us,counts\n"))
    told = read_lines(lines, scale_N=0.01)
    assert only_recording(told)[0].size == 4000
    assert flaws(told) == []


def test_a_heading_that_comes_late_and_says_otherwise_begins_a_new_recording():
    lines = steady(6000, "{us},{f}\n")
    lines.insert(3000, (103.0, b"# time_us,force_mN\n"))
    told = read_lines(lines)
    first, second = recordings(told)
    assert (first[1].max(), second[1].max()) == (2.0, 0.002)
    assert "newtons are assumed" in news(told, "found out")[0]
    assert "newtons" not in news(told, "found out")[1]


def test_a_repeated_heading_is_no_damage():
    lines = [(100.0, b"time_us,force_mN\n"), *steady(3000, "{us},{f}\n")]
    lines.insert(2000, (102.0, b"time_us,force_mN\n"))
    told = read_lines(lines)
    assert only_recording(told)[0].size == 3000
    assert flaws(told) == []


def test_a_heading_within_the_first_second_is_honoured_too():
    lines = steady(3000, "{us},{f}\n")
    lines.insert(500, (100.4995, b"time_us,force_mN\n"))
    told = read_lines(lines)
    assert recordings(told)[-1][1].max() == 0.002
    assert sum(time_s.size for time_s, _ in recordings(told)) == 3000


def test_two_columns_that_could_be_the_force_need_a_choice():
    lines = steady(5000, "{ms},{f},{f}\n")
    with pytest.raises(SourceError, match="--column") as refused:
        read_lines(lines)
    assert refused.value.code == "column-ambiguous"
    assert only_recording(read_lines(lines, column="2"))[0].size == 5000


def test_words_without_numbers_are_told_and_listened_through():
    words = [(100 + 0.1 * i, b"waiting for the cell\n") for i in range(60)]
    told = read_lines([*words, *steady(3000, "{ms},{f}\n", begin_s=106.0)])
    assert "no numbers" in news(told, "not numbers")[0]
    assert only_recording(told)[0].size == 3000


def test_a_sender_that_changes_its_lines_is_looked_at_anew():
    told = read_lines([*steady(3000, "{ms},{f}\n"), *steady(8000, "{f};{ms}\n", begin_s=103.0, first=9000)])
    first, second = recordings(told)
    assert first[0].size == 3000
    assert second[0].size > 3000
    assert second[0][-1] == 16.999
    assert any(isinstance(delivery, Ended) for delivery in told)


def test_half_a_line_at_the_start_is_no_sample():
    lines = steady(1500, "{ms},{f}\n", first=98765)
    lines[0] = (lines[0][0], b"65,0.25\n")  # of 98765,0.25
    time_s, _ = only_recording(read_lines(lines, mid_line=True))
    assert time_s[0] == 98.766
    whole = only_recording(read_lines(steady(1500, "{ms},{f}\n"), mid_line=True))
    assert whole[0].size == 1500


def test_impossible_choices_are_refused_before_anything_is_read():
    with pytest.raises(SourceError, match="parsec") as refused:
        LineReader(TableChoices(time_unit="parsec"))
    assert refused.value.code == "unit-unknown"


def test_a_coarse_clock_is_told_as_one_flaw_a_second_not_one_a_chunk():
    lines = [(100 + i / 500, b"%.2f,%d\n" % (i // 5 / 100, i % 7)) for i in range(5000)]
    told = read_lines(lines)
    even = [flaw for flaw in flaws(told) if flaw.kind == "evenly spaced"]
    assert 0 < len(even) <= 11
    assert sum(flaw.count for flaw in even) == 5000
    assert only_recording(told)[0].size == 5000


def test_deliveries_keep_what_a_chunk_promises():
    lines = steady(4000, "{ms},{f}\n")
    lines[2500] = (lines[2500][0], b"?,?\n")
    last_s = -1.0
    for delivery in read_lines(lines):
        if isinstance(delivery, Chunk) and delivery.time_s.size:
            assert delivery.time_s[0] > last_s
            assert np.all(np.diff(delivery.time_s) > 0)
            last_s = delivery.time_s[-1]


def test_a_clock_read_in_bursts_by_a_busy_program_is_still_the_time():
    """Thirty lines within a millisecond, then nothing for 29 ms: no even steps, but only one column never falls."""
    draw = np.random.default_rng(4)
    lines = [
        (
            100 + 0.03 * k + 1e-6 * i,
            f"{0.03 * k + 2e-6 * i:.6f},{0.1 + 0.01 * draw.standard_normal():.4f}\n".encode(),
        )
        for k in range(120)
        for i in range(30)
    ]
    time_s, force_N = only_recording(read_lines(lines))
    assert time_s.size > 3000
    assert np.ptp(time_s) == pytest.approx(0.03 * 119, abs=0.1)
    assert abs(force_N.mean() - 0.1) < 0.01
