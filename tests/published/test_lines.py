"""Straight lines against published and certified results, and against two independent libraries."""

import math

import numpy as np
import odrpack
import pytest
import statsmodels.api as sm

from pullbench.analysis.lines.fit import fit, load_line, points_of
from pullbench.analysis.lines.least_squares import least_squares
from pullbench.analysis.lines.york import york
from pullbench.model import LoadedPull


def log_relative_error(found, certified):
    """Digits that agree, as NIST counts them (StRD); 15 is all a double holds."""
    if found == certified:
        return 15.0
    return min(15.0, -math.log10(abs(found - certified) / abs(certified)))


def agrees(found, certified, digits):
    told = log_relative_error(found, certified)
    print(f"log relative error {told:.1f} ({found!r} against {certified!r})")
    return told >= digits


# Data: K. Pearson, Phil. Mag. 2, 559 (1901); weights: D. York, Can. J. Phys. 44, 1079 (1966).
PEARSON_X = np.array([0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4])
PEARSON_Y = np.array([5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5])
WEIGHT_X = np.array([1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1.0])
WEIGHT_Y = np.array([1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500.0])


def test_pearsons_data_with_yorks_weights_give_the_published_line():
    """York et al., Am. J. Phys. 72, 367 (2004); Neri et al. (1989): slope -0.480533407, intercept 5.47991022."""
    line = york(PEARSON_X, PEARSON_Y, 1 / np.sqrt(WEIGHT_X), 1 / np.sqrt(WEIGHT_Y))
    assert line.slope == pytest.approx(-0.48053340745, rel=1e-9)
    assert line.intercept == pytest.approx(5.47991022403, rel=1e-9)
    assert math.sqrt(line.var_slope) == pytest.approx(0.057985009, rel=1e-6)
    assert math.sqrt(line.var_intercept) == pytest.approx(0.294970735, rel=1e-6)
    assert line.covariance == pytest.approx(-0.0164725447, rel=1e-6)
    assert line.misfit == pytest.approx(11.8663532, rel=1e-8)


def test_thirty_pairs_of_assays_give_the_published_line():
    """B. D. Ripley and M. Thompson, Analyst 112, 377 (1987): intercept 0.106448, slope 0.973 as printed."""
    x = np.array([
        8.71, 7.01, 3.28, 5.6, 1.55, 1.75, 0.73, 3.66, 0.9, 9.39, 4.39, 3.69, 0.34, 1.94, 2.07, 1.38, 1.81, 1.27,
        0.82, 1.88, 5.66, 0.0, 0.0, 0.4, 0.0, 1.98, 10.21, 4.64, 5.66, 19.25,
    ])  # fmt: skip
    u_x = np.array([
        1.92, 1.56, 0.76, 1.26, 0.39, 0.43, 0.22, 0.84, 0.25, 2.07, 1.0, 0.84, 0.13, 0.47, 0.5, 0.36, 0.45, 0.33,
        0.23, 0.46, 1.27, 0.06, 0.06, 0.15, 0.06, 0.48, 2.24, 1.05, 1.27, 4.18,
    ])  # fmt: skip
    y = np.array([
        7.35, 7.92, 3.4, 5.44, 2.07, 2.29, 0.66, 3.43, 1.25, 6.58, 3.31, 2.72, 2.32, 1.5, 3.5, 1.17, 2.31, 1.88,
        0.44, 1.37, 7.04, 0.0, 0.49, 1.29, 0.37, 2.16, 12.53, 3.9, 4.66, 15.86,
    ])  # fmt: skip
    u_y = np.array([
        2.07, 2.23, 0.96, 1.53, 0.59, 0.65, 0.19, 0.97, 0.36, 1.85, 0.93, 0.77, 0.66, 0.43, 0.99, 0.33, 0.66, 0.54,
        0.13, 0.4, 1.98, 0.01, 0.15, 0.37, 0.12, 0.62, 3.51, 1.1, 1.31, 4.45,
    ])  # fmt: skip
    line = york(x, y, u_x, u_y)
    assert line.intercept == pytest.approx(0.106448, abs=1e-6)
    assert line.slope == pytest.approx(0.973, abs=5e-4)
    assert line.misfit == pytest.approx(38.0346026, rel=1e-7)


# J. F. Deming's closed form for a constant ratio of variances; line recomputed apart from this project.
DEMING_X = np.arange(1.0, 11.0)
DEMING_Y = np.array([2.3, 4.1, 7.9, 7.7, 13.5, 11.3, 19.1, 14.9, 24.7, 20.5])


@pytest.mark.parametrize(
    ("variance_ratio", "intercept", "slope"),
    [(1.0, -1.32859171, 2.53247122), (4.0, -0.875835262, 2.45015187)],
)
def test_constant_variance_ratio_gives_demings_line(variance_ratio, intercept, slope):
    line = york(DEMING_X, DEMING_Y, np.ones(10), np.full(10, math.sqrt(variance_ratio)))
    assert line.slope == pytest.approx(slope, rel=1e-8)
    assert line.intercept == pytest.approx(intercept, rel=1e-8)


# NIST/ITL Statistical Reference Datasets (public domain), Norris: 36 ozone readings.
NORRIS = np.array([
    (0.2, 0.1), (337.4, 338.8), (118.2, 118.1), (884.6, 888.0), (10.1, 9.2), (226.5, 228.1), (666.3, 668.5),
    (996.3, 998.5), (448.6, 449.1), (777.0, 778.9), (558.2, 559.2), (0.4, 0.3), (0.6, 0.1), (775.5, 778.1),
    (666.9, 668.8), (338.0, 339.3), (447.5, 448.9), (11.6, 10.8), (556.0, 557.7), (228.1, 228.3), (995.8, 998.0),
    (887.6, 888.8), (120.2, 119.6), (0.3, 0.3), (0.3, 0.6), (556.8, 557.6), (339.1, 339.3), (887.2, 888.0),
    (999.0, 998.5), (779.0, 778.9), (11.1, 10.2), (118.3, 117.6), (229.2, 228.9), (669.1, 668.4), (448.9, 449.2),
    (0.5, 0.2),
])  # fmt: skip


def test_norris_agrees_with_the_certified_digits_by_both_roads():
    x, y = NORRIS.T
    line = york(x, y, np.zeros(36), np.ones(36))
    sd = math.sqrt(line.misfit / 34)
    assert agrees(line.slope, 1.00211681802045, 12)
    assert agrees(line.intercept, -0.262323073774029, 10)
    assert agrees(sd * math.sqrt(line.var_slope), 0.000429796848199937, 11)
    assert agrees(sd * math.sqrt(line.var_intercept), 0.232818234301152, 11)
    assert agrees(sd, 0.884796396144373, 11)
    solved = least_squares(np.column_stack([np.ones(36), x]), y)
    assert agrees(solved.factors[0], -0.262323073774029, 10)
    assert agrees(solved.factors[1], 1.00211681802045, 12)


@pytest.mark.parametrize(
    ("x", "y", "slope", "u_slope", "sd"),
    [
        pytest.param(
            np.arange(60.0, 71), np.arange(130.0, 141), 2.07438016528926, 0.0165289256198347, 3.56753034006338,
            id="NoInt1",
        ),
        pytest.param(
            np.array([4.0, 5, 6]), np.array([3.0, 4, 4]), 0.727272727272727, 0.0420827318078432, 0.369274472937998,
            id="NoInt2",
        ),
    ],
)  # fmt: skip
def test_a_line_through_nought_agrees_with_nists_certified_digits(x, y, slope, u_slope, sd):
    solved = least_squares(x[:, None], y)
    found = math.sqrt(solved.squares / (x.size - 1))
    assert agrees(solved.factors[0], slope, 13)
    assert agrees(found, sd, 12)
    assert agrees(found * math.sqrt(solved.cofactors[0, 0]), u_slope, 12)


# JCGM 100:2008 (GUM), H.3, table H.6: readings and corrections of a thermometer, degrees Celsius.
GUM_T = np.array([21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511])
GUM_B = -np.array([0.171, 0.169, 0.166, 0.159, 0.164, 0.165, 0.156, 0.157, 0.159, 0.161, 0.160])


def test_calibration_line_of_the_gum_comes_out_as_printed():
    line = york(GUM_T - 20, GUM_B, np.zeros(11), np.ones(11))
    s = math.sqrt(line.misfit / 9)
    u_intercept, u_slope = s * math.sqrt(line.var_intercept), s * math.sqrt(line.var_slope)
    r = line.covariance / math.sqrt(line.var_intercept * line.var_slope)
    assert line.intercept == pytest.approx(-0.1712, abs=5e-5)
    assert u_intercept == pytest.approx(0.0029, abs=5e-5)
    assert line.slope == pytest.approx(0.00218, abs=5e-6)
    assert u_slope == pytest.approx(0.00067, abs=5e-6)
    assert r == pytest.approx(-0.930, abs=5e-4)
    assert s == pytest.approx(0.0035, abs=5e-5)
    at_30 = line.intercept + 10 * line.slope
    u_30 = math.sqrt(u_intercept**2 + 100 * u_slope**2 + 20 * r * u_intercept * u_slope)
    assert at_30 == pytest.approx(-0.1494, abs=5e-5)
    assert u_30 == pytest.approx(0.0041, abs=5e-5)


def test_a_ladder_whose_own_doubt_is_all_its_scatter_is_plain_weighted_least_squares():
    """A made-up ladder, recomputed apart from this project by weighted least squares in matrix form."""
    rows = zip(
        [1.96, 3.92, 5.88, 7.84, 9.8],
        [0.6, 1.19, 1.74, 2.37, 2.93],
        [0.02, 0.02, 0.03, 0.03, 0.04],
        strict=True,
    )
    points = points_of([LoadedPull(normal_N=n, kinetic_N=f, u_kinetic_N=u) for n, f, u in rows], "kinetic")
    found = fit(points)
    line = load_line(found, "kinetic")
    assert found.scatter == 0.0  # its chi-square is below its degrees of freedom
    assert found.line.misfit == pytest.approx(1.34315333, rel=1e-7)
    assert line.slope.value == pytest.approx(0.297862752, rel=1e-7)
    assert line.slope.standard_uncertainty == pytest.approx(0.00451918396, rel=1e-7)
    assert line.intercept.value == pytest.approx(0.016460945, rel=1e-7)
    assert line.intercept.standard_uncertainty == pytest.approx(0.0236414881, rel=1e-7)
    assert line.covariance_N == pytest.approx(-9.3873615e-05, rel=1e-7)


def random_ladder(seed):
    rng = np.random.default_rng(seed)
    normal = np.array([5.0, 9.0, 14.0, 19.0, 25.0, 31.0])
    u_x, u_y = rng.uniform(0.1, 0.6, 6), rng.uniform(0.05, 0.3, 6)
    return normal + u_x * rng.standard_normal(6), 0.3 * normal + 0.4 + u_y * rng.standard_normal(6), u_x, u_y


@pytest.mark.parametrize("seed", range(8))
def test_errors_in_both_coordinates_agree_with_orthogonal_distance_regression(seed):
    x, y, u_x, u_y = random_ladder(seed)
    line = york(x, y, u_x, u_y)
    other = odrpack.odr_fit(
        lambda x, beta: beta[0] + beta[1] * x, x, y, np.array([0.0, 0.3]), weight_x=1 / u_x**2, weight_y=1 / u_y**2,
        diff_scheme="central", partol=1e-14, sstol=1e-15, maxit=500,
    )  # fmt: skip
    assert [line.intercept, line.slope] == pytest.approx(list(other.beta), rel=1e-6)
    assert line.misfit == pytest.approx(other.sum_square, rel=1e-8)


@pytest.mark.parametrize("seed", range(4))
def test_correlated_errors_of_a_point_are_those_of_the_turned_problem(seed):
    """y' = y - c x has errors that are independent of x's when r = c u_x / u_y: its line is the same less c."""
    x, y, u_x, u_y = random_ladder(seed)
    c = 0.2
    plain = york(x, y, u_x, u_y)
    u_turned = np.hypot(u_y, c * u_x)
    turned = york(x, y + c * x, u_x, u_turned, c * u_x / u_turned)
    assert turned.slope - c == pytest.approx(plain.slope, rel=1e-9)
    assert turned.intercept == pytest.approx(plain.intercept, rel=1e-7)
    assert turned.var_slope == pytest.approx(plain.var_slope, rel=1e-9)


@pytest.mark.parametrize("seed", range(4))
def test_weighted_least_squares_agrees_with_an_independent_library(seed):
    x, y, _, u_y = random_ladder(seed)
    other = sm.WLS(y, sm.add_constant(x), weights=1 / u_y**2).fit(cov_type="fixed scale")
    line = york(x, y, np.zeros(6), u_y)
    assert [line.intercept, line.slope] == pytest.approx(list(other.params), rel=1e-10)
    assert [math.sqrt(line.var_intercept), math.sqrt(line.var_slope)] == pytest.approx(
        list(other.bse), rel=1e-10
    )
    solved = least_squares(np.column_stack([np.ones(6), x]) / u_y[:, None], y / u_y)
    assert list(solved.factors) == pytest.approx(list(other.params), rel=1e-10)
