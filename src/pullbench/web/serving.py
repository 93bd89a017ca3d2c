"""The server in a thread of its own, with bounds on how many connect and how long they may say nothing."""

from __future__ import annotations

import asyncio
import socket
import threading
from typing import Any

import uvicorn
from starlette.types import ASGIApp
from uvicorn.protocols.http.h11_impl import H11Protocol

from pullbench.errors import PageError

MOST_CONNECTIONS = 400
LOOK_S = 5.0  # between looks at a connection; one that is idle in two of them is closed
MOST_MESSAGE_BYTES = 32 * 1024
PING_S = 20.0


class BoundedH11(H11Protocol):
    """HTTP with a limit on connections, and none that is held open by saying nothing or half a request."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a connection, or drop it when there are too many."""
        super().connection_made(transport)
        self._idle = False
        if len(self.connections) > MOST_CONNECTIONS:
            transport.abort()
            return
        self._look_later()

    def _look_later(self) -> None:
        self._look = self.loop.call_later(LOOK_S, self._look_now)

    def _look_now(self) -> None:
        if self.transport.is_closing() or self.transport.get_protocol() is not self:
            return  # closed, or a socket by now, which has pings of its own
        working = self.cycle is not None and not self.cycle.response_complete
        if self._idle and not working:
            self.transport.abort()
            return
        self._idle = not working
        self._look_later()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        if hasattr(self, "_look"):
            self._look.cancel()
        super().connection_lost(exc)


class Serving:
    """A running page.  Open the port first (`bind`), then `start`; `stop` returns when it is over."""

    def __init__(self, app: ASGIApp, listening: socket.socket) -> None:
        self._socket = listening
        self._server = uvicorn.Server(config_for(app))
        self._thread = threading.Thread(target=self._run, name="page", daemon=True)

    def start(self) -> None:
        """Serve from now on."""
        self._thread.start()
        while not self._server.started and self._thread.is_alive():
            self._thread.join(0.01)

    def stop(self) -> None:
        """Say goodbye to all and end."""
        self._server.should_exit = True
        self._thread.join(10.0)

    def _run(self) -> None:
        asyncio.run(self._server.serve(sockets=[self._socket]))


def config_for(app: ASGIApp) -> uvicorn.Config:
    """Return the server's settings: no compression of messages, small ones only, pings, no log, no banner."""
    settings: dict[str, Any] = {
        "http": BoundedH11, "ws": "websockets-sansio", "ws_per_message_deflate": False,
        "ws_max_size": MOST_MESSAGE_BYTES,
        "ws_ping_interval": PING_S, "ws_ping_timeout": PING_S, "timeout_keep_alive": 5, "timeout_graceful_shutdown": 2,
        "h11_max_incomplete_event_size": 16 * 1024, "log_config": None, "access_log": False, "server_header": False,
        "proxy_headers": False, "lifespan": "on", "backlog": 128,
    }  # fmt: skip
    return uvicorn.Config(app, **settings)


def bind(host: str, port: int) -> socket.socket:
    """Return a listening socket; port 0 takes any free one.  Raises PageError when it is taken."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named as TCP, for only then asyncio sends small pieces at once: else each waits 40 ms for the one before.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((host, port))
    except OSError as fault:
        listening.close()
        raise PageError(
            "port-taken", f"The page cannot be opened at {host}:{port}: {fault.strerror}.",
            "Port 0 takes any free one.", "Give --port another number, or close what uses it.",
        ) from fault  # fmt: skip
    return listening
