"""Free-body view and required / available, over HTTP and in a real browser: scrubbed, typed, keys only, axe."""

import json
import re

import pytest

from web.browser import PHONE, PROJECTOR, axe, expect, opened
from web.served import KEY, served


@pytest.fixture(scope="module")
def bench():
    with served(label="simulated", room=True) as page:
        yield page


def shown(running, bench, screen, load=None, **more):
    page, faults = opened(running, f"http://{bench.host}/#key={KEY}", **more)
    page.wait_for_selector("main.bench")
    page.evaluate("load => localStorage.setItem('pullbench.forces-load', JSON.stringify(load))", load or {})
    page.evaluate("hash => { location.hash = hash }", screen)
    page.wait_for_selector(".fb-pair" if "forces" in screen else ".rq-bars")
    page.wait_for_function("() => [...document.styleSheets].some(s => s.href?.endsWith('next-lesson.css'))")
    return page, faults


def told(page):
    return page.locator(".fb-flag").get_attribute("aria-valuetext")


def moved_from(page, before):
    page.wait_for_function(
        "was => document.querySelector('.fb-flag').getAttribute('aria-valuetext') !== was", arg=before
    )
    page.wait_for_timeout(100)  # the last of several moves is drawn with the next frame


def newtons(text):
    return float(re.search(r"([\d.]+) N", text)[1])


def test_forces_come_as_columns_of_equal_length_with_the_label_and_the_pulls_own_numbers(bench):
    record = bench.get("/pull/1/forces?load_kg=0.85&u_load_kg=0.01")
    count = len(record["time_s"])
    assert all(
        len(record[name]["steps"]) == count
        for name in ("pull", "friction", "slid", "normal", "net", "acceleration")
    )
    assert record["label"] == "simulated"
    card = bench.get("/pull/1")
    assert record["limit"]["whole"] == card["breakaway"]["whole"]
    assert record["kinetic"]["whole"] == card["kinetic"]["whole"]
    assert record["breakaway_s"] == pytest.approx(card["breakaway"]["at_s"])
    assert record["weight"]["value"] == pytest.approx(0.85 * 9.80665)


def test_a_load_typed_without_doubt_has_that_of_its_last_digit(bench):
    weight = bench.get("/pull/1/forces?load_kg=0,85")["weight"]
    half_kg = (weight["high"] - weight["low"]) / 2 / 9.80665
    assert half_kg == pytest.approx(1.96 * 0.005 / 3**0.5)


@pytest.mark.parametrize(
    ("path", "code"),
    [
        ("/pull/1/forces?load_kg=heavy", "number-unreadable"),
        ("/pull/1/forces?load_kg=nan", "number-unreadable"),
        ("/pull/1/forces?load_kg=0", "mass-not-positive"),
        ("/pull/1/forces?load_kg=-1", "mass-not-positive"),
        ("/pull/1/forces?tilt_deg=5", "load-not-said"),
        ("/pull/1/forces?load_kg=1&tilt_deg=90", "angle-impossible"),
        ("/pull/1/forces?load_kg=0.1&string_deg=80", "normal-force-not-positive"),
        ("/pull/1/forces?load_kg=1&rider_kg=2", "rider-impossible"),
        ("/pull/99/forces", "pull-unknown"),
        ("/pull/1/required", "load-not-said"),
        ("/pull/1/required?load_kg=1&scenario=rocket", "scenario-unknown"),
        ("/required?surfaces=cheese+on+toast", "surfaces-unknown"),
        ("/required?surfaces=wood+on+wood&scenario=tilt&most=-3", "slides-up-by-itself"),
        ("/required?surfaces=wood+on+wood&mass_kg=0", "mass-not-positive"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_three_sentences(bench, path, code):
    status, error = bench.refused(path)
    assert 400 <= status < 500
    assert error["code"] == code
    assert all(error[part] for part in ("what", "allowed", "next_step"))


def test_required_takes_the_grip_from_a_pull_or_from_the_handbook(bench):
    own = bench.get("/pull/2/required?load_kg=0.85&scenario=rider")
    assert (own["told"], own["label"]) == ("pull 2", "simulated")
    book = bench.get("/required?surfaces=wood+on+wood&scenario=tilt")
    assert "handbook" in book["told"]
    assert book["label"] is None
    assert "moving vehicle" in book["caution"]
    assert json.dumps(book)


def test_arrow_keys_scrub_and_the_force_follows_up_to_the_break_and_drops_after_it(running, bench):
    page, faults = shown(running, bench, "#forces/1", {"load_kg": "0.85"})
    before = told(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    moved_from(page, before)
    assert newtons(told(page)) > newtons(before)
    page.locator(".fb-flag").focus()
    page.keyboard.press("End")
    page.wait_for_function("() => /rest/.test(document.querySelector('.fb-word').innerText)")
    page.keyboard.press("Home")
    page.get_by_text("Nobody pulls, the string is slack: the sled stays.").wait_for()
    assert page.evaluate("location.hash") == "#forces/1"  # arrows commanded nothing else
    assert not faults


def test_a_mouse_or_a_finger_puts_the_flag_where_it_points(running, bench):
    page, faults = shown(running, bench, "#forces/1", {"load_kg": "0.85"})
    expect(page.locator("[data-force=static]")).to_have_count(2)  # beside the sled, and enlarged
    strip = page.locator(".fb-strip").bounding_box()
    y = strip["y"] + strip["height"] / 2
    page.mouse.move(strip["x"] + 0.3 * strip["width"], y)
    page.mouse.down()
    page.mouse.move(strip["x"] + 0.62 * strip["width"], y, steps=8)
    page.mouse.up()
    page.locator(".fb-word").get_by_text("sliding").wait_for()
    expect(page.locator("[data-force=kinetic]")).to_have_count(2)
    expect(page.locator("[data-force=static]")).to_have_count(0)
    expect(page.locator(".fb-pair")).to_contain_text("±")
    assert not faults


def test_the_drawn_arrow_is_as_long_as_its_number_says(running, bench):
    page, _ = shown(running, bench, "#forces/1", {"load_kg": "0.85"})

    def drawn():
        return page.evaluate(
            """() => { const x = document.querySelector('.fb-pair [data-force=static] path.head').getAttribute('d');
               return parseFloat(x.slice(1)); }"""
        )

    before = told(page)
    long, large = drawn(), newtons(before)
    page.locator(".fb-strip").click(position={"x": 1280 * 0.36, "y": 60})
    moved_from(page, before)
    short, small = drawn(), newtons(told(page))
    assert short / long == pytest.approx(small / large, rel=0.01)


def test_a_load_that_is_typed_gives_weight_and_normal_force(running, bench):
    page, faults = shown(running, bench, "#forces/1")
    expect(page.locator(".fb-diagram")).to_contain_text("not said: type the load")
    page.locator(".fb-load summary").click()
    page.locator("input[name=load_kg]").fill("0.85")
    page.keyboard.press("Enter")
    page.locator(".fb-diagram").get_by_text("weight 8.34 N").wait_for()
    page.reload()  # kept on this machine
    page.evaluate("location.hash = '#forces/1'")
    page.locator(".fb-diagram").get_by_text("weight 8.34 N").wait_for()
    assert not faults


def test_a_rider_is_drawn_alone_and_its_friction_points_forward_as_the_sled_jumps(running, bench):
    page, faults = shown(running, bench, "#forces/1", {"load_kg": "0.85", "rider_kg": "0.3"})
    alone = page.locator(".fb-rider")
    expect(alone).to_contain_text("At rest: no friction on the rider.")
    expect(alone).to_contain_text("sled carries 2.94 N")
    expect(alone).to_contain_text("simulated")
    expect(alone.locator("[data-force=static]")).to_have_count(0)
    body = bench.get("/pull/1/forces?load_kg=0.85&rider_kg=0.3")
    push_N = [step or 0 for step in body["rider"]["steps"]]
    largest = push_N.index(max(push_N))
    assert body["time_s"][largest] > body["breakaway_s"]  # the string springs back
    now = int(page.locator(".fb-flag").get_attribute("aria-valuenow"))
    for _ in range(largest - now):
        page.keyboard.press("ArrowRight")
    expect(alone).to_contain_text("Friction points forward: the rider goes along.")
    assert "rotate(0.00)" in alone.locator("[data-force=static]").get_attribute("transform").replace(
        "-0.00", "0.00"
    )
    page.get_by_role("button", name="sled", exact=True).click()
    expect(page.locator(".fb-pair")).to_contain_text("speeds up")
    expect(alone).to_have_count(0)
    assert not faults


def test_a_lifting_string_is_said_and_the_last_forces_stay(running, bench):
    page, _ = shown(running, bench, "#forces/1", {"load_kg": "0.85"})
    page.locator(".fb-load summary").click()
    page.locator("input[name=load_kg]").fill("0.1")
    page.locator("input[name=string_deg]").fill("80")
    page.keyboard.press("Enter")
    page.get_by_role("alert").get_by_text("lifts the sled").wait_for()
    expect(page.locator(".fb-pair")).to_be_visible()


def test_more_is_asked_until_it_slides_and_the_caution_stays_in_sight(running, bench):
    page, faults = shown(running, bench, "#required", {"load_kg": "0.85"})
    main = page.locator("main")
    expect(main).to_contain_text("simulated")
    slider = page.locator("input[type=range]")
    slider.focus()
    page.keyboard.press("Home")
    main.get_by_text("Friction points forward and takes the rider along.").wait_for()
    page.keyboard.press("End")
    main.get_by_text("the rider is left behind").wait_for()
    expect(page.locator(".rq-margin")).to_contain_text("Missing")
    page.select_option("select >> nth=0", "tilt")
    page.get_by_role("img", name=re.compile("Asked")).wait_for()
    page.get_by_text("angle of the slope").wait_for()
    page.select_option("select >> nth=1", "book")
    page.get_by_text("handbook range for wood on wood").wait_for()
    expect(main).to_contain_text("moving vehicle")
    expect(slider).to_have_attribute("aria-valuetext", re.compile("°"))
    assert not faults


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=["projector", "phone"])
@pytest.mark.parametrize("screen", ["#forces/1", "#required"])
def test_no_screen_is_wider_than_its_window(running, bench, screen, viewport):
    page, faults = shown(running, bench, screen, {"load_kg": "0.85", "tilt_deg": "5"}, viewport=viewport)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert not faults


@pytest.mark.parametrize("room", ["light", "dark"])
def test_neither_screen_has_a_fault_that_axe_finds(running, bench, room):
    source = axe()
    found = []
    for screen in ("#forces/1", "#required"):
        page, faults = shown(running, bench, screen, {"load_kg": "0.85"}, color_scheme=room, bypass_csp=True)
        page.evaluate(source)
        result = page.evaluate(
            "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"
        )
        assert result["passes"], screen
        found += [(screen, one["id"], one["nodes"][0]["target"]) for one in result["violations"]]
        assert not faults
    assert not found


def test_the_load_the_bench_was_told_is_used_and_one_typed_before_is_not():
    with served(label="simulated") as page:
        page.post("/pull/1/setting", {"sled_kg": 0.35, "load_kg": 0.5})
        told = page.get("/pull/1/forces?load_kg=7")
        assert told["said_kg"] == pytest.approx(0.85)
        assert told["load_kg"] == pytest.approx(0.85)
        assert page.get("/pull/1/required?load_kg=7") == page.get("/pull/1/required")
