"""Bare numbers: times by this computer's clock, from arrivals that are late but never early."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import SourceError
from pullbench.model import Chunk
from sources.live_bench import flaws, news, only_recording, read_lines, recordings

LATENCY_s = 0.016  # a USB converter hands its bytes over this often


def bursty(taken_s, *, every_s=LATENCY_s, seed=1, stalls=()):
    """Return (moment, bytes) of readings that were taken at some times and handed over in bursts.

    Each reading is the number of its own place, so that tests can tell which one was lost.  stalls:
    (from, to): nothing is handed over between.
    """
    rng, parcels = np.random.default_rng(seed), {}
    for place, moment_s in enumerate(np.asarray(taken_s)):
        if np.isnan(moment_s):
            continue
        handed_s = np.ceil(moment_s / every_s) * every_s + 0.001
        for from_s, to_s in stalls:
            handed_s = to_s if from_s <= handed_s < to_s else handed_s
        parcels.setdefault(handed_s, []).append(f"{place}.0\n")
    moments = np.array(sorted(parcels))
    late_s = moments + rng.uniform(0, 0.004, moments.size)
    return [
        (float(50 + at), "".join(parcels[m]).encode())
        for m, at in zip(moments, np.maximum.accumulate(late_s), strict=True)
    ]


def error_s(time_s, place, rate_Hz):
    """Return how far times stray from the true ones, their common offset apart."""
    apart = time_s - place / rate_Hz
    return np.abs(apart - np.median(apart)).max()


@settings(deadline=None, max_examples=12)
@given(rate_Hz=st.floats(8.0, 1200.0), seed=st.integers(0, 1000))
def test_times_are_even_and_true_whatever_the_rate_and_the_bursts(rate_Hz, seed):
    count = int(8 * rate_Hz)
    time_s, place = only_recording(read_lines(bursty(np.arange(count) / rate_Hz, seed=seed)))
    assert place.size == count
    # 0.25 % of an interval: the count runs at most 0.2 % off its rate, which itself is steered.
    assert np.diff(time_s) == pytest.approx(1 / rate_Hz, rel=0.005)
    assert error_s(time_s, place, rate_Hz) < LATENCY_s  # two seconds of bursts know the rate to 0.2 %


def test_the_first_two_seconds_are_held_back_and_then_delivered():
    lines = bursty(np.arange(800) / 80)
    early = read_lines([line for line in lines if line[0] < 51.9], finish=False)
    assert sum(d.time_s.size for d in early if isinstance(d, Chunk)) == 0
    time_s, place = only_recording(read_lines(lines))
    assert place[0] == 0
    assert time_s[0] == 0


def test_what_is_assumed_is_said_with_the_rate():
    (said,) = news(read_lines(bursty(np.arange(800) / 80)), "found out")
    assert "no time in them" in said
    assert "evenly spaced" in said
    assert "newtons are assumed" in said


def test_a_stall_that_loses_nothing_is_no_gap():
    told = read_lines(bursty(np.arange(1600) / 80, stalls=[(8.0, 9.3)]))
    time_s, place = only_recording(told)
    assert place.size == 1600
    assert flaws(told) == []
    assert error_s(time_s, place, 80) < LATENCY_s


@pytest.mark.parametrize("rate_Hz", [10, 80, 1000])
def test_a_stall_that_loses_readings_is_a_gap_of_their_number(rate_Hz):
    taken_s = np.arange(20 * rate_Hz) / rate_Hz
    taken_s[(taken_s >= 8) & (taken_s < 9.3)] = np.nan
    lost = int(np.isnan(taken_s).sum())
    told = read_lines(bursty(taken_s))
    time_s, place = only_recording(told)
    (flaw,) = flaws(told)
    assert flaw.kind == "gap"
    assert flaw.count == pytest.approx(lost, abs=max(1, 0.02 * rate_Hz))
    assert flaw.start_s == pytest.approx(8.0, abs=0.15)
    assert error_s(time_s, place, rate_Hz) < max(2 * LATENCY_s, 0.5 / rate_Hz)
    assert len(news(told, "gap")) == 1


@pytest.mark.parametrize(("rate_Hz", "lost"), [(10, 1), (80, 4), (1000, 60)])
def test_readings_lost_without_a_pause_show_as_a_step_that_stays(rate_Hz, lost):
    taken_s = np.arange(20 * rate_Hz) / rate_Hz
    taken_s[8 * rate_Hz : 8 * rate_Hz + lost] = np.nan
    told = read_lines(bursty(taken_s))
    (flaw,) = flaws(told)
    assert flaw.kind == "gap"
    assert flaw.count == pytest.approx(lost, rel=0.2)
    assert flaw.start_s <= 8.1 <= flaw.end_s + 0.2
    time_s, place = only_recording(told)
    after = time_s > flaw.end_s
    before = time_s < flaw.start_s
    shift_s = np.median(time_s[after] - place[after] / rate_Hz) - np.median(
        time_s[before] - place[before] / rate_Hz
    )
    assert abs(shift_s) < max(LATENCY_s, 0.5 / rate_Hz)


def test_a_clock_a_little_off_is_followed_without_a_gap():
    taken_s = np.arange(80 * 120) / 80
    taken_s += 0.0005 * np.maximum(taken_s - 5, 0)  # the sensor slows by 0.05 % as it warms up
    told = read_lines(bursty(taken_s))
    time_s, _ = only_recording(told)
    assert flaws(told) == []
    apart = time_s - taken_s
    assert np.ptp(apart[-2000:]) < LATENCY_s


def test_another_rate_begins_a_new_recording():
    taken_s = np.concatenate((np.arange(800) / 80, 10 + np.arange(200) / 10))
    told = read_lines(bursty(taken_s))
    parts = recordings(told)
    assert len(parts) >= 2
    assert np.diff(parts[0][0])[:700] == pytest.approx(1 / 80, rel=0.01)
    assert np.diff(parts[-1][0])[5:] == pytest.approx(0.1, rel=0.01)


def test_what_waited_in_a_pipe_before_does_not_spoil_the_rate():
    lines = bursty(np.arange(2000) / 80)
    waiting = b"".join(octets for moment, octets in lines if moment < 55)
    told = read_lines([(55.0, waiting), *[line for line in lines if line[0] >= 55]])
    time_s, place = only_recording(told)
    assert place.size == 2000
    assert np.diff(time_s) == pytest.approx(1 / 80, rel=0.005)


def test_lines_that_end_before_their_rate_is_known_are_refused():
    with pytest.raises(SourceError, match="--rate") as refused:
        read_lines(bursty(np.arange(100) / 80))
    assert refused.value.code == "rate-missing"


def test_a_given_rate_is_taken_as_said():
    told = read_lines([(50.0, b"".join(b"%d.5\n" % i for i in range(400)))], rate_Hz=80)
    time_s, _ = only_recording(told)
    np.testing.assert_array_equal(time_s, np.arange(400) / 80)


def test_garbage_among_bare_numbers_keeps_its_place():
    lines = bursty(np.arange(1600) / 80)
    at = next(k for k, (_, octets) in enumerate(lines) if b"800.0\n" in octets)
    lines[at] = (lines[at][0], lines[at][1].replace(b"800.0\n", b"8x@0\n"))
    told = read_lines(lines)
    time_s, place = only_recording(told)
    assert 800 not in place
    assert error_s(time_s, place, 80) < LATENCY_s
    assert [flaw.kind for flaw in flaws(told)] == ["unreadable lines"]
