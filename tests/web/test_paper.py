"""Problem sheets, item bank and sheet review over HTTP: keys, sizes, the same numbers as elsewhere, bad input."""

import csv
import io
import json
import re
import threading
import time
import zipfile
from contextlib import contextmanager

import pytest

from archive import books
from live.benches import demo_pulling
from pullbench.analysis import Conditions
from pullbench.cli import run
from pullbench.errors import PageError
from pullbench.live.lesson import AboutPulls, handbook_lesson, lesson_of_day, lesson_today
from pullbench.physics import STANDARD_GRAVITY_M_S2
from pullbench.teach.problems import ENGLISH, KINDS, versions
from pullbench.teach.set_making import set_versions
from pullbench.web.guard import HEADERS, MOST_BYTES
from pullbench.web.paper import MOST_WAITING, OneAtATime
from pullbench.web.paper_views import MOST_KEPT
from web.served import KEY, empty, served

LOAD = {"load_kg": "0.85", "u_load_kg": "0.01"}
BOOK = {"day": "none", "kinds": ["level-pull"], "seats": "3"}
POSTS = ("choices", "sheets", "sheets/take", "items", "items/take", "review", "review/slips")


@pytest.fixture(scope="module")
def bench():
    with served(label="simulated") as page:
        yield page


def taken(bench, path, **body):
    """Return (headers, bytes) of a file that is taken."""
    status, headers, data = bench.ask(path, method="POST", key=KEY, body=body)
    assert status == 200, data
    return headers, data


def book_problems(kind="level-pull", *, seed=1, seats=3):
    """Return the problems of the handbook's set by seat, made below the page."""
    pair = handbook_lesson("wood on wood").pair
    return [version[0] for version in versions([(KINDS[kind], ENGLISH[kind])], pair, seed, seats)]


@pytest.mark.parametrize("path", POSTS)
def test_only_the_teachers_page_makes_takes_and_reviews(bench, path):
    assert bench.refused(f"/paper/{path}", method="POST", body={})[1]["code"] == "no-key"
    assert bench.refused(f"/paper/{path}", method="POST", body={}, key="another")[1]["code"] == "wrong-key"
    assert bench.refused(f"/paper/{path}", key=KEY)[0] == 405  # nothing about a set is asked by an address


def test_todays_pulls_give_the_coefficients_by_coulombs_law_and_say_so(bench):
    said = bench.post("/paper/sheets", {**LOAD, "floor": "felt"})
    weight_N = 0.85 * STANDARD_GRAVITY_M_S2
    for force, symbol in (("breakaway", "μs"), ("kinetic", "μk")):
        forces_N = [bench.get(f"/pull/{number}")[force]["value"] for number in (1, 2)]
        assert f"{symbol} = {sum(forces_N) / 2 / weight_N:.2f} ± " in said["told"]
    assert "from today's 2 pulls on felt." in said["told"]
    assert said["label"] == "simulated"
    assert "simulated" in said["told"]
    assert said["stands_in"] == ""


def test_pulls_that_are_left_out_or_set_aside_do_not_count():
    with served() as own:
        assert "from today's 1 pull." in own.post("/paper/sheets", {**LOAD, "pulls": "2"})["told"]
        own.post("/pull/1/aside", {"why": "the tin fell off"})
        said = own.post("/paper/sheets", LOAD)
        assert said["pulls"] == [2]
        assert "from today's 1 pull." in said["told"]


def test_the_handbook_stands_in_and_says_why():
    with served(empty()) as none_yet:
        said = none_yet.post("/paper/sheets")
    assert said["stands_in"] == "From the handbook: no usable pull yet today."
    assert (
        "μs = 0.50, μk = 0.30, from the handbook, wood on wood" in said["told"]
    )  # OpenStax's table prints these
    assert said["source"] == "handbook"


def test_pulls_without_a_load_are_told_from_no_pulls(bench):
    said = bench.post("/paper/sheets")
    assert said["stands_in"] == "From the handbook: the load of today's pulls is not said yet."


def test_the_session_and_its_logbook_give_the_same_coefficients(tmp_path):
    about = AboutPulls(conditions=Conditions.of_mass(0.85), floor="felt")
    with books.opened(tmp_path / "day.sqlite") as logbook, served(*demo_pulling(), logbook=logbook) as page:
        now = lesson_today(page.session, about, "wood on wood", samples=True)
        kept = lesson_of_day(logbook, page.session.day, about, "wood on wood", samples=True)
    assert now.lesson.pair == kept.lesson.pair
    assert now.lesson.static == kept.lesson.static
    assert [one.pull.window.trace.time_s.size for one in now.pulls] == [
        one.pull.window.trace.time_s.size for one in kept.pulls
    ]


def test_the_page_makes_the_set_that_the_shell_makes(bench, capsys):
    assert run(["sheets", "--day", "none", "--seed", "7", "--level", "3", "--seats", "4", "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    said = bench.post("/paper/sheets", {"day": "none", "seed": "7", "levels": [3], "seats": "4", "seat": "4"})
    assert said["code"] == record["code"]
    assert [one["kind"] for one in said["problems"]] == [
        one["kind"] for one in record["seats"][3]["problems"]
    ]


def test_what_is_seen_is_what_is_printed(bench):
    body = {**BOOK, "seats": "1", "large_print": True, "comma": True}
    view = bench.post("/paper/sheets", body)["view"]
    _, data = taken(bench, "/paper/sheets/take", **body, what="sheet", form="html")
    assert bench.ask(f"/{view}")[2] == data
    assert b"font: 500 18pt" in data


def test_a_look_at_a_seat_shows_its_sheet_alone(bench):
    view = bench.post("/paper/sheets", {**BOOK, "seat": "3"})["view"]
    page = bench.ask(f"/{view}")[2].decode()
    assert page.count("<article>") == 1
    assert ", seat 3</h1>" in page.replace("\u00a0", " ")


@pytest.mark.parametrize(("what", "name"), [("sheet", "sheets-1"), ("key", "key-1"), ("lab", "lab-20")])
def test_sheets_key_and_lab_are_taken_as_pdf_and_html_under_their_own_name(bench, what, name):
    pytest.importorskip("typst")
    for form, begins in (("pdf", b"%PDF-"), ("html", b"<!doctype html>")):
        headers, data = taken(bench, "/paper/sheets/take", **LOAD, kinds=["level-pull"], what=what, form=form)
        assert data.startswith(begins)
        assert re.search(rf'^attachment; filename="{name}[\w-]*\.{form}"$', headers["content-disposition"])


def test_a_printed_page_may_be_framed_by_this_page_alone_and_runs_nothing(bench):
    view = bench.post("/paper/sheets", BOOK)["view"]
    headers = bench.ask(f"/{view}")[1]
    policy = dict(one.strip().partition(" ")[::2] for one in headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["frame-ancestors"] == "'self'"
    assert policy["sandbox"] == ""  # no scripts, no forms, an origin of its own
    assert not {"script-src", "connect-src", "frame-src"} & set(policy)
    assert headers["x-frame-options"] == "SAMEORIGIN"
    assert headers["cache-control"] == "no-store"
    assert "frame-src 'self'" in HEADERS["content-security-policy"]
    assert bench.ask("/")[1]["x-frame-options"] == "DENY"  # as before, for all else


def test_a_view_is_kept_for_a_little_while_under_a_name_that_cannot_be_guessed(bench):
    views = [bench.post("/paper/sheets", BOOK)["view"] for _ in range(MOST_KEPT + 1)]
    assert len(set(views)) == len(views)
    assert all(len(view.rpartition("/")[2]) >= 22 for view in views)  # 128 bits in base 64
    assert bench.ask(f"/{views[0]}")[0] == 404
    assert bench.ask(f"/{views[-1]}")[0] == 200
    assert bench.refused("/paper/view/x")[1]["code"] == "nothing-there"


def test_what_can_be_chosen_is_told(bench):
    offer = bench.post("/paper/choices")
    assert {one["name"]: one["level"] for one in offer["kinds"]} == {n: k.level for n, k in KINDS.items()}
    assert "wood on wood" in offer["surfaces"]
    assert offer["days"] == []


def test_a_package_its_table_and_its_text_hold_the_items_that_are_told(bench):
    body = {"day": "none", "levels": [2], "variants": "2"}
    count = bench.post("/paper/items", body)["items"]
    _, data = taken(bench, "/paper/items/take", **body)
    names = zipfile.ZipFile(io.BytesIO(data)).namelist()
    assert names[0] == "imsmanifest.xml"
    assert sum(name.startswith("items/") for name in names) == count
    _, table = taken(bench, "/paper/items/take", **body, form="csv")
    assert len(list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"))))) == count
    _, text = taken(bench, "/paper/items/take", **body, form="text")
    assert "Key" in text.decode().splitlines()


def test_an_item_is_shown_with_what_each_answer_is_told(bench):
    said = bench.post("/paper/items", {"day": "none", "kinds": ["level-pull"]})
    page = bench.ask(f"/{said['view']}")[2].decode()
    assert said["name"].startswith("level-pull-1000-")
    assert "What each answer is told" in page
    assert "any other" in page
    wrong = book_problems()[0].parts[0].wrong
    assert wrong
    assert page.count("<tr>") == 1 + 1 + len(wrong) + 1  # heading, right, each wrong one, any other


def test_a_planted_slip_is_named_and_the_right_answer_is_right(bench):
    first, second, _ = book_problems()
    wrong = next(one for one in first.parts[0].wrong if one.value is not None)
    lines = [f"1,1,a,{wrong.value:.3g} N", f"2,1,a,{second.parts[0].answer:.3g} N"]
    answer = bench.post("/paper/review", {**BOOK, "answers": "\n".join(lines)})
    slip, right = answer["review"]["answers"]
    assert (slip["outcome"], slip["idea"]) == ("idea", wrong.idea)
    assert answer["review"]["ideas"] == {wrong.idea: 1}
    assert answer["named"][wrong.idea] in ("idea", "slip")
    assert right["outcome"] == "right"
    assert answer["review"]["state"] == "proposed"


def test_only_what_was_approved_is_handed_back(bench):
    one, two, _ = book_problems()
    lines = f"1,1,a,{one.parts[0].answer:.3g} N\n1,1,b,7\n2,1,a,{two.parts[0].answer:.3g} N\nAnna,1,a,3"
    body = {**BOOK, "answers": lines}
    slips = bench.post("/paper/review/slips", {**body, "approved": [[1, 1, "a"], [2, 1, "a"]]})["slips"]
    assert [re.search(r"seat (\d)", slip)[1] for slip in slips] == ["1", "2"]
    assert "1b" not in "".join(slips)
    assert "Anna" not in "".join(slips)
    refused = bench.refused("/paper/review/slips", method="POST", key=KEY, body=body)
    assert refused[1]["code"] == "review-not-approved"


def test_nothing_that_was_typed_is_found_on_disk(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    typed = "8.7654321 N"
    with books.opened(tmp_path / "day.sqlite") as logbook, served(*demo_pulling(), logbook=logbook) as page:
        body = {**BOOK, "answers": f"1,1,a,{typed}", "approved": [[1, 1, "a"]]}
        assert typed in page.post("/paper/review/slips", body)["slips"][0]
    files = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert files
    assert not [path for path in files if typed.encode() in path.read_bytes()]


@pytest.mark.parametrize(
    ("path", "body", "told"),
    [
        ("sheets", {"seats": "0"}, '"seats" is 0. It must be from 1 to 60. Mend "seats".'),
        ("sheets", {"seats": "61"}, '"seats" is 61. It must be from 1 to 60.'),
        ("sheets", {"seats": "many"}, "\"seats\" is 'many'. It must be a whole number."),
        ("sheets", {"seats": ""}, "\"seats\" is ''. It must be a whole number."),
        ("sheets", {"seed": "1.5"}, "\"seed\" is '1.5'. It must be a whole number."),
        ("sheets", {"seed": "-1"}, '"seed" is -1. It must be from 0 to 999999999.'),
        ("sheets", {"levels": [5]}, '"level" is 5. It must be 1, 2, 3 or 4.'),
        ("sheets", {"kinds": ["banana"]}, "There is no kind 'banana'. Known are "),
        ("sheets", {"kinds": [" "]}, '"kinds" names no kind.'),
        ("sheets", {"load_kg": "heavy"}, "\"load\" is 'heavy'. It must be a plain number, such as 1.35."),
        ("sheets", {"load_kg": "nan"}, "\"load\" is 'nan'. It must be a plain number"),
        ("sheets", {"load_kg": "-1"}, '"load" is -1 kg. It must be above 0 kg'),
        ("sheets", {"load_kg": "1", "u_load_kg": "x"}, "\"plus or minus\" is 'x'."),
        ("sheets", {"load_kg": "1", "string_deg": "90"}, '"string" is 90°. It must lie strictly between'),
        ("sheets", {"pulls": "5-2"}, "\"pulls\" is '5-2'. It must be a list of numbers, such as 1, 2, 5-7."),
        ("sheets", {"pulls": "one"}, "\"pulls\" is 'one'. It must be a list of numbers"),
        ("sheets", {"floor": "felt `x`"}, "\"floor\" is 'felt `x`'. It must have up to 40 plain letters."),
        ("sheets", {"sole": "b" * 41}, '"sole" is '),
        ("sheets", {"day": "none", "surfaces": "cheese on moon"}, "The handbook has no 'cheese on moon'."),
        ("sheets", {"day": "2026-01-01"}, "This session keeps no logbook."),
        ("sheets", {"seat": "2"}, "There is no seat 2. The set has seats 1 to 1."),
        ("sheets", {"day": "none", "show": "lab"}, "There is no pull for a lab sheet."),
        ("items", {"variants": "21"}, '"variants" is 21. On the page it must be from 1 to 20'),
        ("items", {"variants": "0"}, '"variants" is 0. It must be from 1 to'),
        ("items", {"kinds": ["banana"]}, "There is no kind 'banana'."),
        ("items", {"at": 100000}, "There is no item 100001. The package has items 1 to "),
        ("review", {"answers": ""}, "The field holds no answers."),
        (
            "review",
            {"answers": "1,1,a,3", "code": "9ZZ"},
            "The sheets are of set 9ZZ, these choices make set ",
        ),
    ],
)
def test_bad_input_is_one_clear_sentence_in_the_pages_own_words(bench, path, body, told):
    status, error = bench.refused(f"/paper/{path}", method="POST", key=KEY, body=body)
    said = " ".join((error["what"], error["allowed"], error["next_step"]))
    assert said.startswith(told)
    assert 400 <= status < 600
    assert "--" not in said  # the page has no options
    assert all(error[name].strip() for name in ("what", "allowed", "next_step"))


@pytest.mark.parametrize(
    ("path", "body"), [("sheets", {"form": "pdf"}), ("sheets", {"paper": "a5"}), ("items", {"at": "x"})]
)
def test_what_no_page_sends_is_refused(bench, path, body):
    assert bench.refused(f"/paper/{path}", method="POST", key=KEY, body=body)[1]["code"] == "body-unreadable"


def test_answers_beyond_the_size_of_a_class_are_refused_before_they_are_read(bench):
    body = {**BOOK, "answers": "1,1,a,4.2 N\n" * (MOST_BYTES // 12 + 1)}
    status, error = bench.refused("/paper/review", method="POST", key=KEY, body=body)
    assert (status, error["code"]) == (413, "body-too-large")


def test_coefficients_whose_limits_reach_nought_are_refused_in_the_pages_words(bench):
    status, error = bench.refused(
        "/paper/sheets", method="POST", key=KEY, body={"load_kg": "0.85", "u_load_kg": "5"}
    )
    assert (status, error["code"]) == (400, "coefficient-includes-nought")
    assert error["next_step"].endswith("or take the handbook.")


@contextmanager
def busy(desk, count):
    """Keep a desk busy with so many jobs."""
    go = threading.Event()
    jobs = [threading.Thread(target=desk.make, args=(go.wait,)) for _ in range(count)]
    for job in jobs:
        job.start()
    deadline_s = time.monotonic() + 5
    while desk.waiting < count and time.monotonic() < deadline_s:
        time.sleep(0.005)
    try:
        yield
    finally:
        go.set()
        for job in jobs:
            job.join()


def test_a_crowd_at_the_desk_is_told_to_come_later_and_the_next_is_served():
    desk = OneAtATime()
    with busy(desk, MOST_WAITING), pytest.raises(PageError, match="Too many sheets at once"):
        desk.make(lambda: 1)
    assert desk.make(lambda: 1) == 1


def test_a_set_is_made_once_whichever_seat_or_page_of_it_is_looked_at(bench, monkeypatch):
    made = []

    def counted(*asked, **more):
        made.append(asked)
        return set_versions(*asked, **more)

    monkeypatch.setattr("pullbench.web.paper_made.set_versions", counted)
    body = {"day": "none", "seats": "32", "levels": [3], "seed": "12"}
    for more in ({"seat": "1"}, {"seat": "2"}, {"show": "key"}):
        bench.post("/paper/sheets", {**body, **more})
    assert len(made) == 1
    bench.post("/paper/sheets", {**body, "seed": "13"})
    assert len(made) == 2
