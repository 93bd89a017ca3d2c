"""One-way analysis of variance: is there any difference at all among several surfaces?"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from pullbench.analysis.repeats import RESIDUE
from pullbench.analysis.student import f_upper_p
from pullbench.model import OneWay


def one_way(groups: Sequence[Sequence[float]]) -> OneWay | None:
    """Return the analysis of variance of groups of repeats; None without two groups, repeats and scatter.

    F = (between / (k − 1)) / (within / (n − k)).  The digits that all values share are taken off before
    anything is squared, as values of 13 equal leading digits need (NIST StRD, SmLs07).
    """
    filled = [np.asarray(group, dtype=np.float64) for group in groups if len(group)]
    n = sum(group.size for group in filled)
    between_dof, within_dof = len(filled) - 1, n - len(filled)
    if between_dof < 1 or within_dof < 1:
        return None
    shared = float(filled[0][0])
    centred = [group - shared for group in filled]
    grand = math.fsum(float(x) for group in centred for x in group) / n
    means = [math.fsum(map(float, group)) / group.size for group in centred]
    between = math.fsum(g.size * (m - grand) ** 2 for g, m in zip(centred, means, strict=True))
    within = math.fsum(float(x - m) ** 2 for g, m in zip(centred, means, strict=True) for x in g)
    if within <= n * (RESIDUE * max(float(np.max(np.abs(group))) for group in filled)) ** 2:
        return None  # nothing but rounding: every reading of a surface is the same
    f = between / between_dof / (within / within_dof)
    return OneWay(
        between_ss=between, between_dof=between_dof, within_ss=within, within_dof=within_dof, f=f,
        p=f_upper_p(f, between_dof, within_dof), pooled_sd=math.sqrt(within / within_dof),
    )  # fmt: skip
