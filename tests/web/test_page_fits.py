"""Words and numbers of the page have room: nothing lies over anything, whatever is said."""

import pytest

from web.browser import PHONE, expect, go, opened, watching

SAID = """([word, number]) => {
  const place = document.querySelector(".state-place");
  place.style.setProperty("--letters", word.length);
  place.querySelector("span").textContent = word;
  const digits = [...number].map((sign) => `<span class="${/\\d/.test(sign) ? "digit" : "point"}">${sign}</span>`);
  document.querySelector(".hand-number").innerHTML = digits.join("");
  const box = (of) => {
    const r = document.querySelector(of).getBoundingClientRect();
    return [r.left, r.top, r.right, r.bottom];
  };
  return [box(".state-place span"), box(".hand-number"), box(".hand-sure"), [0, 0, innerWidth, innerHeight]];
}"""
SIZES = [(1280, 720), (1920, 1080), (1024, 768), (390, 844)]
STATES = ["quiet", "loading", "breakaway", "settling", "sliding", "stick-slip", "let go", "stood down"]


@pytest.fixture(scope="module")
def url(tmp_path_factory):
    """The address of a watch at the virtual bench, with its first pulls told."""
    with watching(tmp_path_factory.mktemp("fits"), "--speed", "8") as (_, address):
        yield address


def entered(running, url, screen="#bench", **context):
    page, faults = opened(running, url, **context)
    page.wait_for_selector("main.bench")
    page.locator(".slip").nth(1).wait_for(state="attached")
    go(page, screen)
    return page, faults


def apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("screen", ["#bench", "#rehearsal", "#follow"])
def test_state_force_and_its_plus_or_minus_never_lie_over_each_other(running, url, screen):
    page, _ = entered(running, url, screen)
    page.locator(".hand-number").wait_for()
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        for word in STATES:
            for number in ("2.81", "6.574", "−6.574", "12.12"):
                state, force, sure, window = page.evaluate(SAID, [word, number])
                said = (width, word, number)
                assert apart(state, force), said
                assert apart(state, sure), said
                assert apart(force, sure), said
                assert state[0] >= 0, said
                assert max(force[2], sure[2]) <= window[2] + 0.5, said


def test_the_grip_of_the_last_pull_is_asked_of_one_that_has_a_sheet(running, url):
    page, _ = entered(running, url)
    asked = """async (pulls) => (await import("/static/required-screen.js")).lastWithGrip(pulls)"""
    told = {"provisional": False, "breakaway": {"kind": "value"}, "aside": None}
    pulls = [
        {**told, "number": 1}, {**told, "number": 2}, {**told, "number": 3, "breakaway": {"kind": "lower bound"}},
        {**told, "number": 4, "aside": "a tin fell off"}, {**told, "number": 5, "provisional": True},
    ]  # fmt: skip
    assert page.evaluate(asked, pulls) == 2
    assert page.evaluate(asked, pulls[4:]) is None


def test_the_tilts_ruler_and_compared_pulls_fit_a_phone(running, url):
    page, _ = entered(running, url, "#tilt", viewport=PHONE)
    page.get_by_label("angle, degrees").fill("20.8")
    page.get_by_role("button", name="it slid", exact=True).click()
    page.locator(".law-svg text").first.wait_for()
    words = """(() => { const box = e => e.getBoundingClientRect(), paper = box(document.querySelector('.law-svg'));
               return [...document.querySelectorAll('.law-svg text')].map(box)
                 .filter(r => r.top >= paper.top && r.bottom <= paper.bottom).map(r => [r.left, r.right]); })()"""
    drawn = page.evaluate(words)
    assert len(drawn) >= 3  # the row's words and the ruler's numbers
    assert all(left >= 0 and right <= PHONE["width"] for left, right in drawn)
    expect(page.locator(".law-svg")).to_contain_text("static, by tilt")
    go(page, "#pull/1+2")
    page.locator(".compared li").nth(1).wait_for()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
