"""`pullbench items`: problems with today's coefficients as a question package of an open standard."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from pullbench.cli.idea_words import idea_sentences
from pullbench.cli.lesson import USUAL_SURFACES, day_read
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.set_made import levels_of, names_of, option
from pullbench.errors import ConditionsError, PullbenchError
from pullbench.render.items import bank_csv, bank_text, package
from pullbench.render.items.made import bank_of
from pullbench.teach.set_making import MOST_VARIANTS, check_seed, check_variants, item_columns, item_kinds


@click.command(name="items", context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same package.")
@click.option(
    "--variants", type=int, default=5, show_default=True, help=f"Of each kind; up to {MOST_VARIANTS}."
)
@click.option("--level", type=int, help="1 to 4; all levels when nothing is said.")
@click.option("--kinds", help="Kinds of problems, such as level-pull, with commas; else all of the level.")
@click.option("--out", type=click.Path(path_type=Path), help="The package, such as friction.zip.")
@click.option("--text", type=click.Path(path_type=Path), help="Problems and key as plain text.")
@click.option("--csv", "table", type=click.Path(path_type=Path), help="One line an item, for spreadsheets.")
@click.option("--day", default="latest", show_default=True, help="latest, a day such as 2026-11-25, or none.")
@click.option("--logbook", type=click.Path(path_type=Path), help=f"The logbook; {USUAL_LOGBOOK} here.")
@click.option("--surfaces", default=USUAL_SURFACES, show_default=True, help="Of the handbook, without a day.")
@click.option("--pictures", type=click.Choice(["svg", "png"]), default="svg", show_default=True)
@click.option("--comma", is_flag=True, help="Print a decimal comma in words and formulas.")
def command(**options: Any) -> None:
    """Make a question package (QTI 2.1) with today's coefficients, for a platform's item bank.

    Every item is one question: a number with its tolerance, or a choice, with feedback for each known wrong answer.
    """
    _check(options)
    named = names_of(options)
    asked = item_kinds(named, levels_of(options), option)
    read = day_read(options["day"], options["logbook"], USUAL_LOGBOOK, options["surfaces"])
    columns, notes = item_columns(
        asked, read.lesson.pair, options["seed"], options["variants"], chosen=named is not None
    )
    for note in ([read.lesson.note] if read.lesson.note else []) + notes:
        print(f"pullbench: {note}", file=sys.stderr)
    bank = bank_of(read.lesson, columns, idea_sentences(), comma=options["comma"])
    if options["out"] is not None:
        _put(options["out"], package(bank, pictures=options["pictures"], comma=options["comma"]), "--out")
    if options["text"] is not None:
        _put(options["text"], bank_text(bank, comma=options["comma"]).encode("utf-8"), "--text")
    if options["table"] is not None:
        _put(options["table"], b"\xef\xbb\xbf" + bank_csv(bank).encode("utf-8"), "--csv")
    items, problems = sum(1 for _ in bank.entries()), sum(len(column) for column in columns)
    label = f" ({read.lesson.pair.label} numbers)" if read.lesson.pair.label else ""
    print(f"{items} items from {problems} problems of {len(columns)} kinds{label}.")


def _check(options: dict[str, Any]) -> None:
    """Refuse what makes no package, before any work."""
    check_variants(options["variants"], option)
    check_seed(options["seed"], option)
    places = [options[name] for name in ("out", "text", "table") if options[name] is not None]
    if not places:
        raise ConditionsError(
            "out-missing", "None of --out, --text and --csv is given.", "A package goes into a file.",
            "Add --out FILE.zip.",
        )  # fmt: skip
    if len(set(places)) < len(places):
        raise ConditionsError(
            "out-twice", f"{places[0]} is given twice.", "Each form goes into a file of its own.", "Mend one of them."
        )  # fmt: skip


def _put(path: Path, data: bytes, option: str) -> None:
    """Write a file whole or not at all, and say so.  Raises PullbenchError."""
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except OSError as fault:
        raise PullbenchError(
            "items-not-written", f"{path} cannot be written: {fault.strerror}.",
            "It must be a file in a folder that you may write to.", f"Give {option} another place.",
        ) from fault  # fmt: skip
    finally:
        part.unlink(missing_ok=True)
    print(f"Written to {path}.")
