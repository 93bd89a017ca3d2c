"""The windows of a recording do not depend on how its samples arrived."""

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.detect import Watch, windows
from pullbench.model import Chunk
from unit.detect.shapes import PULL, corners, drawn, rest


@st.composite
def recordings(draw, rates_Hz=(8.0, 23.7, 50.0, 333.0, 1000.0)):
    """Two pulls of either sign, in noise, at rates from 8 Hz to 1 kHz; sometimes cut at an end."""
    pieces = [rest(draw(st.floats(0.0, 2.0)))]
    for _ in range(draw(st.integers(1, 2))):
        height_N = draw(st.sampled_from([-2.0, -0.5, 0.5, 1.0, 3.0]))
        pieces += [[(t, height_N * f) for t, f in PULL], rest(draw(st.floats(0.1, 2.0)))]
    return drawn(
        corners(*pieces),
        rate_Hz=draw(st.sampled_from(rates_Hz)),
        noise_N=draw(st.sampled_from([0.0, 0.003, 0.04])),
        seed=draw(st.integers(0, 2**32 - 1)),
        offset_N=draw(st.floats(-5.0, 5.0)),
    )


def contents(found):
    return [
        (
            w.start_s,
            w.end_s,
            w.direction,
            w.cut_start,
            w.cut_end,
            w.trace.time_s.tobytes(),
            w.trace.force_N.tobytes(),
        )
        for w in found
    ]


@settings(max_examples=60, deadline=None)
@given(recording=recordings(), cuts=st.lists(st.integers(0, 10_000), max_size=12))
def test_any_chunking_gives_the_windows_of_one_piece(recording, cuts):
    time_s, force_N = recording
    at = sorted(cut % (time_s.size + 1) for cut in cuts)
    chunks = [
        Chunk(time_s=t, force_N=f) for t, f in zip(np.split(time_s, at), np.split(force_N, at), strict=True)
    ]
    assert contents(windows(chunks)) == contents(windows([Chunk(time_s=time_s, force_N=force_N)]))


@settings(max_examples=15, deadline=None)
@given(recording=recordings())
def test_one_sample_at_a_time_gives_the_windows_of_one_piece(recording):
    time_s, force_N = recording
    watch, found = Watch(), []
    for t, f in zip(time_s, force_N, strict=True):
        found += watch.advance(Chunk(time_s=[t], force_N=[f]))
    found += watch.finish()
    assert contents(found) == contents(windows([Chunk(time_s=time_s, force_N=force_N)]))


@settings(max_examples=60, deadline=None)
@given(recording=recordings())
def test_windows_come_in_order_and_never_share_a_moment_of_pulling(recording):
    time_s, force_N = recording
    found = list(windows([Chunk(time_s=time_s, force_N=force_N)]))
    for w in found:
        assert w.trace.time_s[0] <= w.start_s < w.end_s <= w.trace.time_s[-1]
    for one, other in pairwise(found):
        assert one.end_s <= other.start_s
        assert one.end_s <= other.trace.time_s[0]
