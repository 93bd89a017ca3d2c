import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.physics.bench.roots import crossing


@given(root=st.floats(0.001, 0.999), bend=st.floats(-3, 3))
def test_a_crossing_is_found_to_the_last_digits(root, bend):
    def curve(x):
        return math.expm1(bend * (x - root)) if abs(bend) > 0.01 else x - root

    found = crossing(curve, 0.0, 1.0, at_low=curve(0.0), at_high=curve(1.0))
    assert found == pytest.approx(root, rel=1e-13)


def test_a_very_flat_crossing_is_still_found():
    found = crossing(lambda x: (x - 0.3) ** 9, 0.0, 1.0, at_low=-(0.3**9), at_high=0.7**9)
    assert found == pytest.approx(0.3, abs=1e-10)


def test_few_evaluations_are_needed():
    asked = []

    def curve(x):
        asked.append(x)
        return x * x - 2

    assert crossing(curve, 1.0, 2.0, at_low=-1.0, at_high=2.0) == pytest.approx(math.sqrt(2), rel=1e-15)
    assert len(asked) < 30
