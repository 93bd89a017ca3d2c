"""Question packages: problems as items of an open standard, with feedback, pictures and formulas; text and CSV."""

from pullbench.render.items.bank import Bank, Entry
from pullbench.render.items.package import package
from pullbench.render.items.table import bank_csv, bank_text

__all__ = ["Bank", "Entry", "bank_csv", "bank_text", "package"]
