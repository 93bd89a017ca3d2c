"""One window to one pull: rest line, breakaway, kinetic level, budgets, findings, verdict, coefficients."""

from pullbench.analysis.conditions import Conditions, coefficient, from_repeats, with_coefficients
from pullbench.analysis.pull import analyse
from pullbench.analysis.student import coverage_factor

__all__ = ["Conditions", "analyse", "coefficient", "coverage_factor", "from_repeats", "with_coefficients"]
