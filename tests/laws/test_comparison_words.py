"""Whatever was pulled, a comparison is told in words, JSON and picture, or refused in one clear sentence."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.analysis import compare, pool_batches
from pullbench.analysis.pooled import Batch
from pullbench.errors import PullbenchError
from pullbench.model import Surface, SurfacePull
from pullbench.render import compare_record, compare_svg, compare_text, pool_record, pool_text

VALUES = st.none() | st.floats(0.01, 3.0) | st.sampled_from([0.3, 0.31])
TIMES = st.none() | st.floats(0.01, 1e4)
PULLS = st.builds(
    SurfacePull, label=st.text(max_size=8), static=VALUES, kinetic=VALUES, u_static=st.floats(0, 0.1),
    u_kinetic=st.floats(0, 0.1), set_aside=st.none() | st.just("jerked"), rested_s=TIMES, loading_s=TIMES,
)  # fmt: skip
NAMES = st.text(min_size=1, max_size=12).filter(str.strip)
SURFACES = st.lists(
    st.builds(Surface, name=NAMES, pulls=st.lists(PULLS, max_size=6).map(tuple)),
    min_size=2, max_size=4, unique_by=lambda surface: surface.name,
)  # fmt: skip
REFUSED = {"no-value", "margin-too-wide"}


@settings(max_examples=150, deadline=None)
@given(surfaces=SURFACES, margin=st.none() | st.floats(0.001, 0.5))
def test_a_comparison_is_told_or_refused(surfaces, margin):
    try:
        told = compare(surfaces, margin=margin)
    except PullbenchError as mistake:
        if mistake.code not in REFUSED:
            raise
        return
    assert "this sled, this string and this wait" in " ".join(compare_text(told).split())
    assert json.loads(compare_record(told))["surfaces"]
    assert compare_svg(told).startswith("<svg")


@settings(max_examples=100, deadline=None)
@given(
    values=st.lists(st.lists(st.floats(0.01, 3.0), max_size=5), max_size=6),
    u=st.sampled_from([0.0, 1e-9, 0.01, 1.0]),
)  # fmt: skip
def test_a_pool_is_always_told(values, u):
    batches = [
        Batch(name=f"day {n}", values=tuple(some), own_u=(u,) * len(some)) for n, some in enumerate(values)
    ]
    told = pool_batches(batches, quantity="static coefficient")
    assert "static coefficient" in pool_text([told])
    assert json.loads(pool_record(told))["quantity"] == "static coefficient"
