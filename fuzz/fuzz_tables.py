"""Throw mangled tables at the reader for so many seconds; a crash ends the run with exit status 1.

    python fuzz/fuzz_tables.py 60

Any bytes must give a recording with finite, rising times or one RecordingError.  With atheris installed
its engine drives the run; else a plain loop keeps inputs that reach new lines of `pullbench.sources` and
goes on from those.  The seed is printed; a crashing input is written beside the temporary corpus.
"""

from __future__ import annotations

import importlib.util
import pathlib
import random
import sys
import tempfile
import time
from types import FrameType
from typing import Any

import numpy as np

from pullbench import sources
from pullbench.errors import RecordingError
from pullbench.sources import TableChoices, read_table

PACKAGE = str(pathlib.Path(sources.__file__).parent)
SEEDS = [
    b"Time (s),Force (N)\n0.00,1.0\n0.01,1.5\n0.02,2.25\n",
    b"Zeit;Kraft\r\nms;mN\r\n0;1,5\r\n10;2,5\r\n20;3,5\r\n",
    b"chatter 1\n0.02 N1 \n0.05 N1 \nlost\n0.07 N1 \n",
    b"12:00:00.0 1\n12:00:00.1 2\n23:59:59.9 3\n00:00:00.0 4\n",
    b"t\tF\n" + b"".join(b"%d.%02d\t%d\n" % (i // 300, i // 3 % 100, i % 7) for i in range(120)),
    b"0,01,2,34\n0,02,2,40\n0,03,2,51\n",
    b'"t [s]","F [N]"\n"0,1","1.234,5"\n"0,2","-"\n"0,3","2,5"\n',
    "t [s],F [N]\n0.1,1\n0.2,2\n".encode("utf-16"),
    b"\xb5s;\xb5N\n1000;5\n2000;6\n1500;7\n2000;7\n3000;8\n",
]
TOKENS = [
    b",",
    b";",
    b"\t",
    b"|",
    b" ",
    b"\n",
    b"\r",
    b"\r\n",
    b'"',
    b"#",
    b".",
    b"-",
    b"e9",
    b"1e308",
    b"nan",
    b"N1",
    b" mN",
    b"s",
    b"[ms]",
    b"(mV/V)",
    b"kip",
    b"\0",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"\xb5",
    b"12:59:59.9",
    b"2031-02-03 ",
    b"0.01,",
    b"1,234",
    b"{",
    b"[[",
]
CHOICES = [
    TableChoices(),
    TableChoices(rate_Hz=100.0),
    TableChoices(column="2", time_unit="ms"),
    TableChoices(column="1", rate_Hz=1e-9, scale_N=1e300),
    TableChoices(decimal=",", force_unit="g"),
    TableChoices(separator="blank", time_column="1", time_unit="min"),
    TableChoices(encoding="utf-16", rate_Hz=5.0),
]


def reads_or_refuses(path: pathlib.Path, content: bytes) -> None:
    """Read content as a table with the choices its length picks; any error but a RecordingError comes out."""
    path.write_bytes(content)
    try:
        trace, assumed = read_table(path, CHOICES[len(content) % len(CHOICES)])
    except RecordingError:
        return
    if not assumed or trace.time_s.size < 2:
        raise AssertionError("a recording without samples or without its sentence")
    if not (np.isfinite(trace.time_s).all() and np.isfinite(trace.force_N).all()):
        raise AssertionError("a number that is not finite")
    if not bool(np.all(np.diff(trace.time_s) > 0)):
        raise AssertionError("times that do not rise")


def mutated(rng: random.Random, corpus: list[bytes]) -> bytes:
    """Return an input of the corpus, cut, doubled, spliced or strewn with tokens."""
    content = bytearray(rng.choice(corpus))
    for _ in range(rng.randint(1, 6)):
        at, until = sorted((rng.randint(0, len(content)), rng.randint(0, len(content))))
        match rng.randrange(6):
            case 0:
                content[at:at] = rng.choice(TOKENS)
            case 1:
                content[at : min(until, at + 8)] = rng.choice(TOKENS)
            case 2:
                del content[at:until]
            case 3:
                content[at:at] = content[at:until] * rng.randint(1, 30)
            case 4:
                content[at:until] = rng.choice(corpus)[: rng.randint(0, 200)]
            case _:
                content[at : at + 1] = bytes([rng.randrange(256)])
    return bytes(content[:4000])


class Coverage:
    """Lines of the package that were reached so far, by `sys.settrace` on its frames only."""

    def __init__(self) -> None:
        self.seen: set[tuple[str, int]] = set()

    def _in_frame(self, frame: FrameType, _event: str, _arg: Any) -> Any:
        self.seen.add((frame.f_code.co_filename, frame.f_lineno))
        return self._in_frame

    def _on_call(self, frame: FrameType, _event: str, _arg: Any) -> Any:
        return self._in_frame if frame.f_code.co_filename.startswith(PACKAGE) else None

    def grows(self, path: pathlib.Path, content: bytes) -> bool:
        """Run one input and say whether it reached a new line."""
        before = len(self.seen)
        sys.settrace(self._on_call)
        try:
            reads_or_refuses(path, content)
        finally:
            sys.settrace(None)
        return len(self.seen) > before


def run_plainly(seconds: float, seed: int, folder: pathlib.Path) -> int:
    """Fuzz for so many seconds; return the exit status."""
    rng, coverage, corpus, runs = random.Random(seed), Coverage(), list(SEEDS), 0
    ends = time.monotonic() + seconds
    queue = list(SEEDS)
    while time.monotonic() < ends:
        content = queue.pop() if queue else mutated(rng, corpus)
        runs += 1
        try:
            if coverage.grows(folder / "pull.csv", content):
                corpus.append(content)
        except Exception as crash:
            kept = pathlib.Path(tempfile.gettempdir()) / f"crash-{seed}-{runs}.csv"
            kept.write_bytes(content)
            print(
                f"crash after {runs} runs (seed {seed}): {crash!r}\n{content!r}\nkept as {kept}",
                file=sys.stderr,
            )
            return 1
    print(
        f"{runs} runs, {len(corpus)} inputs kept, {len(coverage.seen)} lines reached, seed {seed}: no crash"
    )
    return 0


def run_with_atheris(seconds: float, folder: pathlib.Path) -> int:
    """Let atheris drive for so many seconds; it ends the process by itself on a crash."""
    import atheris  # type: ignore[import-not-found]

    atheris.instrument_all()
    arguments = [sys.argv[0], f"-max_total_time={max(1, round(seconds))}", "-max_len=4000"]
    atheris.Setup(arguments, lambda content: reads_or_refuses(folder / "pull.csv", content))
    atheris.Fuzz()
    return 0


def main() -> int:
    """Read the seconds (and a seed) from the command line and run."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 30.0
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else time.time_ns() % 2**32
    with tempfile.TemporaryDirectory() as folder:
        if importlib.util.find_spec("atheris") is not None:
            return run_with_atheris(seconds, pathlib.Path(folder))
        return run_plainly(seconds, seed, pathlib.Path(folder))


if __name__ == "__main__":
    sys.exit(main())
