"""Laws of a pulled sled: gravity, free-body algebra, friction and exact stick-slip.

The virtual bench lives in `pullbench.physics.bench` and is deliberately not re-exported: what
detects and analyses must not see the simulator it is graded on.
"""

from pullbench.physics.friction import Ageing, Coulomb, FrictionLaw, RateState, Stribeck
from pullbench.physics.gravity import STANDARD_GRAVITY_M_S2, normal_gravity_m_s2
from pullbench.physics.plane import (
    PullCoefficient,
    acceleration_pulled_m_s2,
    coefficient_from_pull,
    holding_pull_N,
    least_pull,
    normal_force_N,
    pull_needed_N,
    steady_friction_N,
    weight_N,
)
from pullbench.physics.stick_slip import StickSlipCycle, overshoot_N, stick_slip_cycle
from pullbench.physics.tilt import (
    acceleration_down_m_s2,
    acceleration_up_m_s2,
    coefficient_from_acceleration,
    coefficient_from_tilt,
    slip_tilt_deg,
)

__all__ = [
    "STANDARD_GRAVITY_M_S2",
    "Ageing",
    "Coulomb",
    "FrictionLaw",
    "PullCoefficient",
    "RateState",
    "StickSlipCycle",
    "Stribeck",
    "acceleration_down_m_s2",
    "acceleration_pulled_m_s2",
    "acceleration_up_m_s2",
    "coefficient_from_acceleration",
    "coefficient_from_pull",
    "coefficient_from_tilt",
    "holding_pull_N",
    "least_pull",
    "normal_force_N",
    "normal_gravity_m_s2",
    "overshoot_N",
    "pull_needed_N",
    "slip_tilt_deg",
    "steady_friction_N",
    "stick_slip_cycle",
    "weight_N",
]
