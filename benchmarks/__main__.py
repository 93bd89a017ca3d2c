"""All benchmarks in one run, under four minutes: `python -m benchmarks [--count 25] [--hour]`.

Accuracy far outside the tests' ranges has a run of its own, `python -m benchmarks.wide`.
"""

import argparse

from benchmarks import accuracy, kernel, memory, speed, startup


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
    accuracy.main(["--count", str(asked.count)])


if __name__ == "__main__":
    main()
