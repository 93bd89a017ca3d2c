"""A bench with its page on loopback, and plain ways to ask it.  (Not a test module.)"""

from __future__ import annotations

import http.client
import json
import threading
import time
from contextlib import contextmanager

from websockets.sync.client import connect

from live.benches import Script, demo_pulling, session_on
from pullbench.live import InlineAnalyst, Stage
from pullbench.model import Chunk
from pullbench.web import Bench, Doors, Hub, Serving, bind, join_for, make_app

KEY, CODE = "the-key-of-this-test", "K7QXW2"


class Page:
    """A served session: ask it over HTTP, or open a socket."""

    def __init__(self, session, port, bench):
        self.session, self.port, self.bench = session, port, bench
        self.host = f"127.0.0.1:{port}"

    def ask(self, path, *, method="GET", body=None, headers=None, host=None, key=None):
        """Return (status, headers, body) of one request; the path is sent as it is."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        sent = {"Host": host or self.host, **({"X-Bench-Key": key} if key else {}), **(headers or {})}
        payload = json.dumps(body).encode() if isinstance(body, dict) else body
        connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in sent.items():
            connection.putheader(name, value)
        if payload is not None and "Content-Length" not in sent:
            connection.putheader("Content-Length", str(len(payload)))
        connection.endheaders(payload)
        answer = connection.getresponse()
        told = answer.status, dict(answer.getheaders()), answer.read()
        connection.close()
        return told

    def get(self, path, **more):
        """Return the JSON of an answer that must be 200."""
        status, _, body = self.ask(path, **more)
        assert status == 200, body
        return json.loads(body)

    def post(self, path, body=None, key=KEY, **more):
        """Return the JSON of a change that must be 200."""
        return self.get(path, method="POST", body=body if body is not None else {}, key=key, **more)

    def refused(self, path, **more):
        """Return (status, error) of a request that must be refused."""
        status, _, body = self.ask(path, **more)
        assert status >= 400
        return status, json.loads(body)["error"]

    def socket(self, path="/watch", **more):
        """Return an open socket."""
        return connect(f"ws://{self.host}{path}", compression=None, max_size=None, open_timeout=10, **more)

    def watch(self, *, after=0, key=None, code=None):
        """Return an open socket and its hello."""
        socket = self.socket().__enter__()
        socket.send(json.dumps({"after": after, "key": key, "code": code}))
        return socket, json.loads(socket.recv(10))


@contextmanager
def served(*deliveries, logbook=None, label=None, wait=True, room=False, clock=time.monotonic, hosts=()):
    """Serve a session; with wait, its source has ended before the page is given."""
    source = Script(*(deliveries or demo_pulling()), label=label)
    session = session_on(source, logbook, first_looks=False)
    listening = bind("127.0.0.1", 0)
    port = listening.getsockname()[1]
    ours = frozenset({f"127.0.0.1:{port}", f"localhost:{port}", *hosts})
    doors = Doors(key=KEY, hosts=ours, clock=clock, code=CODE if room else None)
    join = join_for("192.168.7.5", port, CODE) if room else None
    stage = Stage()
    bench = Bench(session, doors, InlineAnalyst(), stage, Hub(session), join)
    serving = Serving(make_app(bench), listening)
    serving.start()
    thread = threading.Thread(target=session.run)
    thread.start()
    if wait:
        thread.join()
    try:
        yield Page(session, port, bench)
    finally:
        session.end()
        thread.join()
        serving.stop()
        session.close()
        stage.close()


def slowly(deliveries, event):
    """Return deliveries that wait for an event first."""
    return (event.wait, *deliveries)


def empty():
    """Return a delivery without samples."""
    return Chunk(time_s=[], force_N=[])
