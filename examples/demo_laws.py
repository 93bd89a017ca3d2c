"""The invented day of the laws: the whole argument as a teacher would type it, with faults planted on purpose.

A theatre's stage crew wants to know how hard the scenery sled of "the harbour play" will pull.  Everything is
simulated.  Usage: python examples/demo_laws.py FOLDER
"""

import contextlib
import io
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from pullbench.cli import run
from pullbench.physics.bench.demo import SLED_KG, SOLES, TIN_KG
from pullbench.physics.bench.demo_laws import (
    GAUGE_OFF_DEG,
    HIDDEN_KG,
    MARGIN,
    QUICK_START,
    TEAM_WITHOUT_SLED,
    TINS,
    TURNED_TINS,
    law_recordings,
    team_coefficients,
    tilt_angles_deg,
)

SEED = 2027  # of 2026 the birch ladder's limits miss the truth, as one in twenty does: no day to begin with
INVENTED = "# invented, simulated: the harbour play\n"


FAULTS = (
    "missing from the load",
    "Let the sensor rest",
    "Pull the lightest and the heaviest",
    "Weigh that load again",
    "Wipe the track",
    "Spread the loads",
)
"""Words of every fault that a line can name; a clean ladder has none of them."""


class Step(NamedTuple):
    """One command of the day.

    planted: what is known of the truth.  said: the words by which the tool says so.  unsaid: words that would
    be a fault invented.
    """

    planted: str
    words: list[str]
    said: tuple[str, ...] = ()
    unsaid: tuple[str, ...] = ()


def write_day(folder: Path, seed: int) -> None:
    """Write every recording and table of the day."""
    folder.mkdir(parents=True, exist_ok=True)
    for one in law_recordings(seed):
        rows = (f"{t:.4f},{f:.4f}\n" for t, f in zip(one.trace.time_s, one.trace.force_N, strict=True))
        (folder / f"{one.name}.csv").write_text(INVENTED + "time (s),force (N)\n" + "".join(rows), "utf-8")
    teams = enumerate(team_coefficients(seed), 1)
    rows = (f"team {number},{mu:.3f}\n" for number, team in teams for mu in team)
    (folder / "teams.csv").write_text("group,value\n" + "".join(rows), "utf-8")


def steps(folder: Path, seed: int) -> list[Step]:
    """Return the day's commands, each with what was planted and the words that have to be said of it."""
    turned_kg = f"{SLED_KG + TURNED_TINS * TIN_KG:g}kg"
    birch, felt, carpet = (rungs(folder, sole) for sole in SOLES)
    sled = ["--sled", f"{SLED_KG}kg"]
    angles = tilt_angles_deg(seed)
    broad = ["--pulls", str(folder / "broad-side.csv"), "--load", turned_kg]
    return [
        Step(
            f"Nothing: a clean ladder. Besides the sled, the unknown tin weighs {HIDDEN_KG} kg.",
            ["line", *sled, *birch, "--mystery", str(folder / "unknown.csv"), *drawn(folder / "line-birch.svg")],
            ("Hidden load by the static line", "Hidden load by the kinetic line"),
            ("Set aside", *FAULTS),
        ),
        Step(
            f"Felt typed with the tins alone: the sled's {SLED_KG} kg forgotten. Before the {QUICK_START[1]} tins' "
            "three good pulls, one was jerked.",
            ["line", *felt, *drawn(folder / "line-felt-without-sled.svg")],
            ("missing from the load", "Set aside, 1 of 16 pulls"),
        ),
        Step(
            "The same ladder with the sled: its fault is mended, the jerked pull stays aside.",
            ["line", *sled, *felt],
            ("Set aside, 1 of 16 pulls",),
            FAULTS,
        ),
        Step("Nothing: a clean ladder on carpet.", ["line", *sled, *carpet], (), FAULTS),
        Step(
            "Three soles with " + ", ".join(f"{sole} {law.mu_s:g} / {law.mu_k:g}" for sole, law in SOLES.items())
            + " (static / kinetic).",
            ["pair", *(f"{sole}={folder / file_of(sole, 2)}" for sole in SOLES), "--load", turned_kg],
            ("felt needs less than bare birch", "rubber-backed carpet needs more than felt"),
        ),
        Step(
            f"The sled turned on its narrow side: no difference. Margin chosen beforehand: {MARGIN}.",
            ["pair", f"broad side={folder / 'broad-side.csv'}", f"narrow side={folder / 'narrow-side.csv'}",
             "--load", turned_kg, "--margin", f"{MARGIN}"],
            tuple(f"To {end}, broad side and narrow side are the same" for end in ("start", "keep going")),
            ("needs more than", "needs less than"),
        ),
        Step(
            "Nothing: a tilted board with its gauge set level.",
            ["tilt", "--slides", read_off(angles), *broad],
            ("agree within",),
            ("disagree",),
        ),
        Step(
            f"The gauge not set level: it reads {GAUGE_OFF_DEG:g}° too much.",
            ["tilt", "--slides", read_off(angles, GAUGE_OFF_DEG), *broad],
            ("disagree",),
        ),
        Step(
            f"Team {TEAM_WITHOUT_SLED} of six divides by the weight of the tins alone.",
            ["pool", str(folder / "teams.csv")],
            (f"team {TEAM_WITHOUT_SLED} most",),
        ),
    ]  # fmt: skip


def rungs(folder: Path, sole: str) -> list[str]:
    """Return the arguments of a ladder in the order pulled, without the sled."""
    return [f"{tins * TIN_KG:g}kg={folder / file_of(sole, tins)}" for tins in TINS]


def file_of(sole: str, tins: int) -> str:
    """Return the name of a recording of a ladder."""
    return f"{sole.replace(' ', '-')}-{tins}.csv"


def drawn(picture: Path) -> list[str]:
    """Return the options that draw a line and say what it is."""
    return ["--picture", str(picture), "--label", "simulated"]


def read_off(angles_deg: tuple[float, ...], off_deg: float = 0.0) -> str:
    """Return angles as a teacher types them."""
    return ",".join(f"{angle + off_deg:.1f}" for angle in angles_deg)


def typed(words: list[str]) -> str:
    """Return a command as a line in a terminal."""
    return "$ pullbench " + " ".join(f'"{word}"' if " " in word else word for word in words)


def asked(step: Step, show: Callable[[str], object]) -> tuple[int, str]:
    """Run a command; show it and its answer; return its exit status and the answer, a line a paragraph."""
    answer = io.StringIO()
    with contextlib.redirect_stdout(answer):
        status = run(step.words)
    show(f"{typed(step.words)}\n\n{answer.getvalue()}\nPlanted: {step.planted}\n")
    paragraphs = answer.getvalue().replace("\n  ", " ").splitlines()  # a paragraph goes on indented
    return status, "\n".join(" ".join(one.split()) for one in paragraphs)


def verdict(step: Step, answer: str) -> str:
    """Return the sentences that say it, a line each; words that are missing, or that should not be there."""
    told = [f"said: {sentence_with(words, answer)}" for words in step.said if words in answer]
    told += [f"NOT SAID: “{words}”" for words in step.said if words not in answer]
    told += [f"INVENTED: “{words}”" for words in step.unsaid if words in answer]
    return "\n    ".join(told) or "said: no fault"


def sentence_with(words: str, answer: str) -> str:
    """Return the first sentence of an answer that holds these words."""
    sentences = (one for line in answer.splitlines() for one in line.split(". "))
    found = next(one for one in sentences if words in one)
    return found if found.endswith(".") else f"{found}."


def main(folder: Path, seed: int = SEED, show: Callable[[str], object] = print) -> int:
    """Write the day, ask all its questions, show beside each plant what was said; return the worst exit status."""
    write_day(folder, seed)
    status, lines = 0, ["Planted, and what was said of it:"]
    for step in steps(folder, seed):
        exit_status, answer = asked(step, show)
        status |= exit_status
        lines += [f"  {step.planted}", f"    {verdict(step, answer)}"]
    show("\n".join(lines))
    show(f"Everything above is simulated. Recordings, tables and pictures are in {folder}/.")
    return status


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "demo-day/laws")))
