"""One window to one pull: rest line, breakaway, kinetic level, budgets, findings, verdict, coefficients."""

from pullbench.analysis.bench_check import BenchCheck, bench_check
from pullbench.analysis.by_hand import ByHand
from pullbench.analysis.conditions import Conditions, coefficient, from_repeats, with_coefficients
from pullbench.analysis.gain import Hung, Verification, verify
from pullbench.analysis.noise import correlation_factor, resolution_step, robust_sd
from pullbench.analysis.pull import analyse
from pullbench.analysis.student import coverage_factor

__all__ = [
    "BenchCheck",
    "ByHand",
    "Conditions",
    "Hung",
    "Verification",
    "analyse",
    "bench_check",
    "coefficient",
    "correlation_factor",
    "coverage_factor",
    "from_repeats",
    "resolution_step",
    "robust_sd",
    "verify",
    "with_coefficients",
]
