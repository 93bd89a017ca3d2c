"""A logbook read again by another version of the analysis: both readings are kept, with their versions."""

import dataclasses

import pytest

from live.benches import DAY, FakeClock, demo_pulling, on_bench
from pullbench.analysis import analyse
from pullbench.archive import Logbook
from pullbench.live import read_again


@pytest.fixture
def logbook(tmp_path):
    with Logbook.open(tmp_path / "book.sqlite", now=FakeClock().unix) as book:
        with on_bench(*demo_pulling(), logbook=book) as (session, _):
            session.pulls.set_aside(2, "slack string")
        yield book


def test_the_same_version_reads_the_same_and_adds_nothing(logbook):
    assert [one.changed for one in read_again(logbook, DAY)] == [False, False]
    assert [row.readings for row in logbook.pulls(DAY)] == [1, 1]


def test_another_analysis_adds_its_reading_beside_the_old_one(logbook, monkeypatch):
    def other(window, **more):
        pull = analyse(window, **more)
        force = dataclasses.replace(pull.plateau.force, value=pull.plateau.force.value + 0.01)
        return dataclasses.replace(pull, plateau=dataclasses.replace(pull.plateau, force=force))

    old = {row.number: row.reading.record for row in logbook.pulls(DAY)}
    monkeypatch.setattr("pullbench.live.reread.analyse", other)
    monkeypatch.setattr("pullbench.live.reread.__version__", "99")
    told = list(read_again(logbook, DAY))
    assert [one.changed for one in told] == [True, True]
    assert all(one.now.kinetic.value == pytest.approx(one.before.kinetic.value + 0.01) for one in told)
    for row in logbook.pulls(DAY):
        first, second = logbook.readings(row.id)
        assert (first.record, first.made_by) == (old[row.number], "watch")
        assert (second.version, second.made_by) == ("99", "read again")
        assert row.reading.record == second.record != first.record
    assert [row.aside for row in logbook.pulls(DAY)] == [None, "slack string"]
