"""The page in a real browser: a lesson, marks, a rehearsal, phones, a restarted server, keys only, axe."""

import re

import pytest

from web.browser import PHONE, axe, expect, go, opened, watching
from web.served import CODE, KEY, served

SCREENS = ("#bench", "#check", "#pull/1", "#pull/1+2", "#rehearsal", "#logbook", "#help", "#join", "#follow")
NUMBER = re.compile(r"(\d+\.\d+) N")


@pytest.fixture(scope="module")
def bench():
    with served(label="simulated", room=True) as page:
        yield page


def address(bench, screen="#bench", key=KEY):
    return f"http://{bench.host}/{screen}" if key is None else f"http://{bench.host}/#key={key}"


def test_a_whole_lesson_from_bench_check_to_a_pull_held_up(running, tmp_path):
    with watching(tmp_path, "--speed", "8") as (_, url):
        page, faults = opened(running, url)
        page.wait_for_selector("main.bench")
        assert "#key" not in page.url  # the key does not stay where it could be copied
        page.keyboard.press("k")
        page.get_by_text("Good for pulls above", exact=False).first.wait_for()
        page.keyboard.press("Escape")
        page.locator(".verdict").get_by_text("usable").first.wait_for()
        expect(page.locator(".verdict")).to_contain_text("simulated")
        page.keyboard.press("1")
        page.wait_for_selector("main.pull-sheet")
        expect(page.locator("main.pull-sheet")).to_contain_text("simulated")
        page.wait_for_function("() => /on watch/.test(document.body.innerText)")  # looking stops nothing
        assert not faults


def test_a_mark_moved_by_mouse_or_keys_moves_the_number_and_can_be_taken_back(running, bench):
    page, faults = opened(running, address(bench))
    page.wait_for_selector("main.bench")
    page.keyboard.press("1")
    flag = page.locator("[data-flag=breakaway]")
    flag.wait_for()

    def told():
        return bench.get("/pull/1")["breakaway"]["value"]

    own = told()
    box = flag.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] - 30, box["y"] + box["height"] / 2, steps=6)
    page.mouse.up()
    page.get_by_text("marked by hand", exact=False).first.wait_for()
    dragged = told()
    assert dragged < own  # earlier on a ramp is lower
    with page.expect_response("**/pull/1/marks"):
        flag.focus()
        page.keyboard.press("ArrowLeft")
    assert told() <= dragged
    with page.expect_response("**/pull/1/unmark"):
        page.keyboard.press("u")
    assert told() == own
    assert not faults


def test_a_rehearsal_by_mouse_gives_a_verdict_that_says_simulated(running, bench):
    page, faults = opened(running, address(bench))
    page.wait_for_selector("main.bench")
    page.keyboard.press("r")
    handle = page.locator(".handle")
    handle.wait_for()
    page.wait_for_timeout(1200)  # of rest, as a real pull has
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(140):
        page.mouse.move(x + 1.2 * step, y)
        page.wait_for_timeout(25)
    page.mouse.up()
    verdict = page.locator(".verdict")
    page.wait_for_function(
        "() => /usable|pull again/.test(document.querySelector('.verdict')?.innerText ?? '')"
    )
    expect(page.locator("main")).to_contain_text("simulated")
    assert verdict.get_attribute("aria-live") == "polite" or page.locator("[aria-live=polite]").count()
    assert not faults


def test_a_rehearsal_by_finger_gives_a_verdict_too(running, bench):
    page, faults = opened(running, address(bench), viewport=PHONE, has_touch=True)
    page.wait_for_selector("main.bench")
    go(page, "#rehearsal")
    handle = page.locator(".handle")
    handle.wait_for()
    page.wait_for_timeout(1200)
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = page.context.new_cdp_session(page)

    def touch(kind, *points):
        finger.send(
            "Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": a, "y": b} for a, b in points]}
        )

    touch("touchStart", (x, y))
    for step in range(140):
        touch("touchMove", (x + 1.6 * step, y))
        page.wait_for_timeout(20)
    touch("touchEnd")
    page.wait_for_function(
        "() => /usable|pull again/.test(document.querySelector('.verdict')?.innerText ?? '')"
    )
    assert page.evaluate("scrollX") == 0  # the finger pulled the sled, not the page
    assert not faults


def test_a_phone_joins_by_its_code_follows_and_cannot_change_the_day(running, bench):
    page, _ = opened(running, f"http://{bench.host}/#code={CODE}", viewport=PHONE)
    page.wait_for_selector("main.follow .state-word")
    assert CODE not in page.url
    expect(page.locator("main.follow")).to_contain_text("simulated")
    assert not page.locator("main.follow button").count()
    refused = page.evaluate(
        """async () => (await fetch("/pull/1/aside", {method: "POST", body: '{"why":"fun"}',
           headers: {"Content-Type": "application/json"}})).status"""
    )
    assert refused == 403
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_page_left_open_over_a_killed_server_comes_back_and_misses_nothing(running, tmp_path):
    with watching(tmp_path, "--speed", "8") as (process, url):
        port = int(re.search(r":(\d+)/", url)[1])
        page, _ = opened(running, url)
        page.locator(".slip, .slips a").first.wait_for()
        process.kill()
        process.wait()
        page.wait_for_function("() => document.querySelector('.verdict').innerText.includes('again')")
    with watching(tmp_path, "--speed", "8", port=port) as (_, url):
        page.wait_for_function("() => document.querySelectorAll('.slips a').length >= 2", timeout=40_000)
        page.wait_for_function("async () => (await (await fetch('/days')).json()).days[0].pulls >= 2")
        before = page.evaluate(
            """async () => { const f = new Float32Array((await (await fetch(
               '/strip?from=0&to=20.48&columns=512')).arrayBuffer()).slice(16));
               return f.filter(x => !Number.isNaN(x)).length; }"""
        )
        assert before > 500  # the strip from before the kill is there


def test_everything_can_be_reached_by_keys_with_focus_in_sight(running, bench):
    page, faults = opened(running, address(bench))
    page.wait_for_selector("main.bench")
    seen = set()
    for _ in range(12):
        page.keyboard.press("Tab")
        where = page.evaluate(
            """() => { const e = document.activeElement, s = getComputedStyle(e);
               const seen = s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) > 0;
               return [e.tagName, e.innerText?.slice(0, 20), seen]; }"""
        )
        if where[0] not in ("BODY", "HTML"):
            seen.add(tuple(where[:2]))
            assert where[2], where
    assert len(seen) >= 3
    for key, screen in (
        ("k", "#check"),
        ("r", "#rehearsal"),
        ("l", "#logbook"),
        ("?", "#help"),
        ("1", "#pull/1"),
    ):
        page.keyboard.press(key)
        page.wait_for_function("hash => location.hash === hash", arg=screen)
    page.keyboard.press("Escape")
    page.keyboard.press("/")
    page.keyboard.type("hold up pull 2")
    page.keyboard.press("Enter")
    page.wait_for_function("() => location.hash === '#pull/2'")
    assert not faults


@pytest.mark.parametrize("room", ["light", "dark"])
def test_no_screen_has_a_fault_that_axe_finds(running, bench, room):
    source = axe()
    page, faults = opened(running, address(bench), color_scheme=room, bypass_csp=True)
    page.wait_for_selector("main.bench")
    page.evaluate(source)
    found = []
    for screen in SCREENS:
        go(page, screen)
        page.wait_for_timeout(400)
        result = page.evaluate(
            "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"
        )
        assert result["passes"], screen
        found += [(screen, one["id"], one["nodes"][0]["target"]) for one in result["violations"]]
    assert not found
    assert not faults


def test_nothing_is_asked_of_anywhere_else_and_the_page_is_light(running, bench):
    page = running.new_context(viewport={"width": 1280, "height": 720}).new_page()
    asked = []
    page.on("response", lambda response: asked.append(response.url))
    page.goto(address(bench))
    page.wait_for_selector("main.bench .verdict")
    page.wait_for_load_state("networkidle")
    assert {url.split("/")[2] for url in asked} == {bench.host}
    octets = page.evaluate(
        """() => [...performance.getEntriesByType('resource'), ...performance.getEntriesByType('navigation')]
           .map(e => e.transferSize).reduce((a, b) => a + b)"""
    )
    assert 20_000 < octets <= 250_000


def test_the_force_is_a_hand_high_and_the_verdict_is_told_politely(running, bench):
    page, _ = opened(running, address(bench))
    page.wait_for_selector("main.bench .verdict")
    assert page.locator(".verdict").get_attribute("aria-live") == "polite"
    size = page.evaluate(
        """() => Math.max(...[...document.querySelectorAll('.now *')].map(
           e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    assert size >= 0.08 * 720


def test_with_reduced_motion_the_paper_steps_instead_of_gliding(running, bench):
    page, faults = opened(running, address(bench), reduced_motion="reduce")
    page.wait_for_selector("main.bench")
    moving = page.evaluate(
        """() => document.getAnimations().filter(
           a => a.playState === 'running' && a.effect.getTiming().duration > 10).length"""
    )
    assert moving == 0
    assert not faults
