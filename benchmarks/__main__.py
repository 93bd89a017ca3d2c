"""All benchmarks in one run, about five minutes: `python -m benchmarks [--count 25] [--hour]`.

Three have runs of their own: the logbook under kill -9 (`python -m benchmarks.logbook_kills`), accuracy far outside
the tests' ranges (`python -m benchmarks.wide`), half an hour with forty watchers (`python -m benchmarks.live --seconds
1800`).
"""

import argparse

from benchmarks import (
    accuracy,
    class_set,
    comparisons,
    kernel,
    ladders,
    live,
    logbook,
    memory,
    page,
    speed,
    startup,
)


def main() -> None:
    """Parse, print each in turn."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=25, help="simulated pulls of each kind")
    parser.add_argument("--hour", action="store_true", help="stream an hour at 10 kHz too")
    asked = parser.parse_args()
    startup.main([])
    print()
    speed.main([])
    print()
    kernel.main([])
    print()
    memory.main(["--hour"] if asked.hour else [])
    print()
    logbook.main(["--seconds", "10", "--hours", "1"])
    print()
    live.main(["--seconds", "20", "--naive-seconds", "6"])
    print()
    page.main(["--hours", "0.5", "--seconds", "5"])
    print()
    class_set.main(["--runs", "3"])
    print()
    accuracy.main(["--count", str(asked.count)])
    print()
    ladders.main(["--draws", str(4 * asked.count)])
    print()
    comparisons.main(["--draws", str(20 * asked.count)])


if __name__ == "__main__":
    main()
