"""Before any route: whose Host and Origin, how many, how large; and headers on every answer."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from pullbench.errors import PageError
from pullbench.web.doors import Doors
from pullbench.web.faults import as_json, nothing_there, status_of, too_many
from pullbench.web.paper_views import PATH

MOST_BYTES = 64 * 1024
LONGEST_PATH = 2048
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; "
        "img-src 'self' data:; frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), usb=(), serial=(), payment=()",
}
PAPER_HEADERS = {  # of a page made for printing, shown in the page's own frame: its own style and nothing else
    **HEADERS,
    "content-security-policy": (
        "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; "
        "form-action 'none'; frame-ancestors 'self'; sandbox"
    ),
    "x-frame-options": "SAMEORIGIN",
}


class Guard:
    """Wraps the app; refuses before anything is looked at."""

    def __init__(self, app: ASGIApp, doors: Doors) -> None:
        self._app, self._doors = app, doors

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let through or refuse one request or socket."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        fault = self._fault(scope)
        if scope["type"] == "websocket":
            if fault is not None:
                await _refuse_socket(fault, receive, send)
                return
            await self._app(scope, receive, send)
            return
        send = _with_headers(send, scope["path"])
        if fault is not None:
            await _refuse(fault, send)
            return
        await self._app(scope, receive, send)

    def _fault(self, scope: Scope) -> PageError | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self._doors.knows_host(hosts[0]):
            return PageError(
                "wrong-host", f"The page was asked for as {', '.join(hosts)[:80]!r}.",
                "It answers to its own address only.",
                "Open the address that the command printed.",
            )  # fmt: skip
        if not self._doors.knows_origin(headers.get("origin")):
            return PageError(
                "wrong-origin", f"Another page asks: {str(headers.get('origin'))[:80]!r}.",
                "Only this bench's own page may.", "Open the address that the command printed.",
            )  # fmt: skip
        client = scope.get("client")
        if not self._doors.admits(client[0] if client else ""):
            return too_many("requests")
        raw = scope.get("raw_path") or b""
        if (
            len(raw) > LONGEST_PATH
            or len(scope.get("query_string", b"")) > LONGEST_PATH
            or _tricky(raw, scope["path"])
        ):
            return nothing_there(scope["path"])
        if int(_digits(headers.get("content-length"))) > MOST_BYTES:
            return PageError(
                "body-too-large",
                "What was sent is too large.",
                f"Up to {MOST_BYTES // 1024} kB.",
                "Send less.",
            )
        return None


def _tricky(raw: bytes, path: str) -> bool:
    """Return whether a path tries to leave its place: dots, backslashes, nothing we serve has these."""
    lowered = raw.lower()
    encoded = any(trick in lowered for trick in (b"%2e", b"%2f", b"%5c", b"%00", b"%25"))
    return encoded or ".." in path or "\\" in path or "\0" in path or "//" in path


def _digits(text: str | None) -> str:
    return text if text is not None and text.isascii() and text.isdigit() and len(text) < 16 else "0"


def _with_headers(send: Send, path: str) -> Send:
    own = PAPER_HEADERS if path.startswith(PATH) else HEADERS
    cacheable = path.startswith("/static/")

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in own.items():
                headers[name] = value
            headers["cache-control"] = "no-cache" if cacheable else "no-store"
        await send(message)

    return sent


async def _refuse(fault: PageError, send: Send) -> None:
    body = as_json(fault)
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": status_of(fault), "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _refuse_socket(fault: PageError, receive: Receive, send: Send) -> None:
    await receive()
    await send({"type": "websocket.close", "code": 1008, "reason": fault.code})
