"""Critical stiffness of a spring slider with rate-and-state friction: (b - a) σ / Dc.

Ruina (1983, J. Geophys. Res. 88, 10359): steady sliding is stable above it, and stick-slips below.  The
figures are those of the formula; the bench must show the change of behaviour there.
"""

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from pullbench.physics import RateState
from pullbench.physics.bench import Bench, Hand, simulate

CHECKS = Path(__file__).parents[3] / "shared" / "checks" / "friction_dynamics.json"
CASES = [
    (0.01, 0.015, 1000.0, 1e-5, 0.004, 2000.0),
    (0.01, 0.015, 5000.0, 1e-6, 0.004, 100000.0),
    (0.008, 0.02, 2500.0, 5e-6, 0.01, 60000.0),
]


def test_the_cases_are_the_ones_that_were_worked_out():
    if not CHECKS.exists():
        pytest.skip("the shared check values are not beside this repository")
    values = json.loads(CHECKS.read_text())["values"]
    told = [
        (
            *(v["inputs"][key] for key in ("a", "b", "sigma_Pa", "Dc_m", "area_m2")),
            v["expected"]["kc_N_per_m"],
        )
        for v in values
        if v["id"].startswith("kc") and v["expected"]["kc_N_per_m"] > 0
    ]
    assert told == CASES


def _growth(law, critical, ratio):
    """Return by how much a small disturbance of steady sliding grows over 60 slip distances, quasi-static."""
    speed = law.V0_m_s
    start = [law.steady(speed) + 1e-7, law.Dc_m / speed]

    def rates(_, y):
        moving = law.speed_at(y[0], y[1])
        return [ratio * critical * (speed - moving), law.state_rate(moving, y[1])]

    end_s = 60 * law.Dc_m / speed
    path = solve_ivp(rates, (0, end_s), start, method="LSODA", rtol=1e-10, atol=1e-14, dense_output=True)
    swing = np.abs(path.sol(np.linspace(0, end_s, 4000))[0] - law.steady(speed))
    return swing[-800:].max() / swing[:800].max()


@pytest.mark.parametrize("evolution", ["ageing", "slip"])
@pytest.mark.parametrize(("a", "b", "pressure_Pa", "Dc_m", "area_m2", "critical_N_m"), CASES)
def test_a_disturbance_grows_below_the_critical_stiffness_and_fades_above(
    a, b, pressure_Pa, Dc_m, area_m2, critical_N_m, evolution
):
    law = RateState(0.6, a, b, Dc_m=Dc_m, V0_m_s=Dc_m, law=evolution)
    per_normal_N = critical_N_m / (pressure_Pa * area_m2)
    assert per_normal_N * Dc_m == pytest.approx(b - a, rel=1e-12)
    assert _growth(law, per_normal_N, 0.9) > 1.5
    assert _growth(law, per_normal_N, 1.1) < 0.7


@pytest.mark.parametrize(("ratio", "sticks"), [(0.3, True), (3.0, False)])
def test_the_bench_stick_slips_below_and_slides_steadily_above(ratio, sticks):
    law = RateState(0.4, 0.005, 0.02, Dc_m=2e-4, V0_m_s=1e-2, creep_m_s=2e-4)
    weight_N = 1.0 * 9.8
    stiffness_N_m = ratio * (law.b - law.a) * weight_N / law.Dc_m
    bench = Bench(mass_kg=1.0, stiffness_N_m=stiffness_N_m, law=law, g_m_s2=9.8)
    run = simulate(bench, Hand.at_constant_speed(2e-3, 40.0), step_s=1e-3)
    late = run.velocity_m_s[run.time_s > 15.0]
    assert bool(late.max() > 3 * 2e-3) is sticks
    if not sticks:
        assert late == pytest.approx(2e-3, rel=1e-3)


def test_a_faster_pull_is_resisted_more_at_first():
    """The direct effect: friction rises by a ln(V2/V1) before the contact has changed."""
    law = RateState(0.6, 0.01, 0.015, Dc_m=1e-5, V0_m_s=1e-6)
    state = law.Dc_m / 1e-6
    assert law.sliding(1e-5, state) - law.sliding(1e-6, state) == pytest.approx(0.01 * np.log(10), rel=1e-9)
    assert law.steady(1e-5) < law.steady(1e-6)
