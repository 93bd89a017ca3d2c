"""A day written as a table is read back by `pullbench read` as it was received."""

from __future__ import annotations

import csv
import io
import tempfile
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from archive.books import DAY, FakeClock, gap, invented, opened
from pullbench.archive import Logbook
from pullbench.detect import windows
from pullbench.model import Chunk, News
from pullbench.physics.bench import demo_days
from pullbench.sources import open_table

# What the reader takes for a force of a hand, and steps that do not vanish beside a day's seconds.
HAND_N = st.floats(-1e11, 1e11)
STEPS_s = st.floats(1e-4, 60.0)


@st.composite
def recordings(draw: st.DrawFn) -> list[Chunk]:
    """Return one to four recordings, each with a time of its own that may begin anywhere."""
    made = []
    for _ in range(draw(st.integers(1, 4))):
        steps = draw(st.lists(STEPS_s, min_size=2, max_size=80))
        times = np.cumsum([draw(st.floats(-1e3, 1e5)), *steps])
        forces = draw(st.lists(HAND_N, min_size=times.size, max_size=times.size))
        made.append(Chunk(time_s=times, force_N=np.array(forces)))
    return made


@settings(max_examples=60, deadline=None)
@given(made=recordings())
def test_a_day_read_back_has_every_force_and_time_of_all_its_recordings(made):
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "day.pulls") as logbook:
        for chunk in made:
            recording = logbook.begin_recording(source="invented, with, three, commas", label=None)
            logbook.keep(recording, chunk)
            logbook.end_recording(recording, "Replugged.")
        offsets = [row.offset_s for row in logbook.recordings(DAY)]
        table = _written(logbook, Path(folder) / "day.csv")
        trace = open_table(table).trace()
        own = _own_columns(table.read_text())

    forces = np.concatenate([chunk.force_N for chunk in made])
    assert trace.force_N.tobytes() == forces.tobytes()
    assert offsets[0] == 0.0
    on_axis = [made[0].time_s, *(c.time_s + off for c, off in zip(made[1:], offsets[1:], strict=True))]
    assert trace.time_s.tobytes() == np.concatenate(on_axis).tobytes()
    for place, chunk in enumerate(made, 1):
        assert list(map(float, own[place])) == chunk.time_s.tolist()
        assert own[place] == [repr(t) for t in chunk.time_s.tolist()]


def test_pulls_read_from_the_table_are_those_of_the_recording_itself(tmp_path):
    recorded = next(iter(demo_days(0))).trace
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="virtual bench", label="simulated")
        logbook.keep(recording, Chunk(time_s=recorded.time_s, force_N=recorded.force_N))
        logbook.end_recording(recording, "The recording was over.")
        table = _written(logbook, tmp_path / "day.csv")
        direct = list(windows(logbook.chunks(recording)))
    read = list(windows(open_table(table).chunks()))
    assert len(read) == len(direct) >= 1
    for ours, theirs in zip(direct, read, strict=True):
        assert ours.trace.time_s.tobytes() == theirs.trace.time_s.tobytes()
        assert ours.trace.force_N.tobytes() == theirs.trace.force_N.tobytes()
        assert (ours.start_s, ours.end_s, ours.direction) == (theirs.start_s, theirs.end_s, theirs.direction)


def test_gaps_news_and_ends_are_comments_at_their_place(tmp_path):
    before, after = invented(0, 3), invented(10, 3)
    with opened(tmp_path / "day.pulls", FakeClock()) as logbook:
        recording = logbook.begin_recording(source="a serial port", label="replayed")
        logbook.keep_news(recording, News("connected", "The sensor answers."))
        logbook.keep(recording, before)
        flaw = gap(float(before.time_s[-1]), float(after.time_s[0]), 7)
        logbook.keep(recording, Chunk(time_s=after.time_s, force_N=after.force_N, flaws=(flaw,)))
        logbook.keep_news(recording, News("lost", "The plug\ncame out.", 0.0115))
        logbook.end_recording(recording, "Unplugged.")
        out = io.StringIO()
        assert logbook.write_raw(DAY, out) == 6

    def row(chunk: Chunk, k: int) -> str:
        time_s, force_N = float(chunk.time_s[k]), float(chunk.force_N[k])
        return f"{time_s!r},{force_N!r},1,{time_s!r}"

    assert out.getvalue().splitlines() == [
        "# pullbench, raw samples of 2026-11-25, as they were received",
        "# Recording 1 from a serial port, replayed: nothing here was measured now, begun 2026-11-25 09:00:00.",
        "time (s),force (N),recording,own time (s)",
        "# connected: The sensor answers.",
        row(before, 0), row(before, 1), row(before, 2),
        "# 7 samples did not arrive.",
        row(after, 0), row(after, 1),
        "# lost at 0.011 s of its own time: The plug came out.",
        row(after, 2),
        "# Recording 1 ends. Unplugged.",
    ]  # fmt: skip


def _written(logbook: Logbook, path: Path) -> Path:
    with path.open("x", encoding="utf-8", newline="\n") as file:
        logbook.write_raw(DAY, file)
    return path


def _own_columns(text: str) -> dict[int, list[str]]:
    rows = csv.reader(line for line in text.splitlines() if not line.startswith("#"))
    next(rows)
    columns: dict[int, list[str]] = {}
    for _, _, recording, own in rows:
        columns.setdefault(int(recording), []).append(own)
    return columns
