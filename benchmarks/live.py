"""The bench under load: 1 kHz from a pseudo-terminal, 40 pages watching, beside a naive broadcast.

    python -m benchmarks.live [--seconds 60] [--watchers 40] [--naive-seconds 15]

Sensor to socket: from the moment a sample is written into the terminal to the moment a page has the finished
10 ms column that holds it. Lost: numbers missing in the logbook; each sample carries its number in its last
digits. CPU: of the bench and the process that reads pulls, as a share of one core.
"""

from __future__ import annotations

import argparse
import asyncio
import json
import math
import multiprocessing
import os
import re
import signal
import struct
import subprocess
import sys
import tempfile
import time
import tty
from contextlib import suppress
from pathlib import Path

RATE_Hz = 1000
CYCLE_S = 12.0
COUNT_N = 1e-9  # the number of a sample, in its last digits
TICK = os.sysconf("SC_CLK_TCK")


def pull_N(time_s: float) -> float:
    """Return the force of a plain pull every CYCLE_S."""
    at = time_s % CYCLE_S
    if at < 4.0 or at > 9.0:
        return 0.0
    if at < 6.0:
        return 3.0 * (at - 4.0) / 2.0
    if at < 6.02:
        return 3.0 - 40.0 * (at - 6.0)
    return 2.2 if at < 8.9 else 22.0 * (9.0 - at)


def feed(master: int, seconds: float, told: multiprocessing.SimpleQueue) -> None:  # type: ignore[type-arg]
    """Write RATE_Hz lines "time,force" a second into a terminal, each as it is due."""
    began = time.monotonic()
    number = 0
    while (now := time.monotonic()) - began < seconds:
        due = int((now - began) * RATE_Hz)
        while number < due:
            noise = 0.002 * math.sin(number * 12.9898) * math.cos(number * 78.233)
            force = round(0.1 + pull_N(number / RATE_Hz) + noise, 3) + COUNT_N * (number % 400_000)
            os.write(master, f"{time.monotonic():.6f},{force:.9f}\n".encode())
            number += 1
        time.sleep(max(0.0, began + (number + 1) / RATE_Hz - time.monotonic()))
    told.put(number)


async def _page(port: int, until: float, delays: list[float], naive: bool) -> int:
    """Watch like a page; note how old every sample is when its column is complete.  Return messages."""
    import websockets

    newest, messages = None, 0
    path = "" if naive else "watch"
    async with websockets.connect(
        f"ws://127.0.0.1:{port}/{path}",
        max_size=None,
        compression="deflate" if naive else None,
        open_timeout=None,
    ) as socket:
        await socket.send(json.dumps({"after": 0, "key": None}))
        while time.monotonic() < until:
            try:
                message = await asyncio.wait_for(socket.recv(), 1.0)
            except TimeoutError:
                continue
            now, messages = time.monotonic(), messages + 1
            if naive:
                delays.append(now - json.loads(message)["t"])
                continue
            if isinstance(message, str):
                continue
            start_s, column_s = struct.unpack_from("<dd", message)
            last = start_s + column_s * ((len(message) - 16) // 8 - 1)  # complete up to here
            if newest is not None:
                column = newest
                while column < last - 1e-6:
                    delays += [now - column, now - column - column_s / 2, now - column - column_s]
                    column += column_s
            newest = last
    return messages


def watch(port: int, watchers: int, seconds: float, naive: bool, told: multiprocessing.SimpleQueue) -> None:  # type: ignore[type-arg]
    """Open so many pages and return what they saw."""

    async def all_pages() -> tuple[list[float], int]:
        delays: list[float] = []
        until = time.monotonic() + seconds
        counts = await asyncio.gather(*(_page(port, until, delays, naive) for _ in range(watchers)))
        return delays, sum(counts)

    delays, messages = asyncio.run(all_pages())
    delays.sort()
    pick = [delays[int(len(delays) * share)] for share in (0.5, 0.99, 0.999)] if delays else [math.nan] * 3
    told.put((*pick, max(delays, default=math.nan), messages))


def cpu_s(pid: int) -> float:
    """Return the CPU seconds of a process and of its children that are alive."""
    total = 0.0
    for one in [pid, *children(pid)]:
        try:
            fields = Path(f"/proc/{one}/stat").read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        total += (int(fields[11]) + int(fields[12])) / TICK
    return total


def children(pid: int) -> list[int]:
    """Return the children of a process."""
    found = []
    for entry in Path(f"/proc/{pid}/task").glob("*/children"):
        found += [int(word) for word in entry.read_text().split()]
    return found


def memory_MB(pid: int) -> float:
    """Return the resident memory of a process."""
    text = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", text)[1]) / 1024  # type: ignore[index]


def one_run(command: list[str], seconds: float, watchers: int, naive: bool) -> dict[str, float]:
    """Feed, serve and watch for so many seconds; return the figures.  `command` gets the terminal's name."""
    master, slave = os.openpty()
    tty.setraw(slave)
    bench = subprocess.Popen([*command, os.ttyname(slave)], stdout=subprocess.PIPE, text=True)
    try:
        assert bench.stdout is not None
        port = 0
        while not port:
            line = bench.stdout.readline()
            if not line:
                raise SystemExit("the bench did not start")
            port = int(found[1]) if (found := re.search(r"127\.0\.0\.1:(\d+)", line)) else 0
        sent, seen = multiprocessing.SimpleQueue(), multiprocessing.SimpleQueue()
        feeder = multiprocessing.Process(target=feed, args=(master, seconds + 8, sent))
        feeder.start()
        time.sleep(6.0)  # the format is found, the worker is warm
        pages = multiprocessing.Process(target=watch, args=(port, watchers, seconds, naive, seen))
        pages.start()
        time.sleep(1.0)
        before_s, at_s, small_MB = cpu_s(bench.pid), time.monotonic(), memory_MB(bench.pid)
        time.sleep(max(seconds / 3, 1.0))
        third_MB = memory_MB(bench.pid)  # the last two dozen pulls stay in memory, and by now they are there
        time.sleep(max(2 * seconds / 3 - 2.0, 1.0))
        share = (cpu_s(bench.pid) - before_s) / (time.monotonic() - at_s)
        large_MB = memory_MB(bench.pid)
        p50, p99, p999, worst, messages = seen.get()
        pages.join()
        feeder.join()
        time.sleep(1.0)
        return {
            "p50_ms": 1000 * p50, "p99_ms": 1000 * p99, "p999_ms": 1000 * p999, "max_ms": 1000 * worst, "cpu": share,
            "MB": large_MB, "grown_MB": large_MB - small_MB, "late_MB": large_MB - third_MB, "sent": sent.get(),
            "messages": messages,
        }  # fmt: skip
    finally:
        bench.send_signal(signal.SIGINT)
        try:
            bench.wait(15)
        except subprocess.TimeoutExpired:
            bench.kill()
        os.close(master)
        os.close(slave)


def lost_in(logbook: Path) -> tuple[int, int]:
    """Return kept samples, and how many numbers are missing between the first and the last kept."""
    import numpy as np

    from pullbench.archive import Logbook

    with Logbook.open(logbook, now=time.time) as book:
        day = book.days()[-1].day
        forces = np.concatenate([book.trace(row.id).force_N for row in book.recordings(day)])
    numbers = np.round((forces - np.round(forces, 3)) / COUNT_N).astype(int) % 400_000
    steps = np.diff(numbers) % 400_000
    return int(forces.size), int((steps - 1).sum())


def naive_server(terminal: str) -> None:
    """Broadcast as one would at first: a message a sample, to one socket after the other, compressed, a row each."""
    import sqlite3

    import websockets

    rows = sqlite3.connect(tempfile.mktemp(suffix=".sqlite"))
    rows.execute("CREATE TABLE samples (t REAL, force REAL)")
    sockets: set[websockets.ServerConnection] = set()

    async def serve() -> None:
        async def page(socket: websockets.ServerConnection) -> None:
            sockets.add(socket)
            try:
                await socket.wait_closed()
            finally:
                sockets.discard(socket)

        server = await websockets.serve(page, "127.0.0.1", 0)
        print(f"http://127.0.0.1:{next(iter(server.sockets)).getsockname()[1]}/", flush=True)
        reader = asyncio.StreamReader()
        await asyncio.get_running_loop().connect_read_pipe(
            lambda: asyncio.StreamReaderProtocol(reader),
            Path(terminal).open("rb", buffering=0),  # noqa: SIM115
        )
        while line := await reader.readline():
            t, force = map(float, line.split(b","))
            rows.execute("INSERT INTO samples VALUES (?, ?)", (t, force))
            rows.commit()
            for socket in list(sockets):
                with suppress(websockets.ConnectionClosed):
                    await socket.send(json.dumps({"t": t, "force": force}))

    with suppress(KeyboardInterrupt):
        asyncio.run(serve())


def main(arguments: list[str] | None = None) -> None:
    """Run both and print them side by side."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--watchers", type=int, default=40)
    parser.add_argument("--naive-seconds", type=float, default=15.0)
    parser.add_argument("--naive-server", metavar="TERMINAL", help=argparse.SUPPRESS)
    asked = parser.parse_args(arguments)
    if asked.naive_server:
        naive_server(asked.naive_server)
        return
    with tempfile.TemporaryDirectory() as folder:
        logbook = Path(folder) / "bench.sqlite"
        command = [
            sys.executable,
            "-m",
            "pullbench",
            "watch",
            "--port",
            "0",
            "--logbook",
            str(logbook),
            "--baud",
            "115200",
            "--serial",
        ]
        ours = one_run(command, asked.seconds, asked.watchers, naive=False)
        kept, lost = lost_in(logbook)
    naive = [sys.executable, "-m", "benchmarks.live", "--naive-server"]
    theirs = one_run(naive, asked.naive_seconds, asked.watchers, naive=True) if asked.naive_seconds else None
    print(
        f"{RATE_Hz} samples a second, {asked.watchers} pages, {asked.seconds:g} s (naive: {asked.naive_seconds:g} s)"
    )
    print(f"{'':<26}{'pullbench':>14}{'naive broadcast':>18}")
    for name, key, form in (
        ("sensor to socket p50, ms", "p50_ms", ".1f"), ("sensor to socket p99, ms", "p99_ms", ".1f"),
        ("sensor to socket p99.9, ms", "p999_ms", ".1f"), ("longest, ms", "max_ms", ".1f"),
        ("CPU, share of a core", "cpu", ".3f"), ("memory, MB", "MB", ".0f"), ("grown by, MB", "grown_MB", ".1f"),
        ("grown after a third, MB", "late_MB", ".1f"),
        ("messages to pages", "messages", ".0f"),
    ):  # fmt: skip
        other = format(theirs[key], form) if theirs else "-"
        print(f"{name:<26}{format(ours[key], form):>14}{other:>18}")
    print(f"{'samples sent, kept, lost':<26}{ours['sent']:.0f}, {kept}, {lost}")


if __name__ == "__main__":
    main()
