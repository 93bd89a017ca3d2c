"""The virtual bench as a source: in real time or faster, without end, on one clock."""

import math
from itertools import islice, takewhile

import numpy as np
import pytest

from pullbench.detect import Watch
from pullbench.errors import BenchError
from pullbench.model import Setting
from pullbench.physics.bench import demo_day, demo_days
from pullbench.sources import VirtualBench

DAY = demo_day(3)


class FakeClock:
    """A clock that only moves when somebody sleeps or works."""

    def __init__(self):
        self.now_s, self.slept_s = 100.0, []

    def __call__(self):
        return self.now_s

    def sleep(self, wait_s):
        assert wait_s > 0
        self.slept_s.append(wait_s)
        self.now_s += wait_s


def played(recordings=DAY[:2], *, work_s=0.0, **more):
    """Return the chunks, when each came, and the clock."""
    clock, chunks, when_s = FakeClock(), [], []
    for chunk in VirtualBench(recordings=recordings).chunks(clock=clock, sleep=clock.sleep, **more):
        chunks.append(chunk)
        when_s.append(clock.now_s - 100.0)
        clock.now_s += work_s
    return chunks, np.array(when_s), clock


def test_every_sample_of_every_recording_arrives_once_and_in_order():
    chunks, _, _ = played()
    force_N = np.concatenate([chunk.force_N for chunk in chunks])
    assert np.array_equal(force_N, np.concatenate([recording.trace.force_N for recording in DAY[:2]]))
    time_s = np.concatenate([chunk.time_s for chunk in chunks])
    assert np.diff(time_s) == pytest.approx(1 / 80, rel=1e-9)
    first = DAY[0].trace.time_s.size
    assert np.array_equal(time_s[:first], DAY[0].trace.time_s)


@pytest.mark.parametrize("speed", [0.5, 1.0, 20.0])
def test_a_chunk_comes_when_its_last_sample_is_due(speed):
    chunks, when_s, _ = played(DAY[:1], speed=speed)
    due_s = np.array([chunk.time_s[-1] for chunk in chunks]) / speed
    assert when_s == pytest.approx(due_s, abs=1e-9)


def test_at_infinite_speed_nobody_waits():
    _, when_s, clock = played(DAY[:1], speed=float("inf"))
    assert clock.slept_s == []
    assert when_s.max() == 0


def test_a_reader_that_falls_behind_loses_nothing_and_catches_up():
    slow, _, clock = played(DAY[:1], work_s=0.08)
    quick, _, _ = played(DAY[:1])
    assert sum(chunk.time_s.size for chunk in slow) == sum(chunk.time_s.size for chunk in quick)
    assert len(clock.slept_s) < 3  # 0.08 s of work for every 0.05 s of samples: never early again


@pytest.mark.parametrize("chunk_s", [0.01, 0.05, 1.0])
def test_a_chunk_spans_no_more_time_than_asked(chunk_s):
    chunks, _, _ = played(DAY[:1], speed=float("inf"), chunk_s=chunk_s)
    assert max(np.ptp(chunk.time_s) for chunk in chunks) <= chunk_s


def test_the_day_never_ends_and_repeats_with_other_pulls():
    days = list(islice(demo_days(3), 8))
    assert [day.trace.force_N.tobytes() for day in days[:6]] == [day.trace.force_N.tobytes() for day in DAY]
    assert [day.name for day in days[6:]] == [day.name for day in DAY[:2]]
    assert not np.array_equal(days[6].trace.force_N[:200], days[0].trace.force_N[:200])
    bench = VirtualBench(3)
    clock = FakeClock()
    chunks = bench.chunks(clock=clock, sleep=clock.sleep, speed=float("inf"))
    first = [chunk.time_s[-1] for chunk in takewhile(lambda _: bench.playing.name == DAY[0].name, chunks)]
    assert first[-1] == pytest.approx(DAY[0].trace.time_s[-1])
    assert bench.playing.name == DAY[1].name
    assert bench.playing.truth.pulls[0].breakaway_force_N == DAY[1].truth.pulls[0].breakaway_force_N


def test_the_watch_catches_its_pulls_as_they_come():
    watch, caught = Watch(), []
    chunks, _, _ = played(DAY[:2], speed=float("inf"))
    for chunk in chunks:
        caught += watch.advance(chunk)
    caught += watch.finish()
    assert len(caught) == sum(len(recording.truth.pulls) for recording in DAY[:2])


def test_its_numbers_have_to_say_that_they_are_simulated():
    assert VirtualBench.label == "simulated"


@pytest.mark.parametrize(
    "sizes", [{"speed": 0.0}, {"speed": float("nan")}, {"chunk_s": 0.0}, {"chunk_s": float("inf")}]
)
def test_an_impossible_pace_is_refused_before_anything_plays(sizes):
    clock = FakeClock()
    with pytest.raises(BenchError) as refused:
        VirtualBench().chunks(clock=clock, sleep=clock.sleep, **sizes)
    assert refused.value.code == "virtual-bench-impossible"


def test_the_bench_says_what_is_on_its_sled_before_each_recording():
    source = VirtualBench(0, speed=math.inf, recordings=demo_day(0)[:3])
    deliveries = source.deliveries(clock=lambda: 0.0, sleep=lambda wait_s: None)
    told = [(one, source.playing.truth) for one in deliveries if isinstance(one, Setting)]
    assert len(told) == 3
    for setting, truth in told:
        assert setting.pressing_kg == pytest.approx(truth.mass_kg)
        assert setting.surface == truth.sole
