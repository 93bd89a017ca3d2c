"""Comparing, equivalence and pooling against printed values and an independent library (statsmodels).

Data: NIST/ITL Statistical Reference Datasets, analysis of variance (SiRstv, AtmWtAg, SmLs01, SmLs07; US
Government work); Student, Biometrika 6 (1908) 1; Moery and Calin-Jageman (2016), study 2, as used by Lakens,
Soc. Psychol. Personal. Sci. 8 (2017) 355; Kacker, Metrologia 41 (2004) 132, table 1.
"""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from statsmodels.stats import meta_analysis, multitest, power, weightstats

from pullbench.analysis import compare, pool
from pullbench.analysis.equivalence import two_one_sided
from pullbench.analysis.pooled import paule_mandel, pooled_mean
from pullbench.analysis.repeats import Repeats, pulls_to_see
from pullbench.analysis.variance import one_way
from pullbench.analysis.welch import holm, welch
from pullbench.model import PoolGroup, Surface, SurfacePull

SHARED = Path(__file__).parents[3] / "shared/checks/comparisons.json"
SLEEP_A = (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0)
SLEEP_B = (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4)
SIRSTV = (
    (196.3052, 196.1240, 196.1890, 196.2569, 196.3403),
    (196.3042, 196.3825, 196.1669, 196.3257, 196.0422),
    (196.1303, 196.2005, 196.2889, 196.0343, 196.1811),
    (196.2795, 196.1748, 196.1494, 196.1485, 195.9885),
    (196.2119, 196.1051, 196.1850, 196.0052, 196.2090),
)
KACKER_Y = np.array([61.0, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9])
KACKER_U = np.sqrt([0.2025, 1.21, 0.09, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225])


def correct_digits(found, certified):
    """Log relative error: how many digits agree."""
    return 16.0 if found == certified else -math.log10(abs(found / certified - 1))


def simon_and_lesage(base):
    """NIST's recipe of SmLs01 (base 1) and SmLs07 (base 10¹²): 9 treatments of 21 values."""
    firsts = [base + tenths / 10 for tenths in (4, 3, 5, 3, 5, 3, 5, 3, 5)]
    return [[first, *[first - 0.1, first + 0.1] * 10] for first in firsts]


@pytest.mark.parametrize(
    ("groups", "between", "within", "f", "sd", "digits"),
    [
        pytest.param(SIRSTV, 5.11462616e-2, 2.16636560e-1, 1.18046237440255, 1.04076068334656e-1, 8, id="SiRstv"),
        pytest.param(simon_and_lesage(1), 1.68, 1.80, 21.0, 0.1, 12, id="SmLs01"),
        # 13 leading digits are shared; a double keeps 10¹² + 0.4 to 4 digits after the point
        pytest.param(simon_and_lesage(1e12), 1.68, 1.80, 21.0, 0.1, 3, id="SmLs07"),
    ],
)  # fmt: skip
def test_one_way_analysis_of_variance_has_the_certified_digits(groups, between, within, f, sd, digits):
    told = one_way(groups)
    pairs = [(told.between_ss, between), (told.within_ss, within), (told.f, f), (told.pooled_sd, sd)]
    found = [correct_digits(*pair) for pair in pairs]
    print(f"log relative errors {[f'{digit:.1f}' for digit in found]}")
    assert min(found) > digits


@pytest.mark.skipif(not SHARED.exists(), reason="the table of published values is not beside this tree")
def test_silver_atomic_weights_have_the_certified_digits():
    """AtmWtAg, 2 × 24 values that share seven digits."""
    (case,) = (v for v in json.loads(SHARED.read_text("utf-8"))["values"] if v["id"] == "AtmWtAg")
    told, certified = one_way(list(case["inputs"]["groups"].values())), case["expected"]
    assert correct_digits(told.between_ss, certified["SS_between"]) > 8
    assert correct_digits(told.f, certified["F"]) > 8
    assert told.p == pytest.approx(certified["derived"]["p"], rel=1e-6)


def test_welch_on_the_sleep_data_gives_the_printed_digits():
    told = welch(Repeats.of(SLEEP_B), Repeats.of(SLEEP_A))
    assert told.t == pytest.approx(-1.8608, abs=5e-5)
    assert told.dof == pytest.approx(17.776, abs=5e-4)
    assert told.p == pytest.approx(0.07939, abs=5e-6)


def test_comparison_carries_the_printed_limits_and_the_paired_test():
    """A constant is added to both columns: friction is above nought, and differences do not feel it."""
    pulls = [SurfacePull(label=str(i), static=b + 10, kinetic=a + 10)
             for i, (a, b) in enumerate(zip(SLEEP_A, SLEEP_B, strict=True))]  # fmt: skip
    first = [SurfacePull(label=str(i), static=a + 10) for i, a in enumerate(SLEEP_A)]
    told = compare(
        [Surface(name="a", pulls=tuple(first), unit="N"), Surface(name="b", pulls=tuple(pulls), unit="N")]
    )
    assert told.differences[0].difference.limits == pytest.approx((-0.2054832, 3.3654832), abs=1e-7)
    (paired,) = told.paired
    assert paired.p == pytest.approx(0.002833, abs=5e-7)
    assert paired.difference.value / paired.difference.standard_uncertainty == pytest.approx(4.0621, abs=5e-5)


def test_two_one_sided_tests_agree_with_the_published_study():
    """t(182) = −2.69, p = 0.004 as printed, from rounded means and pooled scatter; Welch beside it."""
    first, second = Repeats(89, 5.22, 0.83**2), Repeats(95, 5.25, 0.95**2)
    told = welch(first, second)
    above, below = two_one_sided(told, 0.384)
    assert (told.difference - 0.384) / told.u == pytest.approx(-2.69, abs=0.01)
    assert max(above, below) == pytest.approx(0.004, abs=5e-4)
    assert told.dof == pytest.approx(181.134367, rel=1e-8)  # recomputed apart from this project
    assert below == pytest.approx(0.00383899428, rel=1e-8)


@pytest.mark.parametrize("margin", [0.02, 0.2, 1.0])
def test_welch_and_equivalence_agree_with_statsmodels(margin):
    rng = np.random.default_rng(20)
    a, b = rng.normal(1.0, 0.3, 7), rng.normal(1.1, 0.6, 5)
    told = welch(Repeats.of(a), Repeats.of(b))
    t, p, dof = weightstats.ttest_ind(b, a, usevar="unequal")
    assert (told.t, told.p, told.dof) == pytest.approx((t, p, dof), rel=1e-9)
    theirs = weightstats.ttost_ind(b, a, -margin, margin, usevar="unequal")
    assert max(two_one_sided(told, margin)) == pytest.approx(theirs[0], rel=1e-9)


def test_holm_agrees_with_statsmodels():
    ps = [0.01, 0.04, 0.03, 0.005, 0.9, 0.03]
    assert holm(ps) == pytest.approx(list(multitest.multipletests(ps, method="holm")[1]), rel=1e-12)


@pytest.mark.parametrize("effect", [0.6, 1.0, 1.5, 2.0, 3.0, 5.0])
def test_pulls_asked_for_agree_with_the_noncentral_t_to_one_pull(effect):
    exact = power.TTestIndPower().solve_power(effect_size=effect, alpha=0.05, power=0.8, ratio=1.0)
    assert pulls_to_see(effect, 1.0) == pytest.approx(max(2, math.ceil(float(np.squeeze(exact)))), abs=1)


def test_paule_mandel_agrees_with_the_published_pool():
    """Kacker 2004: τ = 0.8399 as printed; τ² and mean to the digits of two independent programs."""
    tau2 = paule_mandel(KACKER_Y, KACKER_U)
    assert math.sqrt(tau2) == pytest.approx(0.8399, abs=6e-5)
    assert tau2 == pytest.approx(0.705395309224248, rel=1e-9)
    assert pooled_mean(KACKER_Y, KACKER_U, tau2)[0] == pytest.approx(62.4076199113286, rel=1e-11)


def test_hartung_knapp_agrees_with_the_published_pool_by_both_estimators():
    """DerSimonian–Laird only here, as a check: τ = 0.5359 as printed (0.5367 from its own data)."""
    w = 1 / KACKER_U**2
    mean = w @ KACKER_Y / w.sum()
    q = w @ (KACKER_Y - mean) ** 2
    tau2 = (q - 8) / (w.sum() - (w**2).sum() / w.sum())
    assert math.sqrt(tau2) == pytest.approx(0.5359, abs=1e-3)
    found, u = pooled_mean(KACKER_Y, KACKER_U, tau2)
    assert (found, u) == pytest.approx((62.3901386044504, 0.294776056999), rel=1e-10)
    theirs = meta_analysis.combine_effects(KACKER_Y, KACKER_U**2, method_re="iterated", use_t=True)
    groups = [
        PoolGroup(name=str(i), value=y, u=u) for i, (y, u) in enumerate(zip(KACKER_Y, KACKER_U, strict=True))
    ]
    ours = pool(groups, quantity="value", unit="N")
    assert ours.between_sd**2 == pytest.approx(theirs.tau2, rel=1e-4)  # theirs stops earlier
    assert ours.mean.standard_uncertainty == pytest.approx(theirs.sd_eff_w_re_hksj, rel=1e-4)
    assert ours.q == pytest.approx(24.8018977417, rel=1e-10)
    assert ours.q_p == pytest.approx(0.00167935146, rel=1e-8)


def test_results_that_agree_have_no_between_group_part():
    """Derived: Q = 1.31 is below k − 1 = 3, so τ = 0 and the mean is the weighted one."""
    values, u = np.array([0.301, 0.305, 0.298, 0.303]), np.array([0.004, 0.005, 0.004, 0.006])
    assert paule_mandel(values, u) == 0.0
    assert pooled_mean(values, u, 0.0)[0] == pytest.approx(0.301145533, rel=1e-8)
