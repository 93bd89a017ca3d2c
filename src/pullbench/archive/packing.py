"""Samples to bytes and back, without losing a digit.

One row holds what one commit wrote.  Blobs are plain float64: zlib would make the file two to five times
smaller, but reading a day back some ten times slower, and a plain blob can be read by anything for ever.
"""

from __future__ import annotations

import math
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

import msgspec
import numpy as np

from pullbench.model import Chunk, Flaw, FlawKind, FloatArray

_LITTLE = np.dtype("<f8")


class FlawRecord(msgspec.Struct, array_like=True):
    """A flaw as JSON: which delivery of the row brought it, then the flaw; null is a time that is none."""

    delivery: int
    kind: str
    start_s: float | None
    end_s: float | None
    count: int
    sentence: str

    def flaw(self) -> Flaw:
        """Return the model's flaw."""
        start_s = math.nan if self.start_s is None else self.start_s
        end_s = math.nan if self.end_s is None else self.end_s
        kind = cast(FlawKind, self.kind)
        return Flaw(kind=kind, start_s=start_s, end_s=end_s, count=self.count, sentence=self.sentence)


_FLAWS = msgspec.json.Decoder(list[FlawRecord])
_COUNTS = msgspec.json.Decoder(list[int])


@dataclass(frozen=True, slots=True)
class Packed:
    """One row of samples as it is stored; first_s to most_N are None in a row without samples."""

    first_s: float | None
    last_s: float | None
    count: int
    least_N: float | None
    most_N: float | None
    crc: int
    chunks: bytes
    flaws: bytes | None
    time_s: bytes
    force_N: bytes


def pack(chunks: Sequence[Chunk]) -> Packed:
    """Return deliveries of one recording, in order, as one row."""
    time_s = np.concatenate([chunk.time_s for chunk in chunks])
    force_N = np.concatenate([chunk.force_N for chunk in chunks])
    counts = msgspec.json.encode([chunk.time_s.size for chunk in chunks])
    records = flaw_records(chunk.flaws for chunk in chunks)
    flaws = msgspec.json.encode(records) if records else None
    times, forces = time_s.astype(_LITTLE).tobytes(), force_N.astype(_LITTLE).tobytes()
    some = time_s.size > 0
    return Packed(
        first_s=float(time_s[0]) if some else None,
        last_s=float(time_s[-1]) if some else None,
        count=time_s.size,
        least_N=float(force_N.min()) if some else None,
        most_N=float(force_N.max()) if some else None,
        crc=_crc(counts, flaws, times, forces),
        chunks=counts,
        flaws=flaws,
        time_s=times,
        force_N=forces,
    )


def unpack(crc: int, chunks: bytes, flaws: bytes | None, time_s: bytes, force_N: bytes) -> list[Chunk] | None:
    """Return the deliveries of a row as they were, or None when a single bit of it has changed."""
    if any(blob is not None and not isinstance(blob, bytes) for blob in (chunks, flaws, time_s, force_N)):
        return None  # damage can turn a blob into a number
    if _crc(chunks, flaws, time_s, force_N) != crc:
        return None
    times, forces = _array(time_s), _array(force_N)
    counts = _COUNTS.decode(chunks)
    brought: list[list[Flaw]] = [[] for _ in counts]
    for record in _FLAWS.decode(flaws) if flaws else ():
        brought[record.delivery].append(record.flaw())
    edges = np.cumsum(counts)[:-1]
    pieces = zip(np.split(times, edges), np.split(forces, edges), brought, strict=True)
    return [Chunk(time_s=t, force_N=f, flaws=tuple(seen)) for t, f, seen in pieces]


def flaw_records(brought: Iterable[Iterable[Flaw]]) -> list[FlawRecord]:
    """Return the flaws of several deliveries as records."""
    return [
        FlawRecord(index, flaw.kind, flaw.start_s, flaw.end_s, flaw.count, plain_text(flaw.sentence))
        for index, flaws in enumerate(brought)
        for flaw in flaws
    ]


def stored_flaws(flaws: bytes | None) -> Iterator[Flaw]:
    """Yield the flaws of a row."""
    for record in _FLAWS.decode(flaws) if flaws else ():
        yield record.flaw()


def plain_text(text: str) -> str:
    """Return text that can be stored: halves of characters, from a damaged line, become question marks."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _array(blob: bytes) -> FloatArray:
    return np.frombuffer(blob, dtype=_LITTLE).astype(np.float64, copy=False)


def _crc(*parts: Any) -> int:
    crc = 0
    for part in parts:
        crc = zlib.crc32(part or b"", crc)
    return crc
