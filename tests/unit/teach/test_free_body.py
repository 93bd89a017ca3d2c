"""The free-body view of a pull, moment by moment: what is said, what is inferred, what cannot be told."""

from dataclasses import replace

import numpy as np
import pytest

from pullbench.analysis import Conditions, analyse
from pullbench.detect import windows
from pullbench.errors import ConditionsError
from pullbench.model import Chunk, Measured
from pullbench.physics.bench import demo_day
from pullbench.render import pull_of_record, pull_record
from pullbench.render.free_body_json import free_body_record, free_body_text
from pullbench.render.scene_svg import scene_svg
from pullbench.teach.free_body import moments
from pullbench.teach.free_body_scene import SENTENCES, described, moment_at, scene_of, sentences
from unit.render.fake_pulls import EVERY, held, jerked, measured, pull

LOAD = Conditions.of_mass(1.0, u_weight_N=0.02)


def at(body, time_s):
    return moment_at(body, time_s)


def said(body, time_s):
    return SENTENCES[int(sentences(body)[at(body, time_s)])]


def arrows(body, time_s, which=0):
    return {one.kind: one for one in scene_of(body, at(body, time_s)).bodies[which].forces}


def test_while_loading_static_friction_is_as_large_as_the_pull_and_grows_towards_its_limit():
    body = moments(pull(), conditions=LOAD)
    early, late = arrows(body, 1.0)["static"], arrows(body, 2.0)["static"]
    assert early.length_N == arrows(body, 1.0)["pull"].length_N
    assert early.length_N < late.length_N < late.limit_N
    assert late.limit_N == pytest.approx(3.12)
    assert late.limit_plus_minus_N == pytest.approx(1.96 * 0.005 * 3.12, rel=1e-6)
    assert late.direction_deg == 180
    assert said(body, 2.0) == "The string pulls, the floor holds just as hard: the sled stays."


def test_after_breakaway_friction_drops_to_the_kinetic_level_and_says_that_this_is_inferred():
    body = moments(pull(), conditions=LOAD)
    after = arrows(body, 3.5)
    assert "static" not in after
    assert after["kinetic"].length_N == pytest.approx(2.24)
    assert after["kinetic"].limit_N is None
    assert after["kinetic"].note
    assert body.friction_N[at(body, 2.09)] > body.friction_N[at(body, 2.12)]


def test_at_rest_the_string_is_slack_and_there_is_no_friction_on_the_level():
    body = moments(pull(), conditions=LOAD)
    assert said(body, 0.2) == "Nobody pulls, the string is slack: the sled stays."
    assert body.friction_N[at(body, 0.2)] < 0.05
    assert "friction points" not in described(body, at(body, 0.2))


def test_on_a_slope_friction_holds_the_sled_uphill_before_anybody_pulls():
    body = moments(pull(), conditions=Conditions(weight_N=9.8, tilt_deg=8.0))
    assert said(body, 0.2) == "Nobody pulls, friction alone holds the sled on the slope."
    before = arrows(body, 0.2)["static"]
    assert before.direction_deg == 0
    assert before.length_N == pytest.approx(9.8 * np.sin(np.radians(8)), abs=0.05)


def test_without_a_load_weight_and_normal_force_are_not_said():
    body = moments(pull())
    assert body.weight is None
    assert np.isnan(body.normal_N).all()
    assert np.isnan(body.acceleration_m_s2).all()
    assert {"weight", "normal"}.isdisjoint(arrows(body, 1.5))
    assert "not said: type the load" in described(body, at(body, 1.5))
    assert np.isfinite(body.net_N[at(body, 3.0)])  # the net force needs no mass, the acceleration does


def test_a_lifting_string_lightens_the_sled_and_lowers_the_static_limit_as_the_pull_grows():
    body = moments(pull(), conditions=Conditions(weight_N=9.8, string_deg=30.0))
    early, late = at(body, 0.8), at(body, 2.05)
    assert body.normal_N[early] > body.normal_N[late]
    assert body.limit_N[early] > body.limit_N[late]
    ratio = body.limit_N / body.normal_N
    assert ratio.max() == pytest.approx(ratio.min(), rel=1e-9)  # one coefficient throughout


def test_after_let_go_nobody_can_tell_the_friction_of_a_sled_that_may_still_slide():
    body = moments(pull(), conditions=LOAD)
    index = at(body, 5.07)
    assert np.isnan(body.friction_N[index])
    assert said(body, 5.07) == "The hand lets go: cannot tell how long the sled still slides."
    assert "The friction cannot be told." in described(body, index)


def test_a_pull_that_never_slid_has_no_wall_of_its_own_and_stays_at_rest_to_the_end():
    body = moments(held(), conditions=LOAD)
    assert {one.motion for one in body.stages} == {"at rest"}
    assert np.isnan(body.limit_N).all()  # a lower bound is no limit
    assert body.static_limit.kind == "lower bound"
    assert np.isfinite(body.friction_N).all()


def test_a_jerked_pull_shows_no_static_limit_and_says_why():
    body = moments(jerked(), conditions=LOAD)
    assert np.isnan(body.limit_N).all()
    assert body.static_limit.reason == "loaded in 0.2 s"
    assert free_body_record(body)["limit"].reason == "loaded in 0.2 s"


def test_a_slide_without_a_level_has_no_friction_to_show():
    body = moments(pull(kinetic=Measured.cannot_tell("it never settled", unit="N")), conditions=LOAD)
    assert said(body, 3.5) == "It slides, but no level settled: friction cannot be told."
    assert np.isnan(body.friction_N[at(body, 3.5)])


def test_a_stick_slip_is_not_split_into_sticks_and_slips():
    body = moments(EVERY["stick-slip"](), conditions=LOAD)
    assert said(body, 3.5) == "It sticks and slips by turns: no single moment tells which."


def test_a_settling_whose_impulse_is_used_up_says_that_it_may_have_stopped():
    # So deep a fall that the sled must have come to rest before the string pulls it on.
    body = moments(pull(kinetic_N=2.24, kinetic=measured(2.9, 0.02)), conditions=LOAD)
    settling = [one for one in body.stages if one.name == "settling"]
    assert [one.motion for one in settling] == ["slides", "cannot tell"]
    assert (
        said(body, settling[1].start_s + 0.05) == "Cannot tell whether it slides or has stopped for a moment."
    )


def test_net_force_within_its_plus_or_minus_is_called_a_steady_speed():
    body = moments(pull(kinetic=measured(2.24, 0.5)), conditions=LOAD)
    assert said(body, 4.0) == "Even, as far as can be told: it slides on at a steady speed."
    assert "net" not in arrows(body, 4.0)


@pytest.mark.parametrize("name", [n for n in EVERY if n not in ("ten thousand a second", "very long")])
def test_every_moment_of_every_pull_can_be_drawn_and_told(name):
    body = moments(
        EVERY[name](), conditions=Conditions(weight_N=10 * float(np.nanmax(moments(EVERY[name]()).pull_N)))
    )
    for share in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0):
        index = round(share * (body.time_s.size - 1))
        assert scene_svg(scene_of(body, index), carry_fonts=False).startswith("<svg")
        assert "±" in free_body_text(body, index)


def test_the_page_gets_whole_steps_that_are_the_numbers_rounded_here():
    body = moments(pull(), conditions=LOAD)
    record = free_body_record(body, offset_s=50.0)
    steps, decimals = record["pull"]["steps"], record["pull"]["decimals"]
    assert decimals >= 2
    np.testing.assert_allclose(np.array(steps) * 10.0**-decimals, body.pull_N, atol=0.5001 * 10.0**-decimals)
    assert record["time_s"][0] == 50.0
    assert record["breakaway_s"] == pytest.approx(52.1)
    assert None in record["friction"]["steps"]
    assert record["acceleration"]["plus_minus"]
    assert len(record["said"]) == len(record["time_s"])


def test_a_string_that_would_lift_the_sled_is_refused():
    with pytest.raises(ConditionsError, match="lifts the sled") as refused:
        moments(pull(), conditions=Conditions(weight_N=1.0, string_deg=60.0))
    assert refused.value.code == "normal-force-not-positive"


@pytest.mark.parametrize(
    ("rider_kg", "conditions"), [(0.4, None), (1.0, LOAD), (-0.1, LOAD), (float("nan"), LOAD)]
)
def test_a_rider_must_be_part_of_the_load(rider_kg, conditions):
    with pytest.raises(ConditionsError) as refused:
        moments(pull(), conditions=conditions, rider_kg=rider_kg)
    assert refused.value.code == "rider-impossible"
    assert "kg" in str(refused.value)


def test_a_pull_out_of_a_record_doubts_its_samples_as_the_pull_itself_does():
    """A record keeps no phases of rest; the samples before and after it show the noise all the same."""
    recording = demo_day(0)[0].trace
    window = next(iter(windows([Chunk(time_s=recording.time_s, force_N=recording.force_N)])))
    pull = analyse(window)
    kept = replace(pull_of_record(pull_record("a.csv", 1, pull)), window=window)
    own, again = (float(np.median(moments(one).pull_half_N)) for one in (pull, kept))
    assert again == pytest.approx(own, rel=0.25)


def test_some_moments_alone_are_those_of_the_whole():
    whole = moments(pull(), conditions=LOAD, rider_kg=0.2)
    kept = np.array([0, 3, whole.time_s.size - 1])
    some = whole.at(kept)
    for name in ("time_s", "friction_N", "net_half_N", "stage", "rider_N"):
        assert np.array_equal(getattr(some, name), getattr(whole, name)[kept], equal_nan=True)
    assert (some.stages, some.static_limit, some.rider_kg) == (whole.stages, whole.static_limit, 0.2)
