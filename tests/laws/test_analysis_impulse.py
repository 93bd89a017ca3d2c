"""The impulse theorem on the plateau, with the sled's velocity known from the bench."""

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from pullbench.analysis import analyse
from pullbench.analysis.plateau import bell
from pullbench.detect import windows
from pullbench.model import Chunk
from pullbench.physics.bench import Sensor, record
from simulated.pulls import simulated

seeds = st.integers(0, 200)
few = settings(max_examples=8, deadline=None, derandomize=True, phases=[Phase.generate])


def ideal(seed, kind):
    """Return a Coulomb pull, its pulls read from a perfect sensor at 1 kHz, and the sensor's rate."""
    case = simulated(kind, seed, law="coulomb")
    trace = record(case.run, Sensor(rate_Hz=1000.0), np.random.default_rng(0))
    return case, [analyse(w) for w in windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])]


@few
@given(seed=seeds, kind=st.sampled_from(["plain", "jerky", "drifting"]))
def test_level_is_friction_plus_the_momentum_met_by_the_slope_of_the_window(seed, kind):
    """∫ w (F − f) dt = ∫ w M dv = −∫ M v dw, for a window w that is nought at both ends."""
    case, pulls = ideal(seed, kind)
    for pull in pulls:
        if pull.plateau.force.kind != "value":
            continue
        run, start_s, end_s = case.run, pull.plateau.start_s, pull.plateau.end_s
        inside = (run.time_s >= start_s) & (run.time_s <= end_s)
        t = run.time_s[inside]
        weight = bell(t, start_s, end_s)
        area_s = np.trapezoid(weight, t)
        # Friction of a sled that stops for a moment is what holds it, so it is taken as it was.
        friction_N = np.trapezoid(weight * run.friction_N[inside], t) / area_s
        momentum_N = -case.bench.mass_kg * np.trapezoid(run.velocity_m_s[inside], weight) / area_s
        # A step of 0.5 ms in which the sled stops or breaks away is known to one step of the pull.
        stops = 1 + 2 * np.count_nonzero(np.diff(run.sliding[inside]))
        one_step_N = stops * run.step_s * float(np.ptp(run.pull_N[inside])) / area_s
        assert pull.plateau.force.value == pytest.approx(friction_N + momentum_N, rel=2e-4, abs=one_step_N)


@few
@given(seed=seeds)
def test_flat_mean_of_the_pull_over_the_settled_stretch_is_friction_plus_m_dv_over_t(seed):
    case, pulls = ideal(seed, "plain")
    run = case.run
    for pull in pulls:
        if pull.plateau.force.kind != "value":
            continue
        first, last = np.searchsorted(run.time_s, [pull.plateau.start_s, pull.plateau.end_s])
        if not run.sliding[first:last].all():
            continue
        t = run.time_s[first:last]
        span_s = t[-1] - t[0]
        mean_N = np.trapezoid(run.pull_N[first:last], t) / span_s
        dv_m_s = run.velocity_m_s[last - 1] - run.velocity_m_s[first]
        assert mean_N == pytest.approx(case.kinetic_N + case.bench.mass_kg * dv_m_s / span_s, rel=1e-4)
        # The budget's momentum row must own up to what the ends can do.
        row = next(r.u for r in pull.plateau.force.budget.rows if r.source == "sled's own momentum")
        off_N = abs(pull.plateau.force.value - case.kinetic_N)
        everything = pull.plateau.force.standard_uncertainty
        assert off_N < 4 * everything
        assert row <= everything
