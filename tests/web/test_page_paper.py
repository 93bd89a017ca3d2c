"""Problem sheets, item bank and sheet review in a real browser: seen, taken, reviewed, keys only, axe."""

import json
import re
import zipfile

import pytest

from pullbench.live.lesson import handbook_lesson
from pullbench.teach.problems import ENGLISH, KINDS, versions
from web.browser import PHONE, axe, expect, opened
from web.served import CODE, KEY, served

SCREENS = ("sheets", "items", "review")
BOOK = {"day": "none", "kinds": ["level-pull"], "seats": "3"}


@pytest.fixture(scope="module")
def bench():
    with served(label="simulated", room=True) as page:
        yield page


def shown(running, bench, screen, chosen=None, load=None, **more):
    """Open a paper screen as the teacher, with choices that this browser is to have kept."""
    page, faults = opened(running, f"http://{bench.host}/#key={KEY}", **more)
    page.wait_for_selector("main.bench")
    keep = "([name, value]) => localStorage.setItem(name, JSON.stringify(value))"
    page.evaluate(keep, ["pullbench.paper", chosen or {}])
    page.evaluate(keep, ["pullbench.forces-load", load or {}])
    go(page, screen)
    return page, faults


def go(page, screen):
    page.evaluate("hash => { location.hash = hash }", f"#{screen}")
    page.wait_for_selector(f"main.{screen} .pp-body")
    page.wait_for_function("() => [...document.styleSheets].some(s => s.href?.endsWith('paper.css'))")


def frame(page):
    return page.frame_locator(".pp-page iframe")


def heading(page, text):
    frame(page).locator("h1").get_by_text(text).wait_for()


def frame_says(page, text):
    frame(page).locator("body").get_by_text(text).first.wait_for()


def test_a_set_is_made_seen_changed_and_taken(running, bench, tmp_path):
    pytest.importorskip("typst")
    page, faults = shown(running, bench, "sheets", {"floor": "felt", "seats": "3"}, {"load_kg": "0.85"})
    told = page.locator(".pp-told")
    told.get_by_text("from today's 2 pulls on felt.").wait_for()
    expect(told).to_contain_text("simulated")
    heading(page, "seat 1")
    expect(page.locator(".pp-caution")).to_contain_text("fingers and feet clear of the sled")
    expect(page.locator(".pp-caution")).not_to_contain_text("Nothing")
    page.get_by_role("button", name="next seat").click()
    heading(page, "seat 2")
    before = page.locator(".pp-about").inner_text()
    page.locator("[name=level-2]").uncheck()  # the last level stays marked: a set needs one
    page.locator("[name=level-3]").check()
    page.locator("[name=level-2]").uncheck()
    page.wait_for_function("was => document.querySelector('.pp-about').innerText !== was", arg=before)
    page.get_by_role("button", name="key", exact=True).click()
    heading(page, "Key to the friction problems")
    frame_says(page, "level 3")
    page.get_by_role("button", name="lab sheet").click()
    heading(page, "Our own measurement")
    page.get_by_role("button", name="sheet", exact=True).click()
    code = page.locator(".pp-about").inner_text().removeprefix("set ")
    for form, begins in (("PDF", b"%PDF-"), ("HTML", b"<!doctype html>")):
        with page.expect_download() as caught:
            page.get_by_role("button", name=f"take the {form}").click()
        file = tmp_path / caught.value.suggested_filename
        caught.value.save_as(file)
        assert file.name == f"sheets-{code}.{form.lower()}"
        assert file.read_bytes().startswith(begins)
    page.locator(".pp-taken").get_by_text("was taken").wait_for()
    assert KEY not in page.content()
    assert not faults


def test_large_print_and_a_comma_are_seen_at_once_and_kept(running, bench):
    page, faults = shown(running, bench, "sheets", BOOK)
    heading(page, "seat 1")
    page.get_by_label("large print").check()
    page.get_by_label("decimal comma").check()
    frame_says(page, "0,50")
    size = frame(page).locator("body").evaluate("e => parseFloat(getComputedStyle(e).fontSize)")
    assert size == pytest.approx(18 / 72 * 96)  # points to pixels of CSS
    page.reload()
    go(page, "sheets")
    expect(page.get_by_label("large print")).to_be_checked()
    assert not faults


def test_the_frame_runs_nothing_and_asks_for_nothing(running, bench):
    page, faults = shown(running, bench, "sheets", BOOK)
    heading(page, "seat 1")
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.get_by_role("button", name="next seat").click()
    heading(page, "seat 2")
    assert page.locator(".pp-page iframe").get_attribute("sandbox") == ""
    assert (
        page.evaluate("document.querySelector('.pp-page iframe').contentDocument") is None
    )  # another origin
    outside = [url for url in asked if not url.startswith((f"http://{bench.host}/", "data:"))]
    assert not outside
    assert KEY not in " ".join(asked)
    assert not faults


def test_a_wrong_number_is_told_in_one_sentence_and_the_page_goes_on(running, bench):
    page, _ = shown(running, bench, "sheets", BOOK)
    heading(page, "seat 1")
    page.locator("[name=seats]").fill("99")
    page.get_by_role("alert").get_by_text('"seats" is 99. It must be from 1 to 60.').wait_for()
    page.locator("[name=seats]").fill("2")
    page.get_by_role("alert").wait_for(state="detached")


def test_pulls_without_a_load_ask_for_it_and_typing_it_brings_todays_coefficients(running, bench):
    page, faults = shown(running, bench, "sheets", {"kinds": ["level-pull"]})
    told = page.locator(".pp-told")
    told.get_by_text("the load of today's pulls is not said yet").wait_for()
    page.locator("[name=load_kg]").fill("0,85")  # in sight: its drawer opened by itself
    told.get_by_text("from today's 2 pulls").wait_for()
    kept = json.loads(page.evaluate("localStorage.getItem('pullbench.forces-load')"))
    assert kept["load_kg"] == "0,85"  # the free-body view has it too
    assert not faults


def test_an_item_is_seen_with_its_feedback_and_the_package_is_taken(running, bench, tmp_path):
    page, faults = shown(running, bench, "items", {"day": "none", "item_levels": [2], "variants": "2"})
    frame_says(page, "What each answer is told")
    first = page.locator(".pp-step span").inner_text()
    page.get_by_role("button", name="next item").click()
    page.wait_for_function("was => document.querySelector('.pp-step span').innerText !== was", arg=first)
    page.locator("[name=kind]").select_option(label=ENGLISH["work-and-heat"].title)
    heading(page, ENGLISH["work-and-heat"].title)
    for word, ending in (("package", "zip"), ("CSV", "csv"), ("text", "txt")):
        with page.expect_download() as caught:
            page.get_by_role("button", name=f"take the {word}").click()
        file = tmp_path / caught.value.suggested_filename
        caught.value.save_as(file)
        assert file.suffix == f".{ending}"
        assert zipfile.is_zipfile(file) == (ending == "zip")
    assert not faults


def planted():
    """Return typed lines for the handbook's set with a slip in the first, and the slip's name."""
    pair = handbook_lesson("wood on wood").pair
    made = [version[0] for version in versions([(KINDS["level-pull"], ENGLISH["level-pull"])], pair, 1, 3)]
    wrong = next(one for one in made[0].parts[0].wrong if one.value is not None)
    lines = [f"1,1,a,{wrong.value:.3g} N", f"2,1,a,{made[1].parts[0].answer:.3g} N", "3,1,a,quite a lot"]
    return "\n".join([*lines, "Anna,1,a,4 N"]), wrong.idea


def test_a_planted_slip_is_named_and_handed_back_only_when_it_was_approved(running, bench):
    page, faults = shown(running, bench, "review", BOOK)
    lines, idea = planted()
    page.locator("textarea").fill(lines)
    page.get_by_role("button", name="propose a review").click()
    row = page.locator(".rv-rows tr.rv-idea")
    expect(row).to_contain_text(idea)
    counts = page.locator(".rv-ideas")
    expect(counts).to_contain_text(re.compile(rf"1\s*(idea|slip): {re.escape(idea)}"))
    expect(counts).not_to_contain_text(re.compile("seat", re.IGNORECASE))  # counts name nobody
    expect(page.locator(".rv-mend")).to_contain_text("names are not taken")
    back = page.get_by_role("button", name="hand back")
    expect(back).to_be_disabled()
    page.get_by_label("approve seat 1, 1a").check()
    back.click()
    slips = page.locator(".rv-slips article")
    expect(slips).to_have_count(1)
    expect(slips).to_contain_text("seat 1")
    page.get_by_role("button", name="back to the review").click()
    page.get_by_role("button", name="approve all").click()
    page.get_by_role("button", name="hand back").click()
    expect(slips).to_have_count(3)
    page.emulate_media(media="print")
    expect(page.locator("textarea")).to_be_hidden()
    expect(page.locator(".rv-slips")).to_be_visible()
    printed = page.evaluate("document.body.innerText")
    assert "Anna" not in printed
    assert not faults


def test_what_was_typed_stays_in_the_pages_memory_and_nowhere_else(running, bench):
    page, _ = shown(running, bench, "review", BOOK)
    page.locator("textarea").fill("1,1,a,8.7654321 N")
    page.get_by_role("button", name="propose a review").click()
    page.locator(".rv-rows").wait_for()
    go(page, "sheets")
    go(page, "review")
    expect(page.locator("textarea")).to_have_value("1,1,a,8.7654321 N")
    stored = page.evaluate("JSON.stringify([{...localStorage}, {...sessionStorage}])")
    assert "pullbench.paper" in stored
    assert "8.7654321" not in stored
    page.reload()
    go(page, "review")
    expect(page.locator("textarea")).to_have_value("")


def test_a_set_is_made_and_an_answer_reviewed_by_keys_alone(running, bench):
    page, faults = shown(running, bench, "sheets", BOOK)
    heading(page, "seat 1")

    def tab_to(selector, most=60):
        for _ in range(most):
            page.keyboard.press("Tab")
            found = page.evaluate(
                """s => { const e = document.activeElement, o = getComputedStyle(e);
                   return e.matches(s) && [o.outlineStyle !== 'none' && parseFloat(o.outlineWidth) > 0]; }""",
                selector,
            )
            if found:
                assert found[0], selector  # focus is in sight
                return
        pytest.fail(f"{selector} is not reached by Tab")

    page.locator("h1").evaluate("e => e.focus()")
    tab_to("[name=level-3]")
    page.keyboard.press("Space")
    expect(page.locator("[name=level-3]")).to_be_checked()
    tab_to("[name=seed]")
    page.keyboard.press("Control+A")
    page.keyboard.type("5")
    page.wait_for_function("() => /^set 5/.test(document.querySelector('.pp-about').innerText)")
    tab_to(".pp-show button:nth-child(2)")
    page.keyboard.press("Enter")
    heading(page, "Key to the friction problems")
    tab_to(".pp-take button")
    go(page, "review")
    page.locator("h1").evaluate("e => e.focus()")
    tab_to("textarea")
    page.keyboard.type("1,1,a,4.2 N")  # letters are letters here, not commands
    tab_to("form button")
    page.keyboard.press("Enter")
    page.locator(".rv-rows").wait_for()
    tab_to(".rv-rows input")
    page.keyboard.press("Space")
    page.get_by_text("1 of 1 approved").wait_for()
    tab_to(".ribbon")
    page.keyboard.press("Enter")
    page.wait_for_function("() => location.hash === '#bench'")
    assert not faults


def test_one_who_follows_is_told_that_sheets_are_the_teachers(running, bench):
    page, _ = opened(running, f"http://{bench.host}/#code={CODE}", viewport=PHONE)
    page.wait_for_selector("main.follow .state-word")
    for screen in SCREENS:
        page.evaluate("hash => { location.hash = hash }", f"#{screen}")
        page.get_by_text("Only the teacher's page makes and reviews sheets.").wait_for()
        expect(page.locator("main button, main iframe, main textarea")).to_have_count(0)


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 720}, {"width": 1920, "height": 1080}])
def test_no_screen_is_wider_than_its_window_and_no_word_is_too_small(running, bench, viewport):
    page, faults = shown(running, bench, "sheets", BOOK, viewport=viewport)
    least = (
        15 if viewport is PHONE else 22 * viewport["height"] / 720
    )  # LOOK.md: nothing smaller than 22 units
    for screen in SCREENS:
        go(page, screen)
        if screen == "review":
            page.locator("textarea").fill(planted()[0])
            page.get_by_role("button", name="propose a review").click()
            page.locator(".rv-rows").wait_for()
        else:
            page.locator(".pp-page iframe").wait_for()
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), screen
        small = page.evaluate(
            """least => [...document.querySelectorAll('main *')].filter(e => [...e.childNodes].some(
               n => n.nodeType === 3 && n.data.trim()) && e.getClientRects().length
               && parseFloat(getComputedStyle(e).fontSize) < least - .1).map(e => e.outerHTML.slice(0, 80))""",
            least,
        )
        assert not small, screen
    assert not faults


@pytest.mark.parametrize("room", ["light", "dark"])
def test_no_paper_screen_has_a_fault_that_axe_finds(running, bench, room):
    page, faults = shown(
        running, bench, "sheets", {"kinds": ["level-pull"]}, color_scheme=room, bypass_csp=True
    )
    page.evaluate(axe())
    found = []
    for screen in (*SCREENS, "slips"):
        if screen == "slips":
            page.get_by_role("button", name="approve all").click()
            page.get_by_role("button", name="hand back").click()
            page.locator(".rv-slips").wait_for()
        else:
            go(page, screen)
        if screen == "review":
            page.locator("textarea").fill(planted()[0])
            page.get_by_role("button", name="propose a review").click()
            page.locator(".rv-rows").wait_for()
        page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true })")
        page.wait_for_timeout(500)
        result = page.evaluate(
            "axe.run(document, {iframes: false, runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"
        )
        assert result["passes"], screen
        found += [(screen, one["id"], one["nodes"][0]["target"]) for one in result["violations"]]
    assert not found
    assert not faults
