"""Peak memory of a child process that streams a long 10 kHz text file through reader and watch.

    python -m benchmarks.memory [--samples 600000,2400000] [--hour] [--seed 7]

--hour adds one hour at 10 kHz: 36 million samples, some 500 MB of text in the temporary folder.
"""

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from benchmarks.machine import machine
from benchmarks.recordings import long_recording

# A process inherits its parent's peak across exec, so a small launcher stands between this one and the measured.
LAUNCHER = (
    "import subprocess, sys; sys.exit(subprocess.run([sys.executable, '-c', *sys.argv[1:]]).returncode)"
)
PEAK = """
import resource, sys
from pathlib import Path
def peak_MB():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1e-6 if sys.platform == "darwin" else 1024e-6)
"""
STREAM = (
    PEAK
    + """
from pullbench.detect import Watch
from pullbench.sources import open_table
idle = peak_MB()
watch, caught, samples = Watch(), 0, 0
for chunk in open_table(Path(sys.argv[1])).chunks():
    caught += len(watch.advance(chunk))
    samples += chunk.time_s.size
caught += len(watch.finish())
print(idle, peak_MB(), caught, samples)
"""
)
WHOLE = (
    PEAK
    + """
import pandas
idle = peak_MB()
table = pandas.read_csv(sys.argv[1])
print(idle, peak_MB(), 0, len(table))
"""
)


def streamed(samples: int, seed: int) -> None:
    """Print the peak memory and time of one file, beside a parser that holds all of it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.csv"
        pulls = long_recording(path, samples, seed=seed)
        began = perf_counter()
        idle_MB, peak_MB, caught, read = _child(STREAM, path)
        taken_s = perf_counter() - began
        whole = (
            "not run"
            if samples > 10_000_000
            else "{:.0f} MB before, {:.0f} MB peak".format(*_child(WHOLE, path))
        )
        print(
            f"  {int(read):>10d} samples, {path.stat().st_size / 1e6:6.0f} MB of text: peak {peak_MB:.0f} MB "
            f"({idle_MB:.0f} MB before reading), {int(caught)} of {pulls} pulls, {taken_s:.1f} s; "
            f"pandas.read_csv alone: {whole}",
            flush=True,
        )


def _child(program: str, path: Path) -> list[float]:
    answer = subprocess.run(
        [sys.executable, "-c", LAUNCHER, program, str(path)], check=True, capture_output=True, text=True
    )
    return [float(word) for word in answer.stdout.split()]


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--samples", default="600000,2400000")
    parser.add_argument("--hour", action="store_true")
    parser.add_argument("--seed", type=int, default=7)
    asked = parser.parse_args(arguments)
    print(machine())
    print(f"\nPeak resident memory of a child process, open_table and Watch at 10 kHz, seed {asked.seed}:")
    sizes = [int(size) for size in asked.samples.split(",")] + [36_000_000] * asked.hour
    for samples in sizes:
        streamed(samples, asked.seed)


if __name__ == "__main__":
    main()
