"""`pullbench review`: typed answers checked against a class set's key; a proposal until the teacher approves it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from pullbench.cli.lesson import USUAL_SURFACES
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.set_made import class_set
from pullbench.errors import ConditionsError, PullbenchError
from pullbench.model.review import ClassReview
from pullbench.render.formula import plain_words
from pullbench.render.review_json import review_record
from pullbench.render.review_text import review_text, slips_text
from pullbench.render.sheets import ClassSet
from pullbench.render.sheets.class_set import coefficients_told
from pullbench.render.sheets.words import made_with
from pullbench.sources.answer_rows import MOST_BYTES, answer_rows
from pullbench.teach.class_review import class_review
from pullbench.teach.problems import KINDS


@click.command(name="review", context_settings={"help_option_names": ["--help", "-h"]})
@click.argument("answers", type=click.Path(path_type=Path))
@click.option("--seed", type=int, default=1, show_default=True, help="As for the sheets.")
@click.option("--seats", type=int, default=1, show_default=True, help="As for the sheets.")
@click.option("--level", type=int, help="As for the sheets.")
@click.option("--kinds", help="As for the sheets.")
@click.option("--set", "code", help="The code on the sheets; found again whatever was pulled since.")
@click.option("--day", default="latest", show_default=True, help="As for the sheets: latest, a day, or none.")
@click.option("--logbook", type=click.Path(path_type=Path), help=f"The logbook; {USUAL_LOGBOOK} here.")
@click.option("--surfaces", default=USUAL_SURFACES, show_default=True, help="As for the sheets.")
@click.option("--approve", is_flag=True, help="Approve what was proposed.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Write what is handed back, a slip a seat; with --approve."
)
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def command(**options: Any) -> None:
    """Review typed answers: lines of seat, problem, part, answer, such as 3,1,a,4.2 N; - reads standard input.

    Give the same options as for the sheets, so that the same set is made.  The review is a proposal until --approve.
    """
    if options["out"] is not None and not options["approve"]:
        raise ConditionsError(
            "review-not-approved", f"--out {options['out']} is given without --approve.",
            "Only an approved review is handed back.", "Look the review through, then add --approve.",
        )  # fmt: skip
    data, name = _read(options["answers"])
    rows, complaints = answer_rows(data, name)
    made, notes = class_set(options)
    done = class_review(made.versions, KINDS, rows, code=made.code)
    done = _with(done, complaints)
    if options["approve"]:
        done = done.approved()
    for note in notes:
        print(f"pullbench: {note}", file=sys.stderr)
    _print(done, made, options)
    if options["out"] is not None:
        _write(options["out"], slips_text(done))


def _read(path: Path) -> tuple[bytes, str]:
    """Return the bytes of a file, at most one more than may be; standard input for -.  Raises PullbenchError."""
    if str(path) == "-":
        return sys.stdin.buffer.read(MOST_BYTES + 1), "standard input"
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1), str(path)
    except OSError as fault:
        raise PullbenchError(
            "answers-unreadable", f"{path} cannot be read: {fault.strerror}.",
            "It must be a file of typed answers, such as CSV.", "Name the file, or - for standard input.",
        ) from fault  # fmt: skip


def _with(done: ClassReview, complaints: tuple[str, ...]) -> ClassReview:
    """Return a review with the lines that could not be read among its complaints, by number of the line."""
    told = sorted((*complaints, *done.complaints), key=lambda sentence: int(sentence.split()[1]))
    return ClassReview(code=done.code, sheets=done.sheets, complaints=tuple(told))


def _print(done: ClassReview, made: ClassSet, options: dict[str, Any]) -> None:
    pair, comma = made.pair, options["comma"]
    told = coefficients_told(made.lesson, comma=comma)
    source = plain_words(made_with(told, pair.label, pair.source), comma=comma)
    if options["as_json"]:
        print(review_record(done, made_with=source, label=pair.label).decode("utf-8"))
    else:
        print(review_text(done, made_with=source))


def _write(path: Path, text: str) -> None:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as fault:
        raise PullbenchError(
            "slips-not-written", f"{path} cannot be written: {fault.strerror}.",
            "It must be a file in a folder that you may write to.", "Give --out another place.",
        ) from fault  # fmt: skip
    print(f"Written to {path}.")
