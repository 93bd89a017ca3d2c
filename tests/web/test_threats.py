"""Each line of the threat model in docs/security.md, tried."""

import json
import re
import socket as sockets
import threading
import time
from contextlib import suppress
from pathlib import Path

import pytest
from websockets.exceptions import ConnectionClosed, InvalidStatus

from live.benches import FakeClock, demo_pulling
from pullbench.errors import PageError
from pullbench.live.pull_desk import PullDesk
from pullbench.web import Doors
from pullbench.web.doors import BURST, MOST_WRONG, WRONG_S
from pullbench.web.guard import HEADERS, MOST_BYTES
from pullbench.web.join import ALPHABET, LENGTH, new_code, new_key
from pullbench.web.serving import LOOK_S, MOST_CONNECTIONS, MOST_MESSAGE_BYTES
from web.served import CODE, KEY, served

DOCS = Path(__file__).parents[2] / "docs" / "security.md"
CHANGES = [
    ("/pull/1/aside", {"why": "x"}), ("/pull/1/back", {}), ("/pull/1/marks", {"breakaway_s": 5.0}),
    ("/pull/1/unmark", {}),
    ("/watch/stand-down", {}), ("/watch/go", {}), ("/null", {}), ("/masses", {"hung": []}),
]  # fmt: skip


@pytest.fixture(scope="module")
def bench():
    with served() as bench:
        yield bench


def drained(socket):
    """Take what comes until the socket is closed."""
    while True:
        socket.recv(5)


def chattered(socket):
    """Talk on, then take what comes."""
    for _ in range(200):
        socket.send("{}")
        time.sleep(0.001)
    drained(socket)


@pytest.mark.parametrize(("path", "body"), CHANGES)
def test_nothing_is_changed_without_the_key(bench, path, body):
    status, error = bench.refused(path, method="POST", body=body)
    assert (status, error["code"]) == (403, "no-key")


@pytest.mark.parametrize(("path", "body"), CHANGES)
def test_nothing_is_changed_with_a_wrong_key(path, body):
    with served() as bench:
        status, error = bench.refused(path, method="POST", body=body, key="guess")
    assert (status, error["code"]) == (403, "wrong-key")


def test_keys_cannot_be_guessed_at_speed():
    clock = FakeClock()
    doors = Doors(key=KEY, hosts=frozenset(), clock=clock, code=CODE)
    for k in range(MOST_WRONG):
        assert doors.role("10.0.0.9", f"guess {k}", CODE) == ("watcher", True)
    with pytest.raises(PageError, match="Too many"):
        doors.role("10.0.0.9", KEY, CODE)  # even the right one waits now
    assert doors.role("10.0.0.8", KEY, None) == ("teacher", False)  # others are not locked out by it
    clock.now_s += WRONG_S + 1
    assert doors.role("10.0.0.9", KEY, None) == ("teacher", False)


def test_the_room_is_let_in_by_code_only_and_loopback_without():
    doors = Doors(key=KEY, hosts=frozenset(), clock=FakeClock(), code=CODE)
    for code in (None, "", "WRONG2"):
        with pytest.raises(PageError, match="join code"):
            doors.role("10.0.0.9", None, code)
    assert doors.role("10.0.0.9", None, f" {CODE.lower()} ") == ("watcher", False)
    assert doors.role("127.0.0.1", None, None) == ("watcher", False)
    closed = Doors(key=KEY, hosts=frozenset(), clock=FakeClock())
    with pytest.raises(PageError):
        closed.role("10.0.0.9", None, "")


def test_keys_and_codes_are_random_and_long_enough():
    assert len({new_key() for _ in range(1000)}) == 1000
    assert len(new_key()) >= 22  # 128 bits in base 64
    assert len(ALPHABET) ** LENGTH > 5e8
    assert all(set(new_code()) <= set(ALPHABET) for _ in range(100))


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "", "localhost.evil.example:{port}"],
)
def test_a_foreign_host_is_refused(bench, host):
    status, error = bench.refused("/", host=host.replace("{port}", str(bench.port)) or " ")
    assert (status, error["code"]) == (403, "wrong-host")


def test_two_hosts_in_one_request_are_refused(bench):
    with sockets.create_connection(("127.0.0.1", bench.port)) as raw:
        raw.sendall(f"GET / HTTP/1.1\r\nHost: {bench.host}\r\nHost: evil.example\r\n\r\n".encode())
        assert raw.recv(4096).split(b" ")[1] in (b"400", b"403")


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "https://127.0.0.1:{port}", "null", "http://127.0.0.1:1"]
)
def test_another_pages_origin_is_refused_on_requests_and_sockets(bench, origin):
    origin = origin.replace("{port}", str(bench.port))
    status, error = bench.refused("/null", method="POST", body={}, key=KEY, headers={"Origin": origin})
    assert (status, error["code"]) == (403, "wrong-origin")
    for path in ("/watch", "/rehearse"):
        with pytest.raises(InvalidStatus) as refused:
            bench.socket(path, origin=origin)
        assert refused.value.response.status_code == 403


def test_the_pages_own_origin_is_let_in(bench):
    with bench.socket(origin=f"http://{bench.host}") as socket:
        socket.send('{"after": 0}')
        assert json.loads(socket.recv(5))["kind"] == "hello"


@pytest.mark.parametrize(
    "path", ["/", "/static/main.js", "/nothing", "/strip?from=0&to=1&columns=5", "/pull/99", "/days"]
)
def test_every_answer_carries_the_headers_and_no_cookie(bench, path):
    _, headers, _ = bench.ask(path)
    for name, value in HEADERS.items():
        assert headers[name] == value
    assert "set-cookie" not in {name.lower() for name in headers}
    assert "server" not in {name.lower() for name in headers}
    assert headers["cache-control"] in ("no-store", "no-cache")


def test_the_policy_lets_nothing_in_from_elsewhere():
    policy = dict(part.strip().split(" ", 1) for part in HEADERS["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert all(value in ("'none'", "'self'", "'self' data:") for value in policy.values())
    assert policy["script-src"] == "'self'"


@pytest.mark.parametrize(
    "path",
    ["/static/../app.py", "/static/..%2fapp.py", "/static/%2e%2e/app.py", "/static/%252e%252e/app.py",
     "/static/..\\app.py",
     "/static//etc/passwd", "/static/%00", "/static/.hidden.js", "/../../etc/passwd", "/static/", "/static/vendor",
     "/app.py", "/static/fonts/make_fonts.py", "/" + "a" * 3000],
)  # fmt: skip
def test_path_tricks_find_nothing(bench, path):
    status, error = bench.refused(path)
    assert (status, error["code"]) == (404, "nothing-there")


def test_a_body_that_is_too_large_is_refused_before_it_is_read(bench):
    status, error = bench.refused(
        "/null", method="POST", body=b"x", key=KEY, headers={"Content-Length": str(10**12)}
    )
    assert (status, error["code"]) == (413, "body-too-large")


def test_a_body_that_grows_too_large_is_cut_off(bench):
    connection = sockets.create_connection(("127.0.0.1", bench.port))
    head = f"POST /pull/1/aside HTTP/1.1\r\nHost: {bench.host}\r\nX-Bench-Key: {KEY}\r\n"
    head += "Transfer-Encoding: chunked\r\n\r\n"
    connection.sendall(head.encode())
    piece = b"4000\r\n" + b"x" * 0x4000 + b"\r\n"
    for _ in range(MOST_BYTES // 0x4000 + 1):
        connection.sendall(piece)
    assert b" 413 " in connection.recv(200).split(b"\r\n")[0]
    connection.close()


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b'{"why": 5}', b'{"why": "x", "more": 1}', b"\xff\xfe", b"[" * 5000]
)
def test_a_body_of_another_shape_is_refused(bench, body):
    status, error = bench.refused("/pull/1/aside", method="POST", body=body, key=KEY)
    assert (status, error["code"]) == (400, "body-unreadable")


@pytest.mark.parametrize("path", ["/watch", "/rehearse"])
def test_an_oversize_frame_closes_its_socket_and_nothing_else(bench, path):
    with bench.socket(path) as socket:
        socket.send("x" * (MOST_MESSAGE_BYTES + 1))
        with pytest.raises(ConnectionClosed) as closed:  # noqa: PT012
            while True:
                socket.recv(5)
    assert closed.value.rcvd.code == 1009  # message too big
    assert bench.get("/days")


@pytest.mark.parametrize("said", ["", "{", "[]", '{"after": "x"}', "hello", '{"key": 5}'])
def test_a_hello_of_another_shape_is_told_and_closed(bench, said):
    with bench.socket() as socket:
        socket.send(said)
        assert json.loads(socket.recv(5))["error"]["code"] == "body-unreadable"
        with pytest.raises(ConnectionClosed) as closed:
            socket.recv(5)
    assert closed.value.rcvd.code == 1008


def test_a_socket_that_says_nothing_is_closed(bench, monkeypatch):
    monkeypatch.setattr("pullbench.web.watch_socket.HELLO_S", 0.2)
    with bench.socket() as socket:
        assert json.loads(socket.recv(5))["kind"] == "error"
        with pytest.raises(ConnectionClosed):
            socket.recv(5)


def test_a_watcher_that_talks_on_is_closed(bench):
    socket, _ = bench.watch()
    with pytest.raises(ConnectionClosed) as closed:
        chattered(socket)
    assert closed.value.rcvd.code == 1008


def test_too_many_pages_are_told_to_come_later(bench, monkeypatch):
    monkeypatch.setattr("pullbench.web.watch_socket.MOST_WATCHERS", 0)
    with bench.socket() as socket:
        assert json.loads(socket.recv(5))["error"]["code"] == "too-many"
        with pytest.raises(ConnectionClosed) as closed:
            socket.recv(5)
    assert closed.value.rcvd.code == 1013


def test_thousands_of_connections_are_bounded_and_the_bench_answers_after_them():
    with served() as bench:
        opened, refused = [], 0
        for _ in range(MOST_CONNECTIONS + 300):
            try:
                opened.append(sockets.create_connection(("127.0.0.1", bench.port), timeout=2))
            except OSError:
                refused += 1
        time.sleep(0.3)
        alive = sum(_is_open(one) for one in opened)
        assert alive <= MOST_CONNECTIONS
        for one in opened:
            one.close()
        time.sleep(0.2)
        assert bench.get("/pull/1")["number"] == 1


def _is_open(connection):
    connection.setblocking(False)
    try:
        return connection.recv(1) != b""
    except BlockingIOError:
        return True
    except OSError:
        return False


def test_a_connection_that_sends_half_a_request_is_dropped(monkeypatch):
    monkeypatch.setattr("pullbench.web.serving.LOOK_S", 0.2)
    with served() as bench, sockets.create_connection(("127.0.0.1", bench.port), timeout=20) as slow:
        slow.sendall(b"GET / HTTP/1.1\r\nHost: ")
        with suppress(ConnectionResetError):
            assert slow.recv(1) == b""
    assert LOOK_S == 5.0  # what it is outside of this test


def test_an_address_that_asks_without_end_is_slowed_and_others_are_not():
    clock = FakeClock()
    doors = Doors(key=KEY, hosts=frozenset(), clock=clock)
    admitted = sum(doors.admits("10.0.0.9") for _ in range(int(2 * BURST)))
    assert admitted == BURST
    assert doors.admits("10.0.0.8")
    clock.now_s += 1.0
    assert doors.admits("10.0.0.9")


def test_memory_of_addresses_is_bounded():
    doors = Doors(key=KEY, hosts=frozenset(), clock=FakeClock(), code=CODE)
    for k in range(20_000):
        doors.admits(f"10.0.{k // 256}.{k % 256}")
    assert len(doors._bucket._of) < 5000


def test_a_socket_that_takes_nothing_delays_no_sample_and_no_other_page():
    go = threading.Event()
    with served(go.wait, *demo_pulling(size=1), wait=False) as bench:
        raw = sockets.create_connection(("127.0.0.1", bench.port))
        raw.setsockopt(sockets.SOL_SOCKET, sockets.SO_RCVBUF, 1024)
        raw.sendall(
            f"GET /watch HTTP/1.1\r\nHost: {bench.host}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
            "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Version: 13\r\n\r\n".encode()
        )
        raw.sendall(
            b"\x81\x8d\x00\x00\x00\x00" + b'{"after": 0 }'
        )  # a masked text frame; it never reads again
        quick, _ = bench.watch()
        go.set()
        numbers = []
        while not numbers or numbers[-1] != "stood down":
            message = quick.recv(20)
            if isinstance(message, str):
                numbers.append(json.loads(message)["kind"])
        assert numbers.count("pull") == 2
        quick.close()
        raw.close()


def test_a_fault_inside_tells_nothing_about_it_and_the_page_goes_on(bench, monkeypatch, caplog):
    def broken(*_):
        raise ZeroDivisionError("a secret of the machine")

    monkeypatch.setattr(PullDesk, "sheet", broken)
    status, error = bench.refused("/pull/1")
    assert (status, error["code"]) == (500, "bench-broken")
    assert "secret" not in json.dumps(error)
    assert bench.get("/days")


def test_the_key_is_in_no_answer(bench):
    told = [bench.ask(path)[2] for path in ("/", "/days", "/pull/1", "/search?text=usable", "/nothing")]
    socket, hello = bench.watch(key=KEY)
    socket.close()
    assert not any(KEY.encode() in body for body in [*told, json.dumps(hello).encode()])


def test_every_threat_in_the_docs_names_a_test_that_is_there():
    named = re.findall(r"`(test_\w+)`", DOCS.read_text(encoding="utf-8"))
    here = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parents[1].rglob("test_*.py"))
    assert len(named) >= 15
    assert [name for name in named if f"def {name}(" not in here] == []
