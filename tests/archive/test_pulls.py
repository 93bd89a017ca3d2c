"""Readings are kept for ever, and what a person changes can be seen and taken back."""

from __future__ import annotations

import pytest

from archive.books import DAY, FakeClock, fill, invented, opened, window_over
from pullbench.archive import Logbook, Marks
from pullbench.errors import LogbookError


@pytest.fixture
def logbook(tmp_path):
    fill(tmp_path / "day.pulls", commits=3, pulls=3)
    with opened(tmp_path / "day.pulls") as book:
        yield book


def test_a_pull_read_again_keeps_both_readings_with_their_versions(logbook: Logbook):
    pull = logbook.pulls(DAY)[1]
    wider = window_over(invented(400, 800))
    again = logbook.add_reading(
        pull.recording,
        pull_number=2,
        window=wider,
        record=b'{"newer":1}',
        version="0.2",
        made_by="read again",
    )
    assert (again.id, again.number, again.readings) == (pull.id, 2, 2)
    assert (again.reading.version, again.reading.made_by) == ("0.2", "read again")
    kept = logbook.readings(pull.id)
    assert [(r.version, r.record) for r in kept] == [("0.1", b'{"pull":1}'), ("0.2", b'{"newer":1}')]
    assert logbook.window(pull.id).trace.time_s.size == 800


def test_a_pull_set_aside_stays_in_the_day_with_its_reason_until_it_is_brought_back(logbook: Logbook):
    pull = logbook.pulls(DAY)[0]
    assert logbook.set_aside(pull.id, "A pupil held the sled.").aside == "A pupil held the sled."
    assert [p.aside for p in logbook.pulls(DAY)] == ["A pupil held the sled.", None, None]
    assert logbook.bring_back(pull.id).aside is None


def test_moments_moved_by_hand_are_kept_one_by_one_with_their_history(logbook: Logbook):
    pull = logbook.pulls(DAY)[0]
    assert logbook.mark(pull.id, breakaway_s=0.1).marks == Marks(0.1, None)
    assert logbook.mark(pull.id, sliding_s=(0.2, 0.4)).marks == Marks(0.1, (0.2, 0.4))
    assert logbook.mark(pull.id, breakaway_s=0.0).marks == Marks(0.0, (0.2, 0.4))
    assert logbook.unmark(pull.id).marks is None
    assert logbook.marks(pull.id) == (
        Marks(0.1, None), Marks(0.1, (0.2, 0.4)), Marks(0.0, (0.2, 0.4)), Marks(),
    )  # fmt: skip


def test_pull_numbers_count_on_through_the_day_and_start_anew_on_the_next(tmp_path):
    clock = FakeClock()
    chunk = invented(0, 500)
    numbers = []
    for _ in range(3):
        with opened(tmp_path / "day.pulls", clock) as logbook:
            recording = logbook.begin_recording(source="invented", label=None)
            logbook.keep(recording, chunk)
            pull = logbook.add_reading(recording, window=window_over(chunk), record=b"{}", version="1")
            numbers.append((pull.day, pull.number))
        clock.at += 10 * 3600
    assert numbers == [(DAY, 1), (DAY, 2), ("2026-11-26", 1)]


def test_a_label_stands_beside_every_pull_of_its_recording(tmp_path):
    chunk = invented(0, 500)
    with opened(tmp_path / "day.pulls") as logbook:
        recording = logbook.begin_recording(source="virtual bench", label="simulated")
        logbook.keep(recording, chunk)
        logbook.add_reading(recording, window=window_over(chunk), record=b"{}", version="1")
        assert [pull.label for pull in logbook.pulls(DAY)] == ["simulated"]


def test_a_search_looks_at_readings_reasons_sources_and_days(logbook: Logbook):
    first, second, third = logbook.pulls(DAY)
    logbook.set_aside(second.id, "Felt came off")
    assert [p.id for p in logbook.search("FELT")] == [second.id]
    assert [p.id for p in logbook.search('"pull":2')] == [third.id]
    assert [p.id for p in logbook.search("2026-11")] == [first.id, second.id, third.id]
    assert logbook.search("%") == ()


def test_what_was_noted_about_the_bench_comes_back(logbook: Logbook):
    (row,) = logbook.recordings(DAY)
    logbook.note_conditions(row.id, kind="load", noted=b'{"kg":1.35}', at_s=0.25)
    (noted,) = logbook.conditions(DAY)
    assert (noted.recording, noted.kind, noted.noted, noted.at_s) == (row.id, "load", b'{"kg":1.35}', 0.25)


@pytest.mark.parametrize(
    "act",
    [
        lambda book: book.window(99),
        lambda book: book.set_aside(99, "why"),
        lambda book: book.mark(99, breakaway_s=1.0),
        lambda book: book.recording(99),
        lambda book: book.note_conditions(99, kind="load", noted=b"{}"),
        lambda book: book.add_reading(
            1, pull_number=7, window=window_over(invented(0, 9)), record=b"", version=""
        ),
        lambda book: book.write_raw("2025-01-01", None),
    ],
)
def test_what_is_not_in_the_logbook_is_said_plainly(logbook: Logbook, act):
    with pytest.raises(LogbookError) as caught:
        act(logbook)
    assert caught.value.code == "logbook-unknown"
