"""The page's own files, of the kinds it is made of and nothing else: read once, packed once, served from memory."""

from __future__ import annotations

import gzip
import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.types import Receive, Scope, Send

from pullbench.web import faults

SERVED = {
    ".js": "text/javascript", ".css": "text/css", ".html": "text/html", ".woff2": "font/woff2", ".svg": "image/svg+xml",
    ".txt": "text/plain", ".json": "application/json", ".png": "image/png", ".webmanifest": "application/manifest+json",
}  # fmt: skip
PACKED = {".woff2", ".png"}  # gain nothing from gzip
IMPORTED = re.compile(r"""^(?:import|export)\b[^;]*?["']\./([\w./-]+\.js)["']""", re.MULTILINE)
LEAST_PACKED = 600  # bytes


@dataclass(frozen=True, slots=True)
class File:
    """One file: as it is, packed (or None), its kind, and a tag of its content."""

    plain: bytes
    packed: bytes | None
    kind: str
    tag: str


class PageFiles:
    """All files under a folder, by their path in it."""

    def __init__(self, folder: Path) -> None:
        self._files = {
            path.relative_to(folder).as_posix(): _read(path)
            for path in sorted(folder.rglob("*"))
            if path.is_file() and path.suffix in SERVED and not path.name.startswith(".")
        }

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request below the mount."""
        request = Request(scope, receive)
        name = scope["path"].removeprefix(scope.get("root_path", "")).lstrip("/")
        file = self._files.get(name) if request.method in ("GET", "HEAD") else None
        if file is None:
            raise faults.nothing_there(scope["path"])
        headers = {"etag": file.tag, "vary": "accept-encoding"}
        if request.headers.get("if-none-match") == file.tag:
            await Response(status_code=304, headers=headers)(scope, receive, send)
            return
        body = file.plain
        if file.packed is not None and "gzip" in request.headers.get("accept-encoding", ""):
            body, headers["content-encoding"] = file.packed, "gzip"
        await Response(body, media_type=file.kind, headers=headers)(scope, receive, send)

    def index(self) -> HTMLResponse:
        """Return the page.  Modules find each other one import after the other; named at once they come at once."""
        modules = "".join(f'<link rel="modulepreload" href="static/{name}">\n' for name in self._at_once())
        return HTMLResponse(self._files["index.html"].plain.decode().replace("</head>", f"{modules}</head>"))

    def _at_once(self) -> list[str]:
        """Return the modules that the page's first one imports, and those imports; not what it fetches later."""
        found, waiting = [], ["main.js"]
        while waiting:
            name = waiting.pop()
            if name in found or name not in self._files:
                continue
            found.append(name)
            folder = f"{name.rpartition('/')[0]}/".lstrip("/")
            waiting += [folder + one for one in IMPORTED.findall(self._files[name].plain.decode())]
        return sorted(found)


def _read(path: Path) -> File:
    plain = path.read_bytes()
    pays = path.suffix not in PACKED and len(plain) >= LEAST_PACKED
    return File(
        plain=plain, packed=gzip.compress(plain, mtime=0) if pays else None, kind=SERVED[path.suffix],
        tag=f'"{hashlib.sha256(plain).hexdigest()[:16]}"',
    )  # fmt: skip
