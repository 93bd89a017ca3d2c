"""Settings, tilt readings and predictions of a day: added to, never written over, but for a prediction's steps."""

from __future__ import annotations

import sqlite3
from typing import Any

import msgspec

from pullbench.archive.rows import CorrectionRow, OpenSlips, PredictionRow, SettingRow, TiltRow
from pullbench.model import Prediction, Setting, Slip, TiltReading

_SETTING = "load_kg, sled_kg, surface, u_load_kg, step_kg, pulls_per_step"
_PREDICTION = (
    "kind, quantity, question, options, committed_at, slips, before_pull, committed_at_s, revealed_at, pull,"
    " option"
)


_SLIPS = msgspec.json.Decoder(tuple[Slip, ...])
_OPEN_SLIPS = msgspec.json.Decoder(OpenSlips)
_OPTIONS = msgspec.json.Decoder(tuple[str, ...])


def add_setting(
    connection: sqlite3.Connection, day: str, setting: Setting, at_s: float | None, made_by: str, at: float
) -> None:
    """Add a setting that holds from at_s (bench seconds) on; None: from the start of the day."""
    connection.execute(
        f"INSERT INTO setting (day, at_s, made_by, set_at, {_SETTING}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (day, at_s, made_by, at, *_values(setting)),
    )


def add_correction(connection: sqlite3.Connection, pull: int, setting: Setting, at: float) -> None:
    """Correct one pull's setting; the corrections before stay in the history."""
    connection.execute(
        f"INSERT INTO pull_setting (pull, set_at, {_SETTING}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (pull, at, *_values(setting)),
    )


def add_tilt(connection: sqlite3.Connection, day: str, reading: TiltReading, at: float) -> int:
    """Add a trial on the tilted board; return its id."""
    number = connection.execute(
        "INSERT INTO tilt (day, kind, angle_deg, acceleration_m_s2, surface, read_at) VALUES (?, ?, ?, ?, ?, ?)",
        (day, reading.kind, reading.angle_deg, reading.acceleration_m_s2, reading.surface, at),
    ).lastrowid
    assert number is not None
    return number


def add_tilt_aside(connection: sqlite3.Connection, tilt: int, why: str | None, at: float) -> None:
    """Leave a trial out and say why, or bring it back (None)."""
    connection.execute("INSERT INTO tilt_aside (tilt, why, set_at) VALUES (?, ?, ?)", (tilt, why, at))


def add_prediction(connection: sqlite3.Connection, day: str, asked: Prediction, at: float) -> int:
    """Add a question that is open; return its id."""
    number = connection.execute(
        "INSERT INTO prediction (day, kind, quantity, question, options, opened_at) VALUES (?, ?, ?, ?, ?, ?)",
        (day, asked.kind, asked.quantity, asked.question, msgspec.json.encode(asked.options), at),
    ).lastrowid
    assert number is not None
    return number


def keep_open_slips(connection: sqlite3.Connection, number: int, slips: OpenSlips) -> None:
    """Keep what is handed in to an open question, in place of what was kept of it before."""
    connection.execute(
        "INSERT INTO open_slips (prediction, slips) VALUES (?, ?)"
        " ON CONFLICT (prediction) DO UPDATE SET slips = excluded.slips",
        (number, msgspec.json.encode(slips)),
    )


def commit_prediction(connection: sqlite3.Connection, number: int, asked: Prediction, at: float) -> None:
    """Keep the slips of a question, nameless, and from when a pull counts."""
    _forget_pages(connection, number)
    connection.execute(
        "UPDATE prediction SET committed_at = ?, slips = ?, before_pull = ?, committed_at_s = ? WHERE id = ?",
        (at, msgspec.json.encode(asked.slips), asked.committed_before_pull, asked.committed_at_s, number),
    )


def reveal_prediction(connection: sqlite3.Connection, number: int, asked: Prediction, at: float) -> None:
    """Keep what it was."""
    connection.execute(
        "UPDATE prediction SET revealed_at = ?, pull = ?, option = ? WHERE id = ?",
        (at, asked.pull, asked.option, number),
    )


def clear_prediction(connection: sqlite3.Connection, number: int, at: float) -> None:
    """Put a question away; it stays in the file."""
    _forget_pages(connection, number)
    connection.execute("UPDATE prediction SET cleared_at = ? WHERE id = ?", (at, number))


def settings(connection: sqlite3.Connection, day: str) -> tuple[SettingRow, ...]:
    """Return a day's settings in the order they were said."""
    rows = connection.execute(
        f"SELECT id, at_s, made_by, set_at, {_SETTING} FROM setting WHERE day = ? ORDER BY id", (day,)
    )
    return tuple(SettingRow(row[0], row[1], row[2], row[3], _setting(row[4:])) for row in rows)


def corrections(connection: sqlite3.Connection, day: str) -> tuple[CorrectionRow, ...]:
    """Return the setting of each pull that was corrected, the newest of each."""
    rows = connection.execute(
        f"SELECT p.number, s.set_at, {', '.join(f's.{name}' for name in _SETTING.split(', '))} FROM pull p"
        " JOIN pull_setting s ON s.id = (SELECT max(id) FROM pull_setting WHERE pull = p.id)"
        " WHERE p.day = ? ORDER BY p.number",
        (day,),
    )
    return tuple(CorrectionRow(row[0], row[1], _setting(row[2:])) for row in rows)


def tilts(connection: sqlite3.Connection, day: str) -> tuple[TiltRow, ...]:
    """Return a day's trials on the tilted board, those left out among them."""
    rows = connection.execute(
        "SELECT t.id, t.read_at, t.kind, t.angle_deg, t.acceleration_m_s2, t.surface, a.why FROM tilt t"
        " LEFT JOIN tilt_aside a ON a.id = (SELECT max(id) FROM tilt_aside WHERE tilt = t.id)"
        " WHERE t.day = ? ORDER BY t.id",
        (day,),
    )
    return tuple(
        TiltRow(
            number, read_at,
            TiltReading(kind=kind, angle_deg=angle, acceleration_m_s2=speeding, surface=surface, aside=why),
        )
        for number, read_at, kind, angle, speeding, surface, why in rows
    )  # fmt: skip


def last_prediction(connection: sqlite3.Connection, day: str) -> PredictionRow | None:
    """Return the day's last question unless it was put away."""
    row = connection.execute(
        f"SELECT id, {_PREDICTION} FROM prediction WHERE day = ? AND cleared_at IS NULL ORDER BY id DESC LIMIT 1",
        (day,),
    ).fetchone()
    if row is None:
        return None
    kept = connection.execute("SELECT slips FROM open_slips WHERE prediction = ?", row[:1]).fetchone()
    handed_in = OpenSlips() if kept is None else _OPEN_SLIPS.decode(kept[0])
    return PredictionRow(row[0], _prediction(row[1:]), handed_in)


def _forget_pages(connection: sqlite3.Connection, number: int) -> None:
    connection.execute("DELETE FROM open_slips WHERE prediction = ?", (number,))


def _values(setting: Setting) -> tuple[object, ...]:
    return (
        setting.load_kg, setting.sled_kg, setting.surface, setting.u_load_kg, setting.step_kg, setting.pulls_per_step,
    )  # fmt: skip


def _setting(row: tuple[Any, ...]) -> Setting:
    load_kg, sled_kg, surface, u_load_kg, step_kg, pulls_per_step = row
    return Setting(
        load_kg=load_kg, sled_kg=sled_kg, surface=surface, u_load_kg=u_load_kg, step_kg=step_kg,
        pulls_per_step=pulls_per_step,
    )  # fmt: skip


def _prediction(row: tuple[Any, ...]) -> Prediction:
    kind, quantity, question, options, committed_at, slips, before, at_s, revealed_at, pull, option = row
    told = () if slips is None else _SLIPS.decode(slips)
    return Prediction(
        kind=kind, quantity=quantity, question=question, options=_OPTIONS.decode(options),
        state="revealed" if revealed_at is not None else "open" if committed_at is None else "committed",
        count=len(told), slips=told,
        committed_before_pull=before, committed_at_s=at_s, pull=pull, option=option,
    )  # fmt: skip
