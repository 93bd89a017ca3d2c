"""Every worked friction example printed in three open textbooks, by the solver that makes the keys of problems.

U: OpenStax, University Physics Volume 1 (CC BY 4.0 edition, commit db44eb9).  C: OpenStax, College Physics 2e
(CC BY 4.0 edition, commit f98d7a7).  H: OpenStax, Physics (high school, CC BY 4.0, commit ff78c7a).  Only numbers
are taken.  Each row names book, item and the element of the source file; g = 9.80 m/s² unless a row says otherwise.
Each answer agrees within half a unit of its last printed digit.  Two answers of springs (U 15.55's path, C Example
16.7) are left out: the books' method stops the block where it still moves.  What lies beyond a sled (turning, swinging,
ladders, curves) takes its friction from the solver and needs one more law, written out in the row.
"""

import json
import math
from pathlib import Path

import pytest

from pullbench.physics import coefficient_from_tilt
from pullbench.teach.solver import (
    Link,
    bed_friction_N,
    motion,
    pull_for_N,
    ride,
    speed_after_m_s,
    stopping,
    two_forces_N,
    work_J,
)

G = 9.80


def slides(link, g=G):
    """Return the acceleration of one body that already slides forward."""
    return motion([link], g, moving=True).acceleration_m_s2


def climbs(mu, share=1.0):
    """Return the acceleration of a car of 1 kg up 4°, driven at the static limit of a share of its weight."""
    grip_N = pull_for_N([Link(mass_kg=1.0, mu_s=mu)], G * math.cos(math.radians(4)), static=True)
    return slides(Link(mass_kg=1.0, tilt_deg=4.0, pull_N=share * grip_N))


CRATE = {"mass_kg": 20.0, "mu_s": 0.700, "mu_k": 0.600}
CRATE_ROWS = [
    pytest.param(pull_for_N([Link(**CRATE)], G, static=True), 137, 0.5, id="U Example 6.10 fs-id1165037948629: limit"),
    pytest.param(motion([Link(**CRATE, pull_N=20)], G).friction_N, 20.0, 0.05, id="U Example 6.10: at 20 N"),
    pytest.param(motion([Link(**CRATE, pull_N=120)], G).friction_N, 120.0, 0.05, id="U Example 6.10: at 120 N"),
    pytest.param(motion([Link(**CRATE, pull_N=180)], G).friction_N, 118, 0.5, id="U Example 6.10: at 180 N"),
    pytest.param(slides(Link(mass_kg=20.0, pull_N=180, drag_N=118)), 3.10, 0.005,
                 id="U Example 6.10: acceleration, from the rounded 118 N as printed"),
]  # fmt: skip

START = Link(mass_kg=1.0, mu_s=0.5, mu_k=0.4)
UPPER_N = pull_for_N([Link(mass_kg=2.0, mu_k=0.400)], G)
LOWER = Link(mass_kg=4.0, mu_k=0.400, press_N=2.0 * G)
STACK_ROWS = [
    pytest.param(pull_for_N([START], G, static=True), 4.9, 0.05, id="U fs-id1165037178946: breakaway"),
    pytest.param(
        slides(Link(mass_kg=1.0, mu_k=0.4, pull_N=4.9)), 0.98, 0.005, id="U fs-id1165037178946: after it"
    ),
    pytest.param(UPPER_N, 7.84, 0.005, id="U Example 6.12 fs-id1165034574258: string"),
    pytest.param(pull_for_N([LOWER], G) + 2 * UPPER_N, 39.2, 0.05, id="U Example 6.12: pull"),
    pytest.param(pull_for_N([LOWER], G) / 0.400, 58.8, 0.05, id="U Example 6.12: normal force on the floor"),
]

BOX = Link(mass_kg=50.0, mu_s=0.400, mu_k=0.300)
BED_ROWS = [
    pytest.param(bed_friction_N(BOX, 2.00, G), 100, 0.5, id="U Example 6.13 fs-id1165038249000: at 2 m/s²"),
    pytest.param(pull_for_N([BOX], G, static=True), 196, 0.5, id="U Example 6.13: limit"),
    pytest.param(bed_friction_N(BOX, 5.00, G), 147, 0.5, id="U Example 6.13: at 5 m/s²"),
    pytest.param(bed_friction_N(BOX, 5.00, G) / 50.0, 2.94, 0.005, id="U Example 6.13: the crate's acceleration"),
    pytest.param(bed_friction_N(BOX, 5.00, G) / 50.0 - 5.00, -2.06, 0.005, id="U Example 6.13: seen from the bed"),
    pytest.param(pull_for_N([Link(mass_kg=1.0, mu_s=0.24)], G, static=True) * 3.0**2 / 2, 11, 0.5,
                 id="U 6.127 fs-id1165039496071: distance without slip"),
    pytest.param(stopping(3.4, pull_for_N([Link(mass_kg=1.0, mu_k=0.27)], G))[1], 1.3, 0.05,
                 id="U 6.107 fs-id1165035669542: box on a belt"),
]  # fmt: skip

HYPOT_N = math.hypot(26.4, 18.6)
LEVEL_ROWS = [
    pytest.param(0.200 / pull_for_N([Link(mass_kg=1 / G, mu_k=0.04)], G), 5.00, 0.005,
                 id="U 6.5 fs-id1165038360288: normal force, in units of 1 N"),
    pytest.param(pull_for_N([Link(mass_kg=660.0, mu_k=0.015)], G), 97.0, 0.05, id="U 6.47 fs-id1165037233270"),
    pytest.param(pull_for_N([Link(mass_kg=1000 * 0.5, mu_s=1.0)], G, static=True) / 1000, 4.9, 0.05,
                 id="U 6.49 fs-id1165037027752: drive wheels"),
    pytest.param(HYPOT_N, 32.3, 0.05, id="U 6.51 fs-id1165038313967: resultant"),
    pytest.param(math.degrees(math.atan2(18.6, 26.4)), 35.2, 0.05, id="U 6.51: direction"),
    pytest.param(slides(Link(mass_kg=65.0, mu_k=0.02, pull_N=HYPOT_N)), 0.301, 5e-4, id="U 6.51: acceleration"),
    pytest.param(pull_for_N([Link(mass_kg=245, drag_N=400)], G, acceleration_m_s2=3.50), 1260, 5,
                 id="U 5.33 fs-id1165039352949: motorcycle"),
    pytest.param(pull_for_N([Link(mass_kg=2000, drag_N=300)], G, acceleration_m_s2=5.0) / 2, 5150, 0.5,
                 id="H eip-id1166851085657: two people push a car"),
    pytest.param(stopping(100 / 3.6, pull_for_N([Link(mass_kg=1.0, mu_k=0.50)], G))[0], 78.7, 0.05,
                 id="U 6.131 fs-id1165035646117: locked wheels"),
    pytest.param(stopping(6.00, 450 / 65.0)[0], 2.60, 0.005, id="C Example 7.9 fs-id1900640: player"),
]  # fmt: skip

DOGS = (Link(mass_kg=8 * 19.0, pull_N=8 * 185),)
AT_START = motion([Link(mass_kg=210, mu_k=0.14), *DOGS], G, moving=True)
MOVING = motion([Link(mass_kg=210, mu_k=0.10), *DOGS], G, moving=True)
SHARE_N = 7.50e5 / 47  # the book shares the resistance equally among all vehicles
LAST_CARS, FRONT = (
    Link(mass_kg=8 * 5.50e5, drag_N=8 * SHARE_N),
    Link(mass_kg=37 * 5.50e5 + 2 * 8.00e5, drag_N=39 * SHARE_N),
)
TRAIN_N = pull_for_N([LAST_CARS, FRONT], G, acceleration_m_s2=5.00e-2)
TRAIN = motion([LAST_CARS, Link(mass_kg=FRONT.mass_kg, drag_N=FRONT.drag_N, pull_N=TRAIN_N)], G, moving=True)
CHAIN_ROWS = [
    pytest.param(AT_START.acceleration_m_s2, 3.29, 0.005, id="C 5.6 fs-id1294370: dog sled at the start"),
    pytest.param(MOVING.acceleration_m_s2, 3.52, 0.005, id="C 5.6: moving"),
    pytest.param(AT_START.strings_N[0], 980, 0.5, id="C 5.6: coupling at the start"),
    pytest.param(MOVING.strings_N[0], 945, 0.5, id="C 5.6: coupling moving"),
    pytest.param(TRAIN_N / 2, 1.03e6, 5000, id="C 5.16 fs-id1439017: each engine"),
    pytest.param(TRAIN.strings_N[0], 3.48e5, 500, id="C 5.16: coupling between cars 37 and 38"),
    pytest.param(motion([Link(mass_kg=4.0, mu_k=0.40, tilt_deg=37), Link(mass_kg=8.0, hanging=True)], G,
                        moving=True).acceleration_m_s2, 3.5, 0.05, id="U 6.109 fs-id1165035865609: up a slope"),
    pytest.param(pull_for_N([Link(mass_kg=1.0, mu_k=0.25), Link(mass_kg=3.0, mu_k=0.25, string_deg=60)], G,
                            acceleration_m_s2=2.0), 25, 0.5, id="U 6.123 fs-id1165039504554: two blocks"),
    pytest.param(motion([Link(mass_kg=1 / 2), Link(mass_kg=3, mu_k=0.4, tilt_deg=-45)], G,
                        moving=True).acceleration_m_s2, 3.6, 0.05,
                 id="U 10.93 fs-id1167131112903: a disk resists like half its mass at its rim"),
]  # fmt: skip

ICE = {"mass_kg": 45.0, "mu_s": 0.1, "mu_k": 0.03}
UP_N, DOWN_N = (pull_for_N([Link(**ICE, string_deg=angle)], G, static=True) for angle in (25, -25))
ANGLE_ROWS = [
    pytest.param(UP_N, 46.5, 0.05, id="U 6.63 fs-id1165037150306: rope at 25°"),
    pytest.param(slides(Link(**ICE, string_deg=25, pull_N=UP_N)), 0.655, 5e-4, id="U 6.63: acceleration"),
    pytest.param(DOWN_N, 51.0, 0.05, id="C 5.18 fs-id1531145: push 25° downwards"),
    pytest.param(slides(Link(**ICE, string_deg=-25, pull_N=DOWN_N)), 0.720, 5e-4, id="C 5.18: acceleration"),
    pytest.param(pull_for_N([Link(mass_kg=1.0, drag_N=35.0, string_deg=-25)], G), 38.6, 0.05,
                 id="U 7.29 fs-id1165039335253: push"),
    pytest.param(work_J(35.0, 20.0, angle_deg=180), -700, 0.5, id="U 7.29: work of friction"),
]  # fmt: skip

MU_37, _ = coefficient_from_tilt(37)
CRATE_37 = {"mass_kg": 100.0, "mu_s": MU_37, "mu_k": 0.8 * MU_37}
UP_37_N = pull_for_N([Link(**CRATE_37, tilt_deg=37)], G, static=True)
TILT_ROWS = [
    pytest.param(slides(Link(mass_kg=1.0, mu_k=0.20, tilt_deg=-13)), 0.29, 0.005,
                 id="U Example 6.14 fs-id1165037266188"),
    *(pytest.param(climbs(mu), printed, half, id=f"U 6.59 fs-id1165038248967: climbing, {road}")
      for road, mu, printed, half in (("dry", 1.0, 9.09, 0.005), ("wet", 0.7, 6.16, 0.005), ("ice", 0.1, 0.294, 5e-4))),
    *(pytest.param(climbs(mu, 0.5), printed, half, id=f"C 5.14 fs-id1924033: half the weight drives, {road}")
      for road, mu, printed, half in (
          ("dry", 1.0, 4.20, 0.005), ("wet", 0.7, 2.74, 0.005), ("ice", 0.1, -0.195, 5e-4))),
    pytest.param(MU_37, 0.75, 0.005, id="U 6.111 fs-id1165039077028: about to slip"),
    pytest.param(UP_37_N, 1200, 50, id="U 6.111: largest pull without motion"),
    pytest.param(motion([Link(**CRATE_37, tilt_deg=37, pull_N=UP_37_N + 1e-9)], G).acceleration_m_s2, 1.2, 0.05,
                 id="U 6.111: acceleration uphill"),
    pytest.param(-slides(Link(**CRATE_37, tilt_deg=-37)), -1.2, 0.05, id="U 6.111: downhill after a nudge"),
    pytest.param(-pull_for_N([Link(**CRATE_37, tilt_deg=-37)], G), 120, 5, id="U 6.111: lowering it"),
    pytest.param(coefficient_from_tilt(math.degrees(math.atan2(5.0, 23.5)))[0], 0.21, 0.005,
                 id="U 6.119 fs-id1165035654187: rise over base"),
    pytest.param(-slides(Link(mass_kg=1.0, mu_k=0.10, tilt_deg=5.0)), 1.83, 0.005, id="C 5.10 fs-id1555366"),
    pytest.param(slides(Link(mass_kg=60.0, tilt_deg=-25)), 4.14, 0.005, id="H fs-id1167067042479: no friction"),
    pytest.param(slides(Link(mass_kg=60.0, tilt_deg=-25, drag_N=45.0)), 3.39, 0.005, id="H fs-id1167067042479: 45 N"),
    pytest.param(25 / pull_for_N([Link(mass_kg=55 * math.cos(math.radians(30)), mu_k=1.0)], G), 0.05, 0.005,
                 id="H fs-id1167067179222: the choice that fits"),
    pytest.param(motion([Link(mass_kg=67, mu_k=0.07, tilt_deg=-37)], G, moving=True).friction_N, 36.71, 0.005,
                 id="H eip-id1166849927556: the choice that fits"),
    pytest.param(stopping(6.00, -slides(Link(mass_kg=65.0, drag_N=450, tilt_deg=5.00)))[0], 2.31, 0.005,
                 id="C Example 7.10 eip-944: player uphill"),
    pytest.param(speed_after_m_s(12.0, slides(Link(mass_kg=60.0, mu_k=0.080, tilt_deg=35)),
                                 2.50 / math.sin(math.radians(35))), 9.46, 0.005, id="C 7.24 fs-id1838153: up a rise"),
]  # fmt: skip


def bin_down_N():
    """Return what lowers a bin of 3 kg steadily at 40° when 26 N push it up steadily."""
    drag_N = 26 - pull_for_N([Link(mass_kg=3.0, tilt_deg=40)], G)
    return -pull_for_N([Link(mass_kg=3.0, tilt_deg=-40, drag_N=drag_N)], G)


def puck_work_J(start_m, end_m):
    """Return friction's work on a puck whose coefficient grows as 0.1 + 0.05 x: the mean of a line is its middle."""
    middle = 0.1 + 0.05 * (start_m + end_m) / 2
    return -work_J(pull_for_N([Link(mass_kg=0.170, mu_k=middle)], G), end_m - start_m)


HOLD_N = -pull_for_N([Link(mass_kg=40, mu_k=0.4, tilt_deg=-30, string_deg=30)], G)  # a level push from below
RUB_N = motion(
    [Link(mass_kg=40, mu_k=0.4, tilt_deg=-30, string_deg=30, pull_N=-HOLD_N)], G, moving=True
).friction_N
COUCH_N = 0.60  # kN: μ = 0.6 under 1 kN
SLED_PUSH_N = pull_for_N([Link(mass_kg=50, mu_k=0.20, string_deg=-30)], G)
SKID_M_S = math.sqrt(2 * pull_for_N([Link(mass_kg=1.0, mu_k=0.62)], 9.81) * 10)
WORK_ROWS = [
    pytest.param(bin_down_N(), 12, 0.5, id="U 6.97 fs-id1165039109864: lowering a bin"),
    pytest.param(puck_work_J(0, 2), -0.5, 0.05, id="U 7.91 fs-id1165036783731: 0 to 2 m"),
    pytest.param(puck_work_J(2, 4), -0.83, 0.005, id="U 7.91: 2 to 4 m"),
    pytest.param(work_J(50 * 8 / 10, stopping(8, 8 / 10)[0]) / 10, 160, 0.5, id="U 7.95 fs-id1165038008557: power"),
    pytest.param(work_J(40 * G, 8.0, angle_deg=120) / 1000, -1.57, 0.005, id="U 7.99 fs-id1165036793037: weight, up"),
    pytest.param(-work_J(HOLD_N, 8.0, angle_deg=30) / 1000, -0.39, 0.005, id="U 7.99: push, down"),
    pytest.param(-work_J(RUB_N, 8.0) / 1000, -1.18, 0.005, id="U 7.99: friction, down"),
    pytest.param(-work_J(COUCH_N, 3 + 1), -2.4, 0.05, id="U Example 7.2 fs-id1165039346377: two legs"),
    pytest.param(work_J(COUCH_N, 3 + 1 + math.hypot(3, 1)), 4.3, 0.05, id="U Example 7.2: and straight back"),
    pytest.param(work_J(pull_for_N([Link(mass_kg=5.0, mu_k=0.5)], G), 0.10), 2.45, 0.005,
                 id="U 7.33 fs-id1165039345933"),
    pytest.param(work_J(SLED_PUSH_N, 20, angle_deg=-30) / 1000, 2.22, 0.005, id="U 7.35 fs-id1165039276834"),
    pytest.param(work_J(70 * G, 80, angle_deg=80) + work_J(70 * G, 80, angle_deg=98), 1900, 50,
                 id="U 8.39 fs-id1165036992728: what the weight gives, friction takes"),
    pytest.param(work_J(120 - 5.00, 0.800), 92.0, 0.05, id="C Example 7.3 fs-id1751928: net"),
    pytest.param(work_J(5.00, 0.800, angle_deg=180), -4.00, 0.005, id="C Example 7.3: friction"),
    pytest.param(95.75 / work_J(5.00, 1.0), 19.2, 0.0501, id="C Example 7.5 fs-id1355870: 19.15 m printed as 19.2"),
    pytest.param(SKID_M_S, 11.0, 0.05, id="U Example 9.13 fs-id1167134501678: truck, g = 9.81"),
    pytest.param(3000 * 11.0 / 1200, 27.5, 0.05, id="U Example 9.13: car, from the rounded 11.0 m/s as printed"),
]  # fmt: skip


def climber():
    """Return rope and leg force on a climber of 52 kg: rope 31° from the wall, legs 15° above the level."""
    return two_forces_N(90 + 31, 15, x_N=0.0, y_N=52.0 * G)


def friction_over_normal():
    """Return what the climber's feet need: the leg force along the wall over the one into it."""
    _, leg_N = climber()
    return leg_N * math.sin(math.radians(15)) / (leg_N * math.cos(math.radians(15)))


def banked(speed_m_s):
    """Return normal force and friction up the slope for 1 kg on a curve of 100 m banked at 15°."""
    return two_forces_N(90 + 15, 15, x_N=-(speed_m_s**2) / 100, y_N=G)


SLOW_N, SLOW_RUB_N = banked(20.0 / 3.6)
LADDER_WALL_N, LADDER_FLOOR_N = two_forces_N(
    180, math.degrees(math.atan(2 * math.tan(math.radians(53)))), x_N=0, y_N=400
)
SPIN = motion([Link(mass_kg=1.0, mu_k=0.40, tilt_deg=-30)], G, moving=True)
RIDER = Link(mass_kg=0.50, mu_s=0.45)
GRIP_M_S2 = pull_for_N([RIDER], G, static=True) / 0.50
BEYOND_ROWS = [
    pytest.param(friction_over_normal(), 0.268, 5e-4, id="U 6.61 fs-id1165038191800: climber's feet"),
    pytest.param(math.sqrt(12 * pull_for_N([Link(mass_kg=1.0)], G, acceleration_m_s2=G / 0.68)), 13, 0.5,
                 id="U 6.117 fs-id1165039274986: the wall's push N = m g / μs is m v² / r"),
    pytest.param(2 * SPIN.friction_N / 0.10, 67.9, 0.05, id="U 11.27 fs-id1165036894393: f r = (m r² / 2) × angular"),
    pytest.param(SPIN.acceleration_m_s2, 1.5, 0.05, id="U 11.27: along the slope"),
    pytest.param(pull_for_N([Link(mass_kg=0.750, mu_s=0.100)], G, static=True) / 150, 4.90e-3, 5e-6,
                 id="U 15.55 fs-id1167131096562: k x is the largest friction"),
    pytest.param(2 * math.pi * math.sqrt(2.50 / 100), 0.99, 0.005, id="U 15.67 fs-id1167131473203: period"),
    pytest.param(2.50 * GRIP_M_S2 / 100, 0.11, 0.005, id="U 15.67: k x = (M + m) a at the rider's limit"),
    pytest.param(LADDER_WALL_N, 150.7, 0.05, id="U Example 12.5 fs-id1163713171369: three forces meet in one point"),
    pytest.param(LADDER_WALL_N / 400.0, 0.377, 5e-4, id="U Example 12.5: coefficient at the floor"),
    pytest.param(math.sqrt(100 * slides(Link(mass_kg=1.0, tilt_deg=-15)) / math.cos(math.radians(15))), 16.2, 0.05,
                 id="C 6.30 fs-id2963096: without friction v² / r = g tan θ"),
    pytest.param(SLOW_RUB_N / SLOW_N, 0.234, 5e-4, id="C 6.30: a slow car"),
    pytest.param(pull_for_N([Link(mass_kg=900)], G, acceleration_m_s2=25.0**2 / 600), 938, 0.501,
                 id="H fs-id1167064948691: 937.5 N printed as 938"),
    pytest.param(25.0**2 / 600 / (pull_for_N([Link(mass_kg=1.0, mu_s=1.0)], G, static=True)), 0.11, 0.005,
                 id="H fs-id1167064948691: coefficient"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("found", "printed", "half_digit"),
    [*CRATE_ROWS, *STACK_ROWS, *BED_ROWS, *LEVEL_ROWS, *CHAIN_ROWS, *ANGLE_ROWS, *TILT_ROWS, *WORK_ROWS, *BEYOND_ROWS],
)  # fmt: skip
def test_a_worked_example_is_reproduced_within_its_printed_digits(found, printed, half_digit):
    assert found == pytest.approx(printed, abs=half_digit, rel=0)


ROPE_N, LEG_N = climber()
PUSH_UP_N = pull_for_N([Link(mass_kg=40, mu_k=0.4, tilt_deg=30, string_deg=-30)], G)
RUB_UP_N = motion(
    [Link(mass_kg=40, mu_k=0.4, tilt_deg=30, string_deg=-30, pull_N=PUSH_UP_N)], G, moving=True
).friction_N


@pytest.mark.parametrize(
    ("found", "printed", "recomputed"),
    [
        pytest.param(pull_for_N([Link(mass_kg=66.0, mu_s=0.016)], G, static=True), 10.0, 10.3488, id="U 6.47"),
        *(pytest.param(-slides(Link(mass_kg=1.0, mu_k=mu, tilt_deg=-6)), printed, right, id=f"U 6.57: sign, {road}")
          for road, mu, printed, right in (
              ("dry", 1.0, 10.8, 8.721936), ("wet", 0.7, 7.85, 5.798041), ("ice", 0.1, 2.00, -0.04974748))),
        pytest.param(ROPE_N, 272, 512.0726, id="U 6.61: rope, printed in the legs' place"),
        pytest.param(LEG_N, 512, 273.0405, id="U 6.61: legs, printed in the rope's place"),
        pytest.param(pull_for_N([Link(**CRATE_37, tilt_deg=37)], G), 1080, 1061.602, id="U 6.111: steadily up"),
        pytest.param((100 / 3.6) ** 2 / (2 * 50 * pull_for_N([Link(mass_kg=1.0, mu_k=1.0)], G)), 0.789, 0.787352,
                     id="U 6.113: speed rounded on the way"),
        pytest.param(work_J(PUSH_UP_N, 8.0, angle_deg=30) / 1000, 3.46, 3.451412, id="U 7.99: push, up"),
        pytest.param(-work_J(RUB_UP_N, 8.0) / 1000, -1.89, -1.883412, id="U 7.99: friction, up"),
        pytest.param(4500 * 0.080**2 / 2 / work_J(pull_for_N([Link(mass_kg=3.0, mu_k=1.0)], G), 2.0), 0.25, 0.244898,
                     id="U 7.61: rounded"),
        pytest.param(0.50 * 50 * 0.20**2 / pull_for_N([Link(mass_kg=0.5, mu_k=0.06)], G), 1.698, 3.40136,
                     id="C fs-id1548549: the mass left out"),
    ],
)  # fmt: skip
def test_a_known_misprint_is_not_reproduced(found, printed, recomputed):
    """Printed answers that do not follow from their own inputs; the recomputed ones do."""
    assert found == pytest.approx(recomputed, rel=1e-6)
    assert found != pytest.approx(printed, rel=2e-3)


def test_the_rider_example_agrees_whether_bed_or_sled_is_asked():
    """U Example 6.13 again: a bed of 1e9 kg that a pull speeds up at 5.00 m/s² is a sled with a rider."""
    found = ride(Link(mass_kg=1e9, pull_N=5.00e9), BOX, G)
    assert not found.together
    assert found.rider_m_s2 == pytest.approx(2.94, abs=0.005)


def test_no_printed_example_is_left_out():
    """The list of examples, where it lies beside the repository, names no element that is missing above."""
    listed = Path(__file__).parents[3] / "shared" / "checks" / "worked_examples.json"
    if not listed.exists():
        pytest.skip("the list of worked examples does not lie beside this repository")
    here = Path(__file__).read_text(encoding="utf-8")
    values = json.loads(listed.read_text(encoding="utf-8"))["values"]
    assert values
    assert [value["id"] for value in values if value["source"]["element"] not in here] == []
