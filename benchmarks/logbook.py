"""What it costs to keep 1 kHz safely, beside a row for each sample and a text file; how fast a day opens.

    python -m benchmarks.logbook [--seconds 30] [--hours 6]

All three put what they have on the disk twice a second (synchronous=FULL, or fsync).  The day is read from
a file that was dropped from the system's memory, where the system allows it.
"""

import argparse
import os
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from benchmarks.machine import machine
from pullbench.archive import Logbook
from pullbench.model import Chunk, PullWindow, Trace

RATE_Hz, COMMIT_s, CHUNKS = 1000, 0.5, 10
Keeper = Callable[[Chunk], None]


def half_second(number: int) -> Chunk:
    """Return 500 samples as a sensor of 1 mN steps might send them."""
    count = int(RATE_Hz * COMMIT_s)
    place = number * count + np.arange(count)
    return Chunk(time_s=place / RATE_Hz, force_N=np.round(2.8 + 0.3 * np.sin(place * 0.013), 3))


def into_logbook(path: Path) -> tuple[Keeper, Callable[[], object]]:
    """Keep as pullbench does: ten deliveries, one commit."""
    logbook = Logbook.open(path, now=time.time)
    recording = logbook.begin_recording(source="benchmark", label="simulated")

    def keep(chunk: Chunk) -> None:
        for t, f in zip(np.split(chunk.time_s, CHUNKS), np.split(chunk.force_N, CHUNKS), strict=True):
            logbook.keep(recording, Chunk(time_s=t, force_N=f))
        logbook.commit()

    return keep, logbook.close


def into_rows(path: Path) -> tuple[Keeper, Callable[[], object]]:
    """Keep one row a sample, found again by its time."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute(
        "CREATE TABLE sample (recording INTEGER, time_s REAL, force_N REAL, PRIMARY KEY (recording, time_s))"
        " WITHOUT ROWID"
    )

    def keep(chunk: Chunk) -> None:
        connection.execute("BEGIN IMMEDIATE")
        pairs = zip(chunk.time_s.tolist(), chunk.force_N.tolist(), strict=True)
        connection.executemany("INSERT INTO sample VALUES (1, ?, ?)", pairs)
        connection.execute("COMMIT")

    return keep, connection.close


def into_text(path: Path) -> tuple[Keeper, Callable[[], object]]:
    """Keep one line a sample and have the system write it through."""
    file = path.open("w")

    def keep(chunk: Chunk) -> None:
        pairs = zip(chunk.time_s.tolist(), chunk.force_N.tolist(), strict=True)
        file.write("".join(f"{t!r},{f!r}\n" for t, f in pairs))
        file.flush()
        os.fsync(file.fileno())

    return keep, file.close


WAYS = {
    "logbook (one row a commit)": into_logbook,
    "SQLite, one row a sample": into_rows,
    "text, appended, fsync": into_text,
}


def costs(folder: Path, seconds: int) -> None:
    """Print what a second of 1 kHz costs each way, taken in turn."""
    print(f"\nKeeping 1 kHz, committed every {COMMIT_s} s, {seconds} s, the ways in turn:")
    print(f"  {'':28s}{'processor':>14s}{'waiting':>16s}{'longest':>12s}{'size':>18s}")
    opened = {name: way(folder / f"way-{k}") for k, (name, way) in enumerate(WAYS.items())}
    wall: dict[str, list[float]] = {name: [] for name in WAYS}
    busy: dict[str, list[float]] = {name: [] for name in WAYS}
    for number in range(round(seconds / COMMIT_s)):
        for name, (keep, _) in opened.items():
            chunk = half_second(number)
            began, cpu = time.perf_counter(), time.process_time()
            keep(chunk)
            wall[name].append(time.perf_counter() - began)
            busy[name].append(time.process_time() - cpu)
    for k, (name, (_, close)) in enumerate(opened.items()):
        close()
        size = (folder / f"way-{k}").stat().st_size / (seconds * RATE_Hz)
        second = 1 / COMMIT_s
        print(
            f"  {name:28s}{second * 1e3 * statistics.fmean(busy[name]):8.2f} ms/s"
            f"{second * 1e3 * statistics.median(wall[name]):11.2f} ms/s{1e3 * max(wall[name]):9.1f} ms"
            f"{size:9.1f} B/sample"
        )


def a_day(path: Path, hours: float) -> int:
    """Write a day of 1 kHz with a pull a minute; return its samples."""
    commits, per_minute = round(hours * 3600 / COMMIT_s), round(60 / COMMIT_s)
    with Logbook.open(path, now=time.time) as logbook:
        recording = logbook.begin_recording(source="benchmark", label="simulated")
        for number in range(commits):
            chunk = half_second(number)
            logbook.keep(recording, chunk)
            if number % per_minute == 0:
                logbook.add_reading(recording, window=_window(chunk), record=b"{}", version="benchmark")
            logbook.commit()
    return commits * int(RATE_Hz * COMMIT_s)


def _window(chunk: Chunk) -> PullWindow:
    trace = Trace(time_s=chunk.time_s, force_N=chunk.force_N)
    return PullWindow(trace=trace, start_s=float(trace.time_s[0]), end_s=float(trace.time_s[-1]), direction=1)


def opens(folder: Path, hours: float) -> None:
    """Print how long a day takes to open and to be looked at."""
    path = folder / "day.pulls"
    began = time.perf_counter()
    samples = a_day(path, hours)
    wrote_s = time.perf_counter() - began
    print(
        f"\nA day of {hours:g} h at 1 kHz, {samples} samples, {path.stat().st_size / 1e6:.0f} MB "
        f"(written in {wrote_s:.0f} s, every commit on the disk):"
    )
    for again in ("not in memory", "in memory"):
        if again == "not in memory":
            _drop_from_memory(path)
        began = time.perf_counter()
        with Logbook.open(path, now=time.time) as logbook:
            print(f"  open, looked over, {again:34s}{_ms(began)}")
            began = time.perf_counter()
            day = logbook.days()[-1].day
            (row,) = logbook.recordings(day)
            pulls = logbook.pulls(day)
            print(f"  list of its {len(pulls)} pulls and recordings{_ms(began):>29s}")
            began = time.perf_counter()
            stretches = logbook.stretches(row.id)
            print(f"  least and most of {stretches.count.size} stretches{_ms(began):>27s}")
            began = time.perf_counter()
            logbook.trace(row.id, 3600.0 * hours / 2, 3600.0 * hours / 2 + 10)
            print(f"  ten seconds from the middle{_ms(began):>37s}")
            began = time.perf_counter()
            logbook.window(pulls[-1].id)
            print(f"  one pull's window{_ms(began):>47s}")
            began = time.perf_counter()
            total = sum(chunk.time_s.size for chunk in logbook.chunks(row.id))
            print(f"  all {total} samples, checksums compared{_ms(began):>23s}")


def _ms(began: float) -> str:
    return f"{1e3 * (time.perf_counter() - began):10.1f} ms"


def _drop_from_memory(path: Path) -> None:
    if hasattr(os, "posix_fadvise"):
        with path.open("rb") as file:
            os.fsync(file.fileno())
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=int, default=30)
    parser.add_argument("--hours", type=float, default=6.0)
    asked = parser.parse_args(arguments)
    print(machine())
    with tempfile.TemporaryDirectory() as folder:
        costs(Path(folder), asked.seconds)
        opens(Path(folder), asked.hours)


if __name__ == "__main__":
    main()
