"""Required against available: textbook limits, margins with limits, one clear sentence for what cannot be."""

import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
from pullbench.model import Measured
from pullbench.model.required import Grip
from pullbench.physics import coefficient_from_tilt
from pullbench.render.required_svg import margin_text, newtons, required_record, required_svg
from pullbench.teach import handbook_from
from pullbench.teach.required import (
    BETWEEN,
    CAUTION,
    SCENARIOS,
    answer_at,
    check_at,
    forces_at,
    grip_from,
    grip_from_handbook,
    required,
    sentence,
)
from unit.render.fake_pulls import measured

GRIP = Grip(static=(0.30, 0.32, 0.34), kinetic=(0.22, 0.23, 0.24), told="pull 7 of today", label="simulated")
EXACT = Grip(static=(0.5, 0.5, 0.5), kinetic=(0.4, 0.4, 0.4), told="as typed")
few = settings(max_examples=30, deadline=None)
spans = st.tuples(st.floats(0.05, 1.4), st.floats(1.0, 1.3)).map(
    lambda s: (s[0], s[0] * (1 + s[1]) / 2, s[0] * s[1])
)


def grip(static):
    return Grip(static=static, kinetic=None, told="drawn")


def test_a_rider_holds_up_to_the_coefficient_times_g():
    found = required("rider", EXACT, g_m_s2=10.0)
    assert found.largest.limits == pytest.approx((5.0, 5.0))
    assert answer_at(found, 4.99)[0] == "holds"
    assert answer_at(found, 5.01)[0] == "slides"
    assert found.then.value == pytest.approx(4.0)  # left behind, with the kinetic coefficient times g


def test_a_box_slides_where_the_tangent_of_the_slope_is_the_coefficient():
    found = required("tilt", EXACT)
    mu, _ = coefficient_from_tilt(found.largest.value)
    assert mu == pytest.approx(0.5)
    # At that angle the pull of the slope is 0.5 g cos θ and kinetic friction leaves a fifth of it.
    theta = math.atan(0.5)
    assert found.then.value == pytest.approx(9.80665 * math.cos(theta) * 0.1)


def test_a_person_pushes_no_harder_than_the_soles_hold():
    found = required("pusher", EXACT, mass_kg=60.0, g_m_s2=10.0)
    assert found.largest.value == pytest.approx(300.0)
    assert found.then is None


@few
@given(static=spans, mass_kg=st.floats(0.1, 2000), scenario=st.sampled_from(list(SCENARIOS)))
def test_at_the_lower_limit_it_just_holds_and_beyond_the_upper_it_slides(static, mass_kg, scenario):
    found = required(scenario, grip(static), mass_kg=mass_kg)
    low, high = found.largest.limits
    assert answer_at(found, low * (1 - 1e-9))[0] == "holds"
    assert answer_at(found, high * (1 + 1e-9))[0] == "slides"
    if high > 1.001 * low:
        assert answer_at(found, (low + high) / 2)[0] == "cannot tell"


@few
@given(static=spans, factor=st.floats(0.1, 50), share=st.floats(0, 2))
def test_mass_changes_the_forces_but_never_whether_it_slides(static, factor, share):
    light, heavy = (
        required("rider", grip(static), mass_kg=1.0),
        required("rider", grip(static), mass_kg=factor),
    )
    at = share * light.largest.value
    margins = answer_at(light, at)[1].value, answer_at(heavy, at)[1].value
    assert margins[1] == pytest.approx(factor * margins[0], abs=1e-9 * factor)
    assert heavy.largest.value == pytest.approx(light.largest.value)


def test_the_margin_has_the_limits_of_the_coefficient_and_is_asked_for_beyond_the_picture_too():
    found = required("rider", GRIP, mass_kg=1.0, g_m_s2=10.0)
    assert answer_at(found, 2.0)[1].limits == pytest.approx((1.0, 1.4))
    assert answer_at(found, 50.0)[1].limits == pytest.approx((-47.0, -46.6))
    assert forces_at(found, 50.0)[0] == pytest.approx(50.0)


def test_margins_are_told_as_to_spare_missing_or_between():
    found = required("rider", GRIP, mass_kg=1.0, g_m_s2=10.0)
    assert margin_text(answer_at(found, 2.0)[1]) == "To spare: 1.00 N to 1.40 N."
    assert margin_text(answer_at(found, 4.0)[1]) == "Missing: 0.600 N to 1.00 N."
    assert margin_text(answer_at(found, 3.2)[1]) == "Between 0.200 N missing and 0.200 N to spare."
    assert sentence("rider", "cannot tell") == BETWEEN


def test_a_box_does_not_slide_up_by_itself():
    with pytest.raises(ConditionsError) as refused:
        check_at("tilt", -12.0)
    assert refused.value.code == "slides-up-by-itself"
    assert (
        refused.value.what == "At -12° the box would have to slide up the slope by itself: nothing does that."
    )


@pytest.mark.parametrize(
    ("scenario", "at"), [("rider", -1.0), ("tilt", 90.0), ("tyres", math.nan), ("pusher", math.inf)]
)
def test_what_cannot_be_asked_is_refused_with_its_unit(scenario, at):
    with pytest.raises(ConditionsError) as refused:
        required(scenario, GRIP, most=at)
    assert refused.value.code == "asked-impossible"
    assert SCENARIOS[scenario].unit in str(refused.value)


def test_a_mass_of_nought_is_refused():
    with pytest.raises(ConditionsError, match="kg"):
        required("rider", GRIP, mass_kg=0.0)


def test_grip_comes_from_todays_limits_or_the_handbooks_range():
    today = grip_from(
        measured(0.32, 0.01, unit="1"), measured(0.23, 0.01, unit="1"), told="pull 7", label="simulated"
    )
    assert today.static == pytest.approx((0.32 - 0.0196, 0.32, 0.32 + 0.0196))
    book = handbook_from(
        "id,first,second,condition,static_low,static_high,kinetic_low,kinetic_high,source,licence,seen,note\n"
        "a,shoe,wood,,0.8,1.0,0.6,0.8,a test,CC0,yes,\n"
    )
    grip = grip_from_handbook(book.find("shoe on wood"))
    assert grip.static == pytest.approx((0.8, 0.9, 1.0))
    assert "handbook" in grip.told


def test_a_static_coefficient_that_cannot_be_told_gives_no_grip():
    with pytest.raises(ConditionsError, match=r"loaded in 0\.2 s") as refused:
        grip_from(Measured.cannot_tell("loaded in 0.2 s", unit="1"), None, told="pull 3")
    assert refused.value.code == "grip-unknown"


def test_a_handbook_pair_without_a_static_coefficient_gives_no_grip():
    book = handbook_from(
        "id,first,second,condition,static_low,static_high,kinetic_low,kinetic_high,source,licence,seen,note\n"
        "a,ski,snow,,,,0.05,0.1,a test,CC0,yes,\n"
    )
    with pytest.raises(ConditionsError) as refused:
        grip_from_handbook(book.find("ski on snow"))
    assert refused.value.code == "grip-unknown"


@pytest.mark.parametrize("scenario", SCENARIOS)
@pytest.mark.parametrize("room", ["light", "dark", "print"])
def test_every_scenario_is_drawn_with_its_caution_its_source_and_its_label(scenario, room):
    found = required(scenario, GRIP)
    svg = required_svg(found, found.largest.value, room=room)
    text = " ".join(ET.fromstring(svg).itertext())
    assert "simulated" in text
    assert "pull 7 of today" in text
    assert "straps" in CAUTION
    assert "moving vehicle" in text
    assert svg == required_svg(found, found.largest.value, room=room)


def test_both_bars_are_drawn_to_one_scale():
    found = required("rider", GRIP, mass_kg=1.0, g_m_s2=10.0)
    svg = required_svg(found, 1.5, carry_fonts=False)
    bars = [re.findall(r"[\d.]+,[\d.-]+", d)[1] for d in re.findall(r'd="(M0\.0[^"]+Z)"', svg)]
    asked, there = (float(corner.split(",")[0]) for corner in bars)
    assert there / asked == pytest.approx(3.0 / 1.5, rel=1e-3)


def test_the_page_gets_columns_whose_steps_are_the_forces_and_one_answer_each():
    found = required("flatbed", GRIP)
    record = required_record(found)
    asked = np.array(record["required"]["steps"]) * 10.0 ** -record["required"]["decimals"]
    np.testing.assert_allclose(asked, found.required_N, atol=0.51 * 10.0 ** -record["required"]["decimals"])
    assert len(record["answers"]) == len(record["at"]["steps"]) == found.at.size
    assert record["answers"][0] == "holds"
    assert record["answers"][-1] == "slides"
    assert record["caution"] == CAUTION


@pytest.mark.parametrize(
    ("force_N", "text"), [(0.0, "0 N"), (1.234, "1.23 N"), (88.26, "88.3 N"), (12_345.0, "12.3 kN")]
)
def test_newtons_are_written_with_three_figures(force_N, text):
    assert newtons(force_N) == text
