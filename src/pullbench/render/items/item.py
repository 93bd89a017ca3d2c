"""One part of a problem as an assessmentItem of QTI 2.1: the question, how answers are judged, and feedback.

Why 2.1 is told in docs/items.md.  Order and names of elements follow the standard's information model and its XML
schema of 2012.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from xml.etree import ElementTree

from pullbench.model.problem import Part, WrongAnswer
from pullbench.render.items import words
from pullbench.render.items.bank import Bank, Entry, identifier
from pullbench.render.items.markup import Element, child, document, paragraph, step, worded
from pullbench.render.sheets.numbers import OPTION_LETTERS
from pullbench.teach.review import accepted

QTI = "http://www.imsglobal.org/xsd/imsqti_v2p1"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
SCHEMA = f"{QTI} http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd"
RIGHT, OTHER, UNCLEAR = "RIGHT", "OTHER", "UNCLEAR"
FIGURES = 6  # of an answer: far finer than any tolerance


def item(bank: Bank, entry: Entry, picture: str | None, *, comma: bool) -> bytes:
    """Return one item as an XML file.  picture: where its figure lies, seen from the item; None without one."""
    part = entry.part
    root = ElementTree.Element("assessmentItem", {
        "xmlns": QTI, "xmlns:xsi": XSI, "xsi:schemaLocation": SCHEMA, "identifier": entry.name,
        "title": f"{entry.problem.title}, {part.key}", "adaptive": "false", "timeDependent": "false",
        "xml:lang": words.LANGUAGE,
    })  # fmt: skip
    _declared(root, part)
    body = child(root, "itemBody")
    _question(body, bank, entry, picture, comma=comma)
    _judged(child(root, "responseProcessing"), part)
    _feedback(root, bank, part, comma=comma)
    return document(root)


def number(value: float) -> str:
    """Return a number as the standard's float."""
    return f"{value:.{FIGURES}g}"


def _declared(root: Element, part: Part) -> None:
    base = "identifier" if part.form == "choice" else "float"
    response = child(root, "responseDeclaration", identifier="RESPONSE", cardinality="single", baseType=base)
    right = OPTION_LETTERS[round(part.answer)] if part.form == "choice" else number(part.answer)
    child(child(response, "correctResponse"), "value", right)
    score = child(root, "outcomeDeclaration", identifier="SCORE", cardinality="single", baseType="float")
    child(child(score, "defaultValue"), "value", "0")
    most = child(root, "outcomeDeclaration", identifier="MAXSCORE", cardinality="single", baseType="float")
    child(child(most, "defaultValue"), "value", "1")
    child(root, "outcomeDeclaration", identifier="FEEDBACK", cardinality="single", baseType="identifier")


def _question(body: Element, bank: Bank, entry: Entry, picture: str | None, *, comma: bool) -> None:
    problem, part = entry.problem, entry.part
    paragraph(body, problem.text, comma=comma)
    if picture is not None and problem.figure is not None:
        child(child(body, "p"), "img", src=picture, alt=problem.figure.described)
    if entry.earlier:
        child(body, "p", words.BEFORE)
        listed = child(body, "ul")
        for before in entry.earlier:
            worded(child(listed, "li"), before.ask, comma=comma)
    if part.form == "choice":
        asked = child(
            body, "choiceInteraction", responseIdentifier="RESPONSE", shuffle="false", maxChoices="1"
        )
        worded(child(asked, "prompt"), part.ask, comma=comma)
        for letter, option in zip(OPTION_LETTERS, part.options, strict=False):
            worded(child(asked, "simpleChoice", identifier=letter), option, comma=comma)
    else:
        paragraph(body, part.ask, comma=comma)
        line = child(body, "p", f"{words.ANSWER} ")
        entry_field = child(line, "textEntryInteraction", responseIdentifier="RESPONSE", expectedLength="10")
        entry_field.tail = "" if part.unit == "1" else f" {part.unit}"
        child(body, "p", words.how_to_answer(part.unit))
    if problem.given and problem.pair is not None:
        paragraph(body, bank.made_with, comma=comma)


def _judged(processing: Element, part: Part) -> None:
    """Right first, then numbers that more than one wrong way leads to, then each wrong way, then the rest."""
    condition = child(processing, "responseCondition")
    empty = child(child(condition, "responseIf"), "isNull")
    child(empty, "variable", identifier="RESPONSE")
    _outcome(condition[0], score="0")
    right = child(condition, "responseElseIf")
    _is_right(right, part)
    _outcome(right, score="1", feedback=RIGHT)
    for first, second in _alike(part):
        both = child(condition, "responseElseIf")
        joined = child(both, "and")
        _is_wrong(joined, part, first)
        _is_wrong(joined, part, second)
        _outcome(both, feedback=UNCLEAR)
    for wrong in part.wrong:
        branch = child(condition, "responseElseIf")
        _is_wrong(branch, part, wrong)
        _outcome(branch, feedback=identifier(wrong.idea))
    _outcome(child(condition, "responseElse"), feedback=OTHER)


def _alike(part: Part) -> Sequence[tuple[WrongAnswer, WrongAnswer]]:
    """Return the pairs of wrong numbers that cannot be told from each other within what is accepted."""
    told = [one for one in part.wrong if one.value is not None]
    return [
        (one, other)
        for one, other in combinations(told, 2)
        if abs((one.value or 0.0) - (other.value or 0.0)) <= _around(part, one) + _around(part, other)
    ]


def _around(part: Part, wrong: WrongAnswer) -> float:
    return accepted(part, wrong.value or 0.0)


def _is_right(branch: Element, part: Part) -> None:
    """Put the test for the right answer into a branch."""
    if part.form == "choice":
        test = child(branch, "match")
    else:
        test = child(branch, "equal", toleranceMode="absolute", tolerance=number(part.tolerance))
    child(test, "variable", identifier="RESPONSE")
    child(test, "correct", identifier="RESPONSE")


def _is_wrong(branch: Element, part: Part, wrong: WrongAnswer) -> None:
    """Put the test for one wrong answer into a branch."""
    if wrong.option is not None:
        test, base, value = child(branch, "match"), "identifier", OPTION_LETTERS[wrong.option]
    else:
        near = number(_around(part, wrong))
        test = child(branch, "equal", toleranceMode="absolute", tolerance=near)
        base, value = "float", number(wrong.value or 0.0)
    child(test, "variable", identifier="RESPONSE")
    child(test, "baseValue", value, baseType=base)


def _outcome(branch: Element, *, score: str | None = None, feedback: str | None = None) -> None:
    for name, value, base in (("SCORE", score, "float"), ("FEEDBACK", feedback, "identifier")):
        if value is not None:
            child(child(branch, "setOutcomeValue", identifier=name), "baseValue", value, baseType=base)


def _feedback(root: Element, bank: Bank, part: Part, *, comma: bool) -> None:
    right = _modal(root, RIGHT)
    child(right, "p", words.RIGHT)
    for one in part.solution:
        step(right, one, comma=comma)
    if _alike(part):
        child(_modal(root, UNCLEAR), "p", words.UNCLEAR)
    for wrong in part.wrong:
        paragraph(_modal(root, identifier(wrong.idea)), bank.sentence(wrong.idea), comma=comma)
    other = _modal(root, OTHER)
    child(other, "p", words.OTHER if part.hints else words.OTHER_BARE)
    for hint in part.hints:
        paragraph(other, hint, comma=comma)


def _modal(root: Element, name: str) -> Element:
    return child(
        root, "modalFeedback", outcomeIdentifier="FEEDBACK", identifier=name, showHide="show",
        title=words.FEEDBACK_TITLE,
    )  # fmt: skip
