"""Linear least squares by orthogonal factors: the digits survive columns that are nearly alike."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pullbench.model import FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """factors: shape (p,); squares: sum of squared residuals; cofactors: shape (p, p), covariance at unit variance."""

    factors: FloatArray
    squares: float
    cofactors: FloatArray


def least_squares(design: FloatArray, values: FloatArray) -> Solved:
    """Return the factors of the columns that come nearest to the values.

    design: shape (n, p), n >= p, of full rank (else numpy's LinAlgError).  values: shape (n,).  Rows are of
    equal weight: divide both by a row's standard deviation beforehand.
    """
    q, r = np.linalg.qr(design)
    factors = np.linalg.solve(r, q.T @ values)
    inverse = np.linalg.inv(r)
    return Solved(factors, float(np.sum((values - design @ factors) ** 2)), inverse @ inverse.T)


def left_over(values: FloatArray, columns: FloatArray) -> FloatArray:
    """Return what of the values no mix of the columns explains, shape (n,)."""
    q, _ = np.linalg.qr(columns)
    rest: FloatArray = values - q @ (q.T @ values)
    return rest
