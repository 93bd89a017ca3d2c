"""Lines from standard input: `some-driver | pullbench watch -`."""

from __future__ import annotations

import contextlib
import os
import queue
import sys
import threading
from typing import IO, Any

from pullbench.model import News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.line_source import LineSource
from pullbench.sources.live.source import Clock, EndedError, Octets

_BLOCK_BYTES = 1 << 16
_BLOCKS_AHEAD = 64
_NO_CHOICES = TableChoices()


class StandardInput(LineSource):
    """Text lines from a stream, standard input by default; its end is the end of the watch.

    A thread of its own waits for bytes, since waiting with a time limit is not to be had on every system.
    """

    name = "standard input"
    check_when_silent = "Check that the program before the pipe runs and does not hold its lines back."

    def __init__(self, stream: IO[Any] | None = None, choices: TableChoices = _NO_CHOICES) -> None:
        super().__init__(choices)
        self._stream = sys.stdin if stream is None else stream

    def _open(self, clock: Clock) -> Octets:
        return ThreadedOctets(self._stream)


class ThreadedOctets:
    """A stream read by a thread that ends with the process."""

    def __init__(self, stream: IO[Any]) -> None:
        self._blocks: queue.Queue[bytes] = queue.Queue(_BLOCKS_AHEAD)
        self._ended = False
        threading.Thread(target=self._copy, args=(stream,), daemon=True).start()

    def read(self, wait_s: float) -> bytes:
        """Return what came; raises EndedError at the end of the stream."""
        if self._ended:
            raise EndedError
        try:
            data = self._blocks.get(timeout=wait_s) if wait_s else self._blocks.get_nowait()
        except queue.Empty:
            return b""
        if not data:
            self._ended = True
            raise EndedError
        return data

    def news(self) -> list[News]:
        """Return nothing: a pipe is as it is."""
        return []

    def close(self) -> None:
        """Let the thread be: it may be waiting for bytes, and ends with the process."""

    def _copy(self, stream: IO[Any]) -> None:
        with contextlib.suppress(OSError, ValueError):  # closed under our hands: the same as its end
            while data := _next_block(stream):
                self._blocks.put(data)
        self._blocks.put(b"")


def _next_block(stream: IO[Any]) -> bytes:
    """Return what came, waiting for it; nothing at the end.

    By the file's number where it has one: a thread that waits inside a buffered stream holds its lock, and
    Python cannot end then.
    """
    try:
        number = stream.fileno()
    except (OSError, AttributeError):  # held in memory
        data = stream.read(_BLOCK_BYTES)
        return data if isinstance(data, bytes) else data.encode()
    return os.read(number, _BLOCK_BYTES)
