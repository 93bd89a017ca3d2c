import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import BenchError
from pullbench.physics.bench import HAND_NAMES, Hand, Sizes, hand

any_hand = st.builds(
    lambda name, seed: hand(name, np.random.default_rng(seed)),
    st.sampled_from(HAND_NAMES),
    st.integers(0, 2**32 - 1),
)


@settings(max_examples=30, deadline=None)
@given(movement=any_hand)
def test_speed_is_the_slope_of_position_everywhere(movement):
    time_s = np.linspace(0.01, movement.duration_s - 0.01, 3001)
    nudge_s = 1e-6
    slope = (movement.position_m(time_s + nudge_s) - movement.position_m(time_s - nudge_s)) / (2 * nudge_s)
    assert movement.speed_m_s(time_s) == pytest.approx(slope, abs=2e-5)  # knots lie between the two


@settings(max_examples=30, deadline=None)
@given(movement=any_hand, time_s=st.floats(0, 12))
def test_one_instant_and_many_give_the_same_digits(movement, time_s):
    many = np.array([0.3, time_s, 5.0])
    assert movement.at(time_s) == (movement.position_m(many)[1], movement.speed_m_s(many)[1])


@settings(max_examples=30, deadline=None)
@given(movement=any_hand)
def test_a_hand_begins_and_ends_with_a_loose_string(movement):
    begin, end = movement.position_m(np.array([0.0, movement.duration_s]))
    furthest = movement.position_m(np.linspace(0, movement.duration_s, 2000)).max()
    assert begin < -0.005
    assert end < furthest - 0.015


def test_the_same_seed_gives_the_same_hand_and_another_seed_another():
    one, same, other = (hand("shaky", np.random.default_rng(seed)) for seed in (3, 3, 4))
    assert one.knot_s.tobytes() == same.knot_s.tobytes()
    assert one.wave_rad.tobytes() == same.wave_rad.tobytes()
    assert one.duration_s != other.duration_s


@pytest.mark.parametrize("seed", range(4))
def test_tremor_lies_between_seven_and_eleven_hertz_and_wander_below_four(seed):
    shaky = hand("shaky", np.random.default_rng(seed), rest_s=20.0, stretch_m=0.01)
    time_s = np.arange(0, 19, 0.005)
    still_m = shaky.position_m(time_s) - shaky.start_m
    power = np.abs(np.fft.rfft(still_m * np.hanning(still_m.size))) ** 2
    frequency_Hz = np.fft.rfftfreq(still_m.size, 0.005)
    tremor = power[(frequency_Hz > 6.8) & (frequency_Hz < 11.2)].sum()
    wander = power[frequency_Hz < 4.2].sum()
    assert tremor + wander > 0.995 * power.sum()
    assert tremor > 0.15 * power.sum()
    # 1.5 % of the stretch each, rms; a finite stretch of random waves scatters around it.
    assert np.std(still_m) == pytest.approx(0.01 * np.hypot(0.015, 0.015), rel=0.35)


def test_a_motor_is_steady_and_always_the_same():
    one, other = (hand("motor", np.random.default_rng(seed)) for seed in (1, 2))
    assert one.wave_Hz.size == 0
    assert one.knot_s.tobytes() == other.knot_s.tobytes()


def test_a_drifting_hand_speeds_up_and_a_stop_and_go_hand_stops_twice():
    drifting = hand("drifting", np.random.default_rng(1), tremor=0, wander=0, speed_m_s=0.04)
    assert drifting.knot_m_s.max() == pytest.approx(2.5 * 0.04)
    stopping = hand("stop-and-go", np.random.default_rng(1), tremor=0, wander=0, speed_m_s=0.04)
    at_speed = stopping.knot_m_s == 0.04
    assert np.count_nonzero(np.diff(at_speed.astype(int)) == 1) == 3


def test_sizes_that_are_given_are_kept_exactly():
    movement = hand("smooth", np.random.default_rng(1), speed_m_s=0.05, rest_s=2.0, slack_m=0.02)
    assert movement.start_m == -0.02
    assert movement.knot_s[1] == 2.0
    assert 0.05 in movement.knot_m_s


@pytest.mark.parametrize(
    ("call", "code"),
    [
        (lambda rng: hand("tentacle", rng), "hand-unknown"),
        (lambda rng: hand("smooth", rng, weight=1.0), "hand-size-unknown"),
        (lambda rng: hand("smooth", rng, speed_m_s=0.0), "hand-size-impossible"),
        (lambda rng: Sizes(tremor=-0.1), "hand-size-impossible"),
        (lambda rng: Sizes(load_s=float("nan")), "hand-size-impossible"),
        (lambda rng: Hand.through([(0.0, 0.0)]), "hand-impossible"),
        (lambda rng: Hand.through([(1.0, 0.0), (2.0, 0.0)]), "hand-impossible"),
        (lambda rng: Hand.through([(0.0, 0.0), (0.0, 1.0)]), "hand-impossible"),
        (lambda rng: Hand.through([(0.0, float("inf")), (1.0, 1.0)]), "hand-impossible"),
    ],
)
def test_impossible_hands_are_refused(call, code):
    with pytest.raises(BenchError) as refused:
        call(np.random.default_rng(0))
    assert refused.value.code == code
