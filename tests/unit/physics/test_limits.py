"""What the bench refuses rather than simulate for ever, run out of memory, or hand back no number."""

import math

import numpy as np
import pytest

from pullbench.errors import BenchError
from pullbench.physics import Coulomb, Stribeck
from pullbench.physics.bench import Bench, Hand, simulate

USUAL = {"mass_kg": 1.0, "stiffness_N_m": 800.0, "law": Coulomb(0.35, 0.27)}
PULL = Hand.at_constant_speed(0.02, 1.0)


def refused(movement=PULL, rng=None, **changes):
    times = {key: changes.pop(key) for key in ("step_s", "duration_s") if key in changes}
    with pytest.raises(BenchError) as seen:
        simulate(Bench(**{**USUAL, **changes}), movement, rng=rng, **times)
    return seen.value


def test_a_step_that_is_too_long_says_how_long_it_may_be():
    mistake = refused(step_s=0.05)
    assert mistake.code == "step-too-long"
    assert "0.05 s" in mistake.what
    assert "0.01 s" in mistake.allowed


@pytest.mark.parametrize(
    "changes",
    [{"step_s": 1e-9}, {"stiffness_N_m": 1e15}, {"mass_kg": 1e-12}, {"duration_s": 1e6}],
    ids=["a tiny step", "a rod", "a speck", "days"],
)
def test_more_steps_than_memory_can_hold_are_refused_at_once(changes):
    mistake = refused(**changes)
    assert mistake.code == "too-many-steps"
    assert "steps" in mistake.what


def test_a_patchy_surface_longer_than_can_be_laid_is_refused():
    mistake = refused(Hand.at_constant_speed(1e5, 1.0), np.random.default_rng(1), patchiness=0.02)
    assert mistake.code == "surface-too-long"


@pytest.mark.parametrize("viscous_s_m", [1e9, 1e200, 1e307])
def test_a_drag_that_no_step_can_follow_is_refused(viscous_s_m):
    assert refused(law=Stribeck(0.35, 0.27, 0.05, viscous_s_m=viscous_s_m)).code == "too-many-steps"


@pytest.mark.parametrize("speed_m_s", [1e307, 1e308])
def test_a_force_beyond_all_numbers_is_an_error_and_not_a_nan(speed_m_s):
    with np.errstate(all="ignore"):
        assert refused(Hand.at_constant_speed(speed_m_s, 1.0)).code == "not-a-number"


def test_a_speck_in_honey_is_followed_as_truly_as_a_sled():
    """A damper that stops it in a ten-thousandth of a second: the step is divided until it can be followed."""
    on = Bench(mass_kg=0.001, stiffness_N_m=50.0, damping_N_s_m=12.0, law=Coulomb(0.35, 0.27))
    coarse, fine = (simulate(on, Hand.at_constant_speed(0.01, 0.2), step_s=step_s) for step_s in (5e-4, 5e-5))
    assert coarse.velocity_m_s.max() < 0.011
    assert coarse.pull_N == pytest.approx(fine.pull_N[::10], abs=2e-4 * on.weight_N)


def test_every_number_of_a_run_is_finite():
    run = simulate(Bench(**USUAL), PULL)
    for array in (run.time_s, run.pull_N, run.friction_N, run.velocity_m_s, run.position_m, run.hand_m):
        assert np.all(np.isfinite(array))
    assert math.isfinite(run.kinetic_N)
