"""Time per sample: analysis beside the rivals, reading a text table beside two fast parsers.

python -m benchmarks.speed [--seed 7] [--samples 300000]
"""

import argparse
import statistics
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import pandas
from pyarrow import csv as arrow_csv

from benchmarks.machine import machine
from benchmarks.recordings import long_recording
from benchmarks.rivals import RIVALS
from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.model import Chunk
from pullbench.sources import open_table
from simulated.pulls import simulated

PULLS = 8


def median_s(action: Callable[[], object], repeats: int) -> float:
    """Return the median time of some calls, in seconds."""
    action()  # warm: imports, thread pools, the file in memory
    taken = []
    for _ in range(repeats):
        began = perf_counter()
        action()
        taken.append(perf_counter() - began)
    return statistics.median(taken)


def analysis(seed: int) -> None:
    """Print the time per sample of watch, analysis and the rivals on the same recordings."""
    traces = [simulated("plain", seed + n).trace for n in range(PULLS)]
    samples = sum(trace.time_s.size for trace in traces)
    chunks = [Chunk(time_s=trace.time_s, force_N=trace.force_N) for trace in traces]
    caught = [window for chunk in chunks for window in windows([chunk])]
    ways: dict[str, Callable[[], object]] = {
        "watch (catching the pulls)": lambda: [list(windows([chunk])) for chunk in chunks],
        "analysis (forces with limits, findings)": lambda: [analyse(window) for window in caught],
    }
    for name, rival in RIVALS.items():
        ways[name] = lambda rival=rival: [rival(trace) for trace in traces]
    print(f"\nTime on {PULLS} plain pulls, {samples} samples, seeds from {seed} (median of 3, warm):")
    for name, way in ways.items():
        taken_s = median_s(way, 3)
        print(
            f"  {name:42s}{1e6 * taken_s / samples:9.3f} µs a sample{1e3 * taken_s / PULLS:10.1f} ms a pull"
        )


def reading(seed: int, samples: int) -> None:
    """Print the time to read a text table: found out and checked, or merely parsed."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "recording.csv"
        long_recording(path, samples, seed=seed)
        size_MB = path.stat().st_size / 1e6
        ways: dict[str, Callable[[], object]] = {
            "pullbench, open_table and all chunks": lambda: sum(
                chunk.time_s.size for chunk in open_table(path).chunks()
            ),
            "pullbench, chunks and watch": lambda: len(list(windows(open_table(path).chunks()))),
            "pandas.read_csv": lambda: len(pandas.read_csv(path)),
            "pyarrow.csv.read_csv": lambda: arrow_csv.read_csv(path).num_rows,
        }
        print(
            f"\nReading a text table of {samples} samples, {size_MB:.1f} MB, seed {seed} (median of 3, warm):"
        )
        for name, way in ways.items():
            taken_s = median_s(way, 3)
            print(f"  {name:42s}{1e6 * taken_s / samples:9.3f} µs a sample{size_MB / taken_s:10.1f} MB/s")


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--samples", type=int, default=300_000)
    asked = parser.parse_args(arguments)
    print(machine())
    analysis(asked.seed)
    reading(asked.seed, asked.samples)


if __name__ == "__main__":
    main()
