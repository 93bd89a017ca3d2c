"""Coverage factors and budgets against JCGM 100:2008 (GUM) and against an independent library."""

import math

import pytest
from scipy import stats

from pullbench.analysis import Conditions, coefficient, coverage_factor, from_repeats
from pullbench.model import BudgetRow, Measured, UncertaintyBudget

# JCGM 100:2008, table G.2, column 95 %, as printed to two decimals.
PRINTED_95 = {
    1: 12.71, 2: 4.30, 3: 3.18, 4: 2.78, 5: 2.57, 6: 2.45, 7: 2.36, 8: 2.31, 9: 2.26, 10: 2.23,
    11: 2.20, 12: 2.18, 13: 2.16, 14: 2.14, 15: 2.13,
}  # fmt: skip


@pytest.mark.parametrize(("dof", "printed"), PRINTED_95.items())
def test_coverage_factor_agrees_with_table_g2_to_the_last_printed_digit(dof, printed):
    assert coverage_factor(dof) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize("coverage", [0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973])
@pytest.mark.parametrize("dof", [1, 1.5, 2, 3, 4.7, 8, 16.66, 19, 30, 50, 100, 1e3, 1e6, math.inf])
def test_coverage_factor_agrees_with_an_independent_library(dof, coverage):
    quantile = stats.norm.ppf if dof == math.inf else lambda p: stats.t.ppf(p, dof)
    assert coverage_factor(dof, coverage) == pytest.approx(quantile(0.5 + coverage / 2), rel=1e-8)


def test_coverage_factor_falls_to_the_normal_one_without_a_step():
    dofs = [10.0**power for power in range(9)]
    factors = [coverage_factor(dof) for dof in dofs]
    assert factors == sorted(factors, reverse=True)
    assert factors[-1] == pytest.approx(1.959964, abs=1e-6)  # standard normal, table G.2 row ∞: 1.960


def test_end_gauge_budget_gives_the_printed_uncertainty_and_degrees_of_freedom():
    """GUM H.1, table H.1 (nanometres); two contributions are products of its inputs."""
    length_nm, theta_degC, u_dalpha, alpha, u_dtheta_degC = 50.000623e6, -0.1, 0.58e-6, 11.5e-6, 0.029
    budget = UncertaintyBudget(
        (
            BudgetRow("standard", 25.0, 18),
            BudgetRow("comparator", 9.7, 25.6),
            BudgetRow("difference of expansion coefficients", abs(length_nm * theta_degC * u_dalpha), 50),
            BudgetRow("difference of temperatures", length_nm * alpha * u_dtheta_degC, 2),
        )
    )
    assert budget.combined == pytest.approx(32, abs=0.5)
    assert budget.effective_dof == pytest.approx(16.6560627, rel=1e-7)  # recomputed apart from this project
    assert math.floor(budget.effective_dof) == 16  # as printed
    k99 = coverage_factor(math.floor(budget.effective_dof), 0.99)
    assert k99 == pytest.approx(2.92, abs=0.005)
    assert k99 * 32 == pytest.approx(93, abs=0.5)  # it expands the rounded 32 nm


def test_product_of_three_factors_gives_the_printed_effective_degrees_of_freedom():
    """GUM G.4.1, example (relative standard uncertainties in per cent)."""
    budget = UncertaintyBudget(
        (BudgetRow("x1", 0.25, 9), BudgetRow("x2", 0.57, 4), BudgetRow("x3", 0.82, 14))
    )
    assert budget.combined == pytest.approx(1.03, abs=0.005)
    assert budget.effective_dof == pytest.approx(19.0, abs=0.05)
    assert coverage_factor(budget.effective_dof) * 1.03 == pytest.approx(2.2, abs=0.05)


READINGS_DEGC = (
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95,
    101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
)  # fmt: skip


def test_twenty_repeats_give_the_printed_mean_and_its_standard_uncertainty():
    """GUM 4.4.3, table 1 (readings in degrees; the function only averages, whatever the unit)."""
    repeats = [Measured(kind="value", value=t, standard_uncertainty=0.0, limits=(t, t), unit="1")
               for t in READINGS_DEGC]  # fmt: skip
    told = from_repeats(repeats)
    assert told.value == pytest.approx(100.145, abs=0.0005)
    assert told.standard_uncertainty == pytest.approx(0.333, abs=0.0005)
    assert told.budget.effective_dof == pytest.approx(19)


@pytest.mark.parametrize(
    ("force_N", "u_force_N", "mass_kg", "u_mass_kg", "g_m_s2", "mu", "u_mu"),
    [
        (1.47, 0.01, 0.5, 0.001, 9.80665, 0.299796567, 0.00212574612),
        (0.35, 0.02, 0.2, 0.001, 9.8, 0.178571429, None),  # the source also doubts g; see below
    ],
)
def test_coefficient_carries_force_and_load_by_the_law_of_propagation(
    force_N, u_force_N, mass_kg, u_mass_kg, g_m_s2, mu, u_mu
):
    """GUM 5.1.6: relative variances of factors add."""
    force = Measured(
        kind="value", value=force_N, standard_uncertainty=u_force_N, unit="N",
        limits=(force_N - 2 * u_force_N, force_N + 2 * u_force_N),
    )  # fmt: skip
    at = Conditions.of_mass(mass_kg, g_m_s2=g_m_s2, u_weight_N=u_mass_kg * g_m_s2)
    told = coefficient(force, at)
    assert told.value == pytest.approx(mu, rel=1e-8)
    expected = u_mu or mu * math.hypot(u_force_N / force_N, u_mass_kg / mass_kg)
    assert told.standard_uncertainty == pytest.approx(expected, rel=1e-8)
