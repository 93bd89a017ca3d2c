"""Start-up of `pullbench --help` beside the bare interpreter: median of twenty, taken in turn.

python -m benchmarks.startup [--runs 20]
"""

import argparse
import statistics
import subprocess
import sys
from time import perf_counter

from benchmarks.machine import machine

COMMANDS = {
    "python -c pass": ["-c", "pass"],
    "pullbench --help": ["-m", "pullbench", "--help"],
    "pullbench read --help": ["-m", "pullbench", "read", "--help"],
    "python -c 'import numpy'": ["-c", "import numpy"],
}


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=20)
    asked = parser.parse_args(arguments)
    print(machine())
    taken_s: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(asked.runs):  # in turn, so that a busy moment of the machine meets all of them
        for name, rest in COMMANDS.items():
            began = perf_counter()
            subprocess.run([sys.executable, *rest], check=True, capture_output=True)
            taken_s[name].append(perf_counter() - began)
    print(f"\nStart-up, median (least) of {asked.runs} runs each, in turn:")
    bare = statistics.median(taken_s["python -c pass"])
    for name, times in taken_s.items():
        median = statistics.median(times)
        print(f"  {name:26s}{1e3 * median:7.1f} ms ({1e3 * min(times):.1f}){1e3 * (median - bare):+8.1f} ms")


if __name__ == "__main__":
    main()
