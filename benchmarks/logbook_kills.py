"""A watch killed without warning, again and again, in the middle of writing: what is lost of what it committed.

    python -m benchmarks.logbook_kills [--kills 100] [--seed 1]

The child prints after every commit; that is how its killer knows what was committed.  A file lives through
ten kills, each followed by a new start, as on a bad day.  Some kills come before the child has opened it.
"""

import argparse
import random
import sqlite3
import tempfile
import time
from pathlib import Path

from archive.killed_writer import Child, lost
from benchmarks.machine import machine
from pullbench.archive import Logbook

KILLS_OF_A_FILE = 10


def killed(path: Path, seed: int, chance: random.Random) -> tuple[Child, float]:
    """Return a child killed at a random moment, and how long it lived."""
    began = time.perf_counter()
    child = Child.start(path, seed)
    if chance.random() < 0.2:
        child.listen(chance.uniform(0.1, 0.6))
    else:
        child.listen(30, until=b"ready")
        child.listen(chance.expovariate(1 / 0.15))
    child.kill()
    return child, time.perf_counter() - began


def intact(path: Path) -> bool:
    """Say whether SQLite's full check finds nothing."""
    connection = sqlite3.connect(path)
    found = connection.execute("PRAGMA integrity_check").fetchall()
    connection.close()
    return found == [("ok",)]


def main(arguments: list[str] | None = None) -> None:
    """Parse, kill, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(arguments)
    print(machine())
    chance = random.Random(asked.seed)
    files = whole = gone = said = early = commits = samples = pulls = 0
    with tempfile.TemporaryDirectory() as folder:
        for kill in range(asked.kills):
            if kill % KILLS_OF_A_FILE == 0:
                files, committed = files + 1, {}
                path = Path(folder) / f"day-{files}.pulls"
            child, _ = killed(path, asked.seed * 1000 + kill, chance)
            committed |= child.committed
            early += not child.committed
            commits += max(0, child.said.count(b"\n") - 1)
            samples += sum(count for count, _ in child.committed.values())
            pulls += sum(count for _, count in child.committed.values())
            with Logbook.open(path, now=time.time) as logbook:
                gone += lost(logbook, committed)
                said += bool(logbook.found)
            whole += intact(path)
    print(f"\n{asked.kills} kills -9 over {files} files, seed {asked.seed}; {early} before the first commit:")
    print(f"  committed before the kills: {commits} commits, {samples} samples, {pulls} pulls")
    print(f"  committed samples and pulls lost or changed in a bit: {gone}")
    print(f"  logbook intact (integrity_check): {whole} of {asked.kills}")
    print(f"  the next start said that a watch had ended without standing down: {said} times")


if __name__ == "__main__":
    main()
