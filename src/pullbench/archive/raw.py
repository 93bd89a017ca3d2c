"""A day's raw samples as one text table, every digit as it was received."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Iterator, Sequence
from typing import Protocol

import numpy as np

from pullbench.archive.reader import LogbookReader
from pullbench.archive.rows import NewsRow, RecordingRow
from pullbench.model import Chunk

HEADING = "time (s),force (N),recording,own time (s)"


class TextOut(Protocol):
    """Anything that text can be written to."""

    def write(self, text: str, /) -> object:
        """Take a piece of text."""
        ...


def write_raw(logbook: LogbookReader, day: str, out: TextOut) -> int:
    """Write a day's samples as a table that `pullbench read` takes; return how many.

    "own time" is what the source said, digit for digit, and so is the force.  "time" is the day's one axis,
    on which each recording stands behind the one before: the same digits in the first recording, whole
    seconds more in the others.  Gaps, other damage and news are comment lines where they belong.  A time
    above 1e7 s in the first recording is a date to the reader, which counts from the first row then.
    """
    out.write(f"# pullbench, raw samples of {day}, as they were received\n")
    headed, samples = False, 0
    told = logbook.news(day)
    for place, row in enumerate(logbook.recordings(day), 1):
        out.write("".join(map(_comment, _opening_words(place, row))))
        news = deque(one for one in told if one.recording == row.id)
        for chunk in logbook.chunks(row.id):
            if not headed and chunk.time_s.size:
                out.write(f"{HEADING}\n")
                headed = True
            out.write("".join(_lines(chunk, place, row, news)))
            samples += chunk.time_s.size
        out.write("".join(_comment(_told(one)) for one in news))
        out.write(_comment(f"Recording {place} ends. {row.ending or 'It is still open.'}"))
    if not headed:
        out.write(f"{HEADING}\n")
    return samples


def _lines(chunk: Chunk, place: int, row: RecordingRow, news: deque[NewsRow]) -> Iterator[str]:
    """Yield a delivery's rows, with comments before the first sample that comes after what they tell."""
    remarks = [(int(np.searchsorted(chunk.time_s, f.end_s)), f.sentence) for f in chunk.flaws]
    while news and chunk.time_s.size and _moment_s(news[0]) < chunk.time_s[-1]:
        at = int(np.searchsorted(chunk.time_s, _moment_s(news[0]), side="right"))
        remarks.append((at, _told(news.popleft())))
    remarks.sort(key=lambda remark: remark[0])
    rows = _rows(chunk, place, row.offset_s)
    begin = 0
    for at, sentence in remarks:
        yield from rows[begin:at]
        yield _comment(sentence)
        begin = max(begin, at)
    yield from rows[begin:]


def _rows(chunk: Chunk, place: int, offset_s: float) -> Sequence[str]:
    own, force = chunk.time_s.tolist(), chunk.force_N.tolist()
    if offset_s == 0.0:
        return [f"{t!r},{f!r},{place},{t!r}\n" for t, f in zip(own, force, strict=True)]
    return [f"{t + offset_s!r},{f!r},{place},{t!r}\n" for t, f in zip(own, force, strict=True)]


def _opening_words(place: int, row: RecordingRow) -> Iterator[str]:
    began = time.strftime("%Y-%m-%d %H:%M:%S", time.localtime(row.began_at))
    label = f", {row.label}: nothing here was measured now" if row.label else ""
    yield f"Recording {place} from {row.source}{label}, begun {began}."
    if row.offset_s:
        yield f"Its own time 0 s stands at {row.offset_s:g} s."


def _told(row: NewsRow) -> str:
    at = f" at {row.news.at_s:.3f} s of its own time" if row.news.at_s is not None else ""
    return f"{row.news.kind}{at}: {row.news.sentence}"


def _moment_s(row: NewsRow) -> float:
    moment_s = row.news.at_s if row.news.at_s is not None else row.after_s
    return -np.inf if moment_s is None else moment_s


def _comment(sentence: str) -> str:
    return f"# {' '.join(sentence.split())}\n"
