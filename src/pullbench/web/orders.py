"""What changes the day: marks, pulls set aside, the watch, the rest reading, known masses."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.routing import Route

from pullbench.errors import PageError
from pullbench.web import wire
from pullbench.web.bodies import AsideBody, MarksBody, MassesBody, body_of
from pullbench.web.gates import Bench, order


def order_routes(bench: Bench) -> list[Route]:
    """Return what changes the day: each needs the teacher key."""
    session = bench.session

    def today(request: Request) -> int:
        if request.query_params.get("day") not in (None, session.day):
            raise PageError(
                "only-today",
                "Pulls of another day are not changed from the page.",
                "Today's can be.",
                "Look at it, compare it.",
            )
        return int(request.path_params["number"])

    async def marks(request: Request) -> object:
        moved = await body_of(request, MarksBody)
        return wire.sheet_of(
            await run_in_threadpool(
                lambda: session.pulls.mark(
                    today(request), breakaway_s=moved.breakaway_s, sliding_s=moved.sliding_s
                )
            )
        )

    async def unmark(request: Request) -> object:
        return wire.sheet_of(await run_in_threadpool(session.pulls.unmark, today(request)))

    async def aside(request: Request) -> object:
        why = (await body_of(request, AsideBody)).why
        number = today(request)
        await run_in_threadpool(session.pulls.set_aside, number, why)
        return wire.sheet_of(await run_in_threadpool(session.pulls.sheet, number))

    async def back(request: Request) -> object:
        number = today(request)
        await run_in_threadpool(session.pulls.bring_back, number)
        return wire.sheet_of(await run_in_threadpool(session.pulls.sheet, number))

    async def stand_down(request: Request) -> object:
        session.stand_down()
        return {"on_watch": False}

    async def go(request: Request) -> object:
        session.go_on_watch()
        return {"on_watch": True}

    async def null(request: Request) -> object:
        session.null()
        return {"check": session.check()}

    async def masses(request: Request) -> object:
        hung = (await body_of(request, MassesBody)).hung
        await run_in_threadpool(session.verify_with, [(one.kg, one.at_s) for one in hung])
        return {"check": session.check()}

    return [
        order("/pull/{number:int}/marks", marks, bench),
        order("/pull/{number:int}/unmark", unmark, bench),
        order("/pull/{number:int}/aside", aside, bench),
        order("/pull/{number:int}/back", back, bench),
        order("/watch/stand-down", stand_down, bench),
        order("/watch/go", go, bench),
        order("/null", null, bench),
        order("/masses", masses, bench),
    ]
