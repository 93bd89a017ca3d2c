"""What goes into a logbook comes out of it, digit for digit."""

from __future__ import annotations

import math
import tempfile
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from archive.books import DAY, FakeClock, fill, gap, invented, joined, opened, same, window_over
from pullbench.detect import Watch
from pullbench.errors import LogbookError
from pullbench.model import Chunk, Flaw, News, PullWindow, Trace
from pullbench.physics.bench import demo_days

FORCES = st.floats(allow_nan=False, allow_infinity=False)  # -0.0 and the smallest ones among them
TIMES = st.lists(st.floats(-1e300, 1e300), min_size=1, max_size=60, unique=True).map(sorted)
FLAWS = st.builds(
    Flaw,
    kind=st.sampled_from(["gap", "unreadable lines", "missing values"]),
    start_s=st.floats(-1e6, 1e6),
    end_s=st.floats(-1e6, 1e6),
    count=st.integers(0, 10**9),
    sentence=st.text(st.characters(exclude_categories=["Cs"]), max_size=40),
)


@st.composite
def deliveries(draw: st.DrawFn) -> list[Chunk]:
    """Return a recording in pieces, some empty, some with flaws."""
    times = np.array(draw(TIMES))
    forces = np.array(draw(st.lists(FORCES, min_size=times.size, max_size=times.size)))
    cuts = sorted(draw(st.lists(st.integers(0, times.size), max_size=8)))
    return [
        Chunk(time_s=t, force_N=f, flaws=tuple(draw(st.lists(FLAWS, max_size=2))))
        for t, f in zip(np.split(times, cuts), np.split(forces, cuts), strict=True)
    ]


@settings(max_examples=60, deadline=None)
@given(pieces=deliveries(), commits=st.sets(st.integers(0, 8)))
def test_deliveries_come_back_as_received_however_they_were_committed(pieces, commits):
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        for k, piece in enumerate(pieces):
            logbook.keep(recording, piece)
            if k in commits:
                logbook.commit()
        logbook.commit()
        got = list(logbook.chunks(recording))
        whole = logbook.trace(recording)

    wanted = [piece for piece in pieces if piece.time_s.size or piece.flaws]
    assert [(p.time_s.tobytes(), p.force_N.tobytes(), p.flaws) for p in got] == [
        (p.time_s.tobytes(), p.force_N.tobytes(), p.flaws) for p in wanted
    ]
    assert same(whole, joined(pieces))


@settings(max_examples=40, deadline=None)
@given(
    cuts=st.lists(st.integers(0, 3000), max_size=6),
    ends=st.tuples(st.integers(0, 2999), st.integers(0, 2999)),
)
def test_any_range_holds_its_samples_both_ends_included_and_the_flaws_that_touch_it(cuts, ends):
    first, last = sorted(ends)
    whole = invented(0, 3000)
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        for t, f in zip(
            np.split(whole.time_s, sorted(cuts)), np.split(whole.force_N, sorted(cuts)), strict=True
        ):
            logbook.keep(recording, Chunk(time_s=t, force_N=f))
            logbook.commit()
        late = gap(0.5, 0.6)  # told after the samples it is about
        logbook.keep(recording, Chunk(time_s=np.empty(0), force_N=np.empty(0), flaws=(late,)))
        logbook.commit()
        got = logbook.trace(recording, float(whole.time_s[first]), float(whole.time_s[last]))

    assert got.time_s.tobytes() == whole.time_s[first : last + 1].tobytes()
    assert got.force_N.tobytes() == whole.force_N[first : last + 1].tobytes()
    touches = whole.time_s[first] <= late.end_s and whole.time_s[last] >= late.start_s
    assert got.flaws == ((late,) if touches else ())


def test_the_windows_of_a_demo_recording_are_rebuilt_to_the_last_bit(tmp_path):
    recorded = next(iter(demo_days(0))).trace
    watch, caught = Watch(), []
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="virtual bench", label="simulated")
        for begin in range(0, recorded.time_s.size, 41):
            cut = slice(begin, begin + 41)
            flaws = (gap(3.0, 3.2),) if begin == 0 else ()
            chunk = Chunk(time_s=recorded.time_s[cut], force_N=recorded.force_N[cut], flaws=flaws)
            logbook.keep(recording, chunk)
            caught += [
                (window, logbook.add_reading(recording, window=window, record=b"{}", version="1"))
                for window in watch.advance(chunk)
            ]
        again = [logbook.window(pull.id) for _, pull in caught]
        numbers = [pull.number for _, pull in caught]

    assert len(caught) >= 1
    assert numbers == list(range(1, len(caught) + 1))
    for (window, _), rebuilt in zip(caught, again, strict=True):
        assert _bits(rebuilt) == _bits(window)


@settings(max_examples=40, deadline=None)
@given(rest=st.none() | FORCES, u_rest=FORCES, start=FORCES, end=FORCES, flaws=st.lists(FLAWS, max_size=3))
def test_the_bounds_of_a_window_keep_every_digit_even_the_sign_of_nought(rest, u_rest, start, end, flaws):
    chunk = invented(0, 5)
    window = PullWindow(
        trace=Trace(time_s=chunk.time_s, force_N=chunk.force_N, flaws=tuple(flaws)),
        start_s=start, end_s=end, direction=1, cut_start=True, earlier_rest_N=rest, u_earlier_rest_N=u_rest,
    )  # fmt: skip
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        logbook.keep(recording, chunk)
        pull = logbook.add_reading(recording, window=window, record=b"{}", version="1")
        assert _bits(logbook.window(pull.id)) == _bits(window)


def _bits(window: PullWindow) -> tuple:
    numbers = (window.start_s, window.end_s, window.earlier_rest_N, window.u_earlier_rest_N)
    return (
        window.trace.time_s.tobytes(), window.trace.force_N.tobytes(), window.trace.flaws,
        tuple(map(repr, numbers)), window.direction, window.cut_start, window.cut_end,
    )  # fmt: skip


def test_news_come_back_in_order_with_the_newest_time_before_them(tmp_path):
    clock = FakeClock()
    with opened(tmp_path / "day.pulls", clock) as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        logbook.keep_news(recording, News("connected", "The sensor answers."))
        logbook.keep(recording, invented(0, 100))
        clock.at += 5
        logbook.keep_news(recording, News("gap", "half a character: \ud800", 0.05))
        logbook.commit()
        first, second = logbook.news(DAY)
    assert first.news == News("connected", "The sensor answers.")
    assert first.after_s is None
    assert second.news == News("gap", "half a character: ?", 0.05)
    assert second.after_s == invented(99, 1).time_s[0]
    assert second.told_at - first.told_at == 5


def test_a_day_tells_what_it_holds_without_touching_a_sample(tmp_path):
    fill(tmp_path / "day.pulls", commits=4, samples=500, pulls=2)
    with opened(tmp_path / "day.pulls") as logbook:
        (day,) = logbook.days()
        (row,) = logbook.recordings(DAY)
        stretches = logbook.stretches(row.id, 0.6, 1.2)
    whole = invented(0, 2000)
    assert (day.day, day.recordings, day.samples, day.pulls) == (DAY, 1, 2000, 2)
    assert (row.first_s, row.last_s, row.count) == (whole.time_s[0], whole.time_s[-1], 2000)
    assert row.ending == "The string was untied."
    assert stretches.first_s.tolist() == [whole.time_s[500], whole.time_s[1000]]
    assert stretches.least_N.tolist() == [whole.force_N[500:1000].min(), whole.force_N[1000:1500].min()]
    assert stretches.most_N.tolist() == [whole.force_N[500:1000].max(), whole.force_N[1000:1500].max()]


def test_recordings_of_a_day_lie_one_behind_the_other_on_the_axis_of_the_bench(tmp_path):
    clock = FakeClock()
    with opened(tmp_path / "day.pulls", clock) as logbook:
        for began_after_s in (0, 2, 3600):
            clock.at += began_after_s
            recording = logbook.begin_recording(source="invented", label=None)
            logbook.keep(recording, invented(5000, 4000))  # own time 5 s to 9 s
            logbook.end_recording(recording, "Replugged.")
        rows = logbook.recordings(DAY)
    spans = [(row.offset_s + row.first_s, row.offset_s + row.last_s) for row in rows]
    assert rows[0].offset_s == 0.0
    assert all(row.offset_s == math.floor(row.offset_s) for row in rows)
    assert 1.0 <= spans[1][0] - spans[0][1] < 2.0  # 2 s by the clock would lie inside the first recording
    assert 3602.0 <= spans[2][0] - spans[0][0] < 3603.0  # an hour's break is an hour on the strip


def test_samples_that_go_back_in_time_are_refused_and_the_recording_goes_on(tmp_path):
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        logbook.keep(recording, invented(0, 100))
        for wrong in (invented(50, 10), Chunk(time_s=np.array([5.0, 5.0]), force_N=np.zeros(2))):
            with pytest.raises(LogbookError) as caught:
                logbook.keep(recording, wrong)
            assert caught.value.code == "logbook-times-back"
        logbook.keep(recording, invented(100, 100))
        logbook.commit()
        assert same(logbook.trace(recording), invented(0, 200))


def test_a_recording_that_ended_takes_no_more(tmp_path):
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        logbook.end_recording(recording, "Unplugged.")
        for act in (
            lambda: logbook.keep(recording, invented(0, 1)),
            lambda: logbook.keep_news(recording, News("back", "again")),
            lambda: logbook.end_recording(recording, "twice"),
        ):
            with pytest.raises(LogbookError, match="no open recording 1"):
                act()


def test_a_pull_keeps_its_samples_with_it_even_when_nobody_called_commit(tmp_path):
    chunk = invented(0, 800)
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        logbook.keep(recording, chunk)
        pull = logbook.add_reading(recording, window=window_over(chunk), record=b"{}", version="1")
        assert logbook.waiting == 0
        assert same(logbook.window(pull.id).trace, chunk)
