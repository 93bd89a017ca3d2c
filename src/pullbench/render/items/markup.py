"""Words with formulas as elements: paragraphs with MathML in them.

Elements carry their namespace as a plain xmlns attribute, so that the text is the same on every run and no prefix is
kept anywhere.
"""

from __future__ import annotations

from xml.etree import ElementTree

from pullbench.model.problem import Step
from pullbench.render.formula import decimal_mark, mathml, parse, pieces
from pullbench.render.formula.tree import Node

MATHML = "http://www.w3.org/1998/Math/MathML"
Element = ElementTree.Element


def child(parent: Element, tag: str, text: str = "", **attributes: str) -> Element:
    """Return a new last child."""
    made = ElementTree.SubElement(parent, tag, attributes)
    if text:
        made.text = text
    return made


def worded(parent: Element, text: str, *, comma: bool) -> Element:
    """Put words with formulas between backticks at the end of an element and return it."""
    for piece in pieces(text):
        if isinstance(piece, str):
            _add_text(parent, decimal_mark(piece, comma=comma))
        else:
            parent.append(_math(piece, block=False, comma=comma))
    return parent


def paragraph(parent: Element, text: str, *, comma: bool) -> Element:
    """Return a new paragraph of words with formulas."""
    return worded(child(parent, "p"), text, comma=comma)


def step(parent: Element, one: Step, *, comma: bool) -> None:
    """Put a line of a worked solution at the end of an element."""
    if one.words:
        paragraph(parent, one.words, comma=comma)
    if one.formula:
        child(parent, "p").append(_math(parse(one.formula), block=True, comma=comma))


def document(root: Element) -> bytes:
    """Return a whole XML file in UTF-8, the same bytes for the same tree."""
    text = ElementTree.tostring(root, encoding="unicode", short_empty_elements=True)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()


def _add_text(parent: Element, text: str) -> None:
    last = parent[-1] if len(parent) else None
    if last is None:
        parent.text = (parent.text or "") + text
    else:
        last.tail = (last.tail or "") + text


def _math(node: Node, *, block: bool, comma: bool) -> Element:
    root = ElementTree.fromstring(mathml(node, block=block, comma=comma))  # our own text, never a stranger's
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{MATHML}}}")
    root.attrib = {"xmlns": MATHML, **root.attrib}
    return root
