"""Every form that a logbook ever had opens, and a step that fails leaves the form before."""

from __future__ import annotations

import sqlite3
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from archive.books import DAY, invented, opened, same
from pullbench.archive import Marks
from pullbench.archive.opening import open_file
from pullbench.archive.schema import FIRST, MIGRATIONS, Migration, form_of, migrate, newest_form
from pullbench.model import Setting, Slip, TiltReading

FORMS = Path(__file__).parent / "forms"


def _open(path) -> sqlite3.Connection:
    return sqlite3.connect(path, isolation_level=None)


def test_there_is_a_kept_file_of_every_form():
    kept = sorted(int(one.stem.removeprefix("form")) for one in FORMS.glob("form*.sql"))
    assert kept == [step.number for step in MIGRATIONS] == list(range(1, newest_form() + 1))


@pytest.mark.parametrize("form", sorted(FORMS.glob("form*.sql")), ids=lambda one: one.stem)
def test_a_file_of_an_old_form_opens_with_all_that_was_in_it(tmp_path, form):
    path = tmp_path / "old.pulls"
    connection = _open(path)
    connection.executescript(form.read_text(encoding="utf-8"))
    connection.close()
    with opened(path) as logbook:
        (row,) = logbook.recordings(DAY)
        (pull,) = logbook.pulls(DAY)
        assert same(logbook.trace(row.id), invented(0, 20))
        assert (row.source, row.label, row.ending) == ("invented", "simulated", "The string was untied.")
        assert (pull.number, pull.reading.record, pull.reading.version) == (1, b'{"pull":1}', "0.1")
        assert (pull.aside, pull.marks) == ("A knock.", Marks(0.002, (0.004, 0.018)))
        assert [one.news.sentence for one in logbook.news(DAY)] == ["The sensor answers."]
        assert same(logbook.window(pull.id).trace, invented(0, 20))
        assert logbook.check() is None
        assert form_of(logbook._pen._connection) == newest_form()


def test_the_laws_of_a_day_are_found_again_in_the_form_that_brought_them(tmp_path):
    path = tmp_path / "old.pulls"
    connection = _open(path)
    connection.executescript((FORMS / "form2.sql").read_text(encoding="utf-8"))
    connection.close()
    light = Setting(load_kg=0.5, sled_kg=0.35, surface="felt", u_load_kg=0.002, step_kg=0.5, pulls_per_step=2)
    with opened(path) as logbook:
        said = [(row.at_s, row.made_by, row.setting) for row in logbook.settings(DAY)]
        assert said == [(None, "teacher", light), (12.5, "step", replace(light, load_kg=1.0))]
        assert [(one.number, one.setting) for one in logbook.corrections(DAY)] == [
            (1, Setting(load_kg=0.7, surface="birch"))
        ]
        slid, slide = (row.reading for row in logbook.tilts(DAY))
        assert slid == TiltReading(kind="slid", angle_deg=17.5, surface="felt")
        assert (slide.acceleration_m_s2, slide.aside) == (0.52, "A nudge.")
        asked = logbook.prediction(DAY).prediction
        assert (asked.state, asked.count, asked.pull) == ("revealed", 2, 1)
        assert asked.slips == (Slip(value_N=2.5, plus_minus_N=0.5), Slip(value_N=3.0))


def test_an_open_question_is_found_again_in_the_form_that_brought_it(tmp_path):
    path = tmp_path / "old.pulls"
    connection = _open(path)
    connection.executescript((FORMS / "form3.sql").read_text(encoding="utf-8"))
    connection.close()
    with opened(path) as logbook:
        row = logbook.prediction(DAY)
        assert (row.prediction.state, len(row.handed_in)) == ("open", 2)
        assert row.handed_in.by_page == {"0f" * 16: Slip(value_N=2.5, plus_minus_N=0.5)}
        assert row.handed_in.each() == [Slip(value_N=2.5, plus_minus_N=0.5), Slip(value_N=3.0)]


@pytest.mark.parametrize("made", [False, True], ids=["no file", "empty file"])
def test_nothing_becomes_a_logbook_of_the_newest_form(tmp_path, made):
    path = tmp_path / "new.pulls"
    if made:
        path.touch()
    with opened(path) as logbook:
        assert logbook.found == ()
        assert logbook.days() == ()
        taken = logbook._pen._connection.execute("SELECT number, name FROM migration").fetchall()
    assert taken == [(step.number, step.name) for step in MIGRATIONS]


SECOND = Migration(2, "a column for the weather", ("ALTER TABLE recording ADD COLUMN weather TEXT",))
BROKEN = Migration(
    3, "a step that fails", ("CREATE TABLE more (id INTEGER)", "INSERT INTO nowhere VALUES (1)")
)


def test_a_newer_form_is_reached_step_by_step_and_said(tmp_path):
    path = tmp_path / "day.pulls"
    first, _ = open_file(path, at=1e9, migrations=(FIRST,))
    first.execute(
        "INSERT INTO recording (day, source, watcher, began_at, kept_at) VALUES (?, 'invented', '', 0, 0)",
        (DAY,),
    )
    first.close()
    connection, told = open_file(path, at=1e9, migrations=(FIRST, SECOND))
    assert told == ("The logbook was brought to form 2: a column for the weather.",)
    assert connection.execute("SELECT source, weather FROM recording").fetchall() == [("invented", None)]
    assert form_of(connection) == 2
    assert migrate(connection, at=1e9, migrations=(FIRST, SECOND)) == ()
    connection.close()


def test_a_step_that_fails_leaves_the_form_before_whole(tmp_path):
    connection = _open(tmp_path / "day.pulls")
    with pytest.raises(sqlite3.OperationalError):
        migrate(connection, at=1e9, migrations=(FIRST, SECOND, BROKEN))
    assert form_of(connection) == 2
    tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert "more" not in tables
    assert [n for (n,) in connection.execute("SELECT number FROM migration ORDER BY 1")] == [1, 2]
    connection.close()


def test_programs_that_make_one_file_at_once_take_each_step_once(tmp_path):
    start, faults = threading.Barrier(4), []

    def make(at: float) -> None:
        start.wait()
        try:
            connection, _ = open_file(tmp_path / "day.pulls", at=at)
            connection.close()
        except Exception as fault:
            faults.append(fault)

    makers = [threading.Thread(target=make, args=(float(k),)) for k in range(4)]
    for maker in makers:
        maker.start()
    for maker in makers:
        maker.join()
    connection = _open(tmp_path / "day.pulls")
    assert faults == []
    assert len(connection.execute("SELECT number FROM migration").fetchall()) == newest_form()
    connection.close()
