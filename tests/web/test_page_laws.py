"""The screens of the laws in a real browser: ladder, surfaces, tilt, prediction; by hand, keys, phones, axe."""

import gzip
import re
import threading
import time
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest

import pullbench.web
from live.benches import chunks_of
from pullbench.physics.bench import demo_day
from pullbench.physics.bench.demo import SLED_KG, TIN_KG
from web.browser import PHONE, axe, expect, go, opened
from web.served import CODE, KEY, served

REST_S = 4.0  # of rest between recordings: longer than a reading waits for its rest after
DAY = demo_day(2026)
LAWS = ("#ladder", "#surfaces", "#tilt", "#prediction", "#slip")
LEAST_UNITS = 22  # of a projector page of 1280 by 720: what the look calls the desk size
WIRE_LIMIT = 250_000


class Lesson:
    """A bench at which the invented day is pulled, one load after the other, when the test says so."""

    def __init__(self, page, recordings, gates):
        self.bench, self._recordings, self._gates, self._pulls = page, list(recordings), list(gates), 0

    def say(self, **setting):
        self.bench.post("/setting", setting)

    def pull(self):
        """Say what lies on the sled, let its pulls happen, and wait until they have been read."""
        truth = self._recordings.pop(0).truth
        self.say(sled_kg=SLED_KG, load_kg=truth.tins * TIN_KG, surface=truth.sole)
        self._gates.pop(0).set()
        self._pulls += len(truth.pulls)
        ends = time.monotonic() + 20
        while len(self.cards()) < self._pulls:
            assert time.monotonic() < ends, "the pulls were not read"
            time.sleep(0.02)

    def cards(self):
        day = self.bench.get("/days")["days"][0]["day"]
        return [one for one in self.bench.get(f"/days/{day}")["pulls"] if not one["provisional"]]


def with_rest(trace):
    """Return a recording's forces with more of its last rest."""
    rate_Hz = (trace.time_s.size - 1) / (trace.time_s[-1] - trace.time_s[0])
    still = trace.force_N[-int(rate_Hz / 2) :]
    return rate_Hz, np.concatenate([trace.force_N, np.tile(still, int(2 * REST_S))])


@contextmanager
def lesson(recordings):
    """Serve these recordings of the invented day; each waits until the test lets it happen."""
    gates, deliveries, begins_s = [], [], 0.0
    for recording in recordings:
        gates.append(threading.Event())
        rate_Hz, force_N = with_rest(recording.trace)
        time_s = begins_s + np.arange(force_N.size) / rate_Hz
        begins_s = time_s[-1] + 1 / rate_Hz
        deliveries += [
            *chunks_of(time_s[:8], force_N[:8], 8),
            gates[-1].wait,
            *chunks_of(time_s[8:], force_N[8:], 20),
        ]
    with served(*deliveries, label="simulated", room=True, wait=False) as page:
        try:
            yield Lesson(page, recordings, gates)
        finally:
            for gate in gates:
                gate.set()


@pytest.fixture(scope="module")
def day():
    """The invented day up to the felt: bare birch with 1, 2 and 4 tins; pull 4 is set aside, pull 8 was jerked."""
    with lesson(DAY[:4]) as ours:
        for _ in range(4):
            ours.pull()
        ours.bench.post("/pull/4/aside", {"why": "wrong load"})
        yield ours


def entered(running, day, screen="#bench", **context):
    """Return the teacher's page at a screen."""
    page, faults = opened(running, f"http://{day.bench.host}/#key={KEY}", **context)
    page.wait_for_selector("main.bench")
    go(page, screen)
    return page, faults


def command(page, text):
    """Type words after "/", as somebody does whose hands are free for a moment."""
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("/")
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def without_a_question(day):
    day.bench.post("/prediction/clear")


def test_before_there_is_enough_the_ladder_says_why_not_and_what_to_do(running):
    with lesson(DAY[:1]) as ours:
        ours.pull()
        page, faults = entered(running, ours, "#ladder")
        said = page.locator(".law-said")
        said.wait_for()
        assert len(said.inner_text()) > 20
        assert not page.locator(".law-svg a").count()
        assert not faults


def test_the_ladder_grows_while_it_is_looked_at(running):
    with lesson(DAY[:3]) as ours:
        page, faults = entered(running, ours, "#ladder")
        for counted, points in (
            (2, 0),
            (5, 10),
            (7, 14),
        ):  # two loads make a line; then a pull has two forces
            ours.pull()
            page.wait_for_function(
                "n => document.querySelector('.counted')?.innerText.includes(`${n} pulls`)", arg=counted
            )
            page.wait_for_function("n => document.querySelectorAll('.law-svg a').length === n", arg=points)
        assert not faults


def test_each_point_of_the_ladder_opens_its_pull_by_click_and_by_keys(running, day):
    page, faults = entered(running, day, "#ladder")
    page.get_by_role("button", name="bare birch").click()
    point = page.locator(".law-svg a[href='#pull/3']").first
    point.wait_for()
    box = point.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.wait_for_function("() => location.hash === '#pull/3'")
    go(page, "#ladder")
    page.get_by_role("button", name="bare birch").click()
    page.wait_for_selector(".law-svg a")
    page.evaluate("document.querySelector('h1').focus()")
    for _ in range(8):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.law-svg a')"):
            break
    first = page.evaluate("document.activeElement.getAttribute('href')")
    page.keyboard.press("ArrowRight")
    second = page.evaluate("document.activeElement.getAttribute('href')")
    assert second != first
    page.keyboard.press("Enter")
    page.wait_for_function("hash => location.hash === hash", arg=second)
    assert not faults


def test_the_ladder_follows_the_bench_until_a_surface_is_pressed_and_again_when_it_is_pressed_anew(running):
    with lesson(DAY[2:6]) as ours:
        ours.pull()
        ours.pull()
        page, faults = entered(running, ours, "#ladder")
        felt = page.locator(".law-choice button[aria-pressed=true]", has_text="felt")
        felt.wait_for()  # the last that was pulled on
        felt.click()
        ours.pull()
        carpet = page.locator(".law-choice button", has_text="rubber-backed carpet")
        carpet.wait_for()
        page.wait_for_timeout(300)
        assert felt.count() == 1
        felt.click()
        page.locator(".law-choice button[aria-pressed=true]", has_text="rubber-backed carpet").wait_for()
        go(page, "#surfaces")  # three of them: one sentence for all, the pairs one press away
        expect(page.locator(".law-said")).to_contain_text("To keep going: ")
        expect(page.locator(".voice.room")).not_to_contain_text("÷")
        page.get_by_role("button", name="each pair").click()
        expect(page.locator(".voice.room")).to_contain_text("felt and rubber-backed carpet")
        assert not faults


def test_both_voices_stand_under_the_ladder_the_rooms_larger(running, day):
    page, _ = entered(running, day, "#ladder")
    page.get_by_role("button", name="bare birch").click()
    page.wait_for_selector(".voice.room p")
    sizes = page.evaluate(
        """() => ['room', 'colleague'].map(who =>
           parseFloat(getComputedStyle(document.querySelector(`.voice.${who} p`)).fontSize))"""
    )
    assert sizes[0] >= 28 > sizes[1] >= LEAST_UNITS
    expect(page.locator(".voice.room")).to_contain_text(re.compile(r"\d\.\d+\sN\s±\s\d"))
    expect(page.locator(".law-foot")).to_contain_text("simulated")


def test_a_pull_left_out_of_the_ladder_is_counted_and_says_why(running, day):
    page, _ = entered(running, day, "#ladder")
    counted = page.locator(".counted")
    counted.get_by_role("link", name="hold up pull 8").wait_for()  # on felt, the last that was pulled on
    page.get_by_role("button", name="bare birch").click()
    counted.get_by_text("pull 4: wrong load", exact=False).wait_for()
    expect(counted).to_contain_text("6 pulls counted")
    expect(counted).to_contain_text("1 pull left out")


def test_the_teacher_says_load_and_surface_by_key_by_words_and_by_fields(running):
    with lesson(DAY[:1]) as ours:
        ours.say(load_kg=0.5, sled_kg=SLED_KG, surface="felt", step_kg=0.5)
        page, faults = entered(running, ours, "#ladder")
        now = page.locator(".setting-now")
        now.get_by_text("0.5 kg on felt", exact=False).wait_for()
        page.keyboard.press("n")
        now.get_by_text("1.0 kg on felt", exact=False).wait_for()
        command(page, "load 1,75")
        now.get_by_text("1.75 kg on felt", exact=False).wait_for()
        command(page, "surface birch")
        now.get_by_text("1.75 kg on birch", exact=False).wait_for()
        now.click()
        page.keyboard.press("Enter")  # what is offered first is the next load
        now.get_by_text("2.25 kg on birch", exact=False).wait_for()
        page.locator("#setting-panel input[name=load]").fill("350 g")
        page.locator("#setting-panel input[name=surface]").fill("felt")
        page.keyboard.press("Enter")
        now.get_by_text("0.35 kg on felt", exact=False).wait_for()
        go(page, "#bench")
        page.locator(".setting-quiet").get_by_text("0.35 kg on felt").wait_for()
        command(page, "load heavy")
        page.get_by_text("is no mass", exact=False).wait_for()
        assert not faults


def test_one_who_only_watches_sees_the_setting_and_cannot_change_it(running, day):
    page, _ = opened(running, f"http://{day.bench.host}/#code={CODE}", viewport=PHONE)
    page.wait_for_selector("main.follow")
    go(page, "#ladder")
    page.locator("p.setting-now").wait_for()
    assert not page.locator("button.setting-now, #setting-panel").count()


def test_surfaces_are_compared_by_either_friction_and_any_margin(running, day):
    page, _ = entered(running, day, "#surfaces")
    page.locator(".law-said").wait_for()
    page.get_by_role("button", name="static").click()
    expect(page.get_by_role("button", name="static")).to_have_attribute("aria-pressed", "true")
    with page.expect_response(lambda answer: "margin=0.1" in answer.url and "quantity=static" in answer.url):
        page.get_by_label("counts as the same within").fill("0,1")
    page.get_by_label("counts as the same within").fill("wide")
    page.get_by_role("alert").wait_for()


def test_a_typed_angle_is_told_beside_the_pull(running, day):
    page, _ = entered(running, day, "#tilt")
    for angle in ("16.7", "16,9", "17.0"):
        page.get_by_label("angle, degrees").fill(angle)
        page.get_by_role("button", name="it slid", exact=True).click()
        page.wait_for_function("() => document.querySelector('.type-angle input').value === ''")
    command(page, "tilt 16 held")
    page.locator(".tilt-readings li").nth(3).wait_for()
    answer = page.locator(".tilt-said .stamped").first
    answer.wait_for()
    expect(answer).to_have_text(re.compile("^(agree|disagree|cannot tell)$"))
    assert page.locator(".tilt-said").get_attribute("aria-live") == "polite"
    page.get_by_role("button", name="leave out: slid at 16.7°").click()
    page.locator(".tilt-readings li.aside").wait_for()
    page.get_by_label("angle, degrees").fill("steep")
    page.get_by_role("button", name="it held").click()
    page.get_by_text("is no angle", exact=False).wait_for()


def slip_on(phone):
    """Set a slip by keys and hand it in; return its text."""
    mark = phone.get_by_role("slider", name="your number")
    mark.focus()
    before = mark.get_attribute("aria-valuenow")
    for _ in range(3):
        phone.keyboard.press("ArrowUp")
    assert float(mark.get_attribute("aria-valuenow")) > float(before)
    phone.get_by_role("button", name="hand it in").click()
    phone.locator(".slip-state").get_by_text("Handed in", exact=False).wait_for()
    return mark.get_attribute("aria-valuetext")


def test_a_class_predicts_by_phone_and_by_hands_then_sees_its_slips_beside_the_outcome(running):
    with lesson(DAY[:1]) as ours:
        page, faults = entered(running, ours)
        page.keyboard.press("p")
        page.get_by_role("button", name="open the question").click()
        phone, broken = opened(running, f"http://{ours.bench.host}/#code={CODE}", viewport=PHONE)
        phone.wait_for_function("() => location.hash === '#slip'")  # who follows is handed the slip
        assert phone.evaluate("document.documentElement.scrollHeight <= innerHeight")
        told = slip_on(phone)
        page.get_by_label("what they called out, in N").fill("1.9 2,4")
        page.get_by_role("button", name="count them in").click()
        command(page, "predict 2.8")
        page.wait_for_function("() => document.querySelector('.count-number').innerText === '4'")
        assert told.removesuffix(" N") not in page.locator("main").inner_text()  # only their number is told
        page.evaluate("document.activeElement.blur()")
        page.keyboard.press("PageDown")  # the clicker: commit
        phone.get_by_text("Committed", exact=False).first.wait_for()
        expect(phone.get_by_role("slider")).to_have_count(0)
        ours.pull()
        page.keyboard.press("PageDown")  # and reveal
        expect(page.locator(".slip-said")).to_have_count(4)
        expect(page.locator(".outcome-word")).to_contain_text(re.compile(r"pull 1: .*±"))
        phone.get_by_text(f"You said {told}", exact=False).wait_for()
        assert not faults
        assert not broken


def test_a_choice_is_made_by_large_buttons_and_counted(running):
    with lesson(DAY[:1]) as ours:
        page, _ = entered(running, ours, "#prediction")
        page.get_by_role("button", name="one of several words").click()
        page.get_by_role("button", name="open the question").click()
        phone, _ = opened(running, f"http://{ours.bench.host}/#code={CODE}", viewport=PHONE)
        choice = phone.get_by_role("button", name="birch")
        choice.wait_for()
        assert choice.bounding_box()["height"] >= 72
        choice.click()
        phone.get_by_text("Handed in", exact=False).wait_for()
        expect(choice).to_have_attribute("aria-pressed", "true")
        page.get_by_label('hands for "felt"').fill("12")
        page.get_by_role("button", name="count them in").click()
        page.wait_for_function("() => document.querySelector('.count-number').innerText === '13'")
        command(page, "commit predictions")
        page.get_by_role("button", name="it was felt").click()
        page.locator(".word-counts li").first.wait_for()
        assert page.locator(".option-count").all_inner_texts()[0].startswith("12")


@pytest.mark.parametrize("room", ["light", "dark"])
def test_no_screen_of_the_laws_has_a_fault_that_axe_finds(running, day, room):
    source = axe()
    page, faults = entered(running, day, color_scheme=room, bypass_csp=True)
    page.evaluate(source)
    found = []

    def look(name):
        page.wait_for_timeout(500)
        result = page.evaluate(
            "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"
        )
        assert result["passes"], name
        found.extend((name, one["id"], one["nodes"][0]["target"]) for one in result["violations"])

    without_a_question(day)
    for screen in LAWS[:-1]:
        go(page, screen)
        look(screen)
    go(page, "#ladder")
    page.locator(".setting-now").click()
    look("the setting's fields")
    day.bench.post("/prediction/open", {"kind": "number", "quantity": "kinetic_N", "question": "How hard?"})
    for screen in ("#prediction", "#slip"):
        go(page, screen)
        look(f"{screen}, open")
    day.bench.post("/prediction/open", {"kind": "which", "question": "Which?", "options": ["felt", "birch"]})
    for screen in ("#prediction", "#slip"):
        go(page, screen)
        look(f"{screen}, a choice")
    without_a_question(day)
    assert not found
    assert not faults


def test_nothing_on_a_projector_is_smaller_than_the_desk_size(running, day):
    page, _ = entered(running, day)
    day.bench.post("/prediction/open", {"kind": "number", "quantity": "kinetic_N", "question": "How hard?"})
    small = []
    for screen in LAWS[:-1]:
        go(page, screen)
        page.wait_for_timeout(600)
        small += page.evaluate(
            """least => [...document.querySelectorAll('main *')].filter(e =>
                 !e.closest('.unseen') && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())).map(e => {
                   const scale = e.ownerSVGElement?.getScreenCTM().a ?? 1;
                   const size = parseFloat(getComputedStyle(e).fontSize) * scale;
                   return [location.hash, e.textContent.slice(0, 30), size]; })
               .filter(([, , size]) => size < least - 0.1)""",
            LEAST_UNITS,
        )
    without_a_question(day)
    assert not small


def test_enlarged_to_200_percent_and_on_a_phone_no_screen_scrolls_sideways(running, day):
    for viewport in ({"width": 640, "height": 360}, PHONE):
        page, _ = entered(running, day, viewport=viewport)
        for screen in (*LAWS[:-1], "#logbook", "#pull/1"):
            go(page, screen)
            page.wait_for_timeout(500)
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (screen, viewport)


def test_the_logbook_on_a_phone_shows_every_number_without_scrolling_sideways(running, day):
    page, _ = entered(running, day, "#logbook", viewport=PHONE)
    page.locator(".pull-rows tbody tr").nth(8).wait_for()
    reach = page.evaluate(
        """Math.max(...[...document.querySelectorAll('.pull-rows td, .pull-rows th')].map(
           e => e.getBoundingClientRect().right))"""
    )
    assert reach <= PHONE["width"]
    assert page.evaluate("(w => w.scrollWidth <= w.clientWidth)(document.querySelector('.rows-wrap'))")


def test_a_caption_stands_in_the_head_and_covers_nothing(running, day):
    page, _ = entered(running, day)
    for screen in ("#ladder", "#pull/1", "#pull/1+2", "#logbook", "#tilt"):
        go(page, screen)
        page.wait_for_timeout(300)
        page.keyboard.press("c")
        caption = page.locator(".ribbon-caption")
        caption.wait_for()
        box = caption.bounding_box()
        ribbon = page.locator(".ribbon").bounding_box()
        assert ribbon["y"] <= box["y"]
        assert box["y"] + box["height"] <= ribbon["y"] + ribbon["height"] + 1, screen
        on_top = page.evaluate(
            """([x, y]) => document.elementFromPoint(x, y).closest('.ribbon') !== null""",
            [box["x"] + 5, box["y"] + box["height"] / 2],
        )
        assert on_top, screen


def test_the_ladder_is_drawn_for_the_room_it_hangs_in(running, day):
    page, _ = entered(running, day, "#ladder", color_scheme="light")
    page.get_by_role("button", name="bare birch").click()
    page.wait_for_selector(".law-svg a")
    light = page.locator(".law-svg").inner_html()
    page.keyboard.press("t")
    page.wait_for_function("was => document.querySelector('.law-svg').innerHTML !== was", arg=light)
    assert "dark-" in page.locator(".law-svg").inner_html()


def test_the_whole_page_stays_light_on_the_wire():
    static = Path(pullbench.web.__file__).parent / "static"
    octets = sum(len(gzip.compress(path.read_bytes())) for path in static.rglob("*") if path.is_file())
    assert octets <= WIRE_LIMIT
