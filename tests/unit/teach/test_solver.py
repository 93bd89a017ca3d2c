import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
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

G = 9.81
MASSES = st.floats(0.1, 50.0)
COEFFICIENTS = st.floats(0.05, 1.2)
ANGLES = st.floats(-30.0, 30.0)


@given(mass_kg=MASSES, mu_s=COEFFICIENTS, share=st.floats(-0.99, 0.99))
def test_at_rest_friction_is_as_large_as_the_pull_either_way(mass_kg, mu_s, share):
    pull_N = share * mu_s * mass_kg * G
    found = motion([Link(mass_kg=mass_kg, mu_s=mu_s, mu_k=0.8 * mu_s, pull_N=pull_N)], G)
    assert not found.sliding
    assert found.friction_N == pull_N
    assert found.strings_N == ()


@given(mass_kg=MASSES, mu_s=COEFFICIENTS, alpha=ANGLES, tilt=ANGLES)
def test_the_largest_pull_at_rest_is_where_it_begins_to_slide(mass_kg, mu_s, alpha, tilt):
    def slides(share):
        pull_N = share * pull_for_N([Link(**body)], G, static=True)
        return motion([Link(**body, pull_N=pull_N)], G).sliding

    body = {"mass_kg": mass_kg, "mu_s": mu_s + 0.6, "mu_k": mu_s, "string_deg": alpha, "tilt_deg": tilt}
    assert not slides(1 - 1e-6)
    assert slides(1 + 1e-6)


@given(
    masses=st.lists(MASSES, min_size=2, max_size=5),
    mu_k=COEFFICIENTS,
    tilt=ANGLES,
    alpha=ANGLES,
    a=st.floats(-2, 5),
)
def test_a_chain_moves_as_its_bodies_do_one_by_one(masses, mu_k, tilt, alpha, a):
    """Newton's second law for each body by itself, with the strings' forces found: no body knows of the chain."""
    links = [Link(mass_kg=mass, mu_k=mu_k, tilt_deg=tilt) for mass in masses[:-1]]
    last = {"mass_kg": masses[-1], "mu_k": mu_k, "tilt_deg": tilt, "string_deg": alpha}
    pull_N = pull_for_N([*links, Link(**last)], G, acceleration_m_s2=a)
    if masses[-1] * G * math.cos(math.radians(tilt)) - pull_N * math.sin(math.radians(alpha)) <= 0:
        return  # lifted: refused, see below
    found = motion([*links, Link(**last, pull_N=pull_N)], G, moving=True)
    assert found.acceleration_m_s2 == pytest.approx(a, abs=1e-9)
    behind_N = 0.0
    for at, mass in enumerate(masses):
        level_N, up_N = (
            pull_N * f(math.radians(alpha)) if at == len(links) else 0.0 for f in (math.cos, math.sin)
        )
        ahead_N = found.strings_N[at] if at < len(links) else 0.0
        normal_N = mass * G * math.cos(math.radians(tilt)) - up_N
        weight_N = mass * G * math.sin(math.radians(tilt))
        net_N = ahead_N + level_N - behind_N - weight_N - mu_k * normal_N
        assert net_N == pytest.approx(mass * a, abs=1e-9 * sum(masses) * 100)
        behind_N = ahead_N


def test_a_chain_that_its_weight_drives_back_slides_back_with_friction_forwards():
    found = motion([Link(mass_kg=1.0, mu_s=0.2, mu_k=0.1, tilt_deg=30)], G)
    assert found.sliding
    assert found.acceleration_m_s2 == pytest.approx(-G * (0.5 - 0.1 * math.cos(math.radians(30))))
    assert found.friction_N < 0


def test_a_hanging_load_too_light_moves_nothing():
    chain = (Link(mass_kg=1.0, mu_s=0.4, mu_k=0.3), Link(mass_kg=0.39, hanging=True))
    assert motion(chain, G).acceleration_m_s2 == 0
    assert motion((chain[0], Link(mass_kg=0.41, hanging=True)), G).sliding


@given(bed=st.floats(-15, 15), mu_s=COEFFICIENTS)
def test_a_load_on_a_bed_is_carried_along_until_friction_is_not_enough(bed, mu_s):
    friction_N = bed_friction_N(Link(mass_kg=2.0, mu_s=mu_s, mu_k=0.7 * mu_s), bed, G)
    if abs(bed) < mu_s * G * (1 - 1e-12):
        assert friction_N == 2.0 * bed
    elif abs(bed) > mu_s * G * (1 + 1e-12):
        assert friction_N == pytest.approx(math.copysign(0.7 * mu_s * 2.0 * G, bed))


@given(rider_kg=MASSES, sled_kg=MASSES, mu_r=COEFFICIENTS, mu_k=COEFFICIENTS)
def test_a_rider_comes_along_up_to_the_pull_that_newton_gives_and_no_further(rider_kg, sled_kg, mu_r, mu_k):
    rider = Link(mass_kg=rider_kg, mu_s=mu_r, mu_k=0.8 * mu_r)
    limit_N = (rider_kg + sled_kg) * G * (mu_r + mu_k)
    below, above = (
        ride(Link(mass_kg=sled_kg, mu_s=mu_k, mu_k=mu_k, pull_N=share * limit_N), rider, G, moving=True)
        for share in (1 - 1e-6, 1 + 1e-6)
    )
    assert below.together
    assert not above.together
    assert above.rider_m_s2 == pytest.approx(0.8 * mu_r * G)
    together_N = sled_kg * above.sled_m_s2 + rider_kg * above.rider_m_s2 + mu_k * (rider_kg + sled_kg) * G
    assert together_N == pytest.approx(limit_N * (1 + 1e-6))  # both bodies and the floor take all of the pull


def test_a_pulled_sled_that_stays_has_a_rider_without_friction():
    found = ride(Link(mass_kg=1.0, mu_s=0.5, mu_k=0.4, pull_N=2.0), Link(mass_kg=1.0, mu_s=0.3, mu_k=0.2), G)
    assert found.together
    assert found.friction_N == 0.0


@given(speed=st.floats(0.1, 30), slowing=st.floats(0.1, 12))
def test_the_speed_left_at_the_stopping_distance_is_nought(speed, slowing):
    distance_m, time_s = stopping(speed, slowing)
    assert speed_after_m_s(speed, -slowing, distance_m * (1 - 1e-12)) < 1e-4 * speed
    times = np.linspace(0, time_s, 2001)
    assert distance_m == pytest.approx(np.trapezoid(speed - slowing * times, times), rel=1e-9)


@given(first=st.floats(-90, 90), apart=st.floats(5, 175), sizes=st.tuples(MASSES, MASSES))
def test_two_forces_are_found_from_their_sum(first, apart, sizes):
    directions = [math.radians(first), math.radians(first + apart)]
    x_N, y_N = (
        sum(size * f(way) for size, way in zip(sizes, directions, strict=True)) for f in (math.cos, math.sin)
    )
    assert two_forces_N(first, first + apart, x_N=x_N, y_N=y_N) == pytest.approx(sizes, rel=1e-9)


def test_work_of_a_force_against_across_and_along_the_way():
    assert [work_J(2.0, 3.0, angle_deg=angle) for angle in (0, 90, 180)] == pytest.approx(
        [6, 0, -6], abs=1e-12
    )


@pytest.mark.parametrize(
    ("call", "code", "message"),
    [
        pytest.param(
            lambda: speed_after_m_s(1.0, -2.0, 5.0), "stops-before",
            "It comes to rest before 5 m. From 1 m/s it gets 0.25 m far. Ask for a shorter distance.", id="too far",
        ),
        pytest.param(
            lambda: stopping(1.0, 0.0), "never-stops",
            "It slows by 0 m/s each second. It must be above 0 m/s²: else it never comes to rest. Take a gentler slope "
            "or a larger coefficient.", id="no friction",
        ),
        pytest.param(
            lambda: two_forces_N(10, 190, x_N=1, y_N=1), "forces-on-one-line",
            "Directions 10° and 190° lie along one line. They must differ, and not by 180°. Check the angles.",
            id="one line",
        ),
        pytest.param(
            lambda: motion([Link(mass_kg=1.0, pull_N=30.0, string_deg=60)], G), "normal-force-not-positive",
            "Normal force is -16.1708 N: a pull of 30 N at 60° lifts the sled. It must be above 0 N. Lower the string, "
            "or check the mass of sled and load.", id="lifted",
        ),
        pytest.param(
            lambda: pull_for_N([Link(mass_kg=1.0, mu_k=1.0, string_deg=-60)], G), "no-pull-is-enough",
            "At -60° below the surface with coefficient 1 the sled jams. The angle must be above -45.0°. Raise the "
            "string towards the height of the sled.", id="jammed",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_a_reason(call, code, message):
    with pytest.raises(ConditionsError) as caught:
        call()
    assert (caught.value.code, str(caught.value)) == (code, message)
