"""Formulas: one small notation, read to a tree and set as MathML, Typst maths or plain Unicode text."""

from pullbench.render.formula.decimals import decimal_mark
from pullbench.render.formula.linear import notation, plain
from pullbench.render.formula.mathml import mathml
from pullbench.render.formula.parse import parse
from pullbench.render.formula.rich import pieces, plain_words
from pullbench.render.formula.tree import Node
from pullbench.render.formula.typst_maths import typst_maths

__all__ = [
    "Node",
    "decimal_mark",
    "mathml",
    "notation",
    "parse",
    "pieces",
    "plain",
    "plain_words",
    "typst_maths",
]
