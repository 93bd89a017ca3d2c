"""The tables of a logbook, as numbered migrations; what has been released is never edited.

    recording ── samples (one row a commit)        pull ── reading (every reading that was ever made)
        ├── news                                     ├── aside  (why, or NULL for brought back; newest holds)
        ├── conditions                               └── mark   (moved by hand; newest holds)
        └── pull (numbered through the day)  ── pull_setting (corrected; newest holds)

    setting (of a day, from a moment on)   tilt ── tilt_aside (newest holds)
    prediction (with its slips, nameless, once committed)  ── open_slips (until then)

Times that end in _s are seconds of the recording's own time; those that end in _at are unix seconds.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass

APPLICATION_ID = 0x70756C62  # "pulb", in the file's header: tells a logbook from any other SQLite file


@dataclass(frozen=True, slots=True)
class Migration:
    """One step from the form before: its number, what it does, its statements."""

    number: int
    name: str
    statements: tuple[str, ...]


FIRST = Migration(
    1,
    "first form",
    (
        """CREATE TABLE recording (
            id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, source TEXT NOT NULL, label TEXT,
            watcher TEXT NOT NULL, began_at REAL NOT NULL, kept_at REAL NOT NULL,
            ended_at REAL, ending TEXT,
            first_s REAL, last_s REAL, count INTEGER NOT NULL DEFAULT 0)""",
        "CREATE INDEX recording_by_day ON recording (day, id)",
        "CREATE INDEX recording_left_open ON recording (id) WHERE ended_at IS NULL",
        # time_s and force_N: float64, little endian, one after the other.  chunks: JSON, how many samples each
        # delivery had.  flaws: JSON, each with the index of its delivery.  crc: crc32 of all of these.
        """CREATE TABLE samples (
            id INTEGER PRIMARY KEY AUTOINCREMENT, recording INTEGER NOT NULL REFERENCES recording (id),
            kept_at REAL NOT NULL, first_s REAL, last_s REAL, count INTEGER NOT NULL,
            least_N REAL, most_N REAL, crc INTEGER NOT NULL,
            chunks BLOB NOT NULL, flaws BLOB, time_s BLOB NOT NULL, force_N BLOB NOT NULL)""",
        "CREATE INDEX samples_in_order ON samples (recording, id)",
        # Covers what a strip of hours needs, so that drawing it touches no blob.
        """CREATE UNIQUE INDEX samples_by_time
            ON samples (recording, first_s, last_s, count, least_N, most_N)""",
        "CREATE INDEX samples_with_flaws ON samples (recording, id) WHERE flaws IS NOT NULL",
        """CREATE TABLE news (
            id INTEGER PRIMARY KEY AUTOINCREMENT, recording INTEGER NOT NULL REFERENCES recording (id),
            kind TEXT NOT NULL, sentence TEXT NOT NULL, at_s REAL, after_s REAL, told_at REAL NOT NULL)""",
        "CREATE INDEX news_by_recording ON news (recording, id)",
        """CREATE TABLE conditions (
            id INTEGER PRIMARY KEY AUTOINCREMENT, recording INTEGER NOT NULL REFERENCES recording (id),
            kind TEXT NOT NULL, noted BLOB NOT NULL, at_s REAL, noted_at REAL NOT NULL)""",
        "CREATE INDEX conditions_by_recording ON conditions (recording, id)",
        """CREATE TABLE pull (
            id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, number INTEGER NOT NULL,
            recording INTEGER NOT NULL REFERENCES recording (id), caught_at REAL NOT NULL,
            UNIQUE (day, number))""",
        "CREATE INDEX pull_by_recording ON pull (recording)",
        # bounds: JSON, all of the window but its samples.
        """CREATE TABLE reading (
            id INTEGER PRIMARY KEY AUTOINCREMENT, pull INTEGER NOT NULL REFERENCES pull (id),
            made_by TEXT NOT NULL, version TEXT NOT NULL, made_at REAL NOT NULL,
            bounds BLOB NOT NULL, record BLOB NOT NULL)""",
        "CREATE INDEX reading_by_pull ON reading (pull, id)",
        """CREATE TABLE aside (
            id INTEGER PRIMARY KEY AUTOINCREMENT, pull INTEGER NOT NULL REFERENCES pull (id),
            why TEXT, set_at REAL NOT NULL)""",
        "CREATE INDEX aside_by_pull ON aside (pull, id)",
        """CREATE TABLE mark (
            id INTEGER PRIMARY KEY AUTOINCREMENT, pull INTEGER NOT NULL REFERENCES pull (id),
            breakaway_s REAL, sliding_from_s REAL, sliding_to_s REAL, made_at REAL NOT NULL)""",
        "CREATE INDEX mark_by_pull ON mark (pull, id)",
    ),
)

_SETTING = """load_kg REAL, sled_kg REAL, surface TEXT NOT NULL, u_load_kg REAL NOT NULL,
            step_kg REAL, pulls_per_step INTEGER NOT NULL"""

SETTINGS = Migration(
    2,
    "settings, tilt readings and predictions",
    (
        # at_s: bench seconds from which it holds; NULL holds from the start of the day.
        f"""CREATE TABLE setting (
            id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, at_s REAL, made_by TEXT NOT NULL,
            set_at REAL NOT NULL, {_SETTING})""",
        "CREATE INDEX setting_by_day ON setting (day, id)",
        f"""CREATE TABLE pull_setting (
            id INTEGER PRIMARY KEY AUTOINCREMENT, pull INTEGER NOT NULL REFERENCES pull (id),
            set_at REAL NOT NULL, {_SETTING})""",
        "CREATE INDEX pull_setting_by_pull ON pull_setting (pull, id)",
        """CREATE TABLE tilt (
            id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, kind TEXT NOT NULL,
            angle_deg REAL NOT NULL, acceleration_m_s2 REAL, surface TEXT NOT NULL, read_at REAL NOT NULL)""",
        "CREATE INDEX tilt_by_day ON tilt (day, id)",
        """CREATE TABLE tilt_aside (
            id INTEGER PRIMARY KEY AUTOINCREMENT, tilt INTEGER NOT NULL REFERENCES tilt (id),
            why TEXT, set_at REAL NOT NULL)""",
        "CREATE INDEX tilt_aside_by_tilt ON tilt_aside (tilt, id)",
        # options, slips: JSON.  A slip holds what was said and nothing about who said it.
        """CREATE TABLE prediction (
            id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, kind TEXT NOT NULL, quantity TEXT NOT NULL,
            question TEXT NOT NULL, options BLOB NOT NULL, opened_at REAL NOT NULL,
            committed_at REAL, slips BLOB, before_pull INTEGER, committed_at_s REAL,
            revealed_at REAL, pull INTEGER, option TEXT, cleared_at REAL)""",
        "CREATE INDEX prediction_by_day ON prediction (day, id)",
    ),
)

OPEN_SLIPS = Migration(
    3,
    "slips of an open question",
    (
        # slips: JSON, whole at each change; the row goes when they are committed or put away.
        """CREATE TABLE open_slips (
            id INTEGER PRIMARY KEY AUTOINCREMENT, prediction INTEGER NOT NULL UNIQUE REFERENCES prediction (id),
            slips BLOB NOT NULL)""",
    ),
)

MIGRATIONS: tuple[Migration, ...] = (FIRST, SETTINGS, OPEN_SLIPS)


def newest_form(migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Return the number of the newest form that this pullbench knows."""
    return migrations[-1].number


def form_of(connection: sqlite3.Connection) -> int:
    """Return the form of an open file; 0 for an empty one."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def migrate(
    connection: sqlite3.Connection, *, at: float, migrations: Sequence[Migration] = MIGRATIONS
) -> tuple[str, ...]:
    """Bring an open file to the newest form, each step one transaction; return a sentence per step taken.

    connection: in autocommit mode.  at: unix seconds, noted beside each step.  Two programs may do this at
    once: the second finds the step taken.
    """
    told, empty = [], form_of(connection) == 0  # a new file is brought to nothing: it is made
    for step in migrations:
        if form_of(connection) >= step.number:
            continue
        connection.execute("BEGIN IMMEDIATE")
        try:
            if form_of(connection) < step.number:
                _take(connection, step, at)
                if not empty:
                    told.append(f"The logbook was brought to form {step.number}: {step.name}.")
            connection.execute("COMMIT")
        except BaseException:
            connection.execute("ROLLBACK")
            raise
    return tuple(told)


def _take(connection: sqlite3.Connection, step: Migration, at: float) -> None:
    connection.execute(
        "CREATE TABLE IF NOT EXISTS migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, taken_at REAL)"
    )
    for statement in step.statements:
        connection.execute(statement)
    connection.execute("INSERT INTO migration VALUES (?, ?, ?)", (step.number, step.name, at))
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {step.number}")
