"""How long a class waits for its sheets: one version a seat with the key, as PDF, beside a browser's own printing.

python -m benchmarks.class_set [--seats 32] [--runs 5]

Ours is the whole command, from nothing to files.  The plain way is to print the command's HTML with a browser.
"""

import argparse
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from benchmarks.machine import chromium, machine

LIMIT_S = 10.0
BROWSER = ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
           "--disable-component-update", "--disable-sync", "--no-pdf-header-footer")  # fmt: skip


def main(arguments: list[str] | None = None) -> None:
    """Parse, make, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seats", type=int, default=32)
    parser.add_argument("--runs", type=int, default=5)
    asked = parser.parse_args(arguments)
    print(machine())
    print(f"\nA class set for {asked.seats} seats with its key, {asked.runs} runs, median (worst):")
    with tempfile.TemporaryDirectory() as place:
        ours = [_timed(_command(asked.seats, Path(place))) for _ in range(asked.runs)]
        pages = ", ".join(_pages(path) for path in sorted(Path(place).glob("*.pdf")))
        print(f"  pullbench sheets, HTML and PDF  {_told(ours)}   {pages}")
        if max(ours) > LIMIT_S:
            print(f"  over the {LIMIT_S:g} s that a class set may take")
        browser = chromium()
        if browser is None:
            print("  a browser printing that HTML    no Chromium on this machine")
            return
        printed = [sum(_timed(_print(browser, path)) for path in Path(place).glob("*.html"))
                   for _ in range(asked.runs)]  # fmt: skip
        pages = ", ".join(_pages(path) for path in sorted(Path(place).glob("*.printed")))
        print(f"  a browser printing that HTML    {_told(printed)}   {pages}")


def _command(seats: int, place: Path) -> list[str]:
    options = f"sheets --day none --seats {seats} --out".split()
    return [sys.executable, "-m", "pullbench", *options, str(place)]


def _print(browser: str, path: Path) -> list[str]:
    return [browser, *BROWSER, f"--print-to-pdf={path.with_suffix('.printed')}", path.as_uri()]


def _timed(command: list[str]) -> float:
    """Run a command; return its seconds from start to end."""
    began_s = perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return perf_counter() - began_s


def _pages(path: Path) -> str:
    from pypdf import PdfReader

    return f"{path.name.split('-')[0]} {len(PdfReader(path).pages)} pages of {path.stat().st_size / 1024:.0f} kB in all"


def _told(seconds: list[float]) -> str:
    return f"{statistics.median(seconds):5.2f} s ({max(seconds):.2f})"


if __name__ == "__main__":
    main()
