"""A bank as plain text to read or paste, and as CSV for spreadsheets and other programs."""

from __future__ import annotations

import csv
import io

from pullbench.model.problem import Part, Step
from pullbench.render.formula import plain, plain_words
from pullbench.render.formula.parse import parse
from pullbench.render.items.bank import Bank, Entry
from pullbench.render.items.item import number
from pullbench.render.sheets.numbers import OPTION_LETTERS, accepted_told, answer_told, wrong_told

COLUMNS = (
    "item", "kind", "level", "seed", "part", "form", "text", "asked", "options", "answer", "unit", "accepted_from",
    "accepted_to", "figures", "wrong", "feedback", "hints", "solution", "figure", "coefficients",
)  # fmt: skip
_BETWEEN = " | "
_FORMULA_SIGNS = ("=", "+", "@", "\t", "\r")  # a spreadsheet would reckon with such a cell


def bank_csv(bank: Bank) -> str:
    """Return one line an item, RFC 4180, numbers with a point; lists in a cell are parted by " | "."""
    held = io.StringIO()
    writer = csv.writer(held)
    writer.writerow(COLUMNS)
    for entry in bank.entries():
        writer.writerow([_safe(cell) for cell in _cells(bank, entry)])
    return held.getvalue()


def bank_text(bank: Bank, *, comma: bool = False) -> str:
    """Return all problems, then their key, as plain text."""
    questions: list[str] = [plain_words(bank.made_with, comma=comma), ""]
    key: list[str] = ["Key", ""]
    number_of = 0
    for column in bank.variants:
        for problem in column:
            number_of += 1
            questions += [
                f"{number_of}. {problem.title} ({problem.kind})",
                plain_words(problem.text, comma=comma),
            ]
            if problem.figure is not None:
                questions.append(f"[{problem.figure.described}]")
            for part in problem.parts:
                questions += _asked(part, comma=comma)
                key += _keyed(bank, f"{number_of}{part.key}", part)
            questions.append("")
    return "\n".join([*questions, *key, ""])


def _asked(part: Part, *, comma: bool) -> list[str]:
    told = f"  {part.key}) {plain_words(part.ask, comma=comma)}"
    options = zip(OPTION_LETTERS, part.options, strict=False)
    return [told, *(f"     {letter}. {plain_words(option, comma=comma)}" for letter, option in options)]


def _keyed(bank: Bank, name: str, part: Part) -> list[str]:
    accepted = "" if part.form == "choice" else f" (accept {accepted_told(part)})"
    wrong = (f"     {wrong_told(part, one)}: {plain_words(bank.sentence(one.idea))}" for one in part.wrong)
    return [f"{name}: {answer_told(part)}{accepted}", *wrong]


def _cells(bank: Bank, entry: Entry) -> list[str]:
    problem, part = entry.problem, entry.part
    choice = part.form == "choice"
    reach = ("", "") if choice else tuple(number(part.answer + way * part.tolerance) for way in (-1, 1))
    wrong = (OPTION_LETTERS[w.option] if w.option is not None else number(w.value or 0.0) for w in part.wrong)
    return [
        entry.name, problem.kind, str(problem.level), str(problem.seed), part.key, part.form,
        plain_words(problem.text), plain_words(part.ask), _BETWEEN.join(map(plain_words, part.options)),
        OPTION_LETTERS[round(part.answer)] if choice else number(part.answer), "" if choice else part.unit, *reach,
        "" if choice else str(part.digits), _BETWEEN.join(wrong),
        _BETWEEN.join(plain_words(bank.sentence(w.idea)) for w in part.wrong),
        _BETWEEN.join(map(plain_words, part.hints)),
        _BETWEEN.join(map(_line, part.solution)),
        problem.figure.described if problem.figure else "", plain_words(bank.made_with),
    ]  # fmt: skip


def _line(step: Step) -> str:
    formula = plain(parse(step.formula)) if step.formula else ""
    return f"{plain_words(step.words)} {formula}".strip()


def _safe(cell: str) -> str:
    """Return a cell that a spreadsheet takes for text; a negative number stays a number."""
    return f"'{cell}" if cell.startswith(_FORMULA_SIGNS) else cell
