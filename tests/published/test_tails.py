"""Tails of Student's t, Fisher's F and chi-square against an independent library (scipy)."""

import pytest
from scipy import stats

from pullbench.analysis.student import chi_square_upper_p, f_upper_p, two_sided_p, upper_p


@pytest.mark.parametrize("dof", [1, 1.7, 3, 12.5, 100, 1e5, float("inf")])
@pytest.mark.parametrize("t", [-4.0, -0.3, 0.0, 1e-12, 0.7, 2.5, 9.0])
def test_tails_of_student_agree(t, dof):
    sf = stats.norm.sf if dof == float("inf") else lambda x: stats.t.sf(x, dof)
    assert upper_p(t, dof) == pytest.approx(sf(t), rel=1e-9)
    assert two_sided_p(t, dof) == pytest.approx(2 * sf(abs(t)), rel=1e-9)


@pytest.mark.parametrize(
    ("f", "above", "below"), [(21.0, 8, 180), (1.18, 4, 20), (15.9, 1, 46), (0.01, 3, 2), (0, 2, 5)]
)
def test_tail_of_f_agrees(f, above, below):
    assert f_upper_p(f, above, below) == pytest.approx(stats.f.sf(f, above, below), rel=1e-9)


@pytest.mark.parametrize("dof", [1, 2, 3, 8, 29, 60])
@pytest.mark.parametrize("x", [0.0, 0.05, 1.3, 24.8, 90.0])
def test_tail_of_chi_square_agrees(x, dof):
    assert chi_square_upper_p(x, dof) == pytest.approx(stats.chi2.sf(x, dof), rel=1e-9)
