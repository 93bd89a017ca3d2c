"""A watch that does nothing but write, for as long as it lives: `python killed_writer.py FILE SEED [COMMITS]`.

After each commit it prints "recording samples pulls", so that whoever kills it knows what was committed.
Sample n of a recording is always the same (books.invented), so that the reader can prove every digit.
"""

from __future__ import annotations

import os
import select
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from archive.books import invented, same, window_over
from pullbench.archive import Logbook
from pullbench.model import News


def write_on(path: Path, seed: int, commits: int | None) -> None:
    """Write until killed, or so many commits."""
    rng = np.random.Generator(np.random.PCG64(seed))
    logbook = Logbook.open(path, now=time.time)
    recording = logbook.begin_recording(source=f"seed {seed}", label="simulated")
    print("ready", flush=True)
    written = pulls = done = 0
    while commits is None or done < commits:
        for size in rng.integers(1, 400, size=rng.integers(1, 6)).tolist():
            logbook.keep(recording, invented(written, size))
            written += size
        if rng.random() < 0.2:
            logbook.keep_news(recording, News("back", f"after {written} samples"))
        if rng.random() < 0.1:
            whole = window_over(invented(0, written))
            logbook.add_reading(recording, window=whole, record=b"{}", version="0.1")
            pulls += 1
        logbook.commit()
        done += 1
        print(recording, written, pulls, flush=True)
    logbook.close()


@dataclass
class Child:
    """A running writer and what it said is committed: (samples, pulls) by recording."""

    process: subprocess.Popen[bytes]
    said: bytes = b""
    committed: dict[int, tuple[int, int]] = field(default_factory=dict)

    @classmethod
    def start(cls, path: Path, seed: int, commits: int | None = None) -> Child:
        """Start a writer."""
        import pullbench

        tests, src = Path(__file__).resolve().parents[1], Path(pullbench.__file__).resolve().parents[1]
        command = [
            sys.executable,
            "-m",
            "archive.killed_writer",
            str(path),
            str(seed),
            *map(str, [commits or ""]),
        ]
        environment = {**os.environ, "PYTHONPATH": f"{src}{os.pathsep}{tests}", "OPENBLAS_NUM_THREADS": "1"}
        return cls(subprocess.Popen(command, stdout=subprocess.PIPE, env=environment))

    def listen(self, seconds: float, until: bytes | None = None) -> None:
        """Take in what it says for so long, or until it has said something."""
        assert self.process.stdout is not None
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0 and not (until is not None and until in self.said):
            if select.select([self.process.stdout], [], [], left)[0]:
                piece = os.read(self.process.stdout.fileno(), 1 << 16)
                if not piece:
                    break
                self.said += piece

    def kill(self) -> None:
        """Kill it without warning, and take in the last that it said."""
        self.process.kill()
        self.finish()

    def finish(self) -> int:
        """Wait for its end; return its exit code."""
        assert self.process.stdout is not None
        self.said += self.process.stdout.read()
        self.process.stdout.close()
        for line in self.said.split(b"\n")[:-1]:  # a line without its end was cut by the kill
            if line and line != b"ready":
                recording, samples, pulls = map(int, line.split())
                self.committed[recording] = (samples, pulls)
        return self.process.wait()


def lost(logbook: Logbook, committed: dict[int, tuple[int, int]]) -> int:
    """Return how many committed samples are not there or not the same to the last bit, and pulls likewise."""
    missing = 0
    for recording, (samples, pulls) in committed.items():
        trace, row = logbook.trace(recording), logbook.recording(recording)
        if not same(trace, invented(0, trace.time_s.size)) or row.count != trace.time_s.size:
            missing += samples
        missing += max(0, samples - trace.time_s.size)
        kept = [pull for pull in logbook.pulls(row.day) if pull.recording == recording]
        missing += max(0, pulls - len(kept))
        missing += sum(not same(w, trace_of(w)) for w in (logbook.window(pull.id).trace for pull in kept))
    return missing


def trace_of(window_trace):
    """Return what a window over the first samples must hold."""
    return invented(0, window_trace.time_s.size)


if __name__ == "__main__":
    write_on(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]) if sys.argv[3] else None)
