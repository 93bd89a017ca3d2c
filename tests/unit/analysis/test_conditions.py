import math

import pytest

from pullbench.analysis import Conditions, coefficient, from_repeats
from pullbench.errors import ConditionsError
from pullbench.model import Measured


def value(value, u, unit="N"):
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=u,
        limits=(value - 1.96 * u, value + 1.96 * u),
        unit=unit,
    )


@pytest.mark.parametrize("weight_N", [0.0, -3.0, math.inf, math.nan])
def test_an_impossible_load_is_refused_with_its_value(weight_N):
    with pytest.raises(ConditionsError) as refused:
        Conditions(weight_N=weight_N)
    assert refused.value.code == "load-not-positive"
    assert f"{weight_N:g} N" in refused.value.what


def test_what_cannot_be_told_of_a_force_stays_untold_of_the_coefficient():
    told = coefficient(Measured.cannot_tell("it slid too short", unit="N"), Conditions(weight_N=5.0))
    assert (told.kind, told.reason, told.unit) == ("cannot tell", "it slid too short", "1")


def test_a_lower_bound_on_the_force_is_the_same_bound_on_the_coefficient():
    bound = Measured(kind="lower bound", value=2.0, standard_uncertainty=0.1, limits=(1.8, None), unit="N",
                     reason="held")  # fmt: skip
    told = coefficient(bound, Conditions(weight_N=10.0))
    assert (told.kind, told.reason) == ("lower bound", "held")
    assert told.value == pytest.approx(0.2)
    assert told.limits[0] == pytest.approx(0.18)
    assert told.limits[1] is None


def test_doubts_of_force_load_string_and_tilt_add_as_squares():
    at = Conditions(weight_N=10.0, u_weight_N=0.1, string_deg=10.0, u_string_deg=1.0, u_tilt_deg=0.5)
    whole = coefficient(value(3.0, 0.05), at)
    parts = [
        coefficient(value(3.0, 0.05), Conditions(weight_N=10.0, string_deg=10.0)),
        coefficient(value(3.0, 1e-12), Conditions(weight_N=10.0, u_weight_N=0.1, string_deg=10.0)),
        coefficient(value(3.0, 1e-12), Conditions(weight_N=10.0, string_deg=10.0, u_string_deg=1.0)),
        coefficient(value(3.0, 1e-12), Conditions(weight_N=10.0, string_deg=10.0, u_tilt_deg=0.5)),
    ]
    assert whole.standard_uncertainty == pytest.approx(
        math.sqrt(sum(part.standard_uncertainty**2 for part in parts)), rel=1e-9
    )
    assert len(whole.budget.rows) == 4


def test_an_angle_doubt_is_the_change_that_the_angle_makes():
    """The budget's row against a difference of two coefficients, one degree apart."""
    told = coefficient(value(3.0, 1e-12), Conditions(weight_N=10.0, string_deg=20.0, u_string_deg=1.0))
    above, below = (
        coefficient(value(3.0, 1e-12), Conditions(weight_N=10.0, string_deg=angle)).value
        for angle in (20.5, 19.5)
    )
    assert told.standard_uncertainty == pytest.approx(abs(above - below), rel=1e-3)


def test_one_pull_has_no_repeats_to_take_scatter_from():
    told = from_repeats([value(0.3, 0.01, "1"), Measured.cannot_tell("it slipped", unit="1")])
    assert told.kind == "cannot tell"
    assert "1 of 2" in told.reason


def test_repeats_that_agree_better_than_their_own_doubt_keep_that_doubt():
    told = from_repeats([value(0.300, 0.02, "1"), value(0.301, 0.02, "1"), value(0.299, 0.02, "1")])
    assert told.standard_uncertainty == pytest.approx(0.02 / math.sqrt(3))


def test_limits_of_repeats_use_student_for_the_few_pulls_there_are():
    told = from_repeats([value(mu, 1e-6, "1") for mu in (0.29, 0.30, 0.32)])
    mean, spread = 0.91 / 3, math.sqrt(sum((mu - 0.91 / 3) ** 2 for mu in (0.29, 0.30, 0.32)) / 2)
    assert told.value == pytest.approx(mean)
    assert told.limits[1] - mean == pytest.approx(4.3027 * spread / math.sqrt(3), rel=1e-4)  # t, 2 dof
