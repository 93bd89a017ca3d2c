"""Write the invented demo day as text tables, read them with pullbench, draw them, and argue the laws from them.

First single pulls, one recording after the other; then `demo_laws`: load lines, surfaces, a tilted board, a pool,
with faults planted on purpose and what pullbench says of each.  Last, what the next lesson takes from the day: a lab
sheet, problem sheets with their key, and a question package.

A theatre's stage crew tries soles for the scenery sled of "the harbour play". Everything is simulated.
Usage: python examples/demo_day.py FOLDER
"""

import contextlib
import io
import sys
from pathlib import Path

import demo_laws

from pullbench.cli import run
from pullbench.physics.bench.demo import DemoRecording, demo_day

SEED = 2026


def semicolon_table(recording: DemoRecording) -> str:
    """Return a table as a German-speaking lab would write it: semicolons, decimal commas, milliseconds."""
    rows = (
        f"{1000 * t:.1f};{f:.4f}".replace(".", ",")
        for t, f in zip(recording.trace.time_s, recording.trace.force_N, strict=True)
    )
    return "# invented, simulated: the harbour play\nZeit [ms];Kraft [N]\n" + "\n".join(rows) + "\n"


def comma_table(recording: DemoRecording) -> str:
    """Return a plain comma table."""
    rows = (f"{t:.4f},{f:.4f}" for t, f in zip(recording.trace.time_s, recording.trace.force_N, strict=True))
    return "# invented, simulated: the harbour play\ntime (s),force (N)\n" + "\n".join(rows) + "\n"


def main(folder: Path) -> int:
    """Write, read and draw the day; return the worst exit status."""
    folder.mkdir(parents=True, exist_ok=True)
    status = 0
    for number, recording in enumerate(demo_day(SEED)):
        table = (
            folder / f"{number + 1}-{recording.truth.sole.replace(' ', '-')}-{recording.truth.tins}-tins.csv"
        )
        table.write_text((semicolon_table if number % 2 else comma_table)(recording), encoding="utf-8")
        load = f"{recording.truth.mass_kg}kg"
        picture = folder / f"{table.stem}.svg"
        status |= run(["read", str(table), "--load", load, "--picture", str(picture), "--label", "simulated"])
        truth = recording.truth
        print(
            f"Invented truth: static {truth.mu_s:g}, kinetic {truth.mu_k:g}, before each pull's own scatter.\n"
        )
    ladder = ("0.5kg=1-bare-birch-1-tins", "1kg=2-bare-birch-2-tins", "2kg=3-bare-birch-4-tins")
    rungs = [f"{load}={folder / name}.csv" for load, name in (rung.split("=") for rung in ladder)]
    picture = folder / "bare-birch-line.svg"
    status |= run(["line", "--sled", "0.35kg", *rungs, "--picture", str(picture), "--label", "simulated"])
    print("\nThe laws\n")
    status |= demo_laws.main(folder / "laws")
    print("\nThe next lesson\n")
    status |= next_lesson(folder)
    print(f"Everything above is simulated. Tables, pictures, sheets and questions are in {folder}/.")
    return status


def next_lesson(folder: Path) -> int:
    """Keep watch over a short virtual lesson, then make its lab sheet, problem sheets, key and question package."""
    logbook, quiet = str(folder / "lesson.sqlite"), io.StringIO()
    with contextlib.redirect_stdout(quiet):  # the demo shows a watch of its own
        status = run(["watch", "--virtual", "--speed", "40", "--for", "5s", "--plain", "--logbook", logbook])
    pulls = sum(line.startswith("Pull ") for line in quiet.getvalue().splitlines())
    print(f"A virtual lesson of {pulls} pulls is kept in {logbook}. From its own coefficients:")
    day = ["--day", "latest", "--logbook", logbook, "--seed", "7", "--level", "2"]
    status |= run(["sheets", *day, "--seats", "4", "--out", str(folder / "next-lesson")])
    package = folder / "next-lesson" / "questions.zip"
    package.unlink(missing_ok=True)
    return status | run(["items", *day, "--variants", "3", "--out", str(package)])


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "demo-day")))
