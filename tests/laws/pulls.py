"""Strategies for benches and hands, shared by the laws.  (Not a test module.)"""

import math

import numpy as np
from hypothesis import strategies as st

from pullbench.physics import Ageing, Coulomb, Stribeck
from pullbench.physics.bench import HAND_NAMES, Bench, hand


@st.composite
def laws(draw):
    mu_k = draw(st.floats(0.1, 0.6))
    mu_s = mu_k * draw(st.floats(1.0, 1.7))
    kind = draw(st.sampled_from(["coulomb", "stribeck", "ageing"]))
    if kind == "stribeck":
        return Stribeck(mu_s, mu_k, v_stribeck_m_s=draw(st.floats(0.005, 0.1)))
    if kind == "ageing":
        return Ageing(mu_s, mu_k, per_decade=draw(st.floats(0.0, 0.04)))
    return Coulomb(mu_s, mu_k)


@st.composite
def benches(draw, *, tilted=True, damped=True):
    law = draw(laws())
    # Flatter than the angle of sliding, so that the sled stays where it is put.
    flattest = 0.8 * math.degrees(math.atan(law.mu_k))
    return Bench(
        mass_kg=draw(st.floats(0.2, 4.0)),
        stiffness_N_m=draw(st.floats(150.0, 3000.0)),
        law=law,
        damping_N_s_m=draw(st.floats(0.0, 5.0)) if damped else 0.0,
        string_deg=draw(st.floats(-15.0, 25.0)) if tilted else 0.0,
        tilt_deg=draw(st.floats(-flattest, flattest)) if tilted else 0.0,
        contact_s=draw(st.floats(0.0, 30.0)),
    )


seeds = st.integers(0, 2**32 - 1)
names = st.sampled_from(HAND_NAMES)


def pulling(bench, name, seed, **sizes):
    """Return a short pull by a hand whose stretch suits the bench."""
    short = {"rest_s": 0.5, "rest_after_s": 0.5, "slide_s": 1.0, "load_s": 0.6, **sizes}
    return hand(name, np.random.default_rng(seed), stretch_m=bench.stretch_m, **short)
