"""One drawn pull at a time, each with one thing wrong."""

import numpy as np
import pytest

from pullbench.analysis import analyse
from pullbench.model import Verdict
from unit.analysis.drawn import BREAK_S, KINETIC_N, STATIC_N, drawn, gap, window_of


def names(pull):
    return [finding.name for finding in pull.findings]


def test_a_good_pull_is_usable_and_its_limits_hold_both_forces():
    pull = analyse(window_of(*drawn()))
    assert pull.verdict is Verdict.USABLE
    for told, truth_N in ((pull.breakaway.force, STATIC_N), (pull.plateau.force, KINETIC_N)):
        assert told.kind == "value"
        assert told.limits[0] <= truth_N <= told.limits[1]
        assert told.limits[1] - told.limits[0] < 0.04 * truth_N
    assert pull.breakaway.time_s == pytest.approx(BREAK_S, abs=0.01)
    assert pull.rest_reading.value == pytest.approx(0.3, abs=0.002)


def test_phases_follow_each_other_without_gap_from_rest_to_rest():
    pull = analyse(window_of(*drawn()))
    assert [phase.name for phase in pull.phases] == [
        "rest", "loading", "transition", "kinetic", "release", "rest",
    ]  # fmt: skip
    for before, after in zip(pull.phases, pull.phases[1:], strict=False):
        assert before.end_s == after.start_s


def test_what_was_chosen_is_said_in_sentences_with_the_moment():
    said = " ".join(analyse(window_of(*drawn())).chosen)
    assert "Breakaway at 4.0" in said or "Breakaway at 3.99" in said
    assert "Sliding from" in said


def test_without_rest_no_force_is_told_but_the_reason_is():
    time_s, force_N = drawn()
    kept = (time_s >= 2.0) & (time_s <= 7.1)
    pull = analyse(window_of(time_s[kept], force_N[kept]))
    assert pull.breakaway.force.kind == pull.plateau.force.kind == pull.rest_reading.kind == "cannot tell"
    assert "no rest" in pull.breakaway.force.reason
    assert pull.verdict is Verdict.PULL_AGAIN


def test_a_pull_held_and_let_go_is_a_lower_bound_and_has_no_level():
    time_s = np.arange(0, 9, 0.005)
    pull_N = np.interp(time_s, [2, 4, 6, 6.2], [0, 1.5, 1.5, 0], left=0, right=0)
    noise = np.random.default_rng(3).normal(0, 0.003, time_s.size)
    pull = analyse(window_of(time_s, pull_N + noise, end_s=6.2))
    assert pull.breakaway.force.kind == "lower bound"
    assert 1.4 < pull.breakaway.force.limits[0] <= 1.51  # it held 1.5 N, so no more may be claimed
    assert pull.plateau.force.kind == "cannot tell"
    assert "held but never slid" in names(pull)
    assert pull.verdict is Verdict.PULL_AGAIN


@pytest.mark.parametrize(
    ("load_s", "rate_Hz", "noise_N"),
    [
        pytest.param(0.5, 200.0, 0.004, id="quick ramp"),
        pytest.param(2.0, 200.0, 0.001, id="quiet sensor"),
        pytest.param(2.0, 1000.0, 0.001, id="fast sensor"),
        pytest.param(4.0, 200.0, 0.004, id="slow ramp"),
        pytest.param(2.0, 200.0, 0.02, id="noisy sensor"),
    ],
)
def test_a_top_cut_off_by_the_range_is_a_lower_bound(load_s, rate_Hz, noise_N):
    time_s, force_N = drawn(load_s=load_s, rate_Hz=rate_Hz, noise_N=noise_N)
    pull = analyse(window_of(time_s, np.minimum(force_N, 0.3 + 2.6), end_s=5.1 + load_s))
    assert pull.breakaway.force.kind == "lower bound"
    assert pull.breakaway.force.limits[0] <= STATIC_N
    assert "off the scale" in names(pull)


def test_samples_missing_at_the_break_make_a_lower_bound():
    time_s, force_N = drawn()
    kept = (time_s < 3.85) | (time_s > 4.02)
    pull = analyse(window_of(time_s[kept], force_N[kept], flaws=(gap(3.85, 4.02),)))
    assert pull.breakaway.force.kind == "lower bound"
    assert pull.breakaway.force.limits[0] <= STATIC_N
    assert "samples missing" in names(pull)


def test_a_recording_that_begins_while_it_slides_tells_the_level_and_not_the_break():
    time_s, force_N = drawn()
    sliding = (time_s > 4) & (time_s < 7)
    force_N[sliding] += 0.1 * np.sin(2 * np.pi * 1.3 * time_s[sliding])  # a living hand: it is not held still
    kept = time_s > 4.6
    pull = analyse(window_of(time_s[kept], force_N[kept], start_s=float(time_s[kept][0]), cut_start=True))
    assert pull.breakaway.force.kind == "cannot tell"
    assert pull.plateau.force.kind == "value"
    assert pull.plateau.force.limits[0] <= KINETIC_N <= pull.plateau.force.limits[1]
    assert "recording cut" in names(pull)


def test_a_sawtooth_is_stick_slip_with_its_rhythm_and_no_steady_level():
    time_s = np.arange(0, 12, 0.005)
    saw = 2.0 + 1.0 * ((time_s - 4.0) / 0.8 % 1.0)  # from 2 N to 3 N, ten slips in 8 s, first top at 4 s
    pull_N = np.select([time_s < 2, time_s < 4, time_s < 9.2, time_s < 9.3],
                       [0, 1.5 * (time_s - 2), saw, 2 * (9.3 - time_s) / 0.1])  # fmt: skip
    noise = np.random.default_rng(4).normal(0, 0.004, time_s.size)
    pull = analyse(window_of(time_s, pull_N + noise, end_s=9.3))
    assert pull.stick_slip is not None
    assert pull.stick_slip.rhythm_Hz == pytest.approx(1 / 0.8, rel=0.02)
    assert pull.stick_slip.high.value == pytest.approx(3.0, rel=0.03)
    assert pull.stick_slip.low.value == pytest.approx(2.0, rel=0.03)
    assert pull.plateau.force.kind == "cannot tell"
    assert "stick-slip" in names(pull)


def test_a_force_scale_verified_with_masses_adds_its_doubt_to_both_forces():
    window = window_of(*drawn())
    bare, scaled = analyse(window), analyse(window, u_gain=0.01)
    for one, two in (
        (bare.breakaway.force, scaled.breakaway.force),
        (bare.plateau.force, scaled.plateau.force),
    ):
        assert two.value == one.value
        expected = np.hypot(one.standard_uncertainty, 0.01 * one.value)
        assert two.standard_uncertainty == pytest.approx(expected, rel=1e-9)


def test_findings_come_worst_first_and_each_names_one_fix():
    time_s, force_N = drawn(noise_N=0.0, offset_N=0.0)
    pull = analyse(window_of(time_s, np.round(force_N / 0.25) * 0.25))  # eight counts high
    assert "resolution too coarse" in names(pull)
    assert all(finding.fix.endswith(".") and finding.sentence.endswith(".") for finding in pull.findings)


@pytest.mark.parametrize("samples", [2, 3, 5, 8])
def test_a_window_of_a_few_samples_says_why_instead_of_failing(samples):
    time_s = 0.1 * np.arange(samples)
    force_N = np.linspace(0, 1, samples) ** 2
    window = window_of(time_s, force_N, start_s=0.0, end_s=float(time_s[-1]), cut_start=True, cut_end=True)
    pull = analyse(window)
    assert pull.plateau.force.kind == "cannot tell"
    assert pull.plateau.force.reason
