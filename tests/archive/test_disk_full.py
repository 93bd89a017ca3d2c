"""A full disk: one clear error, nothing committed is lost, and what waits is written once there is space.

A small file system may not be mountable where tests run, so SQLite's own limit on pages stands in for it
(the very same error, SQLITE_FULL), and once the system's limit on the size of files.
"""

from __future__ import annotations

import multiprocessing
import sys

import numpy as np
import pytest

from archive.books import DAY, fill, invented, opened, same, window_over
from pullbench.archive import Logbook
from pullbench.errors import LogbookError
from pullbench.model import Chunk, News

MUCH = 1_000_000_000


def _allow_pages(logbook: Logbook, more: int | None) -> None:
    connection = logbook._pen._connection
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    connection.execute(f"PRAGMA max_page_count = {MUCH if more is None else pages + more}")


def _until_full(logbook: Logbook, recording: int, written: int) -> int:
    """Commit until the disk is full; return how many samples were handed over."""
    for _ in range(1000):
        logbook.keep(recording, invented(written, 500))
        written += 500
        mistake = _refused(logbook)
        if mistake is not None:
            assert mistake.code == "logbook-disk-full"
            assert str(logbook.path) in str(mistake)
            return written
    raise AssertionError("never full")


def _refused(logbook: Logbook) -> LogbookError | None:
    try:
        logbook.commit()
    except LogbookError as mistake:
        return mistake
    return None


def test_a_full_disk_keeps_what_is_committed_and_what_waits_is_written_when_there_is_space(tmp_path):
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        _allow_pages(logbook, 40)
        written = _until_full(logbook, recording, 0)
        kept = logbook.trace(recording).time_s.size
        assert logbook.waiting == 500
        assert kept == written - 500 > 0
        for _ in range(20):  # the watch goes on
            logbook.keep(recording, invented(written, 500))
            logbook.keep_news(recording, News("silent", f"after {written}"))
            written += 500
            with pytest.raises(LogbookError, match="is full"):
                logbook.commit()
        assert same(logbook.trace(recording), invented(0, kept))
        _allow_pages(logbook, None)
        logbook.commit()
        assert logbook.waiting == 0
        assert same(logbook.trace(recording), invented(0, written))
        assert len(logbook.news(DAY)) == 20
        assert logbook.check() is None


def test_a_reading_that_finds_no_space_takes_no_number_and_can_be_added_later(tmp_path):
    fill(tmp_path / "day.pulls", commits=2, pulls=1)
    window = window_over(invented(0, 500))
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        _allow_pages(logbook, 0)
        written = _until_full(logbook, recording, 0)
        with pytest.raises(LogbookError, match="is full"):
            logbook.add_reading(recording, window=window, record=b"x" * 10_000, version="1")
        _allow_pages(logbook, None)
        assert logbook.add_reading(recording, window=window, record=b"x" * 10_000, version="1").number == 2
        assert same(logbook.trace(recording), invented(0, written))


def test_beyond_the_bound_samples_are_let_go_and_counted_in_a_gap(tmp_path):
    with opened(tmp_path / "day.pulls", most_waiting=2000) as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        for k in range(6):  # nothing commits: 2000 wait, 1000 are let go
            logbook.keep(recording, invented(500 * k, 500))
        assert logbook.waiting == 2000
        logbook.commit()
        logbook.keep(recording, invented(3000, 500))
        logbook.commit()
        got = logbook.trace(recording)
    assert same(got, _without(invented(0, 3500), 2000, 3000))
    (flaw,) = got.flaws
    assert (flaw.kind, flaw.count) == ("gap", 1000)
    assert flaw.start_s == invented(1999, 1).time_s[0]
    assert flaw.end_s == invented(3000, 1).time_s[0]
    assert "1000 samples between 1.999 s and 3.000 s could not be kept" in flaw.sentence


def test_closing_on_a_full_disk_says_so_and_still_closes(tmp_path):
    logbook = Logbook.open(tmp_path / "day.pulls", now=lambda: 1e9)
    recording = logbook.begin_recording(source="invented", label=None)
    _allow_pages(logbook, 20)
    written = _until_full(logbook, recording, 0)
    with pytest.raises(LogbookError, match="is full"):
        logbook.close()
    with pytest.raises(LogbookError) as caught:
        logbook.commit()
    assert caught.value.code == "logbook-closed"
    with opened(tmp_path / "day.pulls") as again:
        assert len(again.found) == 1
        assert same(again.trace(recording), invented(0, written - 500))


@pytest.mark.skipif(sys.platform == "win32", reason="limits on the size of files are of POSIX systems")
def test_a_real_refusal_of_the_system_to_write_is_survived_too(tmp_path):
    run = multiprocessing.get_context("fork").Process(target=_with_a_limit, args=(tmp_path / "day.pulls",))
    run.start()
    run.join(60)
    assert run.exitcode == 0


def _with_a_limit(path) -> None:
    import resource

    with opened(path) as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        _, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, hard))
        written, mistake = 0, None
        while mistake is None:
            logbook.keep(recording, invented(written, 500))
            written += 500
            mistake = _refused(logbook)
        assert mistake.code in ("logbook-disk-full", "logbook-disk-fault"), mistake.code
        assert same(logbook.trace(recording), invented(0, written - 500))
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        logbook.commit()
        assert same(logbook.trace(recording), invented(0, written))
        assert logbook.check() is None


def _without(chunk, first, last):
    left = np.r_[0:first, last : chunk.time_s.size]
    return Chunk(time_s=chunk.time_s[left], force_N=chunk.force_N[left])
