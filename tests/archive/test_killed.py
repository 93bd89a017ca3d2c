"""A watch killed at any moment loses nothing that was committed, and the next start says what it found."""

from __future__ import annotations

import os
import random
import re
import sqlite3
import time

import pytest

from archive.books import DAY, FakeClock, invented, opened, same, window_over
from archive.killed_writer import Child, lost
from pullbench.archive import Logbook


@pytest.mark.parametrize("seed", range(6))
def test_a_killed_watch_loses_no_committed_sample_and_the_day_goes_on(tmp_path, seed):
    path, committed = tmp_path / "day.pulls", {}
    chance = random.Random(seed)
    for again in range(2):
        child = Child.start(path, seed=10 * seed + again)
        child.listen(30, until=b"ready")
        assert b"ready" in child.said
        child.listen(chance.uniform(0.0, 0.3))
        child.kill()
        committed |= child.committed
        with opened(path, time.time) as logbook:
            assert len(logbook.found) == 1
            assert logbook.found[0].startswith("The watch ended without standing down at ")
            assert lost(logbook, committed) == 0
            assert logbook.check() is None
            (day,) = {row.day for row in logbook.days()}
            pulls = logbook.pulls(day)
            assert [pull.number for pull in pulls] == list(range(1, len(pulls) + 1))
        with opened(path, time.time) as logbook:
            assert logbook.found == ()
    left = sorted(one.name for one in tmp_path.iterdir())
    assert left == ["day.pulls"]


def test_a_kill_while_the_file_is_being_made_leaves_a_file_that_opens(tmp_path):
    for moment_s in (0.25, 0.3, 0.35, 0.4):
        path = tmp_path / f"day-{moment_s}.pulls"
        child = Child.start(path, seed=1)
        child.listen(moment_s)
        child.kill()
        with opened(path, time.time) as logbook:
            assert lost(logbook, child.committed) == 0
            assert logbook.check() is None


def test_the_recovery_says_in_words_what_was_kept(tmp_path):
    clock = FakeClock()
    dead = Logbook.open(tmp_path / "day.pulls", now=clock)
    recording = dead.begin_recording(source="invented", label=None)
    dead.keep(recording, invented(0, 12_346))
    clock.at += 3600 + 42 * 60
    dead.commit()
    dead.keep(recording, invented(12_346, 10))  # never committed
    _die(dead)
    clock.at += 90
    with opened(tmp_path / "day.pulls", clock) as logbook:
        expected = (
            "The watch ended without standing down at 10:42; 12.3 s of samples up to 10:42:00 are kept."
        )
        assert logbook.found == (expected,)
        assert logbook.recordings(DAY)[0].ending == expected
        assert same(logbook.trace(recording), invented(0, 12_346))
        following = logbook.begin_recording(source="invented", label=None)
        logbook.keep(following, invented(0, 100))
        pull = logbook.add_reading(following, window=window_over(invented(0, 100)), record=b"{}", version="1")
        assert pull.number == 1


def test_a_recovery_on_another_day_names_the_day_and_one_without_samples_says_so(tmp_path):
    clock = FakeClock()
    dead = Logbook.open(tmp_path / "day.pulls", now=clock)
    dead.begin_recording(source="invented", label=None)
    _die(dead)
    clock.at += 24 * 3600
    with opened(tmp_path / "day.pulls", clock) as logbook:
        assert logbook.found == (
            "The watch ended without standing down on 2026-11-25 at 09:00, before any sample came.",
        )


def test_a_watch_that_still_lives_is_not_taken_for_a_killed_one(tmp_path):
    path = tmp_path / "day.pulls"
    child = Child.start(path, seed=3)
    child.listen(30, until=b"ready")
    with opened(path, time.time) as logbook:
        assert logbook.found == ()
        (day,) = logbook.days()
        assert logbook.recordings(day.day)[0].ended_at is None
    child.kill()
    with opened(path, time.time) as logbook:
        assert len(logbook.found) == 1
        assert lost(logbook, child.committed) == 0


def test_two_watches_on_one_file_lose_nothing_and_share_the_numbers_of_the_day(tmp_path):
    path = tmp_path / "day.pulls"
    children = [Child.start(path, seed, commits=60) for seed in (1, 2)]
    for child in children:
        child.listen(60, until=b"\n60 ")
        assert child.finish() == 0
    committed = children[0].committed | children[1].committed
    assert len(committed) == 2
    with opened(path, time.time) as logbook:
        assert logbook.found == ()
        assert lost(logbook, committed) == 0
        (day,) = logbook.days()
        numbers = [pull.number for pull in logbook.pulls(day.day)]
        assert numbers == list(range(1, sum(pulls for _, pulls in committed.values()) + 1))
        assert all(row.ending == "The watch stood down." for row in logbook.recordings(day.day))


def test_commits_are_safe_from_a_pulled_plug_as_far_as_sqlite_promises(tmp_path):
    """A pulled plug cannot be tested here; WAL with synchronous=FULL is SQLite's promise for it."""
    with opened(tmp_path / "day.pulls") as logbook:
        connection = logbook._pen._connection
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.execute("PRAGMA synchronous").fetchone() == (2,)


def test_what_a_watch_killed_at_its_very_start_leaves_beside_the_file_is_swept_up(tmp_path):
    path = tmp_path / "day.pulls"
    old, young = tmp_path / "day.pulls-watch-aaaaaaaaaaaa", tmp_path / "day.pulls-watch-bbbbbbbbbbbb"
    with opened(path) as living:
        (held,) = tmp_path.glob("day.pulls-watch-*")
        for file, age_s in ((old, 3600), (young, 0), (held, 3600)):
            file.touch()
            os.utime(file, (time.time() - age_s,) * 2)
        opened_beside = Logbook.open(path, now=living._now)
        opened_beside.close()
        assert {file.name for file in tmp_path.glob("day.pulls-watch-*")} == {held.name, young.name}


def _die(logbook: Logbook) -> None:
    """End a logbook as a kill does: nothing is written any more, the system gives the lock back."""
    number, logbook._lease._number = logbook._lease._number, None
    os.close(number)
    logbook._pen._connection.close()
    logbook._readers.close()


def test_the_child_process_commits_what_it_says(tmp_path):
    """The kills above prove something only if the child's count is what a third party finds in the file."""
    child = Child.start(tmp_path / "day.pulls", seed=4, commits=5)
    assert child.finish() == 0
    with sqlite3.connect(tmp_path / "day.pulls") as plain:
        stored = dict(plain.execute("SELECT recording, sum(count) FROM samples GROUP BY recording"))
    plain.close()
    assert stored == {recording: samples for recording, (samples, _) in child.committed.items()}
    assert len(re.findall(rb"^\d+ \d+ \d+$", child.said, re.M)) == 5
