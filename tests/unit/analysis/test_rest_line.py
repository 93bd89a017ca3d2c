import numpy as np
import pytest

from pullbench.analysis.rest import rest_line
from unit.analysis.drawn import drawn, window_of


def test_a_steady_drift_is_the_slope_between_rest_before_and_rest_after():
    rest = rest_line(window_of(*drawn(drift_N_s=0.02)))
    assert rest.sides == "both"
    # Noise of 0.004 N over 400 samples a side, 7 s apart.
    assert rest.slope_N_s == pytest.approx(0.02, abs=4 * 0.004 / np.sqrt(200) / 7)
    assert rest.at(np.array([4.0]))[0] == pytest.approx(0.3 + 0.08, abs=0.002)


def test_limits_of_the_rest_line_hold_the_truth_as_often_as_they_say():
    inside = 0
    for seed in range(200):
        rest = rest_line(window_of(*drawn(seed=seed, noise_N=0.02)))
        inside += abs(rest.at(np.array([4.0]))[0] - 0.3) <= 1.96 * rest.u_at(4.0)
    assert inside >= 180  # 95 % of 200 is 190; a binomial as low as 180 has odds of 1 in 500


def test_rest_on_one_side_only_grows_in_doubt_with_distance():
    time_s, force_N = drawn()
    kept = time_s < 7.1
    rest = rest_line(window_of(time_s[kept], force_N[kept]))
    assert rest.sides == "before"
    assert rest.slope_N_s == 0.0
    assert rest.u_at(7.0) > rest.u_at(4.0) > rest.u_at(1.0)


def test_a_pull_without_rest_knows_no_nought():
    time_s, force_N = drawn()
    kept = (time_s >= 2.0) & (time_s <= 7.1)
    assert rest_line(window_of(time_s[kept], force_N[kept])).sides == "none"


def test_a_knock_on_the_table_during_rest_is_left_out():
    time_s, force_N = drawn()
    knocked = force_N.copy()
    knocked[100:103] += 2.0
    clean, dirty = rest_line(window_of(time_s, force_N)), rest_line(window_of(time_s, knocked))
    assert dirty.at(np.array([4.0]))[0] == pytest.approx(clean.at(np.array([4.0]))[0], abs=1e-4)


def test_a_wandering_rest_is_known_less_well():
    time_s, force_N = drawn(noise_N=0.002)
    still = rest_line(window_of(time_s, force_N))
    moving = rest_line(window_of(time_s, force_N + 0.03 * np.sin(2 * np.pi * 0.8 * time_s)))
    # A wave of 0.03 N seen for two seconds a side moves their means by up to 0.03 / (π 0.8 2) = 6 mN.
    assert still.u_at(4.0) < 0.0005
    assert moving.u_at(4.0) > 0.003


def test_mains_hum_is_taken_off_with_the_rest():
    time_s, force_N = drawn(noise_N=0.002)
    rest = rest_line(window_of(time_s, force_N + 0.05 * np.sin(2 * np.pi * 50 * time_s)))
    assert rest.hum is not None
    assert rest.hum.amplitude_N == pytest.approx(0.05, rel=0.03)
    assert rest.noise_N == pytest.approx(0.002, rel=0.15)


def test_an_identical_reading_at_rest_is_no_better_known_than_its_last_digit():
    time_s, force_N = drawn(noise_N=0.0)
    rest = rest_line(window_of(time_s, np.round(force_N / 0.05) * 0.05))
    assert rest.step_N == pytest.approx(0.05)
    assert rest.u_level_N == pytest.approx(0.05 / np.sqrt(12), rel=1e-6)  # JCGM 100:2008, F.2.2.1
