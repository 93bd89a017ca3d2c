"""Problem sheets, item bank and sheet review over HTTP: for the teacher's page alone."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TypeVar

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from pullbench.errors import ConditionsError
from pullbench.live import Session
from pullbench.web import faults, paper_lesson, paper_made, paper_review, wire
from pullbench.web.bodies import body_of
from pullbench.web.paper_bodies import ItemsBody, LookBody, ReviewBody, SlipsBody, TakeBody, TakeItemsBody
from pullbench.web.paper_views import PATH, PaperViews

MOST_WAITING = 6
Gate = Callable[[Request], None]
T = TypeVar("T")


class OneAtATime:
    """Makes one thing after another, so that sheets never take more than one core; refuses a crowd."""

    def __init__(self) -> None:
        self._turn, self._count = threading.Lock(), threading.Lock()
        self.waiting = 0  # jobs that are made or wait

    def make(self, work: Callable[[], T]) -> T:
        """Return what work returns.  Raises PageError when too many wait."""
        with self._count:
            if self.waiting >= MOST_WAITING:
                raise faults.too_many("sheets")
            self.waiting += 1
        try:
            with self._turn:
                return work()
        except ConditionsError as mistake:
            raise paper_lesson.for_page(mistake) from mistake
        finally:
            with self._count:
                self.waiting -= 1


def paper_routes(session: Session, gate: Gate) -> list[Route]:
    """Return the routes.  gate: raises PageError for a request that does not carry the teacher key."""
    desk, views = OneAtATime(), PaperViews()

    async def choices(request: Request) -> Response:
        gate(request)
        return _json(await run_in_threadpool(paper_lesson.choices, session))

    async def look(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, LookBody)
        return await _looked(lambda: paper_made.look(session, asked))

    async def take(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, TakeBody)
        return await _taken(lambda: paper_made.take(session, asked))

    async def items(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, ItemsBody)
        return await _looked(lambda: paper_made.look_at_item(session, asked))

    async def take_items(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, TakeItemsBody)
        return await _taken(lambda: paper_made.take_items(session, asked))

    async def review(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, ReviewBody)
        return _json(await run_in_threadpool(desk.make, lambda: paper_review.review(session, asked)))

    async def slips(request: Request) -> Response:
        gate(request)
        asked = await body_of(request, SlipsBody)
        return _json(await run_in_threadpool(desk.make, lambda: paper_review.hand_back(session, asked)))

    async def view(request: Request) -> Response:
        page = views.page(request.path_params["name"])
        if page is None:
            raise faults.nothing_there(request.url.path)
        return Response(page, media_type="text/html")

    async def _looked(work: Callable[[], tuple[dict[str, object], str]]) -> Response:
        said, page = await run_in_threadpool(desk.make, work)
        return _json({**said, "view": views.keep(page).removeprefix("/")})

    async def _taken(work: Callable[[], paper_made.Taken]) -> Response:
        file = await run_in_threadpool(desk.make, work)
        named = {"Content-Disposition": f'attachment; filename="{file.name}"'}
        return Response(file.data, media_type=file.kind, headers=named)

    return [
        Route("/paper/choices", choices, methods=["POST"]),
        Route("/paper/sheets", look, methods=["POST"]),
        Route("/paper/sheets/take", take, methods=["POST"]),
        Route("/paper/items", items, methods=["POST"]),
        Route("/paper/items/take", take_items, methods=["POST"]),
        Route("/paper/review", review, methods=["POST"]),
        Route("/paper/review/slips", slips, methods=["POST"]),
        Route(f"{PATH}{{name}}", view, methods=["GET"]),
    ]


def _json(value: object) -> Response:
    return Response(wire.encoded(value), media_type="application/json")
