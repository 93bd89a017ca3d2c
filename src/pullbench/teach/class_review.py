"""All typed answers of a class set, checked sheet by sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from pullbench.model.problem import Problem
from pullbench.model.review import ClassReview, SheetReview, TypedRow
from pullbench.teach.problems.kind import Kind
from pullbench.teach.review import review

Placed = dict[tuple[int, int], dict[str, TypedRow]]  # by seat and problem, then by part
Complaints = list[tuple[int, str]]  # line, sentence


def class_review(
    versions: Sequence[Sequence[Problem]], kinds: Mapping[str, Kind], rows: Iterable[TypedRow], *, code: str
) -> ClassReview:
    """Return the reviews of all rows, a proposal.

    versions: by seat from 1 on, the problems of its sheet.  kinds: by name.  code: of the set.  A row for a seat,
    problem or part that is not there, a second answer to the same part, and an answer that cannot be read each give
    one complaint with the number of the line.
    """
    placed, complaints = _placed(versions, rows)
    sheets = []
    for (seat, number), typed in sorted(placed.items()):
        problem = versions[seat - 1][number - 1]
        made = review(problem, kinds[problem.kind], {key: row.answer for key, row in typed.items()})
        sheets.append(SheetReview(seat, number, made))
        for part in made.parts:
            if part.outcome == "unreadable":
                line = typed[part.key].line
                complaints.append((line, f"Line {line} cannot be marked: {part.told[0]}"))
    told = tuple(sentence for _, sentence in sorted(complaints))
    return ClassReview(code=code, sheets=tuple(sheets), complaints=told)


def _placed(versions: Sequence[Sequence[Problem]], rows: Iterable[TypedRow]) -> tuple[Placed, Complaints]:
    placed: Placed = {}
    complaints: Complaints = []
    for row in rows:
        fault = _misplaced(versions, row)
        own = {} if fault else placed.setdefault((row.seat, row.problem), {})
        if row.part in own:
            fault = f"seat {row.seat}, problem {row.problem}, part {row.part} is answered in line {own[row.part].line}"
        if fault:
            complaints.append((row.line, f"Line {row.line} is left out: {fault}."))
        else:
            own[row.part] = row
    return placed, complaints


def _misplaced(versions: Sequence[Sequence[Problem]], row: TypedRow) -> str:
    """Return what is not there of the seat, problem and part of a row, or nothing."""
    if not 1 <= row.seat <= len(versions):
        return f"there is no seat {row.seat}; the set has {_up_to('seat', len(versions))}"
    problems = versions[row.seat - 1]
    if not 1 <= row.problem <= len(problems):
        return f"there is no problem {row.problem}; the sheet has {_up_to('problem', len(problems))}"
    keys = [part.key for part in problems[row.problem - 1].parts]
    if row.part not in keys:
        return f"problem {row.problem} has no part {row.part}; it has {_up_to('part', len(keys), keys)}"
    return ""


def _up_to(word: str, count: int, names: Sequence[str] = ()) -> str:
    first, last = (names[0], names[-1]) if names else ("1", str(count))
    return f"{word} {first} only" if count == 1 else f"{word}s {first} to {last}"
