"""Two pulls compared: the difference, its limits, and which words go with them."""

import math

import pytest

from pullbench.render import card
from pullbench.render.differences import differences
from unit.render import fake_pulls


def cards(*forces_N, **more):
    return [
        card(fake_pulls.pull(static_N=static_N, kinetic_N=kinetic_N, **more), number=number)
        for number, (static_N, kinetic_N) in enumerate(forces_N, 1)
    ]


def test_each_later_pull_is_held_against_the_first_in_both_forces():
    told = differences(cards((3.0, 2.2), (3.5, 2.2), (2.5, 2.2)))
    assert [(one.quantity, one.pull, one.less) for one in told] == [
        ("breakaway", 2, 1), ("kinetic", 2, 1), ("breakaway", 3, 1), ("kinetic", 3, 1),
    ]  # fmt: skip
    assert told[0].told.value == pytest.approx(0.5)
    assert "pull 2 took more" in told[0].sentence
    assert "cannot be told apart" in told[1].sentence
    assert "pull 1 took more" in told[2].sentence


def test_limits_of_a_difference_are_wider_than_either_by_the_root_of_the_squares():
    first, second = cards((3.0, 2.2), (3.5, 2.2))
    (static, _) = differences([first, second])
    halves = [(one.breakaway.high - one.breakaway.low) / 2 for one in (first, second)]
    assert (static.told.high - static.told.low) / 2 == pytest.approx(math.hypot(*halves))


def test_turning_two_pulls_round_turns_the_sign():
    first, second = cards((3.0, 2.2), (3.5, 2.4))
    there, back = differences([first, second])[0].told, differences([second, first])[0].told
    assert (there.value, there.low, there.high) == pytest.approx((-back.value, -back.high, -back.low))
