"""What must not change when units, clock, sign or nought of the sensor change, for any pull of the bench."""

from functools import cache

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.model import Chunk, Flaw, PullWindow, Trace
from simulated.pulls import simulated

# An example takes half a second, so there are few, always the same, and none is shrunk.
few = settings(max_examples=6, deadline=None, derandomize=True, phases=[Phase.generate])
kinds = st.sampled_from(["plain", "plain", "jerky", "noisy", "sparse", "held"])
seeds = st.integers(0, 60)


recorded = cache(lambda kind, seed: simulated(kind, seed).trace)


@cache
def as_recorded(kind, seed):
    """Return the pulls of an untouched recording."""
    return read(recorded(kind, seed).time_s, recorded(kind, seed).force_N)


def read(time_s, force_N):
    """Return the pulls of a recording through the whole chain."""
    return [analyse(window) for window in windows([Chunk(time_s=time_s, force_N=force_N)])]


def assert_same(pull, other, *, scale=1.0, later_s=0.0, rel=1e-9, clock_s=1e-9, share_of_u=0.0, block_s=0.0):
    """Assert that two pulls tell the same, forces times scale and moments later_s later.

    share_of_u: how far values may part, in their own standard uncertainties, where a change of the clock's
    last digit may put one sample into the next cell of a grid.  block_s: the same for the start of the level,
    which is chosen among blocks.
    """
    pairs = [(pull.breakaway.force, other.breakaway.force), (pull.plateau.force, other.plateau.force)]
    for one, two in pairs:
        assert (two.kind, two.reason) == (one.kind, one.reason)
        if one.value is not None:
            apart = max(rel * abs(scale * one.value), share_of_u * scale * one.standard_uncertainty)
            assert two.value == pytest.approx(scale * one.value, abs=apart)
            assert two.standard_uncertainty == pytest.approx(
                scale * one.standard_uncertainty, rel=max(1e3 * rel, share_of_u)
            )
    moments = [
        (pull.breakaway.time_s, other.breakaway.time_s, clock_s),
        (pull.plateau.start_s, other.plateau.start_s, max(clock_s, block_s)),
    ]
    for one, two, apart_s in moments:
        assert (two is None) == (one is None)
        if one is not None:
            assert two - later_s == pytest.approx(one, abs=apart_s)
    assert other.verdict == pull.verdict
    assert [finding.name for finding in other.findings] == [finding.name for finding in pull.findings]


@few
@given(kind=kinds, seed=seeds)
def test_a_sensor_mounted_the_other_way_round_tells_the_same_magnitudes(kind, seed):
    trace = recorded(kind, seed)
    straight, reversed_ = as_recorded(kind, seed), read(trace.time_s, -trace.force_N)
    assert len(straight) == len(reversed_)
    for one, two in zip(straight, reversed_, strict=True):
        assert two.window.direction == -one.window.direction
        assert_same(one, two)


@few
@given(kind=kinds, seed=seeds, power=st.integers(-10, 10))
def test_another_unit_of_force_scales_every_force(kind, seed, power):
    # A power of two changes no digit, so that the law can be exact.
    trace, scale = recorded(kind, seed), 2.0**power
    for one, two in zip(as_recorded(kind, seed), read(trace.time_s, scale * trace.force_N), strict=True):
        assert_same(one, two, scale=scale)


@few
@given(kind=kinds, seed=seeds, scale=st.floats(1e-3, 1e3))
def test_any_scale_of_force_scales_every_force(kind, seed, scale):
    trace = recorded(kind, seed)
    for one, two in zip(as_recorded(kind, seed), read(trace.time_s, scale * trace.force_N), strict=True):
        assert_same(one, two, scale=scale, rel=1e-6, clock_s=1e-6)


@few
@given(kind=kinds, seed=seeds, offset=st.floats(-8.0, 8.0))
def test_an_offset_of_the_sensor_changes_only_the_rest_reading(kind, seed, offset):
    trace = recorded(kind, seed)
    offset_N = offset * float(np.ptp(trace.force_N))
    for one, two in zip(as_recorded(kind, seed), read(trace.time_s, trace.force_N + offset_N), strict=True):
        assert_same(one, two, rel=1e-6, clock_s=1e-6)
        if one.rest_reading.value is not None:
            assert two.rest_reading.value - offset_N == pytest.approx(
                one.rest_reading.value, abs=1e-6 * np.ptp(trace.force_N)
            )


@few
@given(kind=kinds, seed=seeds, offset=st.floats(-8.0, 8.0))
def test_reversal_and_offset_together_change_nothing_either(kind, seed, offset):
    trace = recorded(kind, seed)
    offset_N = offset * float(np.ptp(trace.force_N))
    for one, two in zip(as_recorded(kind, seed), read(trace.time_s, offset_N - trace.force_N), strict=True):
        assert two.window.direction == -one.window.direction
        assert_same(one, two, rel=1e-6, clock_s=1e-6)


@few
@given(kind=kinds, seed=seeds, later_s=st.integers(-(2**14), 2**14))
def test_one_window_on_a_later_clock_moves_moments_and_nothing_else(kind, seed, later_s):
    trace = recorded(kind, seed)
    for window in windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)]):
        one, two = analyse(window), analyse(moved(window, later_s))
        # A clock of 4.5 hours resolves 2e-12 s: nothing that analysis could see.
        assert_same(one, two, later_s=later_s, rel=1e-6, clock_s=1e-3, share_of_u=0.1, block_s=0.25)


def moved(window: PullWindow, later_s: float) -> PullWindow:
    trace = window.trace
    flaws = tuple(
        Flaw(
            kind=flaw.kind, start_s=flaw.start_s + later_s, end_s=flaw.end_s + later_s, count=flaw.count,
            sentence=flaw.sentence,
        )
        for flaw in trace.flaws
    )  # fmt: skip
    return PullWindow(
        trace=Trace(time_s=trace.time_s + later_s, force_N=trace.force_N, flaws=flaws),
        start_s=window.start_s + later_s,
        end_s=window.end_s + later_s,
        direction=window.direction,
        cut_start=window.cut_start,
        cut_end=window.cut_end,
    )


@few
@given(kind=kinds, seed=seeds, later_s=st.integers(0, 2**14))
def test_a_recording_on_a_later_clock_holds_the_same_pulls(kind, seed, later_s):
    trace = recorded(kind, seed)
    early, late = as_recorded(kind, seed), read(trace.time_s + later_s, trace.force_N)
    assert len(early) == len(late)
    for one, two in zip(early, late, strict=True):
        assert_same(one, two, later_s=later_s, rel=1e-6, clock_s=1e-3, share_of_u=0.1, block_s=0.25)


@few
@given(seed=seeds, faster=st.floats(0.97, 1.03))
def test_a_clock_a_little_fast_leaves_the_forces_within_their_limits(seed, faster):
    """No exact law: tremor, blocks and settling have lengths in seconds.  Forces have none."""
    trace = recorded("plain", seed)
    for one, two in zip(as_recorded("plain", seed), read(faster * trace.time_s, trace.force_N), strict=True):
        for told, again in (
            (one.breakaway.force, two.breakaway.force),
            (one.plateau.force, two.plateau.force),
        ):
            if told.kind == again.kind == "value":
                assert told.limits[0] <= again.value <= told.limits[1]
