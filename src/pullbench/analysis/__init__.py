"""One window to one pull: rest line, breakaway, kinetic level, budgets, findings, verdict, coefficients.

Many pulls to one answer: surfaces compared, two roads to one coefficient, groups pooled.
"""

from pullbench.analysis.bench_check import BenchCheck, bench_check
from pullbench.analysis.by_hand import ByHand
from pullbench.analysis.compare import compare
from pullbench.analysis.conditions import Conditions, coefficient, from_repeats, with_coefficients
from pullbench.analysis.gain import Hung, Verification, verify
from pullbench.analysis.lines import Scales, ladder, line_at
from pullbench.analysis.noise import correlation_factor, resolution_step, robust_sd
from pullbench.analysis.pooled import Batch, pool, pool_batches
from pullbench.analysis.pull import analyse
from pullbench.analysis.student import coverage_factor
from pullbench.analysis.tilted import tilt_check

__all__ = [
    "Batch",
    "BenchCheck",
    "ByHand",
    "Conditions",
    "Hung",
    "Scales",
    "Verification",
    "analyse",
    "bench_check",
    "coefficient",
    "compare",
    "correlation_factor",
    "coverage_factor",
    "from_repeats",
    "ladder",
    "line_at",
    "pool",
    "pool_batches",
    "resolution_step",
    "robust_sd",
    "tilt_check",
    "verify",
    "with_coefficients",
]
