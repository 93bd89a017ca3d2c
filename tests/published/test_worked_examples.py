"""Answers printed in open textbooks, each reproduced to its last printed digit; g = 9.80 m/s².

U: OpenStax, University Physics Volume 1 (CC BY 4.0 edition, commit db44eb9).  C: OpenStax, College
Physics 2e (CC BY 4.0 edition, commit f98d7a7).  H: OpenStax, Physics (high school, CC BY 4.0, commit
ff78c7a).  Only numbers are taken; example and problem numbers name the place, an id such as
fs-id1165037178946 the element of the source file where the book gives no number.
"""

import math

import pytest

from pullbench.physics import (
    Coulomb,
    acceleration_down_m_s2,
    acceleration_pulled_m_s2,
    acceleration_up_m_s2,
    coefficient_from_pull,
    coefficient_from_tilt,
    holding_pull_N,
    normal_force_N,
    pull_needed_N,
    steady_friction_N,
    weight_N,
)
from pullbench.physics.bench import Bench

G = 9.80


def weight(mass_kg):
    return weight_N(mass_kg, G)


@pytest.mark.parametrize(
    ("mass_kg", "mu", "string_deg", "tilt_deg", "printed_N", "half_digit_N"),
    [
        pytest.param(20.0, 0.700, 0, 0, 137, 0.5, id="U Example 6.10: crate about to move"),
        pytest.param(20.0, 0.600, 0, 0, 118, 0.5, id="U Example 6.10: crate sliding"),
        pytest.param(1.0, 0.5, 0, 0, 4.9, 0.05, id="U fs-id1165037178946: breakaway"),
        pytest.param(2.0, 0.400, 0, 0, 7.84, 0.005, id="U Example 6.12: string of the upper block"),
        pytest.param(50.0, 0.400, 0, 0, 196, 0.5, id="U Example 6.13: crate on a truck, limit"),
        pytest.param(50.0, 0.300, 0, 0, 147, 0.5, id="U Example 6.13: crate on a truck, sliding"),
        pytest.param(660.0, 0.015, 0, 0, 97.0, 0.05, id="U 6.47: joint at ten times the load"),
        pytest.param(45.0, 0.1, 25, 0, 46.5, 0.05, id="U 6.63: ice pulled upwards"),
        pytest.param(45.0, 0.1, -25, 0, 51.0, 0.05, id="C 5.18: ice pushed downwards"),
        pytest.param(100.0, math.tan(math.radians(37)), 0, 37, 1200, 50, id="U 6.111: largest uphill pull"),
    ],
)
def test_pull_that_just_moves_or_keeps_moving(mass_kg, mu, string_deg, tilt_deg, printed_N, half_digit_N):
    needed_N = pull_needed_N(mu, weight(mass_kg), string_deg=string_deg, tilt_deg=tilt_deg)
    assert needed_N == pytest.approx(printed_N, abs=half_digit_N)


@pytest.mark.parametrize(
    ("pull_N", "mass_kg", "mu_k", "string_deg", "tilt_deg", "printed", "half_digit"),
    [
        pytest.param(4.9, 1.0, 0.4, 0, 0, 0.98, 0.005, id="U fs-id1165037178946: after breakaway"),
        pytest.param(math.hypot(26.4, 18.6), 65.0, 0.02, 0, 0, 0.301, 5e-4, id="U 6.51: skater"),
        pytest.param(46.49105, 45.0, 0.03, 25, 0, 0.655, 5e-4, id="U 6.63: ice pulled upwards"),
        pytest.param(51.03895, 45.0, 0.03, -25, 0, 0.720, 5e-4, id="C 5.18: ice pushed downwards"),
        pytest.param(980, 210, 0.14, 0, 0, 3.29, 0.005, id="C 5.6: dog sled at the start"),
        pytest.param(945, 210, 0.10, 0, 0, 3.52, 0.005, id="C 5.6: dog sled moving"),
        pytest.param(1179.557, 100, 0.8 * 0.7535541, 0, 37, 1.2, 0.05, id="U 6.111: crate uphill"),
    ],
)
def test_acceleration_under_a_pull(pull_N, mass_kg, mu_k, string_deg, tilt_deg, printed, half_digit):
    acceleration = acceleration_pulled_m_s2(
        pull_N, mass_kg, mu_k, string_deg=string_deg, tilt_deg=tilt_deg, g_m_s2=G
    )
    assert acceleration == pytest.approx(printed, abs=half_digit)


def test_two_blocks_in_a_row_need_the_printed_pull_u_6_123():
    """U 6.123: 1 kg behind 3 kg, pulled at 60° with coefficient 0.25: 25 N for 2.0 m/s²."""
    too_little, too_much = (
        acceleration_pulled_m_s2(pull_N, 4.0, 0.25, string_deg=60, g_m_s2=G) for pull_N in (24.5, 25.5)
    )
    assert too_little < 2.0 < too_much


def test_stacked_blocks_need_the_printed_pull_u_example_6_12():
    """U Example 6.12: 2 kg on 4 kg, joined over a pulley, coefficient 0.400 at both contacts: 39.2 N."""
    string_N = upper_N = pull_needed_N(0.400, weight(2.0))
    floor_N = pull_needed_N(0.400, weight(6.0))
    assert string_N + upper_N + floor_N == pytest.approx(39.2, abs=0.05)
    assert normal_force_N(weight(6.0)) == pytest.approx(58.8, abs=0.05)


@pytest.mark.parametrize(
    ("mu", "tilt_deg", "printed", "half_digit"),
    [
        pytest.param(0.20, 13, 0.29, 0.005, id="U Example 6.14: snowboarder"),
        pytest.param(0, 25, 4.14, 0.005, id="H fs-id1167067042479: skier without friction"),
        pytest.param(45 / (60 * G * math.cos(math.radians(25))), 25, 3.39, 0.005,
                     id="H fs-id1167067042479: skier with 45 N"),
        pytest.param(0.8 * 0.7535541, 37, 1.2, 0.05, id="U 6.111: crate downhill after a nudge"),
        pytest.param(1.0, 4.0, -9.09, 0.005, id="U 6.59: climbing at the limit, dry"),
        pytest.param(0.7, 4.0, -6.16, 0.005, id="U 6.59: climbing at the limit, wet"),
        pytest.param(0.1, 4.0, -0.294, 5e-4, id="U 6.59: climbing at the limit, ice"),
        pytest.param(0.5 * 1.0, 4.0, -4.20, 0.005, id="C 5.14: half the weight drives, dry"),
        pytest.param(0.5 * 0.7, 4.0, -2.74, 0.005, id="C 5.14: half the weight drives, wet"),
        pytest.param(0.5 * 0.1, 4.0, 0.195, 5e-4, id="C 5.14: half the weight drives, ice"),
    ],
)  # fmt: skip
def test_acceleration_down_a_tilt(mu, tilt_deg, printed, half_digit):
    assert acceleration_down_m_s2(mu, tilt_deg, g_m_s2=G) == pytest.approx(printed, abs=half_digit)


def test_gliding_uphill_slows_as_printed_c_5_10():
    assert acceleration_up_m_s2(0.1, 5.0, g_m_s2=G) == pytest.approx(-1.83, abs=0.005)


@pytest.mark.parametrize(
    ("mu", "speed_m_s", "g", "printed", "half_digit", "unknown"),
    [
        pytest.param(0.50, 100 / 3.6, G, 78.7, 0.05, "distance", id="U 6.131: locked wheels"),
        pytest.param(0.27, 3.4, G, 1.3, 0.05, "time", id="U 6.107: box on a belt"),
        pytest.param(0.62, 11.0, 9.81, 10.0, 0.1, "distance", id="U Example 9.13: skidding truck"),
    ],
)
def test_stopping_on_the_level(mu, speed_m_s, g, printed, half_digit, unknown):
    slowing = -acceleration_up_m_s2(mu, 0.0, g_m_s2=g)
    found = speed_m_s**2 / (2 * slowing) if unknown == "distance" else speed_m_s / slowing
    assert found == pytest.approx(printed, abs=half_digit)


def test_known_friction_stops_a_player_uphill_as_printed_c_example_7_10():
    mu = 450 / normal_force_N(weight(65.0), tilt_deg=5.0)
    slowing = -acceleration_up_m_s2(mu, 5.0, g_m_s2=G)
    assert 6.0**2 / (2 * slowing) == pytest.approx(2.31, abs=0.005)


def test_longest_start_without_slip_as_printed_u_6_127():
    acceleration = pull_needed_N(0.24, weight(1.0)) / 1.0
    assert acceleration * 3.0**2 / 2 == pytest.approx(11, abs=0.5)


def test_coefficient_from_friction_and_normal_force_u_6_5():
    """U 6.5: a friction of 0.200 N with coefficient 0.04 belongs to a normal force of 5.00 N."""
    assert coefficient_from_pull(0.200, 5.00).value == pytest.approx(0.04, abs=1e-12)


def test_coefficient_of_a_skier_h_179222():
    """H fs-id1167067179222: 25 N on 55 kg at 30°; the choice that fits is 0.05."""
    assert 25 / normal_force_N(weight(55), tilt_deg=30) == pytest.approx(0.05, abs=0.005)


def test_friction_on_a_skier_h_927556():
    """H eip-id1166849927556: 67 kg at 37° with 0.07; the choice that fits is 36.71 N."""
    assert 0.07 * normal_force_N(weight(67), tilt_deg=37) == pytest.approx(36.71, abs=0.005)


@pytest.mark.parametrize(
    ("tilt_deg", "printed", "half_digit"),
    [
        pytest.param(37, 0.75, 0.005, id="U 6.111: crate about to slip"),
        pytest.param(15, 0.268, 5e-4, id="U 6.61: climber's feet"),
    ],
)
def test_coefficient_from_the_tilt_of_slipping(tilt_deg, printed, half_digit):
    assert coefficient_from_tilt(tilt_deg)[0] == pytest.approx(printed, abs=half_digit)


def test_what_holds_a_bin_back_follows_from_what_pushes_it_up_u_6_97():
    """U 6.97: 26 N up a 40° slope at constant speed for 3 kg; lowering it takes 12 N."""
    mu = coefficient_from_pull(26, weight(3.0), tilt_deg=40).value
    assert holding_pull_N(mu, weight(3.0), tilt_deg=40) == pytest.approx(12, abs=0.5)


def test_lowering_a_crate_takes_the_printed_pull_u_6_111():
    pull_N = holding_pull_N(0.8 * math.tan(math.radians(37)), weight(100), tilt_deg=37)
    assert pull_N == pytest.approx(120, abs=5)


def test_pushing_a_cart_downwards_against_a_known_friction_u_7_29():
    """U 7.29: 38.6 N at 25° below the level balances a friction of 35.0 N."""
    assert steady_friction_N(38.6, 1000.0, string_deg=-25) == pytest.approx(35.0, abs=0.05)


@pytest.mark.parametrize(
    ("mass_kg", "mu", "string_deg", "distance_m", "printed_J", "half_digit_J"),
    [
        pytest.param(5.0, 0.5, 0, 0.10, 2.45, 0.005, id="U 7.33: box"),
        pytest.param(50, 0.2, -30, 20, 2220, 5, id="U 7.35: sled pushed downwards"),
    ],
)
def test_work_of_a_steady_pull(mass_kg, mu, string_deg, distance_m, printed_J, half_digit_J):
    along_N = steady_friction_N(
        pull_needed_N(mu, weight(mass_kg), string_deg=string_deg), weight(mass_kg), string_deg=string_deg
    )
    assert along_N * distance_m == pytest.approx(printed_J, abs=half_digit_J)


def test_a_level_push_down_a_slope_does_the_printed_work_u_7_99():
    """U 7.99: 40 kg, 30°, coefficient 0.4, 8.0 m down at constant speed: -0.39 kJ and -1.18 kJ."""
    angles = {"string_deg": -30, "tilt_deg": 30}
    push_N = holding_pull_N(0.4, weight(40), **angles)
    normal_N = normal_force_N(weight(40), push_N, **angles)
    assert -push_N * math.cos(math.radians(30)) * 8.0 == pytest.approx(-390, abs=5)
    assert -0.4 * normal_N * 8.0 == pytest.approx(-1180, abs=5)


def test_a_spring_stretches_as_printed_before_the_block_moves_u_15_55():
    """U 15.55: 0.75 kg on 150 N/m with static coefficient 0.1: 4.90 mm."""
    bench = Bench(mass_kg=0.75, stiffness_N_m=150, law=Coulomb(0.1, 0.085), g_m_s2=G)
    assert bench.stretch_m == pytest.approx(4.90e-3, abs=5e-6)


def braking_downhill(mu, tilt_deg):
    return -acceleration_down_m_s2(mu, tilt_deg, g_m_s2=G)


LEVEL_PUSH_UP_N = pull_needed_N(0.4, weight(40), string_deg=-30, tilt_deg=30)


@pytest.mark.parametrize(
    ("right", "printed", "recomputed"),
    [
        pytest.param(braking_downhill(1.0, 6), 10.8, 8.721936, id="U 6.57 dry: sign slip"),
        pytest.param(braking_downhill(0.7, 6), 7.85, 5.798041, id="U 6.57 wet: sign slip"),
        pytest.param(braking_downhill(0.1, 6), 2.00, -0.04974748, id="U 6.57 ice: sign slip"),
        pytest.param(
            pull_needed_N(0.8 * math.tan(math.radians(37)), weight(100), tilt_deg=37),
            1080,
            1061.602,
            id="U 6.111: 1060 N",
        ),
        pytest.param(
            8 * math.cos(math.radians(30)) * LEVEL_PUSH_UP_N, 3460, 3451.412, id="U 7.99: rounded on the way"
        ),
    ],
)
def test_known_misprints_are_not_reproduced(right, printed, recomputed):
    """Printed answers that do not follow from their own inputs; the recomputed ones do."""
    assert right == pytest.approx(recomputed, rel=1e-6)
    assert right != pytest.approx(printed, rel=2e-3)
