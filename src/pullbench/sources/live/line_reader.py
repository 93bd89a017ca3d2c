"""Bytes of any source that speaks in lines, to samples and news: the one decoder they all share."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from pullbench.errors import RecordingError, SourceError
from pullbench.model import Chunk, Delivery, Ended, News
from pullbench.sources.batch import Batch, Piece, Queue
from pullbench.sources.choices import TableChoices, check_choices
from pullbench.sources.damage import Damage, joined
from pullbench.sources.live.arrivals import Arrivals
from pullbench.sources.live.found import Burst, Found, as_block, without_fragment
from pullbench.sources.live.head import Head, as_source_error
from pullbench.sources.live.line_cutter import LineCutter
from pullbench.sources.live.telling import EvenStretch, Telling, restarts_in
from pullbench.sources.live.times import OwnTimes, Times
from pullbench.sources.rows import GOOD, UNREADABLE, Rows

_ANEW_s, _ANEW_LINES = 3.0, 20  # lines that all cannot be read: the sender has changed
_NUMBER_STARTS = b"0123456789+-.,"


class LineReader:
    """Turns bytes, as they arrive, into samples.

    The lines of the first second (and ten of them) are held back until columns, units and clock are found
    out, then delivered too.  However the bytes are cut, the samples are the same; only where lines carry
    no time do the moments of arrival matter (see `Arrivals`).  mid_line: the stream is joined midway.
    """

    def __init__(self, choices: TableChoices, *, mid_line: bool = False) -> None:
        try:
            check_choices(choices)
        except RecordingError as refusal:
            raise as_source_error(refusal) from refusal
        self._choices = choices
        self._mid_line = mid_line
        self._cutter, self._telling, self._even = LineCutter(), Telling(), EvenStretch()
        self._queue = Queue()
        self._unreadable_since_s: float | None = None
        self._look_anew()

    def feed(self, octets: bytes, now_s: float) -> list[Delivery]:
        """Return what these bytes complete; now_s: by this computer's clock.

        Raises SourceError when the lines can only be read with a choice that the person has to make.
        """
        lines = self._cutter.feed(octets)
        if self._found is None:
            return self._hold(lines, now_s)
        return [*self._read(lines, now_s), *self._anew_if_unreadable(now_s)]

    def tick(self, now_s: float) -> list[Delivery]:
        """Return what is due although no bytes came."""
        if self._found is None:
            return self._hold([], now_s)
        return self._deliver(self._times.tick(now_s), now_s)

    def reconnected(self) -> None:
        """Say that the bytes before and after now did not follow one another."""
        self._cutter.broken_off()
        if self._found is None:
            self._look_anew()  # nothing is found out across a break
        self._unreadable_since_s, self._unreadable = None, 0
        self._joined_anew = True
        if self._arrivals is not None:
            self._arrivals.reconnected()

    def finish(self, now_s: float) -> list[Delivery]:
        """Return what is left when the stream has ended.  Raises SourceError as feed does."""
        lines = self._cutter.finish()
        told = [] if self._found is None else self._read(lines, now_s)
        if self._found is None:
            told += self._hold([] if told else lines, now_s, last=True)
        if self._found is None:
            return [*told, *self._hold([], now_s, last=True)]  # where a heading began another head
        if self._arrivals is not None and self._arrivals.rate_Hz is None:
            raise _no_rate()
        return [*told, *self._last(now_s)]

    def _look_anew(self, lines: Sequence[Burst] = ()) -> None:
        self._found: Found | None = None
        self._arrivals: Arrivals | None = None
        self._times: Times = Arrivals()  # until something is found, nothing is timed
        self._head = Head(self._choices, lines)
        self._unreadable_since_s, self._unreadable = None, 0
        self._newest_s = -math.inf  # of the samples delivered
        self._joined_anew = False

    def _hold(self, lines: list[bytes], now_s: float, *, last: bool = False) -> list[Delivery]:
        """Keep the lines of the head; when there are enough, deliver them as they turned out to be."""
        self._head.add(lines, now_s)
        outcome = self._head.find_out(now_s, last=last)
        if outcome is None:
            words = self._head.words
            return [] if words is None else self._telling.not_numbers(words, now_s)
        found, rows = outcome
        if self._mid_line:
            rows, self._mid_line = without_fragment(found, rows), False
        self._begin(found)
        told: list[Delivery] = [] if found.by_arrival else [News("found out", found.sentence())]
        for burst in rows:
            # A heading among them may have begun another head.
            read = self._read if self._found is not None else self._hold
            told += read(burst.lines, burst.arrived_s)
        return [*told, *self._deliver(self._times.tick(now_s), now_s)]

    def _begin(self, found: Found) -> None:
        self._found, self._queue, self._head = found, Queue(), Head(self._choices)
        self._arrivals = Arrivals() if found.by_arrival else None
        self._times = self._arrivals or OwnTimes(found.plan.clock())

    def _read(self, lines: list[bytes], now_s: float) -> list[Delivery]:
        told: list[Delivery] = []
        for part in self._between_headings(lines):
            if isinstance(part, Found):
                told += self._under_new_heading(part)
            elif isinstance(part, Burst):
                return [*told, *self._other_heading(part, now_s)]
            else:
                told += self._read_rows(part, now_s)
        return told

    def _read_rows(self, lines: list[bytes], now_s: float) -> list[Delivery]:
        assert self._found is not None
        rows = self._found.reader.read(as_block(lines))
        told = self._unread(rows, now_s)
        batch = self._found.plan.batch(rows, self._queue)
        told += self._began_anew(batch, now_s)
        knew_rate = self._arrivals is None or self._arrivals.rate_Hz is not None
        piece = self._times.feed(batch, now_s)
        if self._arrivals is not None and not knew_rate and self._arrivals.rate_Hz is not None:
            told.append(News("found out", self._found.sentence(self._arrivals.rate_Hz)))
        told += self._deliver(piece, now_s)
        return told + self._out_of_step()

    def _between_headings(self, lines: list[bytes]) -> Iterator[list[bytes] | Found | Burst]:
        """Yield lines in order; a Found for a heading that changes nothing, a Burst for one that does."""
        assert self._found is not None
        plain: list[bytes] = []
        for at, line in enumerate(lines):
            headings = () if line[:1] in _STARTS else self._found.heading_in(line)
            if not headings:
                plain.append(line)
            elif tuple(heading.text for heading in headings) != self._found.headings:
                try:
                    same = self._found.under(headings)
                except RecordingError as refusal:
                    if refusal.code == "scale-missing":
                        raise as_source_error(refusal) from refusal
                    plain.append(line)  # words that only look like a heading
                    continue
                yield plain
                if same is None:
                    yield Burst(0.0, lines[at:])
                    return
                plain = []
                yield same
        yield plain

    def _under_new_heading(self, found: Found) -> list[Delivery]:
        self._found = found
        known = self._arrivals is None or self._arrivals.rate_Hz is not None
        rate_Hz = self._arrivals.rate_Hz if self._arrivals is not None else None
        return [News("found out", f"A heading came. {found.sentence(rate_Hz)}")] if known else []

    def _other_heading(self, rest: Burst, now_s: float) -> list[Delivery]:
        told = self._last(now_s)
        self._look_anew([Burst(now_s, rest.lines)])
        text = rest.lines[0].decode("utf-8", "replace")
        return [
            *told,
            Ended(f'A new heading came ("{text[:60]}"): a new recording begins, read by it.'),
        ]

    def _unread(self, rows: Rows, now_s: float) -> list[Delivery]:
        """Tell of lines that are no numbers, and note how long nothing else came."""
        lost = int(np.count_nonzero(rows.state == UNREADABLE))
        if (rows.state == GOOD).any():
            self._unreadable_since_s, self._unreadable = None, 0
        elif lost and self._unreadable_since_s is None:
            self._unreadable_since_s = now_s
        self._unreadable += lost
        return self._telling.unreadable(lost, next(iter(rows.texts.values()), ""), now_s) if lost else []

    def _anew_if_unreadable(self, now_s: float) -> list[Delivery]:
        since_s = self._unreadable_since_s
        if since_s is None or now_s - since_s < _ANEW_s or self._unreadable < _ANEW_LINES:
            return []
        told = self._last(now_s)
        self._look_anew()
        sentence = (
            "For 3 s no line could be read as before: the recording ends, and the lines are looked at anew."
        )
        return [*told, Ended(sentence)]

    def _began_anew(self, batch: Batch, now_s: float) -> list[Delivery]:
        """After a break: begin a new recording if the sensor's own clock did not go on."""
        good = batch.time_s[batch.state == GOOD]
        if not self._joined_anew or not good.size:
            return []
        self._joined_anew = False
        if self._arrivals is not None or good[0] > self._newest_s:
            return []
        assert self._found is not None
        told = self._last(now_s)
        self._times, self._newest_s = OwnTimes(self._found.plan.clock()), -math.inf
        return [*told, Ended("The sensor's own clock started anew: a new recording begins.")]

    def _out_of_step(self) -> list[Delivery]:
        if self._arrivals is None or not self._arrivals.out_of_step:
            return []
        assert self._found is not None
        self._begin(self._found)
        self._newest_s = -math.inf
        return [Ended("Readings come at another rate than was found: a new recording begins.")]

    def _last(self, now_s: float) -> list[Delivery]:
        """Return what is left of the recording."""
        return self._deliver(self._times.finish(), now_s, last=True)

    def _deliver(self, piece: Piece, now_s: float, *, last: bool = False) -> list[Delivery]:
        """Return a piece as chunks: a device clock that was set anew ends the recording there."""
        told: list[Delivery] = []
        restarts = restarts_in(piece.damages)
        damages = self._even.gathered([d for d in piece.damages if d not in restarts], last=last)
        told += self._telling.damages(damages, now_s)
        begin = 0
        for restart in restarts:
            end = int(np.searchsorted(piece.time_s, restart.start_s, side="right"))
            told += self._chunk(piece, begin, end, damages, until_s=restart.start_s)
            damages = [damage for damage in damages if damage.start_s > restart.start_s]
            told += self._telling.restart(restart)
            begin = end
        told += self._chunk(piece, begin, piece.time_s.size, damages, until_s=math.inf)
        return told

    def _chunk(
        self, piece: Piece, begin: int, end: int, damages: Iterable[Damage], *, until_s: float
    ) -> list[Delivery]:
        flaws = tuple(d.as_flaw() for d in joined(d for d in damages if d.start_s <= until_s))
        if begin == end and not flaws:
            return []
        if end > begin:
            self._newest_s = float(piece.time_s[end - 1])
        return [Chunk(time_s=piece.time_s[begin:end], force_N=piece.force_N[begin:end], flaws=flaws)]


_STARTS = frozenset(bytes([octet]) for octet in _NUMBER_STARTS)


def _no_rate() -> SourceError:
    return SourceError(
        "rate-missing",
        "The lines carry no time, and they stopped before their rate could be told.",
        "Without times it takes two seconds of lines that come as they are taken, or a known rate.",
        "Give --rate the samples a second, or send time and force in each line.",
    )
