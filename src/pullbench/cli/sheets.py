"""`pullbench sheets`: problem sheets with today's coefficients, one version a seat, their key, and the lab sheet."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from pullbench.cli.idea_words import idea_sentences
from pullbench.cli.lesson import USUAL_SURFACES, DayRead, day_read
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.set_made import check_set, kinds_asked
from pullbench.errors import ConditionsError, PullbenchError
from pullbench.live.lesson import day_ladder
from pullbench.render.sheets import (
    ClassSet,
    Document,
    Style,
    as_pdf,
    html_page,
    key_sheet,
    lab_sheet,
    set_record,
    student_sheets,
)
from pullbench.teach.set_making import USUAL_LEVEL, set_versions


@click.command(name="sheets", context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same sheets.")
@click.option("--seats", type=int, default=1, show_default=True, help="Versions, one a seat; up to 60.")
@click.option("--level", type=int, help=f"1 to 4; {USUAL_LEVEL} when nothing is said.")
@click.option("--kinds", help="Kinds of problems, such as level-pull, with commas; else those of the level.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder for the files; it is made when it is not there."
)
@click.option("--day", default="latest", show_default=True, help="latest, a day such as 2026-11-25, or none.")
@click.option("--logbook", type=click.Path(path_type=Path), help=f"The logbook; {USUAL_LOGBOOK} here.")
@click.option("--surfaces", default=USUAL_SURFACES, show_default=True, help="Of the handbook, without a day.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--large-print", is_flag=True, help="Letters of 18 points.")
@click.option("--plain-type", is_flag=True, help="Wider letters and lines, nothing slanted.")
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
@click.option("--json", "as_json", is_flag=True, help="Print problems and answers as one JSON object.")
def command(**options: Any) -> None:
    """Make problem sheets with today's coefficients: one version a seat, a key, and the day's lab sheet.

    Written as PDF and as HTML.  Sheets carry a code and a seat number, never a name.
    """
    _check(options)
    asked = kinds_asked(options)
    read = day_read(
        options["day"],
        options["logbook"],
        USUAL_LOGBOOK,
        options["surfaces"],
        samples=options["out"] is not None,
    )
    chosen = options["kinds"] is not None
    problems, left = set_versions(asked, read.lesson.pair, options["seed"], options["seats"], chosen=chosen)
    made = ClassSet(seed=options["seed"], lesson=read.lesson, versions=problems)
    notes = [*([read.lesson.note] if read.lesson.note else []), *left]
    for note in notes:
        print(f"pullbench: {note}", file=sys.stderr)
    style = Style(
        paper=options["paper"], large_print=options["large_print"], plain_type=options["plain_type"],
        comma=options["comma"],
    )  # fmt: skip
    written: list[Path] = []
    if options["out"] is not None:
        written = _write(options["out"], _documents(made, read, style), style)
    if options["as_json"]:
        print(
            set_record(made, notes=tuple(notes), files=tuple(path.name for path in written)).decode("utf-8")
        )
    else:
        problem, seat = ("" if n == 1 else "s" for n in (len(problems[0]), len(problems)))
        print(
            f"Set {made.code}: {len(problems[0])} problem{problem} for {len(problems)} seat{seat} in {options['out']}."
        )
        print("\n".join(f"  {path.name}" for path in written))


def _check(options: dict[str, Any]) -> None:
    """Refuse numbers that make no sheet, before any work."""
    check_set(options)
    if options["out"] is None and not options["as_json"]:
        raise ConditionsError(
            "out-missing", "Neither --out nor --json is given.", "Sheets go into a folder, answers to the screen.",
            "Add --out FOLDER.",
        )  # fmt: skip


def _documents(made: ClassSet, read: DayRead, style: Style) -> list[tuple[str, Document]]:
    documents = [
        (f"sheets-{made.code}", student_sheets(made, style)),
        (f"key-{made.code}", key_sheet(made, style, idea_sentences())),
    ]
    if read.day is not None and read.pulls:
        lab = lab_sheet(read.pulls, read.lesson, day_ladder(read), day=read.day, style=style)
        documents.append((f"lab-{re.sub('[^0-9A-Za-z-]', '_', read.day)}", lab))
    return documents


def _write(folder: Path, documents: Sequence[tuple[str, Document]], style: Style) -> list[Path]:
    """Write every document as HTML, then as PDF; return what was written.  Raises PullbenchError."""
    written: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, document in documents:
            written.append(_put(folder / f"{name}.html", html_page(document, style).encode("utf-8")))
        for name, document in documents:
            written.append(_put(folder / f"{name}.pdf", as_pdf(document, style)))
    except OSError as fault:
        raise PullbenchError(
            "sheets-not-written", f"The folder {folder} cannot be written to: {fault.strerror}.",
            "It must be a folder that you may write to, on a disk with room.", "Give --out another place.",
        ) from fault  # fmt: skip
    except PullbenchError as mistake:
        if mistake.code not in ("pdf-part-missing", "sheet-fonts-missing"):
            raise
        told = f"{mistake.allowed} It was written to {folder}."
        raise PullbenchError(mistake.code, mistake.what, told, mistake.next_step) from mistake
    return written


def _put(path: Path, data: bytes) -> Path:
    """Write a file whole or not at all."""
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return path
