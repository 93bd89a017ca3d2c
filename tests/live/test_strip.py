"""The strip's pyramid against the samples themselves."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.live.strip import COLUMN_S, FACTOR, LEVELS, Strip, _level_for, column_s


def grown(time_s, force_N, cuts=()):
    strip = Strip()
    for t, f in zip(np.split(time_s, cuts), np.split(force_N, cuts), strict=True):
        if t.size:
            strip.append(t, f)
    return strip


def plain(time_s, force_N, from_s, width_s, count):
    """Return least and most of the samples in each column, one column after the other."""
    pairs = np.full((count, 2), np.nan, dtype=np.float32)
    number = np.floor((time_s - from_s) / width_s + 1e-6).astype(int)
    for k in range(count):
        inside = force_N[number == k]
        if inside.size:
            pairs[k] = inside.min(), inside.max()
    return pairs


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 2**32 - 1),
    rate_Hz=st.sampled_from([7.0, 80.0, 1000.0]),
    level=st.integers(0, 5),
    first=st.integers(0, 30),
    cuts=st.lists(st.integers(0, 2000), max_size=8),
)
def test_columns_of_any_level_hold_the_least_and_most_of_their_samples(seed, rate_Hz, level, first, cuts):
    rng = np.random.default_rng(seed)
    time_s = 3.0 + np.arange(2000) / rate_Hz
    force_N = rng.normal(size=2000).astype(np.float32).astype(float)
    strip = grown(time_s, force_N, sorted(cuts))
    width_s = column_s(level)
    from_s = first * width_s
    got = strip.columns(from_s, from_s + 50 * width_s, 50)
    assert np.array_equal(got.pairs, plain(time_s, force_N, from_s, width_s, 50), equal_nan=True)


def test_what_is_returned_by_append_is_what_the_strip_holds():
    rng = np.random.default_rng(1)
    time_s, force_N = np.arange(5000) / 1000, rng.normal(size=5000)
    strip = Strip()
    shown = np.full((500, 2), np.nan, dtype=np.float32)
    for a in range(0, 5000, 37):
        piece = strip.append(time_s[a : a + 37], force_N[a : a + 37])
        at = round(piece.start_s / COLUMN_S)
        shown[at : at + piece.pairs.shape[0]] = piece.pairs
    assert np.array_equal(shown, strip.columns(0.0, 5.0, 500).pairs)


def test_a_silence_is_a_hole_and_hours_of_it_take_no_memory():
    strip = Strip()
    for start_s in (0.0, 30.0, 1.2e5, 9e8):
        strip.append(np.array([start_s, start_s + 0.01]), np.array([1.0, 2.0]))
    held = sum(pairs.nbytes for segment in strip._segments for pairs in segment._levels)
    assert held < 200_000
    assert np.isnan(strip.columns(10.0, 20.0, 10).pairs).all()
    wide = strip.columns(0.0, 2e5, 4).pairs
    assert wide[:, 1].tolist()[0] == 2.0
    assert wide[2, 1] == 2.0
    assert np.isnan(wide[1]).all()


def test_however_much_is_drawn_a_column_is_made_of_a_few_columns_of_its_level():
    for hours in (0.01, 0.5, 6.0, 24.0):
        for count in (10, 333, 1280, 4000):
            width_s = 3600 * hours / count
            level = _level_for(width_s)
            assert level == 0 or width_s / column_s(level) >= 1 - 1e-6
            if level < LEVELS - 1:
                assert width_s / column_s(level) < 8 * FACTOR  # else the level above would have done


def test_the_coarsest_column_is_most_of_an_hour():
    assert column_s(LEVELS - 1) == pytest.approx(COLUMN_S * FACTOR**9)
