"""What the bench asks and is told."""

import json
import struct
import threading
import time

import numpy as np
import pytest

from live.benches import DAY, FakeClock, demo_pulling, pulling
from pullbench.archive import Logbook
from pullbench.live import COLUMN_S
from web.served import CODE, KEY, empty, served


@pytest.fixture(scope="module")
def bench():
    with served(label="simulated") as bench:
        yield bench


@pytest.fixture
def logbook(tmp_path):
    with Logbook.open(tmp_path / "book.sqlite", now=FakeClock().unix) as book:
        yield book


def until(socket, kind, patience_s=10.0):
    """Return the first message of a kind, and all before it."""
    before, ends_s = [], time.monotonic() + patience_s
    while time.monotonic() < ends_s:
        message = socket.recv(patience_s)
        message = message if isinstance(message, bytes) else json.loads(message)
        if isinstance(message, dict) and message.get("kind") == kind:
            return message, before
        before.append(message)
    raise AssertionError(f"no {kind}")


def test_hello_tells_everything_that_a_page_has_to_know(bench):
    socket, hello = bench.watch(key=KEY)
    socket.close()
    assert hello["kind"] == "hello"
    assert (hello["role"], hello["day"], hello["label"]) == ("teacher", DAY, "simulated")
    assert [pull["number"] for pull in hello["pulls"]] == [1, 2]
    assert hello["on_watch"] is False
    assert hello["check"]["summary"].startswith("Good for pulls above")
    assert hello["join"] is None
    assert hello["seq"] > 0


def test_a_page_without_the_key_is_a_watcher(bench):
    socket, hello = bench.watch()
    socket.close()
    assert hello["role"] == "watcher"


def test_every_number_on_a_card_carries_its_plus_or_minus_or_a_reason_and_its_label(bench):
    socket, hello = bench.watch()
    socket.close()
    for pull in hello["pulls"]:
        assert pull["label"] == "simulated"
        for force in (pull["breakaway"], pull["kinetic"]):
            assert force["plus_minus"] or force["reason"] or "between" in force["whole"]


def test_the_strip_is_binary_and_agrees_with_the_session(bench):
    status, headers, body = bench.ask("/strip?from=4&to=8&columns=400")
    assert (status, headers["content-type"]) == (200, "application/octet-stream")
    start_s, column_s = struct.unpack_from("<dd", body)
    pairs = np.frombuffer(body, "<f4", offset=16).reshape(-1, 2)
    assert (start_s, column_s) == (4.0, pytest.approx(COLUMN_S))
    assert np.array_equal(pairs, bench.session.strip(4.0, 8.0, 400).pairs, equal_nan=True)


@pytest.mark.parametrize(
    "asked", ["from=0&to=1&columns=4001", "from=1&to=0&columns=10", "from=0&to=nan&columns=10",
    "from=0&to=inf&columns=9",
              "to=1&columns=1", "from=a&to=1&columns=1", "from=0&to=1&columns=0", "from=0&to=1&columns=1e300"],
)  # fmt: skip
def test_an_impossible_strip_is_refused(bench, asked):
    status, error = bench.refused(f"/strip?{asked}")
    assert (status, error["code"]) == (400, "strip-impossible")


def test_a_held_up_pull_brings_its_trace_budgets_and_choices(bench):
    sheet = bench.get("/pull/1")
    assert sheet["number"] == 1
    assert len(sheet["trace"]["time_s"]) == len(sheet["trace"]["force_N"]) > 500
    top = max(sheet["trace"]["force_N"])
    assert top == pytest.approx(sheet["breakaway"]["value"], rel=0.1)
    shares = [row["share"] for row in sheet["budgets"]["kinetic"]]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)
    assert sheet["chosen"]
    assert sheet["rest"]["plus_minus"]


def test_a_long_pull_is_thinned_without_losing_its_top(bench):
    from pullbench.live.sheets import MOST_POINTS, thinned

    rng = np.random.default_rng(0)
    force_N = rng.normal(size=100_000)
    kept = thinned(force_N, MOST_POINTS)
    assert kept.size <= MOST_POINTS + 2
    assert (force_N[kept].min(), force_N[kept].max()) == (force_N.min(), force_N.max())
    assert np.all(np.diff(kept) > 0)


def test_a_pull_that_is_not_there_is_refused_with_what_is(bench):
    status, error = bench.refused("/pull/99")
    assert (status, error["code"]) == (404, "pull-unknown")
    assert "1 to 2" in error["allowed"]


def test_a_marker_that_is_moved_moves_the_number_for_all():
    with served() as bench:
        socket, hello = bench.watch(key=KEY)
        own = hello["pulls"][0]
        moved = bench.post("/pull/1/marks", {"breakaway_s": own["breakaway"]["at_s"] - 0.2})
        told, _ = until(socket, "pull")
        assert told["pull"]["breakaway"] == moved["breakaway"] != own["breakaway"]
        assert told["pull"]["marked"] is True
        assert bench.post("/pull/1/unmark")["breakaway"] == own["breakaway"]
        socket.close()


def test_set_aside_and_bring_back_are_told_to_all():
    with served() as bench:
        socket, _ = bench.watch()
        bench.post("/pull/2/aside", {"why": "wrong load"})
        assert until(socket, "pull")[0]["pull"]["aside"] == "wrong load"
        bench.post("/pull/2/back")
        assert until(socket, "pull")[0]["pull"]["aside"] is None
        socket.close()


def test_a_live_bench_sends_strip_states_force_and_pulls_as_they_come():
    go = threading.Event()
    with served(go.wait, *demo_pulling(), wait=False) as bench:
        socket, hello = bench.watch()
        assert hello["pulls"] == []
        go.set()
        down, before = until(socket, "stood down")
        socket.close()
    kinds = {message["kind"] for message in before if isinstance(message, dict)}
    assert {"state", "force", "pull", "check"} <= kinds
    frames = [message for message in before if isinstance(message, bytes)]
    ends_s = [struct.unpack_from("<d", frame)[0] + 0.01 * ((len(frame) - 16) // 8) for frame in frames]
    assert ends_s == sorted(ends_s)
    assert max(ends_s) == pytest.approx(22.79, abs=0.02)  # the recording's last sample
    numbers = [message["seq"] for message in [*before, down] if isinstance(message, dict)]
    assert numbers == sorted(numbers)


def test_one_who_comes_back_is_told_the_states_it_missed_before_what_is_new():
    with served() as bench:
        socket, hello = bench.watch()
        socket.close()
        middle = hello["seq"] // 2
        socket, again = bench.watch(after=middle)
        expected = [(seq, str(one.state)) for seq, one in bench.session.snapshot(middle).missed]
        missed = [json.loads(socket.recv(5)) for _ in expected]
        socket.close()
    assert again["seq"] == hello["seq"]
    assert len(expected) > 2
    assert [(message["seq"], message["state"]) for message in missed] == expected


def test_after_a_restart_an_open_page_finds_the_day_again(logbook):
    with served(logbook=logbook) as bench:
        socket, before = bench.watch(key=KEY)
        socket.close()
    with served(*pulling(1), logbook=logbook) as bench:
        socket, after = bench.watch(after=before["seq"] + 1000, key="the key of the server before")
        refused = json.loads(socket.recv(5))
        socket.close()
    assert [p["breakaway"] for p in after["pulls"][:2]] == [p["breakaway"] for p in before["pulls"]]
    assert len(after["pulls"]) == 3
    assert after["role"] == "watcher"
    assert refused["error"]["code"] == "wrong-key"


def test_days_and_search_find_what_the_logbook_holds(logbook):
    with served(logbook=logbook) as bench:
        bench.post("/pull/2/aside", {"why": "the sled was touched"})
        (day,) = bench.get("/days")["days"]
        assert (day["day"], day["pulls"], day["set_aside"], day["today"]) == (DAY, 2, 1, True)
        assert [pull["number"] for pull in bench.get(f"/days/{DAY}")["pulls"]] == [1, 2]
        (found,) = bench.get("/search?text=touched")["found"]
        assert found["pull"]["number"] == 2
        assert bench.get("/search?text=")["found"] == []


def test_another_day_is_looked_at_but_not_changed(logbook):
    recording = logbook.begin_recording(source="a sensor", label=None, day="2026-11-20")
    logbook.end_recording(recording, "It ended.")
    with served(logbook=logbook) as bench:
        assert bench.get("/days/2026-11-20")["pulls"] == []
        status, error = bench.refused(
            "/pull/1/aside?day=2026-11-20", method="POST", body={"why": "x"}, key=KEY
        )
        assert (status, error["code"]) == (403, "only-today")


def test_standing_down_and_going_on_are_told():
    gate, session_over = threading.Event(), threading.Event()
    beats = [empty()] * 3
    with served(*beats, lambda: gate.wait(10), *beats, lambda: session_over.wait(10), wait=False) as bench:
        socket, hello = bench.watch(key=KEY)
        assert hello["on_watch"] is True
        bench.post("/watch/stand-down")
        assert "stood down" in until(socket, "stood down")[0]["sentence"]
        bench.post("/watch/go")
        assert until(socket, "state")[0]["on_watch"] is True
        gate.set()
        session_over.set()
        socket.close()


def test_the_join_square_says_the_address_and_the_code_and_never_the_key():
    with served(room=True) as bench:
        socket, hello = bench.watch(key=KEY)
        socket.close()
    join = hello["join"]
    assert join["url"] == f"http://192.168.7.5:{bench.port}/"
    assert join["code"] == CODE
    assert join["svg"].startswith("<svg")
    assert KEY not in json.dumps(hello)


def test_a_rehearsal_over_the_socket_ends_with_the_verdict_and_the_truth():
    with served() as bench, bench.socket("/rehearse") as socket:
        socket.send(json.dumps({"go": {"bench": "default"}}))
        assert json.loads(socket.recv(10))["ready"] is True
        for k in range(300):
            socket.send(json.dumps({"x": [[k / 50, 0.006 * max(k / 50 - 0.5, 0.0)]]}))
            time.sleep(0.009)
        socket.send(json.dumps({"let_go": 6.0}))
        told = []
        while "card+" not in (message := json.loads(socket.recv(30))):
            told.append(message)
    assert all(one["label"] == "simulated" for one in [*told, message])
    assert any(one["sliding"] for one in told)
    card, truth = message["card+"], message["truth"]
    assert card["label"] == "simulated"
    assert card["breakaway"]["value"] == pytest.approx(
        truth["static"]["value"], rel=0.1
    )  # a bench drawn by lot


def test_pulls_are_compared_with_limits_and_unknown_ones_are_refused():
    with served(label="simulated") as page:
        told = page.get("/compare?pulls=1%2B2")
        assert [(one["quantity"], one["pull"], one["less"]) for one in told["differences"]] == [
            ("breakaway", 2, 1), ("kinetic", 2, 1),
        ]  # fmt: skip
        cards = {card["number"]: card for card in page.get(f"/days/{page.session.day}")["pulls"]}
        difference = cards[2]["kinetic"]["value"] - cards[1]["kinetic"]["value"]
        assert told["differences"][1]["told"]["value"] == pytest.approx(difference)
        assert page.refused("/compare?pulls=1%2B9")[1]["code"] == "pull-unknown"
        for some in ("", "1", "x%2By", "%2B".join(map(str, range(1, 40)))):
            assert page.refused(f"/compare?pulls={some}")[1]["code"] == "pulls-to-compare"
