"""Three numbers read off a spring scale: what is told of them, and how surely."""

import numpy as np
import pytest

from pullbench.analysis import analyse
from pullbench.model import ByEye, PullWindow, Trace, Verdict


def read(rest_N, static_N, kinetic_N, half_N=0.05, u_gain=0.0):
    by_eye = ByEye(
        rest_N=rest_N, static_N=static_N, kinetic_N=kinetic_N, half_division_N=half_N, text="as typed"
    )
    numbers = [one for one in (rest_N, static_N, kinetic_N) if one is not None]
    trace = Trace(time_s=np.arange(len(numbers)) * 1e-3, force_N=np.array(numbers))
    window = PullWindow(trace=trace, start_s=0.0, end_s=2e-3, direction=1, by_eye=by_eye)
    return analyse(window, u_gain=u_gain)


def test_the_level_is_told_above_rest_and_the_top_is_a_lower_bound():
    pull = read(0.1, 2.8, 2.1)
    assert pull.plateau.force.value == pytest.approx(2.0)
    assert pull.breakaway.force.kind == "lower bound"
    assert pull.breakaway.force.value == pytest.approx(2.7)
    assert "misses the top" in pull.breakaway.force.reason
    assert pull.verdict is Verdict.USABLE_WITH_A_NOTE


def test_without_a_rest_reading_nothing_is_told():
    pull = read(None, 2.8, 2.1)
    assert {pull.plateau.force.kind, pull.breakaway.force.kind, pull.rest_reading.kind} == {"cannot tell"}
    assert pull.verdict is Verdict.PULL_AGAIN
    assert "string hang loose" in pull.findings[0].fix


def test_what_was_not_read_cannot_be_told():
    assert read(0.1, 2.8, None).plateau.force.kind == "cannot tell"
    assert read(0.1, None, 2.1).breakaway.force.kind == "cannot tell"


def test_a_pull_of_no_more_than_a_division_is_to_be_pulled_again():
    assert read(0.1, 0.2, 0.2).verdict is Verdict.PULL_AGAIN


def test_a_verified_scale_adds_its_doubt():
    plain, verified = (read(0.0, 20.0, 20.0, u_gain=u).plateau.force for u in (0.0, 0.01))
    assert verified.standard_uncertainty**2 - plain.standard_uncertainty**2 == pytest.approx(0.2**2)


def test_limits_hold_a_level_that_is_rounded_to_divisions_and_shaken():
    """Truth anywhere within a division; readings rounded as an eye rounds; the pointer shakes half a division."""
    draw, held, many = np.random.default_rng(2), 0, 4000
    for rest_N, level_N, shake_N in draw.uniform((0, 1, -0.05), (0.2, 4, 0.05), (many, 3)):
        shown_rest, shown = (round(one, 1) for one in (rest_N, rest_N + level_N + shake_N))
        low, high = read(shown_rest, None, shown).plateau.force.limits
        held += low <= level_N <= high
    assert 0.93 <= held / many <= 0.985
