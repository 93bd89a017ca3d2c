"""A folder that is watched for tables, and a recording that is replayed."""

from pathlib import Path

import numpy as np
import pytest

from pullbench.detect import Watch
from pullbench.errors import RecordingError, SourceError
from pullbench.model import Chunk, Ended
from pullbench.physics.bench import demo_day
from pullbench.sources import FolderOfTables, Replay, TableChoices, VirtualBench, open_table, read_table
from sources.invented import digits, table
from sources.live_bench import FakeClock, flaws, news, only_recording, read_lines, recordings

TRACES = Path(__file__).parents[3] / "shared" / "traces"
MEASURED = {
    "hx711_slider_stickslip/Force7_OG.txt": {"rate_Hz": 4},
    "oring_piston_seal/2_O-ring257_5bar.csv": {"column": "7"},
    "slider_constant_load/test_data_2.txt": {"column": "Friction"},
}


def pull(count=240):
    return table(digits(count), "{ms},{mN}", "time [ms],force [mN]")


def watched(folder, happenings, until_s=112.0, **choices):
    """Return the deliveries while things happen to a folder; happenings: moment in s -> function."""
    clock, source, told = FakeClock(), FolderOfTables(folder, TableChoices(**choices)), []
    waiting = sorted(happenings.items())
    for delivery in source.deliveries(clock=clock, sleep=clock.sleep):
        told.append(delivery)
        while waiting and clock.now_s >= waiting[0][0]:
            waiting.pop(0)[1]()
        if clock.now_s >= until_s:
            source.close()
    return told


def test_each_new_file_is_read_whole_as_a_recording_of_its_own(tmp_path):
    told = watched(
        tmp_path,
        {
            101: lambda: (tmp_path / "a.csv").write_text(pull()),
            105: lambda: (tmp_path / "b.csv").write_text(pull(200)),
        },
    )
    first, second = recordings(told)
    assert (first[0].size, second[0].size) == (240, 200)
    np.testing.assert_array_equal(first[1], read_table(tmp_path / "a.csv")[0].force_N)
    assert [s.split()[1] for s in news(told, "file read")] == ["a.csv", "b.csv"]


def test_files_that_are_there_at_the_start_are_passed_over(tmp_path):
    (tmp_path / "old.csv").write_text(pull())
    told = watched(tmp_path, {})
    assert recordings(told) == []
    assert "passed over" in news(told, "connected")[0]


def test_a_file_that_is_still_written_is_waited_for(tmp_path):
    text = pull()

    def part(upto):
        return lambda: (tmp_path / "a.csv").write_text(text[: len(text) * upto // 10])

    told = watched(tmp_path, {101 + 0.6 * k: part(k) for k in range(1, 11)})
    assert only_recording(told)[0].size == 240


def test_a_file_that_grows_after_it_was_read_is_not_read_again(tmp_path):
    told = watched(
        tmp_path,
        {
            101: lambda: (tmp_path / "a.csv").write_text(pull(200)),
            106: lambda: (tmp_path / "a.csv").write_text(pull(240)),
        },
    )
    assert only_recording(told)[0].size == 200
    assert "left alone" in news(told, "file refused")[0]


def test_a_new_table_under_an_old_name_is_read(tmp_path):
    (tmp_path / "latest.csv").write_text(pull())
    again = pull().replace("force", "pull")
    told = watched(tmp_path, {103: lambda: (tmp_path / "latest.csv").write_text(again)})
    assert only_recording(told)[0].size == 240


def test_a_refused_file_is_told_and_the_watch_goes_on(tmp_path):
    told = watched(
        tmp_path,
        {
            101: lambda: (tmp_path / "a.xlsx").write_bytes(b"PK\x03\x04" + bytes(400)),
            105: lambda: (tmp_path / "b.csv").write_text(pull()),
        },
    )
    (refused,) = news(told, "file refused")
    assert "a.xlsx is not read." in refused
    assert "save the sheet as CSV" in refused  # the error's own next step
    assert only_recording(told)[0].size == 240


@pytest.mark.parametrize("name", [".a.csv.swp", "~$a.csv", "a.csv.part", "a.tmp"])
def test_files_in_the_making_are_not_looked_at(tmp_path, name):
    told = watched(tmp_path, {101: lambda: (tmp_path / name).write_text(pull())})
    assert recordings(told) == []
    assert news(told, "file refused") == []


def test_a_folder_that_goes_away_and_comes_back_is_told(tmp_path):
    folder = tmp_path / "drop"
    folder.mkdir()
    told = watched(
        folder,
        {101: folder.rmdir, 104: folder.mkdir, 106: lambda: (folder / "a.csv").write_text(pull())},
    )
    assert len(news(told, "lost")) == len(news(told, "back")) == 1
    assert only_recording(told)[0].size == 240


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    clock = FakeClock()
    with pytest.raises(SourceError) as refused:
        next(FolderOfTables(tmp_path / "none").deliveries(clock=clock, sleep=clock.sleep))
    assert refused.value.code == "folder-missing"


def replayed(path, speed=float("inf"), **choices):
    clock = FakeClock()
    source, told, when_s = Replay(path, speed, TableChoices(**choices)), [], []
    for delivery in source.deliveries(clock=clock, sleep=clock.sleep):
        told.append(delivery)
        when_s.append(clock.now_s)
    return told, np.array(when_s), source


@pytest.mark.parametrize("speed", [0.2, 1.0, 50.0, float("inf")])
def test_a_replay_has_the_samples_and_flaws_of_the_file(tmp_path, speed):
    path = tmp_path / "pull.csv"
    rows = digits()
    del rows[100:117]
    path.write_text(table(rows, "{ms},{mN}", "time [ms],force [mN]").replace("\n1500,", "\n#?,"))
    told, _, source = replayed(path, speed)
    whole, _ = read_table(path)
    time_s, force_N = only_recording(told)
    np.testing.assert_array_equal(time_s, whole.time_s)
    np.testing.assert_array_equal(force_N, whole.force_N)
    assert sorted(map(str, flaws(told))) == sorted(map(str, whole.flaws))
    assert whole.flaws
    assert source.label == "replayed"


@pytest.mark.skipif(not TRACES.is_dir(), reason="the public traces are not beside the repository")
@pytest.mark.parametrize(("name", "choices"), MEASURED.items(), ids=lambda x: str(x)[:30])
def test_a_replay_of_measured_traces_is_the_file_flaw_for_flaw(name, choices):
    chunks = list(open_table(TRACES / name, TableChoices(**choices)).chunks())
    told, _, _ = replayed(TRACES / name, **choices)
    time_s, force_N = only_recording(told)
    np.testing.assert_array_equal(time_s, np.concatenate([chunk.time_s for chunk in chunks]))
    np.testing.assert_array_equal(force_N, np.concatenate([chunk.force_N for chunk in chunks]))
    assert flaws(told) == sorted((f for chunk in chunks for f in chunk.flaws), key=lambda f: f.start_s)


@pytest.mark.skipif(not TRACES.is_dir(), reason="the public traces are not beside the repository")
@pytest.mark.parametrize(("name", "choices"), MEASURED.items(), ids=lambda x: str(x)[:30])
def test_measured_traces_through_a_pipe_read_as_the_file_does(name, choices):
    octets, block = (TRACES / name).read_bytes(), 4096
    trace, _ = read_table(TRACES / name, TableChoices(**choices))
    told = read_lines([(5.0, octets[at : at + block]) for at in range(0, len(octets), block)], **choices)
    time_s, force_N = only_recording(told)
    np.testing.assert_array_equal(time_s, trace.time_s)
    np.testing.assert_array_equal(force_N, trace.force_N)
    assert sum(flaw.count for flaw in flaws(told)) == sum(flaw.count for flaw in trace.flaws)


@pytest.mark.skipif(not TRACES.is_dir(), reason="the public traces are not beside the repository")
@pytest.mark.parametrize(("name", "choices"), MEASURED.items(), ids=lambda x: str(x)[:30])
def test_the_watch_cuts_the_same_windows_from_a_replay_as_from_the_file(name, choices):
    def windows(chunks):
        watch = Watch()
        return [w for chunk in chunks for w in watch.advance(chunk)] + list(watch.finish())

    told, _, _ = replayed(TRACES / name, 3.0, **choices)
    live = windows(one for one in told if isinstance(one, Chunk))
    read = windows(open_table(TRACES / name, TableChoices(**choices)).chunks())
    assert len(live) == len(read) > 0
    for one, other in zip(live, read, strict=True):
        np.testing.assert_array_equal(one.trace.force_N, other.trace.force_N)
        assert (one.start_s, one.end_s, one.trace.flaws) == (other.start_s, other.end_s, other.trace.flaws)


def test_a_flaw_is_there_before_any_sample_after_it(tmp_path):
    path = tmp_path / "pull.csv"
    rows = digits()
    del rows[100:117]
    path.write_text(table(rows, "{ms},{mN}", "time [ms],force [mN]"))
    known = []
    for chunk in replayed(path)[0]:
        if isinstance(chunk, Chunk):
            known += chunk.flaws
            if chunk.time_s.size and chunk.time_s[-1] > 1.17:
                assert [flaw.kind for flaw in known] == ["gap"]


@pytest.mark.parametrize("speed", [0.2, 1.0, 7.0])
def test_a_replay_keeps_the_recordings_own_pace(tmp_path, speed):
    path = tmp_path / "pull.csv"
    path.write_text(pull())
    told, when_s, _ = replayed(path, speed)
    due = [
        (when, d.time_s[-1])
        for when, d in zip(when_s, told, strict=True)
        if isinstance(d, Chunk) and d.time_s.size
    ]
    first_s = due[0][1]
    for when, sample_s in due:
        assert when - 100.0 == pytest.approx((sample_s - first_s) / speed, abs=1e-6)
    assert np.diff(when_s).max() <= 0.1


def test_a_long_gap_is_waited_through_without_falling_silent(tmp_path):
    path = tmp_path / "pull.csv"
    path.write_text(
        "time [s],force [N]\n"
        + "".join(f"{t:.2f},1.5\n" for t in [*np.arange(0, 2, 0.01), *np.arange(9, 11, 0.01)])
    )
    _, when_s, _ = replayed(path, 1.0)
    assert when_s[-1] > 110
    assert np.diff(when_s).max() <= 0.1


def test_a_replay_ends_by_itself_and_says_so(tmp_path):
    path = tmp_path / "pull.csv"
    path.write_text(pull())
    told, _, _ = replayed(path)
    assert isinstance(told[-1], Ended)
    assert "over" in news(told, "stopped")[0]


@pytest.mark.parametrize("speed", [0.0, -1.0, float("nan")])
def test_an_impossible_speed_is_refused(tmp_path, speed):
    (tmp_path / "pull.csv").write_text(pull())
    with pytest.raises(SourceError) as refused:
        Replay(tmp_path / "pull.csv", speed)
    assert refused.value.code == "speed-impossible"


def test_a_file_that_is_no_table_is_refused_before_anything_plays(tmp_path):
    (tmp_path / "x.csv").write_text("{}\n")
    with pytest.raises(RecordingError):
        Replay(tmp_path / "x.csv")


@pytest.mark.parametrize("speed", [0.2, 1.0, float("inf")])
def test_the_virtual_bench_is_a_source_like_the_others(speed):
    recordings_played = demo_day(3)[:1]
    clock = FakeClock()
    bench = VirtualBench(recordings=recordings_played, speed=speed)
    told, when_s = [], []
    for delivery in bench.deliveries(clock=clock, sleep=clock.sleep):
        told.append(delivery)
        when_s.append(clock.now_s)
    assert (bench.name, bench.label) == ("virtual bench", "simulated")
    np.testing.assert_array_equal(only_recording(told)[1], recordings_played[0].trace.force_N)
    assert np.diff(when_s).max() <= 0.1
    assert "nothing of it is measured" in news(told, "connected")[0]


def test_the_virtual_bench_ends_when_it_is_closed():
    clock, bench = FakeClock(), VirtualBench(3)
    for count, _ in enumerate(bench.deliveries(clock=clock, sleep=clock.sleep)):
        if count == 20:
            bench.close()
    assert count == 20
