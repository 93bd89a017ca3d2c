"""A file that cannot be a logbook, or no longer is one, is refused in one sentence and left as it is."""

from __future__ import annotations

import multiprocessing
import os
import random
import sqlite3
import sys
import threading
import time

import numpy as np
import pytest

from archive.books import DAY, fill, invented, opened, same
from pullbench.archive import Logbook, LogbookReader, rescue
from pullbench.archive.opening import look_through
from pullbench.archive.schema import newest_form
from pullbench.errors import LogbookError


def _refusal(path) -> LogbookError:
    with pytest.raises(LogbookError) as caught:
        Logbook.open(path, now=lambda: 1e9)
    assert str(path) in str(caught.value) or path.name in str(caught.value)
    return caught.value


def _spoil(path, *, every: int = 7, seed: int = 1) -> None:
    """Overwrite every seventh page with noise, the first ones spared: they say which tables there are, and where."""
    noise = random.Random(seed)
    octets = bytearray(path.read_bytes())
    for page in range(40, len(octets) // 4096, every):
        octets[page * 4096 : (page + 1) * 4096] = noise.randbytes(4096)
    path.write_bytes(octets)


def test_a_missing_folder_is_named(tmp_path):
    mistake = _refusal(tmp_path / "nowhere" / "day.pulls")
    assert mistake.code == "logbook-folder-missing"
    assert str(tmp_path / "nowhere") in mistake.what


def test_a_folder_is_no_logbook(tmp_path):
    assert _refusal(tmp_path).code == "logbook-is-folder"


@pytest.mark.parametrize("content", [b"time,force\n0,1\n" * 400, b"x", b"SQLite format 3\0" + b"\xff" * 5000])
def test_a_file_of_something_else_is_refused_and_not_touched(tmp_path, content):
    path = tmp_path / "table.csv"
    path.write_bytes(content)
    assert _refusal(path).code == "logbook-not-a-logbook"
    assert path.read_bytes() == content
    assert [one.name for one in tmp_path.iterdir()] == ["table.csv"]


def test_the_database_of_another_program_is_refused_and_not_touched(tmp_path):
    path = tmp_path / "other.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE recording (id INTEGER)")
    other.close()
    before = path.read_bytes()
    assert _refusal(path).code == "logbook-not-a-logbook"
    assert path.read_bytes() == before


def test_a_logbook_from_a_newer_version_is_refused_and_not_touched(tmp_path):
    path = tmp_path / "day.pulls"
    fill(path, commits=1)
    with sqlite3.connect(path) as other:
        other.execute(f"PRAGMA user_version = {newest_form() + 1}")
    other.close()
    before = path.read_bytes()
    mistake = _refusal(path)
    assert mistake.code == "logbook-newer"
    assert f"form {newest_form() + 1}" in mistake.what
    assert path.read_bytes() == before


def test_a_damaged_logbook_is_named_kept_and_says_what_can_be_rescued(tmp_path):
    path = tmp_path / "day.pulls"
    fill(path, commits=40, pulls=5)
    _spoil(path)
    before = path.read_bytes()
    mistake = _refusal(path)
    assert mistake.code == "logbook-damaged"
    assert "can still be read" in mistake.allowed
    assert "kept as it is" in mistake.allowed
    assert path.read_bytes() == before


def test_what_is_rescued_are_true_samples_in_a_sound_logbook(tmp_path):
    path, into = tmp_path / "day.pulls", tmp_path / "rescued.pulls"
    fill(path, commits=40, pulls=5)
    _spoil(path)
    before = path.read_bytes()
    told = rescue(path, into, at=1e9)
    with opened(into) as logbook:
        (row,) = logbook.recordings(DAY)
        got = logbook.trace(row.id)
        assert logbook.check() is None
        pulls = logbook.pulls(DAY)
    assert 0 < got.time_s.size < 40 * 500
    place = np.round(got.time_s * 1000).astype(int)
    whole = invented(0, 40 * 500)
    assert whole.time_s[place].tobytes() == got.time_s.tobytes()
    assert whole.force_N[place].tobytes() == got.force_N.tobytes()
    assert f"{got.time_s.size} samples" in told
    assert f"{len(pulls)} pulls" in told
    assert path.read_bytes() == before


def test_a_rescue_never_writes_over_a_file(tmp_path):
    path = tmp_path / "day.pulls"
    fill(path, commits=2)
    with pytest.raises(LogbookError) as caught:
        rescue(path, path, at=1e9)
    assert caught.value.code == "logbook-exists"


def test_a_rescue_of_a_sound_logbook_copies_all_of_it(tmp_path):
    path, into = tmp_path / "day.pulls", tmp_path / "copy.pulls"
    fill(path, commits=6, pulls=3)
    assert rescue(path, into, at=1e9).startswith("3000 samples and 3 pulls were copied")
    with opened(path) as one, opened(into) as other:
        assert one.recordings(DAY) == other.recordings(DAY)
        assert one.pulls(DAY) == other.pulls(DAY)
        assert same(one.trace(1), other.trace(1))


def test_one_bit_that_fell_over_in_the_samples_is_found_and_told_as_a_gap(tmp_path):
    path = tmp_path / "day.pulls"
    fill(path, commits=3, pulls=3)
    octets = bytearray(path.read_bytes())
    at = octets.find(invented(700, 50).force_N.tobytes())
    assert at > 0
    octets[at + 5] ^= 0x10
    path.write_bytes(octets)
    with opened(path) as logbook:  # the pages are sound, so it opens
        chunks = list(logbook.chunks(1))
        first, second, _ = logbook.pulls(DAY)
        assert same(logbook.window(first.id).trace, invented(0, 500))
        with pytest.raises(LogbookError) as caught:
            logbook.window(second.id)
        (flaw,) = logbook.trace(1, 0.6, 0.7).flaws
    assert [chunk.time_s.size for chunk in chunks] == [500, 0, 500]
    assert chunks[1].flaws == (flaw,)
    assert (flaw.kind, flaw.count) == ("gap", 500)
    assert caught.value.code == "logbook-damaged"
    assert "pull 2" in caught.value.what


@pytest.mark.skipif(sys.platform == "win32", reason="needs users as POSIX systems have them")
@pytest.mark.parametrize("what", ["file", "folder", "new file"])
def test_a_place_that_may_not_be_written_is_said_plainly(tmp_path, what):
    path = tmp_path / "day.pulls"
    if what != "new file":
        fill(path, commits=1)
        path.chmod(0o444)
    tmp_path.chmod(0o777 if what == "file" else 0o555)
    try:
        assert _code_as_nobody(path) in ("logbook-read-only", "logbook-cannot-open")
    finally:
        tmp_path.chmod(0o755)


def _code_as_nobody(path) -> str:
    """Return the error's code when somebody without rights opens the file: root may write everywhere."""
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe()
    run = context.Process(target=_open_without_rights, args=(path, theirs))
    run.start()
    code = ours.recv() if ours.poll(30) else "no answer"
    run.join(30)
    ours.close()
    theirs.close()
    return code


def _open_without_rights(path, answer) -> None:
    if os.geteuid() == 0:
        for folder in path.parents[1:4]:  # pytest's own, closed to others; the test is about the last one
            folder.chmod(folder.stat().st_mode | 0o011)
        os.setuid(65534)
    try:
        Logbook.open(path, now=lambda: 1e9)
        answer.send("opened")
    except LogbookError as mistake:
        answer.send(mistake.code)
    except BaseException as fault:
        answer.send(repr(fault))


def test_a_file_that_another_program_holds_is_said_after_a_while_and_nothing_waits_in_vain(
    tmp_path, monkeypatch
):
    monkeypatch.setattr("pullbench.archive.opening.BUSY_S", 0.1)
    path = tmp_path / "day.pulls"
    with opened(path) as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        holder = sqlite3.connect(path, isolation_level=None)
        holder.execute("BEGIN IMMEDIATE")
        logbook.keep(recording, invented(0, 10))
        with pytest.raises(LogbookError) as caught:
            logbook.commit()
        assert caught.value.code == "logbook-busy"
        assert logbook.waiting == 10
        holder.execute("ROLLBACK")
        holder.close()
        logbook.commit()
        assert same(logbook.trace(recording), invented(0, 10))


def test_readers_in_other_threads_never_see_half_a_commit(tmp_path):
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="invented", label=None)
        faults, stop = [], threading.Event()

        def look() -> None:
            while not stop.is_set():
                got = logbook.trace(recording)
                if got.time_s.size % 100 or not same(got, invented(0, got.time_s.size)):
                    faults.append(got.time_s.size)

        readers = [threading.Thread(target=look) for _ in range(3)]
        for reader in readers:
            reader.start()
        for k in range(60):
            logbook.keep(recording, invented(100 * k, 40))
            logbook.keep(recording, invented(100 * k + 40, 60))
            logbook.commit()
        stop.set()
        for reader in readers:
            reader.join()
        assert faults == []
        assert logbook.trace(recording).time_s.size == 6000


class Endless(sqlite3.Connection):
    """A connection to a file so big that looking it over never ends."""

    def execute(self, statement, *values):
        """Count for ever instead of checking."""
        if "quick_check" in statement:
            statement = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT max(i) FROM n"
        return super().execute(statement, *values)


def test_a_look_over_that_would_take_too_long_is_given_up_in_time():
    connection = Endless(":memory:", isolation_level=None)
    began = time.monotonic()
    assert look_through(connection, 0.1) is None
    assert 0.1 <= time.monotonic() - began < 5
    assert connection.execute("SELECT 1").fetchone() == (1,)
    connection.close()


def test_a_reader_of_a_file_that_is_gone_says_so_and_makes_none(tmp_path):
    book = LogbookReader(tmp_path / "gone.pulls")
    with pytest.raises(LogbookError) as caught:
        book.days()
    assert caught.value.code == "logbook-cannot-open"
    assert list(tmp_path.iterdir()) == []
