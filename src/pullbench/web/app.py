"""The page's addresses, and what lies behind each."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.types import ASGIApp

from pullbench.errors import PageError, PullbenchError
from pullbench.web import faults
from pullbench.web.files import PageFiles
from pullbench.web.gates import Bench, let_in, order, question, teacher_only
from pullbench.web.guard import Guard
from pullbench.web.laws import law_routes
from pullbench.web.orders import order_routes
from pullbench.web.paper import paper_routes
from pullbench.web.questions import question_routes
from pullbench.web.rehearse_socket import rehearse
from pullbench.web.watch_socket import watch


def make_app(bench: Bench) -> ASGIApp:
    """Return the application behind its guard; it starts the hub and stops it again."""
    files = PageFiles(bench.static)

    async def index(request: Request) -> Response:
        return files.index()

    @asynccontextmanager
    async def alive(app: Starlette) -> AsyncIterator[None]:
        hub = asyncio.create_task(bench.hub.run())
        yield
        hub.cancel()

    routes = [
        Route("/", index, methods=["GET"]),
        Mount("/static", files),
        WebSocketRoute(
            "/watch", lambda socket: watch(socket, bench.session, bench.doors, bench.hub, bench.join)
        ),
        WebSocketRoute("/rehearse", lambda socket: rehearse(socket, bench.doors, bench.stage)),
        *question_routes(bench),
        *order_routes(bench),
        *law_routes(
            bench.session.board, bench.session.slips, bench.doors,
            lambda path, answer: question(path, let_in(bench, answer)), lambda path, answer: order(path, answer, bench),
        ),
        *paper_routes(bench.session, lambda request: teacher_only(bench, request)),
    ]  # fmt: skip
    app = Starlette(
        routes=routes,
        lifespan=alive,
        exception_handlers={PullbenchError: _told, HTTPException: _nothing, Exception: _broken},
    )
    return Guard(app, bench.doors)  # outermost, so that no answer goes without its headers


async def _told(request: Request, fault: Exception) -> Response:
    assert isinstance(fault, PullbenchError)
    return Response(faults.as_json(fault), faults.status_of(fault), media_type="application/json")


async def _nothing(request: Request, fault: Exception) -> Response:
    assert isinstance(fault, HTTPException)
    told = faults.nothing_there(request.url.path)
    if fault.status_code == 405:
        told = PageError(
            "method-unknown", "That cannot be done here.", "See docs/watch.md.", "Load the page again."
        )
    return Response(faults.as_json(told), faults.status_of(told), media_type="application/json")


async def _broken(request: Request, fault: Exception) -> Response:
    told = PageError(
        "bench-broken", "The bench could not answer this.", "The watch goes on.", "Load the page again."
    )
    return Response(faults.as_json(told), 500, media_type="application/json")
