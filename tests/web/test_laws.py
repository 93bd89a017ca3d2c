"""What the page asks of a day's laws and is told; and what a class of phones may not do."""

import json
from concurrent.futures import ThreadPoolExecutor

import pytest

from live.benches import DAY, FakeClock
from live.law_days import heights_N, pulls_of
from pullbench.archive import Logbook
from pullbench.web import Doors
from pullbench.web.doors import SLIP_BURST, SLIP_RATE
from web.served import CODE, KEY, served
from web.test_protocol import until

LOADS_KG = [0.5, 0.5, 1.0, 1.0, 1.5, 1.5]
SLIP = {"token": "a-random-token", "value_N": 1.2, "plus_minus_N": 0.3}
NUMBER = {"kind": "number", "question": "How hard?", "quantity": "kinetic_N"}
ORDERS = [
    ("/setting", {"load_kg": 1.0}), ("/pull/1/setting", {"load_kg": 1.0}),
    ("/tilt", {"kind": "slid", "angle_deg": 17.5}), ("/tilt/0/aside", {"why": None}),
    ("/prediction/open", NUMBER), ("/prediction/hands", {"values": [1.0]}), ("/prediction/commit", {}),
    ("/prediction/reveal", {}), ("/prediction/clear", {}),
]  # fmt: skip


@pytest.fixture
def bench():
    with served(*pulls_of(heights_N(LOADS_KG)), label="simulated") as bench:
        yield bench


@pytest.fixture(scope="module")
def quiet():
    """A bench that no test changes."""
    with served(*pulls_of(heights_N([0.5]))) as bench:
        yield bench


def load_all(bench, loads=LOADS_KG, **more):
    for number, kg in enumerate(loads, 1):
        bench.post(f"/pull/{number}/setting", {"load_kg": kg, **more})


def test_hello_tells_setting_prediction_and_tilt(bench):
    bench.post("/setting", {"load_kg": 0.5, "surface": "felt"})
    bench.post("/tilt", {"kind": "slid", "angle_deg": 17.5})
    bench.post("/prediction/open", NUMBER)
    socket, hello = bench.watch()
    socket.close()
    setting = hello["setting"]
    assert (setting["load_kg"], setting["surface"], setting["sled_kg"]) == (0.5, "felt", None)
    assert (hello["prediction"]["state"], hello["prediction"]["count"]) == ("open", 0)
    assert [(one["angle_deg"], one["surface"]) for one in hello["tilt"]] == [(17.5, "felt")]


def test_a_setting_is_told_to_all_and_next_adds_a_step(bench):
    socket, _ = bench.watch()
    told = bench.post("/setting", {"load_kg": 0.5, "sled_kg": 0.35, "surface": " felt "})
    assert told["setting"]["surface"] == "felt"
    assert until(socket, "setting")[0]["setting"] == told["setting"]
    assert bench.post("/setting", {"next": True})["setting"]["load_kg"] == 1.0  # one tin of 0.5 kg
    assert bench.post("/setting", {"step_kg": 0.25, "next": True})["setting"]["load_kg"] == 1.25
    socket.close()


def test_a_corrected_pull_is_told_to_all_with_its_setting(bench):
    socket, _ = bench.watch()
    card = bench.post("/pull/3/setting", {"load_kg": 1.0, "surface": "felt"})
    assert card["setting"] == {"load": "1.00 kg", "surface": "felt", "load_kg": 1.0, "sled_kg": None}
    assert until(socket, "pull")[0]["pull"]["setting"] == card["setting"]
    assert bench.get("/pull/3")["setting"] == card["setting"]
    assert bench.get("/pull/1")["setting"] is None
    socket.close()


def test_the_ladder_comes_drawn_told_and_recorded(bench):
    load_all(bench, sled_kg=0.35, surface="felt")
    bench.post("/pull/2/aside", {"why": "slack string"})
    ladder = bench.get("/ladder?surface=felt&room=dark")
    assert ladder["svg"].startswith("<svg")
    assert 'data-pull="5"' in ladder["svg"]
    assert 'href="#pull/5"' in ladder["svg"]
    assert {"kinetic", "static", "sentence", "statistics", "diagnoses", "set_aside"} <= set(ladder["record"])
    assert ladder["record"]["set_aside"] == 1
    assert ladder["room_sentence"].startswith("Press 1 N harder")
    assert "Weighted lines" in ladder["colleague_sentence"]
    assert (ladder["pulls"], ladder["greyed"]) == ([1, 3, 4, 5, 6], [{"n": 2, "why": "slack string"}])
    assert (ladder["surfaces"], ladder["cannot"]) == (["felt"], None)
    for one in ladder["diagnoses"]:
        assert set(one) == {"name", "sentence", "fix"}


def test_without_loads_the_ladder_says_what_is_missing(bench):
    ladder = bench.get("/ladder")
    assert (ladder["svg"], ladder["record"]) == (None, None)
    assert ladder["cannot"].startswith("6 pulls have no load.")
    assert {one["why"] for one in ladder["greyed"]} == {"its load was not said"}


def test_surfaces_come_side_by_side_with_a_margin(bench):
    for number in range(1, 7):
        surface = "felt" if number % 2 else "birch"
        bench.post(
            f"/pull/{number}/setting", {"load_kg": LOADS_KG[number - 1], "sled_kg": 0.35, "surface": surface}
        )
    pairs = bench.get("/surfaces?quantity=kinetic&margin=0.05")
    assert {one["quantity"] for one in pairs["record"]["surfaces"]} == {"kinetic"}
    assert pairs["record"]["equivalences"][0]["margin"] == 0.05
    assert pairs["surfaces"] == [{"name": "felt", "pulls": [1, 3, 5]}, {"name": "birch", "pulls": [2, 4, 6]}]
    assert pairs["cannot"] is None
    assert pairs["sentence"]
    assert "same within" in pairs["sentence"]


def test_tilt_readings_are_taken_told_left_out_and_brought_back(bench):
    socket, _ = bench.watch()
    bench.post("/tilt", {"kind": "slid", "angle_deg": 17.5, "surface": "felt"})
    bench.post("/tilt", {"kind": "slid", "angle_deg": 16.5, "surface": "felt"})
    tilt = bench.post("/tilt", {"kind": "held", "angle_deg": 15.0, "surface": "felt"})
    assert tilt["record"]["slides_deg"] == [17.5, 16.5]
    assert tilt["svg"].startswith("<svg")
    assert len(until(socket, "tilt")[0]["tilt"]) == 1
    tilt = bench.post("/tilt/0/aside", {"why": "a jolt"})
    assert [one["aside"] for one in tilt["readings"]] == ["a jolt", None, None]
    assert tilt["record"]["slides_deg"] == [16.5]
    assert bench.post("/tilt/0/aside", {"why": None})["record"]["slides_deg"] == [17.5, 16.5]
    assert bench.get("/tilt?surface=felt")["surface"] == "felt"
    socket.close()


def test_a_prediction_goes_from_open_to_revealed_and_hides_the_slips_until_then(bench):
    socket, _ = bench.watch()
    bench.post("/prediction/open", NUMBER)
    assert until(socket, "prediction")[0]["prediction"]["state"] == "open"
    assert bench.post("/prediction/slip", SLIP, key=None) == {"handed_in": True}
    told, _ = until(socket, "prediction")
    assert (told["prediction"]["count"], told["prediction"]["slips"]) == (1, None)
    assert "1.2" not in json.dumps(told)
    bench.post("/prediction/hands", {"values": [0.8, 0.9]})
    committed = bench.post("/prediction/commit")["prediction"]
    assert (committed["state"], committed["count"], committed["slips"]) == ("committed", 3, None)
    assert committed["committed_before_pull"] == 7
    status, error = bench.refused("/prediction/slip", method="POST", body=SLIP)
    assert (status, error["code"]) == (409, "prediction-closed")
    status, error = bench.refused("/prediction/reveal", method="POST", body={}, key=KEY)
    assert (status, error["code"]) == (409, "nothing-to-reveal")
    assert bench.post("/prediction/clear") == {"prediction": None}
    socket.close()
    socket, hello = bench.watch()
    assert hello["prediction"] is None
    socket.close()


def test_hands_for_words_are_counted(bench):
    bench.post("/prediction/open", {"kind": "which", "question": "Which?", "options": ["felt", "birch"]})
    assert bench.post("/prediction/hands", {"felt": 3, "birch": 4})["prediction"]["count"] == 7
    bench.post("/prediction/commit")
    told = bench.post("/prediction/reveal", {"option": "birch"})["prediction"]
    assert told["counts"] == {"felt": 3, "birch": 4}
    assert told["outcome"]["option"] == "birch"


def test_a_restart_finds_the_laws_of_the_day_again(tmp_path):
    with Logbook.open(tmp_path / "book.sqlite", now=FakeClock().unix) as logbook:
        with served(*pulls_of(heights_N(LOADS_KG)), logbook=logbook) as bench:
            load_all(bench, sled_kg=0.35, surface="felt")
            bench.post("/setting", {"load_kg": 2.0, "surface": "felt"})
            before = bench.get("/ladder")
        with served(*pulls_of([]), logbook=logbook) as bench:
            socket, hello = bench.watch()
            socket.close()
            assert bench.get("/ladder") == before
            assert hello["setting"]["load_kg"] == 2.0
            (card, *_) = bench.get(f"/days/{DAY}")["pulls"]
            assert card["setting"]["load_kg"] == 0.5


@pytest.mark.parametrize(("path", "body"), ORDERS)
def test_laws_are_not_changed_without_the_key(quiet, path, body):
    status, error = quiet.refused(path, method="POST", body=body)
    assert (status, error["code"]) == (403, "no-key")


@pytest.mark.parametrize("path", ["/ladder", "/surfaces", "/tilt"])
def test_laws_are_for_the_room_with_its_code_only(path):
    doors = Doors(key=KEY, hosts=frozenset(), clock=FakeClock(), code=CODE)
    with pytest.raises(Exception, match="join code"):
        doors.role("10.0.0.9", None, None)
    with served(*pulls_of([]), room=True) as bench:
        assert bench.ask(path, headers={"X-Join-Code": CODE})[0] == 200


BAD = [
    ("/setting", {"load_kg": -1}, 400, "load-not-positive"),
    ("/setting", {"load_kg": 5e5}, 400, "load-absurd"),
    ("/setting", {"load_kg": "1 kg"}, 400, "body-unreadable"),
    ("/setting", {"mass": 1.0}, 400, "body-unreadable"),
    ("/setting", {"pulls_per_step": 0}, 400, "pulls-per-step-impossible"),
    ("/setting", {"surface": "x" * 61}, 400, "surface-unreadable"),
    ("/pull/99/setting", {"load_kg": 1.0}, 404, "pull-unknown"),
    ("/tilt", {"kind": "slid", "angle_deg": 91}, 400, "tilt-out-of-range"),
    ("/tilt", {"kind": "fell", "angle_deg": 9}, 400, "body-unreadable"),
    ("/tilt", {"kind": "slide", "angle_deg": 20}, 400, "tilt-unclear"),
    ("/tilt/9/aside", {"why": None}, 404, "tilt-unknown"),
    ("/prediction/open", {"kind": "which", "question": "Which?", "options": ["felt"]}, 400, "options-unclear"),
    ("/prediction/open", {"kind": "number", "question": ""}, 400, "question-unreadable"),
    ("/prediction/hands", {"values": [1.0]}, 409, "prediction-closed"),
    ("/prediction/hands", {}, 400, "body-unreadable"),
    ("/prediction/hands", {"felt": [1.0]}, 400, "body-unreadable"),
    ("/prediction/commit", {}, 409, "prediction-closed"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "body", "status", "code"), BAD)
def test_a_bad_order_is_refused_in_one_sentence(quiet, path, body, status, code):
    got, error = quiet.refused(path, method="POST", body=body, key=KEY)
    assert (got, error["code"]) == (status, code)
    assert all(error[part] for part in ("what", "allowed", "next_step"))


@pytest.mark.parametrize(("path", "code"), [
    ("/ladder?surface=ice", "surface-unknown"), ("/tilt?surface=ice", "surface-unknown"),
    ("/surfaces?quantity=rolling", "quantity-unknown"), ("/surfaces?margin=-1", "margin-not-positive"),
    ("/surfaces?margin=nan", "margin-not-positive"), ("/surfaces?margin=x", "margin-not-positive"),
])  # fmt: skip
def test_a_question_that_cannot_be_answered_is_refused(quiet, path, code):
    status, error = quiet.refused(path)
    assert (status, error["code"]) == (400, code)


def test_a_slip_from_outside_needs_the_code_and_a_follower_may_hand_in(bench):
    bench.post("/prediction/open", NUMBER)
    assert bench.post("/prediction/slip", SLIP, key=None)["handed_in"] is True
    doors = bench.bench.doors
    with pytest.raises(Exception, match="join code"):
        doors.role("10.0.0.9", None, None)


@pytest.mark.parametrize("slip", [
    {"token": "a-random-token", "value_N": -1}, {"token": "a-random-token", "value_N": 1e9},
    {"token": "a-random-token"}, {"token": "x", "value_N": 1}, {"token": "a" * 65, "value_N": 1}, {"value_N": 1},
    {"token": "a-random-token", "option": "felt"}, {"token": "a-random-token", "value_N": 1, "name": "Ada"},
    {"token": "a-random-token", "value_N": 1, "plus_minus_N": -1}, {"token": 5, "value_N": 1},
])  # fmt: skip
def test_a_slip_of_another_shape_is_refused(bench, slip):
    bench.post("/prediction/open", NUMBER)
    assert bench.refused("/prediction/slip", method="POST", body=slip)[0] == 400
    socket, hello = bench.watch()
    socket.close()
    assert hello["prediction"]["count"] == 0


def test_a_slip_that_is_too_large_is_refused(bench):
    bench.post("/prediction/open", NUMBER)
    big = json.dumps({**SLIP, "token": "a" * 100_000}).encode()
    status, error = bench.refused("/prediction/slip", method="POST", body=big)
    assert (status, error["code"]) == (413, "body-too-large")


def test_slips_without_end_are_bounded_in_number(bench):
    bench.post("/prediction/open", NUMBER)

    def hand_in(k):
        return bench.ask("/prediction/slip", method="POST", body={"token": f"token-{k:05d}", "value_N": 1.0})[
            0
        ]

    with ThreadPoolExecutor(8) as pool:
        statuses = list(pool.map(hand_in, range(330)))
    assert sorted(set(statuses)) == [200, 429]
    assert statuses.count(200) == 300


def test_slips_from_one_address_are_slowed_and_others_are_not():
    clock = FakeClock()
    doors = Doors(key=KEY, hosts=frozenset(), clock=clock, code=CODE)
    assert all(doors.admits_slip("10.0.0.9") for _ in range(int(SLIP_BURST)))
    assert not doors.admits_slip("10.0.0.9")
    assert doors.admits_slip("10.0.0.8")
    clock.now_s += 1.5 / SLIP_RATE
    assert doors.admits_slip("10.0.0.9")
    assert not doors.admits_slip("10.0.0.9")


def test_nothing_that_is_told_holds_a_token(bench):
    socket, _ = bench.watch(key=KEY)
    bench.post("/prediction/open", NUMBER)
    told = [until(socket, "prediction")[0]]
    bench.post("/prediction/slip", {**SLIP, "token": "a-very-special-token"}, key=None)
    told += [until(socket, "prediction")[0]]
    told += [bench.post("/prediction/commit")]
    socket.close()
    socket, hello = bench.watch(key=KEY)
    socket.close()
    assert "a-very-special-token" not in json.dumps([told, hello])
