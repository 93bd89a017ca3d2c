"""Everything that can go wrong, drawn as one tree.

    PullbenchError
    ├── RecordingError (ValueError)      a recording cannot be read, or would have to be guessed at
    ├── ConditionsError (ValueError)     a load, angle, tilt, place or gain is impossible
    ├── BenchError (ValueError)          a virtual bench is asked for something that cannot be simulated
    ├── SourceError (RuntimeError)       samples cannot be had: port, socket or folder missing, busy or closed to us
    ├── LogbookError (RuntimeError)      the logbook cannot be opened or written
    └── PageError (ValueError)           the page is asked for something that is not there or not allowed

Each error says three things: what is wrong (with value and unit), what is allowed, what to do next.
`code` is stable: tests, translations and pages key on it. The command line turns one into a line on
stderr and exit status 2, in one place.
"""

from __future__ import annotations


class PullbenchError(Exception):
    """A mistake that the person at the bench can mend.

    code: stable name of the mistake, lower case with hyphens.  what: the fault with value and unit.
    allowed: what would be right.  next_step: the one thing to do.
    """

    def __init__(self, code: str, what: str, allowed: str, next_step: str) -> None:
        super().__init__(code, what, allowed, next_step)  # all in args: errors survive a process pool
        self.code, self.what, self.allowed, self.next_step = code, what, allowed, next_step

    def __str__(self) -> str:
        return f"{self.what} {self.allowed} {self.next_step}"


class RecordingError(PullbenchError, ValueError):
    """A recording cannot be read, or reading it would need a guess that changes a number."""


class ConditionsError(PullbenchError, ValueError):
    """A load, string angle, tilt, place on Earth or gain is impossible."""


class BenchError(PullbenchError, ValueError):
    """A virtual bench or hand is asked for something that cannot be simulated."""


class SourceError(PullbenchError, RuntimeError):
    """Samples cannot be had: a port, socket or folder is missing, busy or closed to us."""


class LogbookError(PullbenchError, RuntimeError):
    """The logbook cannot be opened or written."""


class PageError(PullbenchError, ValueError):
    """The local page is asked for something that is not there or not allowed."""
