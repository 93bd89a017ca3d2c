"""The inner step of the bench: plain floats and sequences only, so that it could be compiled.

Units are SI throughout.  `sled` = (1 / mass, stiffness, damping, cos α, sin α, W cos θ, W sin θ).
`law` = (mu_k, mu_s - mu_k, v_stribeck, viscous, a, b, Dc, V0, creep, memory), where v_stribeck 0
means no velocity weakening and memory is 0 (none), 1 (ageing law) or 2 (slip law).
`direction` is +1 when the sled slides forward, -1 backward.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence, Sequence

Sled = tuple[float, float, float, float, float, float, float]
Law = tuple[float, float, float, float, float, float, float, float, float, float]


def tension_N(stretch_m: float, stretching_m_s: float, stiffness_N_m: float, damping_N_s_m: float) -> float:
    """Return the pull of a string that can only pull: 0 when slack, never negative."""
    if stretch_m <= 0.0:
        return 0.0
    pull_N = stiffness_N_m * stretch_m + damping_N_s_m * stretching_m_s
    return pull_N if pull_N > 0.0 else 0.0


def sliding_coefficient(speed: float, state: float, law: Law) -> float:
    """Return the kinetic coefficient at this speed; same laws as `pullbench.physics.friction`."""
    return at_speed(speed, remembered(state, law), law)


def remembered(state: float, law: Law) -> float:
    """Return the part of the coefficient that does not depend on the speed: one value for a whole step."""
    mu_k, _, _, _, _, b, Dc, V0, _, memory = law
    return mu_k + b * math.log(V0 * state / Dc) if memory > 0.0 else mu_k


def at_speed(speed: float, level: float, law: Law) -> float:
    """Return the kinetic coefficient at this speed, level being the part that is `remembered`."""
    _, drop, v_stribeck, viscous, a, _, _, V0, creep, memory = law
    if memory > 0.0:
        moving = speed if speed > creep else creep
        return level + a * math.log(moving / V0)
    if v_stribeck > 0.0:
        return level + drop * math.exp(-((speed / v_stribeck) ** 2)) + viscous * speed
    return level


def acceleration(
    x: float,
    v: float,
    hand: float,
    hand_speed: float,
    level: float,
    direction: float,
    patch: float,
    sled: Sled,
    law: Law,
) -> float:
    """Return the sled's acceleration along the board while it slides.

    level: the `remembered` part of the coefficient.  patch: local factor on the coefficient.  hand: its
    position along the string, from taut at x = 0.
    """
    per_kg, stiffness, damping, along, lift, pressing, downhill = sled
    pull = tension_N(hand - x * along, hand_speed - v * along, stiffness, damping)
    grip = direction * patch * at_speed(v * direction, level, law)
    # Sorted by the pull, which is known last: a processor can work out the rest while it waits for it.
    return pull * ((along + grip * lift) * per_kg) - (downhill + grip * pressing) * per_kg


def step(
    x: float,
    v: float,
    state: float,
    h: float,
    hands: tuple[float, float, float, float, float, float],
    direction: float,
    patch: float,
    sled: Sled,
    law: Law,
) -> tuple[float, float, float]:
    """Return position, velocity and state of contact after one Runge-Kutta step of length h.

    hands: position and speed of the hand at the start, middle and end of the step.  Classic fourth
    order in position and velocity; the state is advanced in closed form at the mean speed (second
    order), because Dc / V is often far shorter than a step.
    """
    u0, w0, u1, w1, u2, w2 = hands
    half, level = 0.5 * h, remembered(state, law)
    a0 = acceleration(x, v, u0, w0, level, direction, patch, sled, law)
    v1 = v + half * a0
    a1 = acceleration(x + half * v, v1, u1, w1, level, direction, patch, sled, law)
    v2 = v + half * a1
    a2 = acceleration(x + half * v1, v2, u1, w1, level, direction, patch, sled, law)
    v3 = v + h * a2
    a3 = acceleration(x + h * v2, v3, u2, w2, level, direction, patch, sled, law)
    x_new = x + h * (v + 2.0 * (v1 + v2) + v3) / 6.0
    v_new = v + h * (a0 + 2.0 * (a1 + a2) + a3) / 6.0
    return x_new, v_new, next_state(state, 0.5 * (v + v_new) * direction, h, law)


def next_state(state: float, speed: float, h: float, law: Law) -> float:
    """Return the state of contact after time h at a constant speed (see `RateState.state_after`)."""
    memory = law[9]
    if memory == 0.0:
        return state
    moving = speed if speed > law[8] else law[8]
    steady = law[6] / moving
    fade = math.exp(-h / steady)
    if memory == 1.0:
        return steady + (state - steady) * fade
    return float(steady * (state / steady) ** fade)


def patch_at(x: float, patches: Sequence[float], spacing: float) -> float:
    """Return the local factor on friction at x: linear between patches, which are centred on x = 0."""
    count = len(patches)
    if count == 1:
        return patches[0]
    place = x / spacing + 0.5 * (count - 1)
    if place <= 0.0:
        return patches[0]
    if place >= count - 1:
        return patches[count - 1]
    left = int(place)
    return patches[left] + (place - left) * (patches[left + 1] - patches[left])


def slide(
    start: int,
    end: int,
    x: float,
    v: float,
    state: float,
    h: float,
    direction: float,
    hand: Sequence[float],
    hand_speed: Sequence[float],
    patches: Sequence[float],
    spacing: float,
    sled: Sled,
    law: Law,
    xs: MutableSequence[float],
    vs: MutableSequence[float],
    states: MutableSequence[float],
) -> int:
    """Slide over the time grid from index start until the sled is about to turn or end is reached.

    hand, hand_speed: at twice the resolution of the grid (index 2 i is grid point i).  Fills xs, vs
    and states at every grid point reached, and returns the last one at which the sled still slides.
    """
    for i in range(start, end):
        two = 2 * i
        hands = (
            hand[two],
            hand_speed[two],
            hand[two + 1],
            hand_speed[two + 1],
            hand[two + 2],
            hand_speed[two + 2],
        )
        patch = patch_at(x + 0.5 * h * v, patches, spacing)
        x_new, v_new, state_new = step(x, v, state, h, hands, direction, patch, sled, law)
        # The second condition is a stop so brief that the sled seems to move on at the step's end.
        if v_new * direction <= 0.0 or (x_new - x) * direction < 0.0:
            return i
        x, v, state = x_new, v_new, state_new
        xs[i + 1] = x
        vs[i + 1] = v
        states[i + 1] = state
    return end
