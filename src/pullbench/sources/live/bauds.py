"""Which baud rate a sensor speaks at: tried out until its bytes read as lines of numbers."""

from __future__ import annotations

from typing import Literal, Protocol

from pullbench.model import News
from pullbench.sources.live.line_cutter import LineCutter
from pullbench.sources.live.source import Clock

BAUDS = (115200, 9600, 57600, 38400, 19200, 230400, 460800, 921600, 250000, 500000, 1000000, 4800)
_FEWEST_BYTES, _GOOD_LINES = 16, 3
_LOOK_s, _PATIENCE_s = 0.7, 3.0  # for numbers; for words, as a board may greet before it measures
_WORSE_BYTES = 256
_PRINTABLE = bytes(range(32, 127)) + b"\t\r\n\x00\x11\x13"
Judgement = Literal["numbers", "words", "noise", "little"]


def judge(octets: bytes) -> Judgement:
    """Say what bytes look like at the present rate: lines of numbers, words, noise, or too few to tell.

    At a wrong rate bits fall into the wrong places, and bytes beyond ASCII are soon among them.
    """
    if len(octets) < _FEWEST_BYTES:
        return "little"
    strange = len(octets.translate(None, _PRINTABLE.replace(b"\x00", b"")))
    if strange * 20 > len(octets):
        return "noise"
    lines = LineCutter().feed(octets)[1:]  # the first may be the end of a line
    numeric = sum(any(48 <= octet < 58 for octet in line) for line in lines)
    if numeric >= _GOOD_LINES and numeric * 2 > len(lines) and not strange:
        return "numbers"
    return "words"


class TunablePort(Protocol):
    """A port whose rate can be changed while it is open."""

    def read(self, wait_s: float) -> bytes:
        """Return what came within wait_s."""
        ...

    def tune(self, baud: int) -> None:
        """Listen at this rate from now on; what had come at the old one is forgotten."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...


class BaudFinder:
    """A port that holds its bytes back until their rate is found, and looks again when they turn to noise.

    first: tried before the others.
    """

    def __init__(self, port: TunablePort, where: str, clock: Clock, first: int | None = None) -> None:
        self._port, self._where, self._clock = port, where, clock
        self._bauds = [first, *(b for b in BAUDS if b != first)] if first else list(BAUDS)
        self._news: list[News] = []
        self.found: int | None = None
        self._seen_at_s = 0.0
        self._start(0)

    @property
    def baud(self) -> int:
        """The rate listened at."""
        return self._bauds[self._at]

    def read(self, wait_s: float) -> bytes:
        """Return bytes once the rate is found, from the first one at that rate on."""
        data = self._port.read(wait_s)
        if not data:
            return data
        if self.found is not None:
            return self._still_good(data)
        if not self._seen:
            self._seen_at_s = self._clock()
        self._seen += data
        return self._decide(judge(self._seen), self._clock() - self._seen_at_s)

    def news(self) -> list[News]:
        """Return what was found out since the last call."""
        news, self._news = self._news, []
        return news

    def close(self) -> None:
        """Let go of the port."""
        self._port.close()

    def _start(self, at: int) -> None:
        self._at, self._seen, self._noise = at, b"", b""
        self._port.tune(self.baud)

    def _decide(self, judgement: Judgement, looked_s: float) -> bytes:
        if judgement == "numbers" or (judgement == "words" and looked_s >= _PATIENCE_s):
            self.found = self.baud
            self._news.append(News("found out", f"The {self._where} speaks at {self.baud} baud."))
            return self._seen
        if (judgement == "noise" and looked_s >= _LOOK_s) or looked_s >= 2 * _PATIENCE_s:
            self._next()
        return b""

    def _next(self) -> None:
        if self._at + 1 == len(self._bauds):
            sentence = (
                f"Bytes come from the {self._where}, but at no usual baud rate do they read as lines. "
                "Trying them all again. Give --baud if the sensor's own is another; check its ground wire."
            )
            self._news.append(News("not numbers", sentence))
        self._start((self._at + 1) % len(self._bauds))

    def _still_good(self, data: bytes) -> bytes:
        self._noise = (self._noise + data)[-_WORSE_BYTES:]
        if len(self._noise) < _WORSE_BYTES or judge(self._noise) != "noise":
            return data
        sentence = f"The bytes from the {self._where} turned to noise: its baud rate is looked for anew."
        self._news.append(News("not numbers", sentence))
        self.found = None
        self._start(self._at)
        return b""
