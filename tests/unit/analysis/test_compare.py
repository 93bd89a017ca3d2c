"""Surfaces side by side: what can be told, what cannot, and what would settle it. Numbers are invented."""

import math

import numpy as np
import pytest

from pullbench.analysis import compare
from pullbench.errors import ConditionsError
from pullbench.model import Surface, SurfacePull


def surface(name, static=(), kinetic=(), unit="1", **each):
    count = max(len(static), len(kinetic))
    pulls = tuple(
        SurfacePull(
            label=f"{name} {i}", static=static[i] if i < len(static) else None,
            kinetic=kinetic[i] if i < len(kinetic) else None, **each,
        )
        for i in range(count)
    )  # fmt: skip
    return Surface(name=name, pulls=pulls, unit=unit)


BIRCH, FELT = (
    surface("birch", kinetic=(0.30, 0.31, 0.29, 0.305)),
    surface("felt", kinetic=(0.24, 0.25, 0.235)),
)


def test_a_paper_towel_pulled_once_is_too_few_to_compare():
    """From classroom practice: a paper towel under the same load raised 3.9 to 4.2 N."""
    told = compare([surface("bare", kinetic=(3.9,), unit="N"), surface("towel", kinetic=(4.2,), unit="N")])
    (one,) = told.differences
    assert one.larger is None
    assert one.difference.limits is None
    assert "too few pulls" in one.difference.reason
    assert one.more.usual_scatter
    assert 3 <= one.more.of_each <= 9  # d 7 %, s 4 %: half-width 4 each, doubled for a fair chance


def test_a_clear_difference_is_told_with_its_sign():
    (one,) = compare([BIRCH, FELT]).differences
    assert one.larger is False
    assert one.more is None
    assert one.difference.value == pytest.approx(-0.0595833, abs=1e-6)
    low, high = one.ratio.limits
    assert low < 0.24166667 / 0.30125 < high < 1


def test_exchanging_the_surfaces_turns_the_sign_and_inverts_the_ratio():
    (there,), (back,) = compare([BIRCH, FELT]).differences, compare([FELT, BIRCH]).differences
    assert back.difference.value == pytest.approx(-there.difference.value)
    assert back.ratio.value == pytest.approx(1 / there.ratio.value)
    assert back.ratio.limits == pytest.approx(tuple(1 / limit for limit in reversed(there.ratio.limits)))


def test_a_shared_scale_widens_the_difference_but_not_the_ratio():
    (plain,), (scaled,) = compare([BIRCH, FELT]).differences, compare([BIRCH, FELT], u_scale=0.2).differences
    assert scaled.difference.standard_uncertainty > plain.difference.standard_uncertainty
    assert scaled.ratio == plain.ratio
    assert scaled.p == plain.p


def test_a_large_p_alone_never_says_the_same():
    """Two pulls each that happen to have one mean, with scatter far above the margin."""
    rough = [surface("a", kinetic=(0.25, 0.35)), surface("b", kinetic=(0.26, 0.34))]
    (same,) = compare(rough, margin=0.01).equivalences
    assert same.answer == "cannot tell yet"
    assert compare(rough).differences[0].p > 0.9


def test_a_real_difference_smaller_than_the_margin_is_the_same_within_it():
    rng = np.random.default_rng(4)
    a, b = (
        surface("a", kinetic=0.300 + 0.002 * rng.normal(size=20)),
        surface("b", kinetic=0.306 + 0.002 * rng.normal(size=20)),
    )
    told = compare([a, b], margin=0.02)
    assert told.differences[0].p < 0.001
    assert told.equivalences[0].answer == "same within the margin"


def test_different_says_whether_it_is_beyond_the_margin():
    assert compare([BIRCH, FELT], margin=0.02).equivalences[0].beyond
    told = compare([BIRCH, FELT], margin=0.055).equivalences[0]
    assert (told.answer, told.beyond) == ("different", False)


def test_readings_all_alike_are_too_coarse_to_compare():
    told = compare([surface("a", kinetic=(0.3, 0.3, 0.3)), surface("b", kinetic=(0.2, 0.2, 0.2))])
    assert "too coarse" in told.differences[0].difference.reason


def test_pulls_of_their_own_doubt_are_never_surer_than_that():
    lucky = surface("a", kinetic=(0.300, 0.3001), u_kinetic=0.01)
    told = compare([lucky, BIRCH])
    assert told.levels[0].mean.standard_uncertainty == pytest.approx(0.01 / math.sqrt(2))


def test_set_aside_pulls_are_counted_and_the_result_with_them_is_there():
    jerked = SurfacePull(label="4", kinetic=0.5, set_aside="jerked")
    told = compare([Surface(name="felt", pulls=(*FELT.pulls, jerked)), BIRCH])
    assert (told.levels[0].pulls, told.levels[0].aside) == (3, 1)
    assert told.with_aside.levels[0].mean.value == pytest.approx((0.24 + 0.25 + 0.235 + 0.5) / 4)
    assert told.levels[0].mean.value == pytest.approx(0.725 / 3)


def test_three_surfaces_are_corrected_for_three_pairs():
    told = compare([BIRCH, FELT, surface("carpet", kinetic=(0.29, 0.33, 0.31))])
    assert len(told.differences) == 3
    assert all(one.adjusted_p >= one.p for one in told.differences)
    assert told.together[0][1].between_dof == 2


def test_thousands_of_pulls_are_compared():
    rng = np.random.default_rng(1)
    told = compare(
        [
            surface("a", kinetic=rng.normal(0.3, 0.01, 5000)),
            surface("b", kinetic=rng.normal(0.31, 0.01, 5000)),
        ]
    )
    assert told.differences[0].larger is True


@pytest.mark.parametrize(
    ("surfaces", "options", "code"),
    [
        ([BIRCH], {}, "one-surface-only"),
        ([], {}, "one-surface-only"),
        ([surface("a", kinetic=(None,)), surface("b", kinetic=(0.3,), set_aside="jerked")], {}, "no-value"),
        ([BIRCH, BIRCH], {}, "names-equal"),
        ([BIRCH, surface("", kinetic=(0.3,))], {}, "name-missing"),
        ([BIRCH, surface("b", kinetic=(math.nan,))], {}, "value-not-positive"),
        ([BIRCH, surface("b", kinetic=(-0.3,))], {}, "value-not-positive"),
        ([BIRCH, surface("b", kinetic=(30.0,))], {}, "coefficient-doubtful"),
        ([BIRCH, surface("b", kinetic=(0.003,))], {}, "coefficient-doubtful"),
        ([BIRCH, surface("b", kinetic=(3.0,), unit="N")], {}, "units-mixed"),
        ([BIRCH, FELT], {"margin": -0.02}, "margin-not-positive"),
        ([BIRCH, FELT], {"margin": 0.0}, "margin-not-positive"),
        ([BIRCH, FELT], {"margin": math.nan}, "margin-not-positive"),
        ([BIRCH, FELT], {"margin": 0.5}, "margin-too-wide"),
    ],
)
def test_bad_input_gives_one_clear_error(surfaces, options, code):
    with pytest.raises(ConditionsError) as mistake:
        compare(surfaces, **options)
    assert mistake.value.code == code
    assert mistake.value.what
    assert mistake.value.next_step


def test_a_coefficient_that_is_meant_is_taken():
    told = compare([BIRCH, surface("glue", kinetic=(3.4, 3.6, 3.5))], unlikely=True)
    assert told.differences[0].larger is True
