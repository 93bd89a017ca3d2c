"""What a class should notice: the handbook of coefficients, and plans of a kit, as values."""

from pullbench.teach.handbook import Entry, Handbook, Row, handbook_from
from pullbench.teach.kit import Coefficients, Kit
from pullbench.teach.plan import plan
from pullbench.teach.planned import Advice, Expected, Load, Plan

__all__ = [
    "Advice",
    "Coefficients",
    "Entry",
    "Expected",
    "Handbook",
    "Kit",
    "Load",
    "Plan",
    "Row",
    "handbook_from",
    "plan",
]
