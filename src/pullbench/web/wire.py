"""Messages of the session as they travel: JSON text with a number each, and binary strip frames."""

from __future__ import annotations

import math
import struct
from collections.abc import Sequence
from typing import Any

import msgspec
import numpy as np

from pullbench.live import (
    COLUMN_S,
    Behind,
    CheckTold,
    ForceNow,
    Message,
    NewsTold,
    PredictionNow,
    PullTold,
    SettingNow,
    Sheet,
    Snapshot,
    StateNow,
    StoodDown,
    StripColumns,
    TiltNow,
)
from pullbench.model import News
from pullbench.web.join import Join

_ENCODER = msgspec.json.Encoder()


def text_of(seq: int, message: Message) -> str | None:
    """Return a message as JSON, or None for one that is not sent as text."""
    body = _body(message)
    return None if body is None else _ENCODER.encode({**body, "seq": seq}).decode()


def _body(message: Message) -> dict[str, Any] | None:
    match message:
        case StateNow():
            more = {"on_watch": True} if message.on_watch else {}
            return {"kind": "state", "state": str(message.state), "at_s": message.at_s, **more}
        case ForceNow():
            told = message.told
            return {
                "kind": "force", "text": told.text, "plus_minus": told.plus_minus, "unit": told.unit,
                "value_N": told.value,
            }  # fmt: skip
        case PullTold():
            return {"kind": "pull", "pull": message.card}
        case NewsTold():
            return {"kind": "news", "news": news_of(message.news)}
        case CheckTold():
            return {"kind": "check", "check": message.check}
        case SettingNow():
            return {"kind": "setting", "setting": message.setting}
        case PredictionNow():
            return {"kind": "prediction", "prediction": message.prediction}
        case TiltNow():
            return {"kind": "tilt", "tilt": message.readings}
        case StoodDown():
            return {"kind": "stood down", "sentence": message.sentence}
        case Behind():
            return {"kind": "behind"}
        case _:
            return None


def news_of(news: News) -> dict[str, Any]:
    """Return news as the page shows them."""
    return {"kind": news.kind, "sentence": news.sentence, "at_s": news.at_s}


def hello(snapshot: Snapshot, *, role: str, join: Join | None, since: str) -> str:
    """Return the first message: everything that a page has to know."""
    return _ENCODER.encode(
        {
            "kind": "hello", "seq": snapshot.seq, "role": role, "day": snapshot.day, "source": snapshot.source,
            "label": snapshot.label, "state": str(snapshot.state), "now_s": snapshot.now_s,
            "on_watch": snapshot.on_watch, "since": since, "sentence": snapshot.sentence, "check": snapshot.check,
            "pulls": snapshot.pulls, "news": [news_of(news) for news in snapshot.news],
            "setting": snapshot.setting, "prediction": snapshot.prediction, "tilt": snapshot.tilt,
            "join": None if join is None else {"url": join.url, "code": join.code, "svg": join.svg},
        }
    ).decode()  # fmt: skip


def strip_frame(columns: StripColumns) -> bytes:
    """Return columns as a frame: float64 start_s, float64 column_s, then float32 pairs, little endian."""
    return struct.pack("<dd", columns.start_s, columns.column_s) + columns.pairs.astype("<f4").tobytes()


def joined(parts: Sequence[StripColumns]) -> list[StripColumns]:
    """Return neighbouring stretches of 10 ms columns as one; a later one's columns replace an earlier one's."""
    runs: list[list[StripColumns]] = []
    ends_s = -math.inf
    for part in parts:
        if not runs or part.start_s > ends_s + 1.0:
            runs.append([])
        runs[-1].append(part)
        ends_s = part.start_s + COLUMN_S * part.pairs.shape[0]
    return [_one(run) for run in runs]


def _one(run: list[StripColumns]) -> StripColumns:
    if len(run) == 1:
        return run[0]
    first = round(run[0].start_s / COLUMN_S)
    places = [round(part.start_s / COLUMN_S) - first for part in run]
    pairs = np.full(
        (max(at + part.pairs.shape[0] for at, part in zip(places, run, strict=True)), 2), np.nan, np.float32
    )
    for at, part in zip(places, run, strict=True):
        pairs[at : at + part.pairs.shape[0]] = part.pairs
    return StripColumns(run[0].start_s, COLUMN_S, pairs)


def sheet_of(sheet: Sheet) -> dict[str, Any]:
    """Return a pull held up as the page takes it: its card and more."""
    return {
        **msgspec.structs.asdict(sheet.card),
        "trace": {"time_s": sheet.time_s.tolist(), "force_N": sheet.force_N.tolist()},
        "budgets": sheet.budgets,
        "chosen": sheet.chosen,
        "rest": sheet.rest,
        "coefficients": sheet.coefficients,
    }


def encoded(value: object) -> bytes:
    """Return a value as JSON."""
    return _ENCODER.encode(value)
