"""The page's addresses, and what lies behind each."""

from __future__ import annotations

import asyncio
import re
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.types import ASGIApp

from pullbench.errors import PageError, PullbenchError
from pullbench.live import Session, Sheet, Stage, card_of_row, cards_of, sheet_from_logbook
from pullbench.live.analyst import Reader
from pullbench.live.settings import Settings
from pullbench.render.differences import THESE_TWO, differences
from pullbench.web import faults, wire
from pullbench.web.bodies import AsideBody, MarksBody, MassesBody, body_of
from pullbench.web.doors import LOOPBACK, Doors, Role
from pullbench.web.files import PageFiles
from pullbench.web.guard import Guard
from pullbench.web.hub import Hub
from pullbench.web.join import Join
from pullbench.web.laws import law_routes
from pullbench.web.next_lesson import next_lesson_routes
from pullbench.web.paper import paper_routes
from pullbench.web.rehearse_socket import rehearse
from pullbench.web.watch_socket import watch

STATIC = Path(__file__).parent / "static"
SEARCH_MOST = 200
MOST_COMPARED = 12
Answer = Callable[[Request], Awaitable[object]]


@dataclass(frozen=True)
class Bench:
    """What the page needs: the session, who may come in, the reader of old pulls, the stage for rehearsals."""

    session: Session
    doors: Doors
    reader: Reader
    stage: Stage
    hub: Hub
    join: Join | None = None
    static: Path = STATIC


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
        *_questions(bench),
        *_orders(bench),
        *law_routes(
            bench.session.board, bench.doors,
            lambda path, answer: _get(path, _let_in(bench, answer)), lambda path, answer: _post(path, answer, bench),
        ),
        *paper_routes(bench.session, lambda request: _teacher(bench, request)),
    ]  # fmt: skip
    app = Starlette(
        routes=routes,
        lifespan=alive,
        exception_handlers={PullbenchError: _told, HTTPException: _nothing, Exception: _broken},
    )
    return Guard(app, bench.doors)  # outermost, so that no answer goes without its headers


def _questions(bench: Bench) -> list[Route]:
    session = bench.session

    async def strip(request: Request) -> Response:
        _role(bench, request)
        numbers = [_number(request, name) for name in ("from", "to", "columns")]
        columns = int(numbers[2]) if abs(numbers[2]) < 1e6 else 0
        found = await run_in_threadpool(session.strip, numbers[0], numbers[1], columns)
        return Response(wire.strip_frame(found), media_type="application/octet-stream")

    async def held(request: Request) -> Sheet:
        day = _day(bench, request)
        number = request.path_params["number"]
        if day == session.day:
            return await run_in_threadpool(session.sheet, number)
        logbook = _logbook(bench)
        return await run_in_threadpool(sheet_from_logbook, logbook, day, number, bench.reader)

    async def pull(request: Request) -> object:
        return wire.sheet_of(await held(request))

    async def compared(request: Request) -> object:
        day, numbers = _day(bench, request), _pulls_asked(request)
        found = (
            session.snapshot().pulls
            if day == session.day
            else await run_in_threadpool(cards_of, _logbook(bench), day)
        )
        cards = {card.number: card for card in found}
        if unknown := [number for number in numbers if number not in cards]:
            raise PageError(
                "pull-unknown",
                f"There is no pull {unknown[0]} on {day}.",
                "The day lists its pulls.",
                "Ask for others.",
            )
        return {"differences": differences([cards[number] for number in numbers]), "says": THESE_TWO}

    async def days(request: Request) -> object:
        _at_home(bench, request)
        return {"days": await run_in_threadpool(_days, bench)}

    async def one_day(request: Request) -> object:
        day = request.path_params["day"]
        if day == session.day:
            _role(bench, request)
            found = session.snapshot()
            return {"day": day, "pulls": found.pulls, "news": [wire.news_of(news) for news in found.news]}
        _at_home(bench, request)
        logbook = _logbook(bench)
        pulls = await run_in_threadpool(cards_of, logbook, day)
        told = await run_in_threadpool(logbook.news, day)
        return {"day": day, "pulls": pulls, "news": [wire.news_of(row.news) for row in told]}

    async def search(request: Request) -> object:
        _at_home(bench, request)
        return {
            "found": await run_in_threadpool(
                _search, bench, request.query_params.get("text", "")[:200].strip()
            )
        }

    return [
        Route("/strip", strip, methods=["GET"]),
        _get("/pull/{number:int}", pull),
        _get("/compare", compared),
        _get("/days", days),
        _get("/days/{day}", one_day),
        _get("/search", search),
        *next_lesson_routes(held),
    ]


def _orders(bench: Bench) -> list[Route]:
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
                lambda: session.mark(today(request), breakaway_s=moved.breakaway_s, sliding_s=moved.sliding_s)
            )
        )

    async def unmark(request: Request) -> object:
        return wire.sheet_of(await run_in_threadpool(session.unmark, today(request)))

    async def aside(request: Request) -> object:
        why = (await body_of(request, AsideBody)).why
        number = today(request)
        await run_in_threadpool(session.set_aside, number, why)
        return wire.sheet_of(await run_in_threadpool(session.sheet, number))

    async def back(request: Request) -> object:
        number = today(request)
        await run_in_threadpool(session.bring_back, number)
        return wire.sheet_of(await run_in_threadpool(session.sheet, number))

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
        _post("/pull/{number:int}/marks", marks, bench),
        _post("/pull/{number:int}/unmark", unmark, bench),
        _post("/pull/{number:int}/aside", aside, bench),
        _post("/pull/{number:int}/back", back, bench),
        _post("/watch/stand-down", stand_down, bench),
        _post("/watch/go", go, bench),
        _post("/null", null, bench),
        _post("/masses", masses, bench),
    ]


def _let_in(bench: Bench, answer: Answer) -> Answer:
    """Return an answer for the teacher, this machine and those who follow with the code."""

    async def checked(request: Request) -> object:
        _role(bench, request)
        return await answer(request)

    return checked


def _get(path: str, answer: Answer) -> Route:
    async def endpoint(request: Request) -> Response:
        return Response(wire.encoded(await answer(request)), media_type="application/json")

    return Route(path, endpoint, methods=["GET"])


def _post(path: str, answer: Answer, bench: Bench) -> Route:
    async def endpoint(request: Request) -> Response:
        _teacher(bench, request)
        return Response(wire.encoded(await answer(request)), media_type="application/json")

    return Route(path, endpoint, methods=["POST"])


def _teacher(bench: Bench, request: Request) -> None:
    """Let only the teacher in.  Raises PageError."""
    key = request.headers.get("x-bench-key")
    role, wrong = bench.doors.role(_address(request), key, request.headers.get("x-join-code"))
    if role != "teacher":
        raise faults.wrong_key() if wrong else faults.no_key()


def _address(request: Request) -> str:
    return request.client.host if request.client else ""


def _role(bench: Bench, request: Request) -> Role:
    return bench.doors.role(
        _address(request), request.headers.get("x-bench-key"), request.headers.get("x-join-code")
    )[0]


def _at_home(bench: Bench, request: Request) -> None:
    """Let only the teacher and this machine at other days: who follows a lesson follows today's."""
    if _role(bench, request) != "teacher" and _address(request) not in LOOPBACK:
        raise PageError(
            "only-today",
            "Who follows sees today's pulls.",
            "The logbook is the teacher's.",
            "Ask the teacher.",
        )


def _day(bench: Bench, request: Request) -> str:
    day = request.query_params.get("day") or bench.session.day
    if day == bench.session.day:
        _role(bench, request)
    else:
        _at_home(bench, request)
    return day


def _logbook(bench: Bench):  # type: ignore[no-untyped-def]
    if bench.session.logbook is None:
        raise PageError(
            "no-logbook",
            "This session keeps no logbook.",
            "Other days are in a logbook.",
            "Go on watch with --logbook FILE.",
        )
    return bench.session.logbook


def _days(bench: Bench) -> list[dict[str, object]]:
    session = bench.session
    if session.logbook is None:
        return [_day_row(session, session.day, None, 0)]
    rows = []
    for row in session.logbook.days():
        labels = {one.label for one in session.logbook.recordings(row.day)}
        label = next(iter(labels)) if len(labels) == 1 else None
        aside = sum(pull.aside is not None for pull in session.logbook.pulls(row.day))
        rows.append(
            {
                "day": row.day,
                "pulls": row.pulls,
                "set_aside": aside,
                "label": label,
                "today": row.day == session.day,
            }
        )
    if all(row["day"] != session.day for row in rows):
        rows.append(_day_row(session, session.day, session.source.label, 0))
    return rows[::-1]


def _day_row(session: Session, day: str, label: str | None, aside: int) -> dict[str, object]:
    pulls = session.snapshot().pulls
    aside = sum(card.aside is not None for card in pulls)
    return {"day": day, "pulls": len(pulls), "set_aside": aside, "label": label, "today": True}


def _search(bench: Bench, text: str) -> list[dict[str, object]]:
    session = bench.session
    if not text:
        return []
    if session.logbook is None:
        wanted = text.lower()
        cards = [card for card in session.snapshot().pulls if wanted in wire.encoded(card).decode().lower()]
        return [{"day": session.day, "pull": card} for card in cards[:SEARCH_MOST]]
    found = session.logbook.search(text)[-SEARCH_MOST:]
    offsets = {
        row.id: row.offset_s for day in {row.day for row in found} for row in session.logbook.recordings(day)
    }
    settings = {day: Settings(day, session.logbook) for day in {row.day for row in found}}
    cards_found = [
        (row.day, card_of_row(row, offsets.get(row.recording, 0.0), settings[row.day])) for row in found
    ]
    return [{"day": day, "pull": card} for day, card in cards_found if card is not None]


def _pulls_asked(request: Request) -> list[int]:
    """Return the pulls to compare, such as 1+2.  Raises PageError."""
    text = request.query_params.get("pulls", "")[:80]
    numbers = list(
        dict.fromkeys(
            int(one) for one in re.split(r"[ +,]+", text.strip()) if one.isascii() and one.isdigit()
        )
    )
    if not 2 <= len(numbers) <= MOST_COMPARED:
        raise PageError(
            "pulls-to-compare", f"Pulls {text!r} are to be compared.", f"It takes 2 to {MOST_COMPARED} numbers, such as 1+2.",
            "Name them again.",
        )  # fmt: skip
    return numbers


def _number(request: Request, name: str) -> float:
    try:
        return float(request.query_params[name])
    except (KeyError, ValueError):
        raise PageError(
            "strip-impossible", f"{name} is {request.query_params.get(name, '')[:40]!r}.", "It must be a number.",
            "Load the page again.",
        ) from None  # fmt: skip


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
