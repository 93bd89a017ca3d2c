"""A bank from the lesson's coefficients and the variants made with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pullbench.model.problem import Problem
from pullbench.render.items.bank import Bank
from pullbench.render.sheets.class_set import coefficients_told
from pullbench.render.sheets.words import made_with
from pullbench.teach.lesson import Lesson


def bank_of(
    lesson: Lesson, columns: Sequence[tuple[Problem, ...]], ideas: Mapping[str, str], *, comma: bool
) -> Bank:
    """Return the bank of a lesson.  columns: of each kind in turn, its variants.  ideas: sentences by name."""
    pair = lesson.pair
    told = made_with(coefficients_told(lesson, comma=comma), pair.label, pair.source)
    return Bank(pair=pair, variants=tuple(columns), made_with=told, ideas=ideas)
